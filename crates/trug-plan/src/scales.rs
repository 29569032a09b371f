//! Which scale weighs what, in how many loads, and how far it may be off.

mod judge;
mod remedy;
mod share_out;

use trug_model::Q;

use crate::amounts::Case;
use crate::draft::{Draft, Part, Role};
use crate::order::{AccuracyClass, Ingredient, Scale};

pub(crate) use judge::{allowed, judge};
pub(crate) use share_out::share_out;

/// More loads than this for one weighing are no work for a hand.
const MOST_LOADS: i64 = 100_000;

/// A weighing on one scale.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    /// Rank in the order's scales.
    pub(crate) scale: usize,
    pub(crate) mass: Q,
    /// Loads alike, counted.
    pub(crate) loads: Vec<(i64, Q)>,
    pub(crate) error: Q,
}

impl Reading {
    /// How often the scale is loaded.
    pub(crate) fn count(&self) -> i64 {
        self.loads.iter().map(|(times, _)| times).sum()
    }
}

/// The maximum permissible error on initial verification, in divisions, of a load in divisions.
///
/// OIML R 76-1:2006, Table 6.
pub(crate) fn permissible(class: AccuracyClass, load: &Q) -> Q {
    let (first, second) = match class {
        AccuracyClass::I => (50_000, 200_000),
        AccuracyClass::II => (5_000, 20_000),
        AccuracyClass::III => (500, 2_000),
        AccuracyClass::IIII => (50, 200),
    };
    if *load <= Q::int(first) {
        Q::ratio(1, 2)
    } else if *load <= Q::int(second) {
        Q::ONE
    } else {
        Q::ratio(3, 2)
    }
}

/// How far one load may be off: twice the permissible error where there is a class (OIML R 76: in service), else one division.
fn error_of(scale: &Scale, load: &Q) -> Q {
    match scale.class {
        None => scale.division_g.clone(),
        Some(class) => {
            let divisions = load.over(&scale.division_g).unwrap_or_default();
            permissible(class, &divisions) * Q::int(2) * &scale.division_g
        }
    }
}

/// What a scale weighs in one load, by what it bears and what one lifts.
pub(crate) fn one_load(case: &Case, scale: &Scale) -> Q {
    match &case.order.method.lift_g {
        Some(lift) => lift.clone().min(scale.capacity_g.clone()),
        None => scale.capacity_g.clone(),
    }
}

/// The weighing of `mass` on the scale of rank `rank`; none where that scale cannot do it.
pub(crate) fn read(case: &Case, rank: usize, mass: &Q) -> Option<Reading> {
    let scale = case.order.scales.get(rank)?;
    let most = one_load(case, scale).floor_to(&scale.division_g);
    let loads = loads(scale, mass, &most)?;
    let error = loads
        .iter()
        .map(|(times, load)| error_of(scale, load) * Q::int(*times))
        .sum();
    Some(Reading {
        scale: rank,
        mass: mass.clone(),
        loads,
        error,
    })
}

/// Full loads and what is left; nothing below the scale's minimum, all on its divisions.
fn loads(scale: &Scale, mass: &Q, most: &Q) -> Option<Vec<(i64, Q)>> {
    let (least, division) = (&scale.minimum_g, &scale.division_g);
    let is_on_division = mass.over(division)?.is_whole();
    if !mass.is_positive() || mass < least || most < least || !is_on_division || !most.is_positive()
    {
        return None;
    }
    if mass <= most {
        return Some(vec![(1, mass.clone())]);
    }
    let count = mass.over(most)?.ceil();
    if count > Q::int(MOST_LOADS) {
        return None;
    }
    let times = count.to_i64()?;
    let rest = mass - &(most * Q::int(times - 1));
    if rest == *most {
        return Some(vec![(times, rest)]);
    }
    if rest >= *least {
        return Some(vec![(times - 1, most.clone()), (1, rest)]);
    }
    let last_two = most + rest;
    let larger = (&last_two / Q::int(2)).ceil_to(division);
    let smaller = &last_two - &larger;
    if smaller >= *least {
        let mut runs = vec![(times - 2, most.clone()), (1, larger), (1, smaller)];
        runs.retain(|(times, _)| *times > 0);
        return Some(runs);
    }
    let even = (mass / count).floor_to(division);
    if even < *least || !even.is_positive() {
        return None;
    }
    let larger = (mass - &(&even * Q::int(times))).over(division)?.to_i64()?;
    let mut runs = vec![(larger, &even + division), (times - larger, even)];
    runs.retain(|(times, _)| *times > 0);
    Some(runs)
}

