//! Ratios of steps, as printed and against what the method allows, and how liquids enter.

use trug_model::Q;

use super::amounts::coarsest;
use super::flow::{Flow, numbered};
use super::kinds::class_of;
use super::number::Number;
use super::sheet::{Batch, Class, InputSource, Sheet, Step, StepKind, Weighing};
use super::{Breaches, Rule};

/// Decimals of a printed ratio.
const RATIO_DECIMALS: usize = 3;
/// A liquid is first worked into so many times its mass.
const LIQUID_INTO: i64 = 5;

/// Checks the ratios of all steps of a batch.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    for (rank, step) in numbered(batch) {
        let place = batch.at_step(step);
        let smallest = smallest_to_dilute(sheet, batch, flow, step);
        if let Some(smallest) = &smallest
            && step.output.is_over(&smallest.times(&sheet.method.dilutes))
            && !sheet.owns_up_to_mixing()
        {
            let says = format!(
                "{smallest} g in {} g is more than 1 in {}, and no finding says so",
                step.output, sheet.method.dilutes
            );
            found.add(Rule::Dilutes, &place, says);
        }
        let due = if step.kind == StepKind::Heap {
            None
        } else {
            smallest
        };
        if !is_printed(step, due.as_ref()) {
            let due = due.and_then(|due| step.output.value.over(&due.value));
            let due = due.map_or("null".to_owned(), |due| due.rounded(RATIO_DECIMALS));
            found.add(
                Rule::Ratio,
                &place,
                format!("its ratio is {due}, not {:?}", step.ratio),
            );
        }
        check_liquids(sheet, batch, (rank, step), found);
    }
}

/// The smallest input that holds a small ingredient or a liquid; a spread leaves the heap out.
fn smallest_to_dilute(sheet: &Sheet, batch: &Batch, flow: &Flow, step: &Step) -> Option<Number> {
    let is_heap = |source| match source {
        InputSource::Step(rank) => batch
            .steps
            .get(rank)
            .is_some_and(|step| step.kind == StepKind::Heap),
        InputSource::Weighing(_) => false,
    };
    step.inputs
        .iter()
        .filter(|input| step.kind != StepKind::Final || !is_heap(input.source))
        .filter(|input| {
            flow.input_holds(sheet, batch, input.source, Class::Small)
                || flow.input_holds(sheet, batch, input.source, Class::Liquid)
        })
        .map(|input| input.mass.clone())
        .min_by(|a, b| a.value.cmp(&b.value))
}

/// Whether the ratio stands in the plan as it is, to three decimals.
fn is_printed(step: &Step, smallest: Option<&Number>) -> bool {
    let (Some(printed), Some(smallest)) = (step.ratio, smallest) else {
        return step.ratio.is_none() && smallest.is_none();
    };
    let Some(ratio) = step.output.value.over(&smallest.value) else {
        return false;
    };
    let is_exact = step.output.slack.is_zero() && smallest.slack.is_zero();
    if is_exact {
        return ratio.rounded(RATIO_DECIMALS).parse() == Ok(printed);
    }
    // Masses that were rounded at the twelfth decimal can turn the third decimal of their ratio by one.
    (ratio.to_f64() - printed).abs() <= 0.001
}

/// Every liquid comes first into five times its mass.
fn check_liquids(sheet: &Sheet, batch: &Batch, (_, step): (usize, &Step), found: &mut Breaches) {
    if step.kind == StepKind::PreBlend {
        // Where the pre-blend is the batch there is no heap to work a liquid into.
        return;
    }
    for input in &step.inputs {
        let Some(weighing) = weighing(batch, input.source) else {
            continue;
        };
        if class_of(sheet, weighing) != Some(Class::Liquid) {
            continue;
        }
        let into = step.output.less(&weighing.mass);
        // Where a step may not dilute so far, it cannot be asked to.
        let times = Q::int(LIQUID_INTO).min(&sheet.method.dilutes - &Q::ONE);
        let bed = weighing.mass.times(&times);
        let is_poor = bed.is_over(&into.plus(&snapping(sheet, batch, step)));
        if is_poor && !sheet.owns_up() {
            let says = format!("{} g of a liquid go into {into} g", weighing.mass);
            found.add(Rule::Liquid, batch.at_step(step), says);
        }
    }
}

/// How far the scales may have moved a liquid and what it goes into.
fn snapping(sheet: &Sheet, batch: &Batch, step: &Step) -> Number {
    let divisions: Number = step
        .inputs
        .iter()
        .filter_map(|input| sheet.scales.get(weighing(batch, input.source)?.scale?))
        .map(|scale| &scale.division)
        .sum();
    let own = divisions.times(&Q::int(LIQUID_INTO));
    let coarsest = coarsest(sheet, batch);
    let tenth = step.output.times(&Q::ratio(1, 10));
    let other = if coarsest.is_over(&tenth) {
        tenth
    } else {
        coarsest
    };
    if own.is_over(&other) { own } else { other }
}

fn weighing(batch: &Batch, source: InputSource) -> Option<&Weighing> {
    match source {
        InputSource::Weighing(rank) => batch.weighings.get(rank),
        InputSource::Step(_) => None,
    }
}

/// The smallest liquid comes first.
pub(super) fn check_liquid_order(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let is_liquid = |rank: usize| {
        let ingredient = sheet.ingredients.get(rank);
        ingredient.is_some_and(|it| it.class == Class::Liquid)
    };
    let is_parted = |(one, other, _): &(usize, usize, Q)| is_liquid(*one) && is_liquid(*other);
    // Liquids that are apart go separate ways; what finds no bed goes on the heap as it is.
    if sheet.pairs().iter().any(is_parted) || sheet.owns_up() {
        return;
    }
    let mut liquids: Vec<&Weighing> = batch
        .weighings
        .iter()
        .filter(|weighing| class_of(sheet, weighing) == Some(Class::Liquid))
        .filter(|weighing| {
            // What the heap itself thins enough needs no step of its own.
            let step = batch.steps.get(weighing.step);
            step.is_some_and(|step| step.kind != StepKind::Heap)
        })
        .collect();
    liquids.sort_by_key(|weighing| weighing.step);
    for two in liquids.windows(2) {
        if let [earlier, later] = two
            && earlier.step < later.step
            && earlier.mass.is_over(&later.mass)
        {
            let says = format!("{} g of liquid come before {} g", earlier.mass, later.mass);
            found.add(Rule::Liquid, batch.at_weighing(later), says);
        }
    }
}
