//! From the cheapest shares to shares that can be written.

use trug_model::Q;

use crate::programme::Programme;
use crate::settled::Use;
use crate::solve::Watch;

mod grid;
mod lattice;
mod lean;
mod moves;
mod nearest;
mod ties;
mod whole;

use grid::Grid;
use lean::Lean;

/// Decimals of a share that are written if they will do: 0.01 % of the whole.
const DECIMALS: u32 = 4;
/// The most decimals of a share that are written: twelve in percent.
const MOST_DECIMALS: u32 = 14;
/// The cost that rounding may add, as a part of the whole cost.
const TOLERANCE: (i64, i64) = (1, 10_000);

/// The cheapest shares.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Optimum<'a> {
    pub(crate) shares: &'a [Q],
    /// Nothing else is as cheap.
    pub(crate) is_only: bool,
}

/// Shares that can be written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Rounded {
    pub(crate) shares: Vec<Q>,
    /// Why they are not rounded, or not within the tolerance.
    pub(crate) unproved: Option<String>,
}

/// The cheapest shares with the fewest decimals, from four on, at which the cost is at most 0.01 % above `least`, with the same
/// shares used as in `optimum`. Every bound is kept exactly.
///
/// What the optimum does not use stays out, unless nothing that can be written comes near enough without it: nobody weighs 0.02 % of
/// something to save a tenth of a cent.
pub(crate) fn rounded(
    programme: &Programme,
    optimum: Optimum<'_>,
    least: &Q,
    watch: &Watch<'_>,
) -> Rounded {
    let lean = nearest_to(programme, optimum, least, Unused::StaysOut, watch);
    let is_near = |(_, cost): &(Vec<Q>, Q)| is_within_tolerance(programme, cost, least);
    let best = if lean.as_ref().is_some_and(is_near) || optimum.shares.iter().all(Q::is_positive) {
        lean
    } else {
        let any = nearest_to(programme, optimum, least, Unused::MayCome, watch);
        let mut found: Vec<(Vec<Q>, Q)> = lean.into_iter().chain(any).collect();
        found.sort_by(|a, b| a.1.cmp(&b.1));
        found.into_iter().next()
    };
    match best {
        Some((shares, _)) => Rounded {
            shares,
            unproved: None,
        },
        None => Rounded {
            shares: optimum.shares.to_vec(),
            unproved: Some(match watch.stopped() {
                Some(_) => UNFINISHED.to_owned(),
                None => UNROUNDED.to_owned(),
            }),
        },
    }
}

/// What becomes of a share that the optimum does not use.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Unused {
    StaysOut,
    MayCome,
}

/// The cheapest shares with the fewest decimals that come near enough to `least`, or those that come nearest, with their cost.
fn nearest_to(
    programme: &Programme,
    optimum: Optimum<'_>,
    least: &Q,
    unused: Unused,
    watch: &Watch<'_>,
) -> Option<(Vec<Q>, Q)> {
    let uses = uses(programme, optimum.shares, unused);
    let lean = Lean::of(programme, optimum.shares, &uses);
    let mut best: Option<(Vec<Q>, Q)> = None;
    let mut grid = Grid::new(&lean, optimum.is_only, watch);
    let near = least + (&programme.fixed_cost + least).abs() * tolerance();
    for decimals in DECIMALS..=MOST_DECIMALS {
        let step = Q::of_parts(1, 10_i128.pow(decimals));
        let found = grid.cheapest(&step, &near, watch);
        if let Some(shares) = found {
            let cost = cost_of(&lean.programme, &shares);
            let is_close = is_within_tolerance(programme, &cost, least);
            if best.as_ref().is_none_or(|(_, best)| cost < *best) {
                best = Some((shares, cost));
            }
            if is_close {
                break;
            }
        }
        if watch.stopped().is_some() {
            break;
        }
    }
    best.map(|(shares, cost)| (lean.widened(shares), cost))
}

/// Why shares are as they are.
const UNROUNDED: &str =
    "no amounts with up to 12 decimals keep every bound exactly, so they are not rounded";

const UNFINISHED: &str = "the work allowed did not suffice to round the amounts";

/// Whether `cost` is at most 0.01 % of the whole cost above `least`.
pub(crate) fn is_within_tolerance(programme: &Programme, cost: &Q, least: &Q) -> bool {
    let whole = (&programme.fixed_cost + cost).abs();
    cost - least <= whole * tolerance()
}

fn tolerance() -> Q {
    Q::ratio(TOLERANCE.0, TOLERANCE.1)
}

/// What shares cost.
pub(crate) fn cost_of(programme: &Programme, shares: &[Q]) -> Q {
    let pairs = programme.shares.iter().zip(shares);
    pairs.map(|(share, amount)| &share.cost * amount).sum()
}

/// Which shares `optimum` settles to be left out, and which to be used.
fn uses(programme: &Programme, optimum: &[Q], unused: Unused) -> Vec<Use> {
    let is_zero = |share: &usize| optimum.get(*share).is_none_or(Q::is_zero);
    let pairs = programme.shares.iter().zip(optimum);
    let mut uses: Vec<Use> = pairs
        .map(|(share, amount)| match amount.is_zero() {
            true if share.or_none || (unused == Unused::StaysOut && !share.is_rest) => Use::LeftOut,
            _ => Use::Used,
        })
        .collect();
    for exclusion in &programme.exclusions {
        let is_one_out = exclusion.one.iter().all(is_zero);
        let out = if is_one_out {
            &exclusion.one
        } else {
            &exclusion.other
        };
        for share in out {
            if let Some(slot) = uses.get_mut(*share) {
                *slot = Use::LeftOut;
            }
        }
    }
    uses
}

#[cfg(test)]
mod tests;
