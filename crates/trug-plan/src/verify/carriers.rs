//! What carries: which bulk, how much of each, and what enters before the pre-blend.

use trug_model::Q;

use super::flow::{Flow, numbered};
use super::kinds::class_of;
use super::scales::{snapped_by, surely_reads};
use super::sheet::{Batch, Class, InputSource, Sheet, Step, StepKind, Weighing};
use super::{Breaches, Rule};

/// Checks the carriers of a batch.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    check_met(sheet, batch, flow, found);
    check_early(sheet, batch, found);
    check_parts(sheet, batch, found);
}

/// The weighings of bulk in a step.
fn bulk_in<'a>(
    sheet: &'a Sheet,
    batch: &'a Batch,
    step: &'a Step,
) -> impl Iterator<Item = &'a Weighing> {
    step.inputs.iter().filter_map(|input| {
        let InputSource::Weighing(rank) = input.source else {
            return None;
        };
        let weighing = batch.weighings.get(rank)?;
        (class_of(sheet, weighing) == Some(Class::Bulk)).then_some(weighing)
    })
}

/// Bulk that something small is apart from does not carry it.
fn check_met(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    let last = batch.steps.len().saturating_sub(1);
    for (rank, step) in numbered(batch) {
        let is_carried = matches!(step.kind, StepKind::Dilute | StepKind::PreBlend);
        if !is_carried || rank == last {
            continue;
        }
        for weighing in bulk_in(sheet, batch, step) {
            let carrier = weighing.ingredient;
            let met = sheet.pairs().into_iter().find_map(|(one, other, _)| {
                let small = match carrier {
                    it if it == one => other,
                    it if it == other => one,
                    _ => return None,
                };
                let is_small = sheet.ingredients.get(small)?.class == Class::Small;
                (is_small && flow.held(rank).any(|(held, _)| held == small)).then_some(small)
            });
            if let Some(small) = met {
                let name = |rank: usize| sheet.ingredients.get(rank).map_or("", |it| &it.name);
                let says = format!(
                    "{} carries {}, which is apart from it",
                    name(carrier),
                    name(small)
                );
                found.add(Rule::Carrier, batch.at_step(step), says);
            }
        }
    }
}

/// Early carrier comes from the first carrier only, in amounts of two figures.
fn check_early(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    // Pairs that are apart can be carried by different bulk, and wait for dilutions of their own.
    let is_simple = sheet.pairs().is_empty();
    let carries = |step: &&Step| matches!(step.kind, StepKind::Dilute | StepKind::PreBlend);
    let first = batch
        .steps
        .iter()
        .filter(carries)
        .flat_map(|step| bulk_in(sheet, batch, step))
        .filter_map(|weighing| Some(&batch.amounts.get(weighing.ingredient)?.ordered.value))
        .max();
    for step in batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::Dilute)
    {
        for weighing in bulk_in(sheet, batch, step) {
            let mass = &weighing.mass.value;
            let own = batch.amounts.get(weighing.ingredient);
            if is_simple && own.map(|amount| &amount.ordered.value) < first {
                let says = "carrier enters early, and not from the first carrier";
                found.add(Rule::Carrier, batch.at_step(step), says);
            }
            if !has_two_figures(sheet, mass) {
                let says = format!("{mass} g of carrier enter early: more than two figures");
                found.add(Rule::Carrier, batch.at_step(step), says);
            }
        }
    }
}

/// Whether a mass has at most two figures, in grams or in the divisions of a scale that shows ounces and the like. Where all of
/// an ingredient asks for a finer scale than the one its part was cut to, that one weighs it.
fn has_two_figures(sheet: &Sheet, mass: &Q) -> bool {
    let divisions = sheet.scales.iter().map(|scale| &scale.division.value);
    let mut odd = divisions.filter(|division| figures(division) > 1);
    let in_divisions = |division: &Q| {
        mass.over(division)
            .is_some_and(|count| figures(&count) <= 2)
    };
    figures(mass) <= 2 || odd.any(in_divisions)
}

fn figures(number: &Q) -> usize {
    let digits = number.to_string().replace('.', "");
    digits.trim_matches('0').len()
}

/// What carriers give is shared out as the rule says, as far as scales allow.
fn check_parts(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let pre_blends = batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::PreBlend)
        .count();
    let is_the_batch = batch
        .steps
        .last()
        .is_some_and(|step| step.kind == StepKind::PreBlend);
    let is_short = sheet.owns_up();
    // Separate pre-blends share their carriers out among themselves in more than one way.
    if pre_blends != 1 || is_the_batch || is_short {
        return;
    }
    let (carriers, room) = carriers(sheet, batch);
    let needed: Q = carriers.iter().map(|it| &it.given).sum();
    let halves: Q = carriers.iter().map(|it| &it.has / &Q::int(2)).sum();
    if (&halves - &needed).abs() <= &halves * &Q::ratio(1, 100) {
        // Where halves only just suffice, or only just do not, snapping decides which.
        return;
    }
    let due = shared_out(&carriers, &needed);
    let is_left_out = |(carrier, due): (&Carrier, &Q)| {
        carrier.given.is_zero() && due.is_positive() && !is_weighable(sheet, due)
    };
    // Snapping can turn halves that suffice into halves that do not.
    let before_snapping = shared_out(&carriers, &(&needed - &room));
    let dues = due.iter().chain(&before_snapping);
    if carriers.iter().cycle().zip(dues).any(is_left_out) {
        // What no scale reads well enough the others give.
        return;
    }
    for (carrier, due) in carriers.iter().zip(&due) {
        if (&carrier.given - due).abs() > room {
            let name = sheet
                .ingredients
                .get(carrier.rank)
                .map_or("", |it| &it.name);
            let says = format!(
                "{name} gives {} g to the pre-blend; by the rule {due} g",
                carrier.given
            );
            found.add(Rule::Carrier, &batch.place, says);
        }
    }
}

