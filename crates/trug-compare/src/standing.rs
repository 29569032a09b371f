//! Bounds and doses of two analyses: which is which, what changed in them, and the order they are told in.

use std::collections::BTreeMap;

use trug_findings::Place;
use trug_model::Q;
use trug_model::analysis::{Analysis, BoundKind};

use crate::bounded::{Bounded, Standing, StandingChange, Turn};
use crate::change::Pair;

/// An analysis, and whose the bounds in it are, by the places they are written at.
pub(crate) struct Known<'a> {
    pub(crate) analysis: &'a Analysis,
    pub(crate) whose: &'a BTreeMap<Place, String>,
}

/// Every bound and dose of an analysis.
fn standings(known: &Known<'_>) -> Vec<(Bounded, Standing)> {
    let analysis = known.analysis;
    let bounds = analysis.bounds.iter().map(|bound| {
        let of = Bounded::Bound {
            kind: bound.kind,
            what: bound.what.clone(),
            basis: bound.basis.clone(),
        };
        let at = Standing {
            value: bound.value.clone(),
            unit: bound.unit.clone(),
            min: bound.min.clone(),
            max: bound.max.clone(),
            ceiling: None,
            met: bound.met,
            whose: known.whose.get(&bound.place).cloned().unwrap_or_default(),
        };
        (of, at)
    });
    let doses = analysis.doses.iter().map(|dose| {
        let of = Bounded::Dose {
            ingredient: dose.ingredient.clone(),
            nutrient: dose.nutrient.clone(),
        };
        let at = Standing {
            value: dose.value.clone(),
            unit: dose.unit.clone(),
            min: dose.min.clone(),
            max: dose.max.clone(),
            ceiling: dose.ceiling.clone(),
            met: dose.met,
            whose: String::new(),
        };
        (of, at)
    });
    bounds.chain(doses).collect()
}

/// The bounds and doses in which something changed, the worst first.
pub(crate) fn changes(
    before: Option<&Known<'_>>,
    after: Option<&Known<'_>>,
) -> Vec<StandingChange> {
    let mut by_bounded: BTreeMap<Bounded, Pair<Vec<Standing>>> = BTreeMap::new();
    for (of, at) in before.map(standings).unwrap_or_default() {
        let pair = by_bounded.entry(of).or_default();
        pair.before.get_or_insert_default().push(at);
    }
    for (of, at) in after.map(standings).unwrap_or_default() {
        let pair = by_bounded.entry(of).or_default();
        pair.after.get_or_insert_default().push(at);
    }
    let mut changes = Vec::new();
    for (of, pair) in by_bounded {
        let pairs = paired(
            pair.before.unwrap_or_default(),
            pair.after.unwrap_or_default(),
        );
        changes.extend(
            pairs
                .into_iter()
                .map(|at| StandingChange { of: of.clone(), at }),
        );
    }
    changes.retain(|change| match (&change.at.before, &change.at.after) {
        (Some(before), Some(after)) => !is_same(before, after),
        _ => true,
    });
    changes.sort_by_key(rank);
    changes
}

/// Several bounds may be on one thing: those with the same ends belong together, then those of the same rank.
fn paired(before: Vec<Standing>, mut after: Vec<Standing>) -> Vec<Pair<Standing>> {
    let ends = |at: &Standing| {
        (
            at.min.clone(),
            at.max.clone(),
            at.ceiling.clone(),
            at.unit.clone(),
        )
    };
    let mut paired = Vec::new();
    let mut left = Vec::new();
    for one in before {
        match after.iter().position(|other| ends(other) == ends(&one)) {
            Some(rank) => paired.push(Pair::both(one, after.remove(rank))),
            None => left.push(one),
        }
    }
    let mut after = after.into_iter();
    paired.extend(left.into_iter().map(|one| Pair {
        before: Some(one),
        after: after.next(),
    }));
    paired.extend(after.map(|other| Pair {
        before: None,
        after: Some(other),
    }));
    paired
}

