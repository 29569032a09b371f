//! Every weighing against its scale: divisions, bounds, loads, error, what it may read, and the choice of scale.

use trug_model::Q;

use super::kinds::class_of;
use super::number::Number;
use super::scales::{fewest_loads, possible_error, surely_reads};
use super::sheet::{Batch, Class, Scale, Sheet, Step, StepKind, Weighing};
use super::{Breaches, Rule};

/// A carrier part need only be weighed within this; over it, a finding is an error.
fn a_tenth() -> Q {
    Q::ratio(1, 10)
}

/// Checks all weighings of a batch.
pub(super) fn check(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    for weighing in &batch.weighings {
        let place = batch.at_weighing(weighing);
        check_mass(weighing, &place, found);
        match weighing.scale.and_then(|rank| sheet.scales.get(rank)) {
            Some(scale) => {
                check_divisions(scale, weighing, &place, found);
                check_loads(sheet, scale, weighing, &place, found);
                check_error(scale, weighing, &place, found);
                check_window(sheet, scale, weighing, &place, found);
                check_choice(sheet, batch, scale, weighing, found);
            }
            None => check_unscaled(sheet, batch, weighing, found),
        }
    }
    for rank in 0..sheet.ingredients.len() {
        check_accuracy(sheet, batch, rank, found);
    }
}

fn check_mass(weighing: &Weighing, place: &str, found: &mut Breaches) {
    if !weighing.mass.is_positive() {
        found.add(
            Rule::Sums,
            place,
            format!("its mass is {} g", weighing.mass),
        );
    }
    if weighing.error.value.is_negative() {
        found.add(
            Rule::PossibleError,
            place,
            format!("its error is {} g", weighing.error),
        );
    }
    let sum: Number = weighing.loads.iter().sum();
    if weighing.loads.is_empty() || !sum.is(&weighing.mass) {
        let says = format!("its loads are {sum} g; its mass is {} g", weighing.mass);
        found.add(Rule::Loads, place, says);
    }
    if weighing.from.is_over(&weighing.mass) || weighing.mass.is_over(&weighing.to) {
        let (mass, from, to) = (&weighing.mass, &weighing.from, &weighing.to);
        let says = format!("{mass} g is not within {from} .. {to} g");
        found.add(Rule::Window, place, says);
    }
}

fn check_divisions(scale: &Scale, weighing: &Weighing, place: &str, found: &mut Breaches) {
    let readings = [&weighing.mass, &weighing.from, &weighing.to];
    for reading in readings.into_iter().chain(&weighing.loads) {
        if !reading.is_multiple_of(&scale.division) {
            let says = format!(
                "{} does not show {reading} g in steps of {} g",
                scale.name, scale.division
            );
            found.add(Rule::Division, place, says);
        }
    }
}

fn check_loads(
    sheet: &Sheet,
    scale: &Scale,
    weighing: &Weighing,
    place: &str,
    found: &mut Breaches,
) {
    let lift = sheet.method.lift.as_ref();
    for load in &weighing.loads {
        if scale.minimum.is_over(load) {
            let says = format!(
                "{} weighs from {} g; a load is {load} g",
                scale.name, scale.minimum
            );
            found.add(Rule::Minimum, place, says);
        }
        if load.is_over(&scale.capacity) {
            let says = format!(
                "{} weighs up to {} g; a load is {load} g",
                scale.name, scale.capacity
            );
            found.add(Rule::Capacity, place, says);
        }
        if let Some(lift) = lift
            && load.is_over(lift)
        {
            let says = format!("one person lifts {lift} g; a load is {load} g");
            found.add(Rule::Lift, place, says);
        }
    }
    if let Some(fewest) = fewest_loads(scale, lift, &weighing.mass.value)
        && Q::int(i64::try_from(weighing.loads.len()).unwrap_or(i64::MAX)) > fewest
    {
        let says = format!("{} loads where {fewest} would do", weighing.loads.len());
        found.add(Rule::Loads, place, says);
    }
}

fn check_error(scale: &Scale, weighing: &Weighing, place: &str, found: &mut Breaches) {
    let mut error = Number::exact(Q::ZERO);
    for load in &weighing.loads {
        error = error.plus(&possible_error(scale, load));
    }
    if !error.is(&weighing.error) {
        let says = format!(
            "{} may be off by {error} g, not by {} g",
            scale.name, weighing.error
        );
        found.add(Rule::PossibleError, place, says);
    }
}