/// What may carry, the largest first, and how far scales may have moved what it gives.
fn carriers(sheet: &Sheet, batch: &Batch) -> (Vec<Carrier>, Q) {
    let mut carriers: Vec<Carrier> = Vec::new();
    // Without a scale nothing is snapped, only rounded in print.
    let mut room = Q::ratio(1, 1_000_000_000);
    for (rank, ingredient) in sheet.ingredients.iter().enumerate() {
        if ingredient.class != Class::Bulk || !ingredient.carrier || is_apart(sheet, rank) {
            continue;
        }
        let Some(amount) = batch.amounts.get(rank) else {
            continue;
        };
        // Of a carrier that gives all it has, the part takes up what snapping leaves over.
        room += (&amount.ordered.value - &amount.weighed.value).abs();
        let mut given = Q::ZERO;
        for step in &batch.steps {
            if !matches!(step.kind, StepKind::Dilute | StepKind::PreBlend) {
                continue;
            }
            let parts = bulk_in(sheet, batch, step).filter(|it| it.ingredient == rank);
            for weighing in parts {
                given += &weighing.mass.value;
                // Once as a whole, and once as a part.
                room += &snapped_by(sheet, weighing).value * &Q::int(2);
            }
        }
        carriers.push(Carrier {
            rank,
            has: amount.ordered.value.clone(),
            given,
        });
    }
    // Of ingredients alike, those that give count as the larger.
    carriers.sort_by(|a, b| b.has.cmp(&a.has).then_with(|| b.given.cmp(&a.given)));
    (carriers, room)
}

/// Whether some scale reads a carrier's part within a tenth.
fn is_weighable(sheet: &Sheet, part: &Q) -> bool {
    sheet.scales.iter().any(|scale| {
        let tenth = part * &Q::ratio(1, 10);
        surely_reads(scale, sheet.method.lift.as_ref(), part, &tenth).is_some()
    })
}

/// Bulk that may carry, with what there is of it and what it gives.
struct Carrier {
    rank: usize,
    has: Q,
    given: Q,
}

fn is_apart(sheet: &Sheet, bulk: usize) -> bool {
    let is_small = |rank: usize| {
        sheet
            .ingredients
            .get(rank)
            .is_some_and(|it| it.class == Class::Small)
    };
    sheet.pairs().iter().any(|(one, other, _)| {
        (*one == bulk && is_small(*other)) || (*other == bulk && is_small(*one))
    })
}

/// Equal parts of the fewest largest that hold half of what may carry; none gives more than half of itself
/// while halves suffice, then none more than itself.
fn shared_out(carriers: &[Carrier], needed: &Q) -> Vec<Q> {
    let all: Q = carriers.iter().map(|it| &it.has).sum();
    let half = Q::ratio(1, 2);
    // What was rounded in print may be exactly half.
    let enough = &all * &half - Q::ratio(1, 1_000_000_000);
    let mut count = 0;
    let mut held = Q::ZERO;
    for carrier in carriers {
        if held >= enough {
            break;
        }
        held += &carrier.has;
        count += 1;
    }
    let halves: Vec<Q> = carriers.iter().map(|it| &it.has * &half).collect();
    if halves.iter().sum::<Q>() < *needed {
        let wholes: Vec<Q> = carriers.iter().map(|it| it.has.clone()).collect();
        return equal_parts(&wholes, needed);
    }
    let mut parts = equal_parts(halves.get(..count).unwrap_or(&[]), needed);
    let mut left = needed - parts.iter().sum::<Q>();
    for next in halves.iter().skip(count) {
        let gives = left.clone().min(next.clone());
        left -= &gives;
        parts.push(gives);
    }
    parts
}

/// `needed` in equal parts, none over its own bound; the others share what one cannot give.
fn equal_parts(bounds: &[Q], needed: &Q) -> Vec<Q> {
    let mut parts = vec![Q::ZERO; bounds.len()];
    // Bounds descend, so the last is full first: each takes its share of what the smaller ones left.
    let mut left = needed.clone();
    for (index, bound) in bounds.iter().enumerate().rev() {
        let sharing = i64::try_from(index + 1).unwrap_or(i64::MAX);
        let part = (&left / Q::int(sharing)).min(bound.clone());
        left -= &part;
        if let Some(slot) = parts.get_mut(index) {
            *slot = part;
        }
    }
    parts
}