/// Whether two standings say the same, be it in another unit: then all numbers differ by one factor.
fn is_same(one: &Standing, other: &Standing) -> bool {
    if one.unit == other.unit {
        let nobodys = |at: &Standing| Standing {
            whose: String::new(),
            ..at.clone()
        };
        return nobodys(one) == nobodys(other);
    }
    let ends = |at: &Standing| {
        [
            at.value.clone(),
            at.min.clone(),
            at.max.clone(),
            at.ceiling.clone(),
        ]
    };
    let mut factors = Vec::new();
    for pair in ends(one).into_iter().zip(ends(other)) {
        match pair {
            (Some(one), Some(other)) if one.is_zero() || other.is_zero() => {
                if one != other {
                    return false;
                }
            }
            (Some(one), Some(other)) => factors.extend(one.over(&other)),
            (None, None) => {}
            _ => return false,
        }
    }
    // One number alone would always fit some factor.
    let is_one_factor = factors.windows(2).all(|two| two.first() == two.last());
    one.met == other.met && factors.len() > 1 && is_one_factor
}

/// What can hurt first, then what is newly missed, then by name.
fn rank(change: &StandingChange) -> (Turn, u8, Bounded, Option<Q>) {
    let weight = match &change.of {
        Bounded::Bound { kind, .. } => match kind {
            BoundKind::Harm => 0,
            BoundKind::Law => 1,
            BoundKind::Target => 3,
            BoundKind::Limit => 4,
        },
        Bounded::Dose { .. } => 2,
    };
    let least = change.at.any().and_then(|at| at.min.clone());
    (change.turn(), weight, change.of.clone(), least)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(value: &str, min: &str, unit: &str, met: bool) -> Standing {
        Standing {
            value: Q::decimal(value),
            unit: unit.to_owned(),
            min: Q::decimal(min),
            max: None,
            ceiling: None,
            met: Some(met),
            whose: String::new(),
        }
    }

    #[test]
    fn another_unit_is_no_change_and_another_bound_is() {
        assert!(is_same(
            &at("16.4", "16", "%", true),
            &at("164", "160", "g/kg", true)
        ));
        assert!(!is_same(
            &at("16.4", "16", "%", true),
            &at("158", "160", "g/kg", false)
        ));
        assert!(!is_same(
            &at("16.4", "16", "%", true),
            &at("16.4", "15", "%", true)
        ));
    }

    #[test]
    fn bounds_on_one_thing_are_told_apart_by_their_ends() {
        let (low, high) = (at("17", "16", "%", true), at("17", "18", "%", false));
        let pairs = paired(
            vec![low.clone(), high.clone()],
            vec![high.clone(), low.clone()],
        );
        assert_eq!(
            pairs,
            [Pair::both(low.clone(), low), Pair::both(high.clone(), high)]
        );
    }

    #[test]
    fn a_verdict_turns() {
        let turn = |before: Option<Option<bool>>, after: Option<Option<bool>>| {
            let at = |met: Option<bool>| Standing {
                met,
                ..at("1", "2", "%", true)
            };
            let of = Bounded::Dose {
                ingredient: "salt".to_owned(),
                nutrient: None,
            };
            StandingChange {
                of,
                at: Pair {
                    before: before.map(at),
                    after: after.map(at),
                },
            }
            .turn()
        };
        assert_eq!(turn(Some(Some(true)), Some(Some(false))), Turn::Missed);
        assert_eq!(turn(None, Some(Some(false))), Turn::Missed);
        assert_eq!(
            turn(Some(Some(false)), Some(Some(false))),
            Turn::StillMissed
        );
        assert_eq!(turn(Some(Some(true)), Some(None)), Turn::Undecided);
        assert_eq!(turn(Some(Some(false)), Some(Some(true))), Turn::Met);
        assert_eq!(turn(Some(None), Some(Some(true))), Turn::Kept);
        assert_eq!(turn(Some(Some(false)), None), Turn::Gone);
    }
}