fn check_window(
    sheet: &Sheet,
    scale: &Scale,
    weighing: &Weighing,
    place: &str,
    found: &mut Breaches,
) {
    let division = &scale.division;
    let inward = |factor: Q, round: fn(&Q, &Q) -> Q| {
        let reading = round(&(&weighing.mass.value * factor), &division.value);
        let steps = reading.over(&division.value).unwrap_or(Q::ZERO);
        division.times(&steps)
    };
    let weigh = &sheet.method.weigh;
    let from = inward(Q::ONE - weigh, Q::ceil_to);
    let to = inward(Q::ONE + weigh, Q::floor_to);
    if !weighing.from.is(&from) || !weighing.to.is(&to) {
        let says = format!(
            "it may read {} .. {} g; what the method allows is {from} .. {to} g",
            weighing.from, weighing.to
        );
        found.add(Rule::Window, place, says);
    }
}

/// No other scale reads the same with fewer loads, or with as many and finer.
///
/// Another scale counts only where it would do for a little more and a little less as well: the amount
/// before snapping is not known of a part.
fn check_choice(
    sheet: &Sheet,
    batch: &Batch,
    scale: &Scale,
    weighing: &Weighing,
    found: &mut Breaches,
) {
    let loads = loads_as_chosen(sheet, batch, scale, weighing);
    let is_cut = is_cut(sheet, batch, weighing);
    if sheet.owns_up() || is_contended(sheet, batch, weighing) {
        return;
    }
    for other in &sheet.scales {
        // It is cut to what its own scale shows, which another need not show.
        if is_cut && !weighing.mass.is_multiple_of(&other.division) {
            continue;
        }
        // A lot's part is cut to the scale of the whole, and read within a tenth.
        let is_shared = is_shared(batch, weighing);
        if is_shared && !weighing.mass.is_multiple_of(&other.division) {
            continue;
        }
        let Some(needed) = loads_whatever_snapping(sheet, batch, other, scale, weighing) else {
            continue;
        };
        let is_better =
            needed < loads || (needed == loads && scale.division.is_over(&other.division));
        if is_better {
            let says = format!(
                "{} reads {} g in {needed} loads, by {} g",
                other.name, weighing.mass, other.division
            );
            found.add(Rule::Scale, batch.at_weighing(weighing), says);
        }
    }
}

/// Bulk whose mass is for its step to say, to the gram where a scale shows it: what enters before the pre-blend, and what one of
/// several pre-blends takes so that it is neither thinner than the ratio allows nor thicker than what is apart asks.
fn is_cut(sheet: &Sheet, batch: &Batch, weighing: &Weighing) -> bool {
    let is_pre_blend = |step: &Step| step.kind == StepKind::PreBlend;
    let step = batch.steps.get(weighing.step);
    let is_cut = step.is_some_and(|step| match step.kind {
        StepKind::Dilute => true,
        StepKind::PreBlend => batch.steps.iter().skip(weighing.step + 1).any(is_pre_blend),
        _ => false,
    });
    is_cut && class_of(sheet, weighing) == Some(Class::Bulk)
}

/// Whether it is a part of what several lots give to a step, one beside the other.
pub(super) fn is_shared(batch: &Batch, weighing: &Weighing) -> bool {
    let shares = |one: &Weighing, other: &Weighing| {
        one.ingredient == other.ingredient && one.step == other.step && one.lot != other.lot
    };
    batch.weighings.windows(2).any(|two| match two {
        [one, other] => [one, other].iter().any(|it| it.id == weighing.id) && shares(one, other),
        _ => false,
    })
}

/// Whether the parts of an ingredient, each on the scale it would have alone, err too much together: then some part is
/// weighed more finely than it need be.
fn is_contended(sheet: &Sheet, batch: &Batch, weighing: &Weighing) -> bool {
    let parts = || {
        let all = batch.weighings.iter();
        all.filter(|part| part.ingredient == weighing.ingredient)
    };
    let Some(amount) = batch.amounts.get(weighing.ingredient) else {
        return false;
    };
    if parts().count() < 2 {
        return false;
    }
    let coarsest: Q = parts().map(|part| coarsest_error(sheet, part)).sum();
    coarsest > &amount.weighed.value * &sheet.method.weigh
}

/// The largest possible error of a part on any scale that reads it within a tenth.
fn coarsest_error(sheet: &Sheet, part: &Weighing) -> Q {
    let lift = sheet.method.lift.as_ref();
    let mass = &part.mass.value;
    let errors = sheet.scales.iter().filter_map(|scale| {
        let loads = surely_reads(scale, lift, mass, &(mass * &a_tenth()))?;
        Some(possible_error(scale, &part.mass).value * loads)
    });
    errors.max().unwrap_or_else(|| part.error.value.clone())
}