/// Of the scales that read the mass as each would have it snapped: the one that needs the fewest loads, then the finest, among
/// those that are good enough; else the one that errs least. The flag says which.
pub(crate) fn choose(
    case: &Case,
    snap: impl Fn(&Scale) -> Q,
    is_good: impl Fn(&Reading) -> bool,
) -> Option<(Reading, bool)> {
    let division = |reading: &Reading| &case.order.scales[reading.scale].division_g;
    let mut good: Option<Reading> = None;
    let mut coarse: Option<Reading> = None;
    for (rank, scale) in case.order.scales.iter().enumerate() {
        let Some(reading) = read(case, rank, &snap(scale)) else {
            continue;
        };
        if is_good(&reading) {
            let is_better = good.as_ref().is_none_or(|best| {
                (reading.count(), division(&reading), &reading.error)
                    < (best.count(), division(best), &best.error)
            });
            if is_better {
                good = Some(reading);
            }
        } else if coarse
            .as_ref()
            .is_none_or(|best| reading.error < best.error)
        {
            coarse = Some(reading);
        }
    }
    good.map(|reading| (reading, true))
        .or(coarse.map(|reading| (reading, false)))
}

/// Whether a reading is within a share of its mass.
pub(crate) fn is_within(reading: &Reading, share: &Q) -> bool {
    reading.error <= share * &reading.mass
}

/// The possible error allowed to a carrier's part, over its mass.
pub(crate) fn carrier_error() -> Q {
    Q::ratio(1, 10)
}

/// The least that some scale reads as a carrier's part. Without a scale that is said once, and anything can be planned.
pub(crate) fn least_weighable(case: &Case) -> Option<Q> {
    if case.order.scales.is_empty() {
        return Some(Q::ZERO);
    }
    let least = case.order.scales.iter().filter_map(|scale| {
        let readable = scale.division_g.over(&carrier_error())?;
        let least = readable.max(scale.minimum_g.clone());
        Some(least.ceil_to(&scale.division_g))
    });
    least.min()
}

/// The finest division there is; none without a scale.
pub(crate) fn finest(case: &Case) -> Option<Q> {
    case.order
        .scales
        .iter()
        .map(|scale| scale.division_g.clone())
        .min()
}

/// The coarsest division in use; nothing where nothing is weighed.
pub(crate) fn coarsest(case: &Case, draft: &Draft) -> Q {
    let readings = draft.parts.iter().filter_map(|part| part.reading.as_ref());
    let divisions = readings.map(|reading| &case.order.scales[reading.scale].division_g);
    divisions.max().cloned().unwrap_or_default()
}

/// An ingredient that is weighed once, as a whole: small, or liquid.
pub(crate) fn whole(case: &Case, rank: usize) -> Part {
    let asked = case.amount(rank);
    let ingredient = case.ingredient(rank);
    let chosen = choose(
        case,
        |scale| {
            if asked < scale.minimum_g {
                return asked.clone();
            }
            let mass = snapped(ingredient, &asked, &case.batch, &scale.division_g);
            if mass < scale.minimum_g {
                scale.minimum_g.ceil_to(&scale.division_g)
            } else {
                mass
            }
        },
        |reading| is_within(reading, &case.order.method.weigh),
    );
    let reading = chosen.map(|(reading, _)| reading);
    Part {
        ingredient: rank,
        role: Role::Whole,
        mass: reading
            .as_ref()
            .map_or(asked, |reading| reading.mass.clone()),
        reading,
    }
}

/// The nearest multiple of the division that keeps every bound the amount itself keeps; upward where it was written by what it gives.
fn snapped(ingredient: &Ingredient, asked: &Q, batch: &Q, division: &Q) -> Q {
    let is_kept = |mass: &Q| keeps(ingredient, asked, batch, mass);
    let below = asked.floor_to(division);
    let above = asked.ceil_to(division);
    let nearest = asked.round_to(division);
    let wanted = if ingredient.gives_active {
        above.clone()
    } else {
        nearest
    };
    let other = if wanted == above { &below } else { &above };
    match (is_kept(&wanted), is_kept(other)) {
        (true, _) => wanted,
        (false, true) if other.is_positive() => other.clone(),
        // No multiple keeps them all: rather too little than too much, but not nothing.
        _ if below.is_positive() => below,
        _ => above,
    }
}

/// Whether a mass keeps every bound that what is asked keeps.
fn keeps(ingredient: &Ingredient, asked: &Q, batch: &Q, mass: &Q) -> bool {
    ingredient.windows.iter().all(|window| {
        let low = window.low.as_ref().map(|low| low * batch);
        let high = window.high.as_ref().map(|high| high * batch);
        let is_above = |mass: &Q| low.as_ref().is_none_or(|low| low <= mass);
        let is_below = |mass: &Q| high.as_ref().is_none_or(|high| mass <= high);
        (is_above(mass) || !is_above(asked)) && (is_below(mass) || !is_below(asked))
    })
}

#[cfg(test)]
#[path = "scales/tests.rs"]
mod tests;
