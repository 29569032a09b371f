//! What a choice leaves undecided that must be decided: it says where to branch.

use trug_model::Q;

use crate::programme::Exclusion;
use crate::solve::question::{Pattern, Question};
use crate::solve::rows::is_kept;

/// A share of the whole that counts as used, in machine numbers.
const LEAST_USED: f64 = 1e-9;

/// A bound that is missed by less of its own size is kept, in machine numbers.
const NEARLY_KEPT: f64 = 1e-9;

/// What is not yet settled at a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Choice {
    /// Whether this share is used.
    Use(usize),
    /// Which side of this exclusion is left out.
    Exclude(usize),
}

/// The first exclusion that is not kept, or the share whose bounds are missed most.
pub(super) fn unsettled(question: &Question, pattern: &Pattern, shares: &[f64]) -> Option<Choice> {
    let programme = question.programme;
    let least = LEAST_USED * programme.total.to_f64();
    let is_used = |share: usize| shares.get(share).is_some_and(|value| *value > least);
    if let Some(rank) = broken_exclusion(&programme.exclusions, &is_used) {
        return Some(Choice::Exclude(rank));
    }
    let mut worst: Option<(f64, usize)> = None;
    for (rank, bound) in programme.bounds.iter().enumerate() {
        let open = bound.if_used.filter(|share| is_open(pattern, *share));
        let Some(share) = open.filter(|share| is_used(*share)) else {
            continue;
        };
        let missing = question.missing(rank, shares);
        if missing > NEARLY_KEPT && worst.is_none_or(|(most, _)| missing > most) {
            worst = Some((missing, share));
        }
    }
    worst.map(|(_, share)| Choice::Use(share))
}

/// The same in exact arithmetic.
pub(super) fn unsettled_exactly(
    question: &Question,
    pattern: &Pattern,
    shares: &[Q],
) -> Option<Choice> {
    let programme = question.programme;
    let is_used = |share: usize| shares.get(share).is_some_and(Q::is_positive);
    if let Some(rank) = broken_exclusion(&programme.exclusions, &is_used) {
        return Some(Choice::Exclude(rank));
    }
    let mut bounds = programme.bounds.iter();
    bounds.find_map(|bound| {
        let share = bound.if_used.filter(|share| is_open(pattern, *share))?;
        let is_broken = is_used(share) && !is_kept(bound, shares);
        is_broken.then_some(Choice::Use(share))
    })
}

fn broken_exclusion(exclusions: &[Exclusion], is_used: &dyn Fn(usize) -> bool) -> Option<usize> {
    let any = |side: &[usize]| side.iter().any(|share| is_used(*share));
    let mut sides = exclusions.iter();
    sides.position(|exclusion| any(&exclusion.one) && any(&exclusion.other))
}

fn is_open(pattern: &Pattern, share: usize) -> bool {
    !pattern.used[share] && !pattern.out[share]
}