/// The loads of a weighing when its scale was chosen: fewer, where snapping added to it.
fn loads_as_chosen(sheet: &Sheet, batch: &Batch, scale: &Scale, weighing: &Weighing) -> Q {
    let loads = Q::int(i64::try_from(weighing.loads.len()).unwrap_or(i64::MAX));
    let asked = asked(batch, weighing) - &scale.division.value;
    match fewest_loads(scale, sheet.method.lift.as_ref(), &asked) {
        Some(fewest) => loads.min(fewest),
        None => loads,
    }
}

/// What a part was to be before snapping, as far as can be told: bulk takes up what the others leave over.
fn asked(batch: &Batch, weighing: &Weighing) -> Q {
    let mass = weighing.mass.value.clone();
    match batch.amounts.get(weighing.ingredient) {
        Some(amount) => mass + &amount.ordered.value - &amount.weighed.value,
        None => mass,
    }
}

fn loads_whatever_snapping(
    sheet: &Sheet,
    batch: &Batch,
    other: &Scale,
    scale: &Scale,
    weighing: &Weighing,
) -> Option<Q> {
    let lift = sheet.method.lift.as_ref();
    let mass = &weighing.mass.value;
    let amount = batch.amounts.get(weighing.ingredient)?;
    let asked = asked(batch, weighing);
    let room = scale
        .division
        .value
        .clone()
        .max(other.division.value.clone());
    // What the parts may be off together, less what the others may.
    let others: Q = batch
        .weighings
        .iter()
        .filter(|other| other.ingredient == weighing.ingredient && other.id != weighing.id)
        .map(|other| &other.error.value)
        .sum();
    let left = &amount.weighed.value * &sheet.method.weigh - others;
    let reads = |mass: Q| {
        let mut allowed = (&mass * &sheet.method.weigh).min(left.clone());
        if is_shared(batch, weighing) {
            allowed = allowed.min(&mass * &a_tenth());
        }
        surely_reads(other, lift, &mass, &allowed)
    };
    let least = reads(mass.clone().min(asked.clone()) - &room)?;
    let most = reads(mass.clone().max(asked) + &room)?;
    Some(least.max(most))
}

/// Without a scale a weighing needs a finding, and no scale that would have done.
fn check_unscaled(sheet: &Sheet, batch: &Batch, weighing: &Weighing, found: &mut Breaches) {
    let place = batch.at_weighing(weighing);
    if !sheet.says(|remark| remark.family() == "weigh" && !remark.is_note) {
        found.add(
            Rule::Scale,
            &place,
            "it has no scale, and no finding says so",
        );
    }
    for other in &sheet.scales {
        let is_shown =
            !is_cut(sheet, batch, weighing) || weighing.mass.is_multiple_of(&other.division);
        if is_shown && loads_whatever_snapping(sheet, batch, other, other, weighing).is_some() {
            let says = format!("{} reads {} g", other.name, weighing.mass);
            found.add(Rule::Scale, &place, says);
        }
    }
}

/// `weigh` is asked of an ingredient's total, a tenth of every part.
fn check_accuracy(sheet: &Sheet, batch: &Batch, rank: usize, found: &mut Breaches) {
    let (Some(ingredient), Some(amount)) = (sheet.ingredients.get(rank), batch.amounts.get(rank))
    else {
        return;
    };
    let own = || {
        batch
            .weighings
            .iter()
            .filter(|it| it.ingredient == rank && it.scale.is_some())
    };
    let error: Number = own().map(|weighing| &weighing.error).sum();
    let is_coarse = error.is_over(&amount.weighed.times(&sheet.method.weigh))
        || own().any(|weighing| {
            let step = batch.steps.get(weighing.step).map(|step| step.kind);
            let is_carrier = matches!(step, Some(StepKind::Dilute | StepKind::PreBlend));
            is_carrier && weighing.error.is_over(&weighing.mass.times(&a_tenth()))
        });
    let is_too_coarse = error.is_over(&amount.weighed.times(&a_tenth()));
    let is_said = sheet.says(|remark| {
        remark.family() == "weigh" && !remark.is_note && (remark.is_error || !is_too_coarse)
    });
    if (is_coarse || is_too_coarse) && !is_said {
        let says = format!(
            "{} may be off by {error} g of {} g, and no finding says so",
            ingredient.name, amount.weighed
        );
        found.add(Rule::Accuracy, &batch.place, says);
    }
}
