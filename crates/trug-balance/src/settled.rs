//! A programme once it is settled which shares are used: a linear programme, and where each of its rows comes from.

use std::collections::BTreeSet;

use trug_model::Q;

use crate::programme::{Bound, Part, Programme};
use crate::solve::Watch;
use crate::solve::linear::{Basis, Linear, Row, Solved, Vertex, proves_empty, solve, worth};
use crate::solve::rows::{is_kept, row_of};

mod least;
mod tangent;

pub(crate) use least::{Least, least, nearly};
pub(crate) use tangent::tangent;

/// Rounds of tangents before bounds that scatter must do as they stand.
const ROUNDS: usize = 200;

/// What is known of one share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Use {
    /// Nothing.
    Open,
    /// It is used: the bounds that hold only then hold.
    Used,
    /// It is zero.
    LeftOut,
}

/// Which parts of a programme are asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Kept {
    pub(crate) total: bool,
    pub(crate) bounds: Vec<bool>,
    pub(crate) exclusions: Vec<bool>,
}

/// A linear programme and where it comes from.
#[derive(Clone, Debug)]
pub(crate) struct Settled<'a> {
    pub(crate) linear: Linear,
    /// Bounds that scatter: what the rows say of them is not all.
    scattered: Vec<(usize, &'a Bound)>,
    /// Of each row.
    origins: Vec<Part>,
    /// Of each end of each range; none where it is that of any share.
    ends: Vec<(Option<usize>, Option<usize>)>,
}

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) enum Reached {
    /// A cheapest choice that keeps the bounds that scatter, too.
    Choice(Vertex),
    /// These parts together leave none.
    Empty(BTreeSet<Part>),
    /// The work allowed did not suffice.
    Unsolved,
}

impl Kept {
    /// All of them.
    pub(crate) fn all(programme: &Programme) -> Kept {
        Kept {
            total: true,
            bounds: vec![true; programme.bounds.len()],
            exclusions: vec![true; programme.exclusions.len()],
        }
    }

    /// Asks for a part, or leaves it out.
    pub(crate) fn set(&mut self, part: Part, is_asked: bool) {
        match part {
            Part::Total => self.total = is_asked,
            Part::Bound(rank) => set(&mut self.bounds, rank, is_asked),
            Part::Exclusion(rank) => set(&mut self.exclusions, rank, is_asked),
        }
    }
}

fn set(flags: &mut [bool], rank: usize, flag: bool) {
    if let Some(slot) = flags.get_mut(rank) {
        *slot = flag;
    }
}

impl<'a> Settled<'a> {
    pub(crate) fn of(programme: &'a Programme, costs: &[Q], uses: &[Use], kept: &Kept) -> Self {
        let count = programme.shares.len();
        let top = |share: &Use| match share {
            Use::LeftOut => Q::ZERO,
            Use::Open | Use::Used => programme.total.clone(),
        };
        let mut settled = Settled {
            linear: Linear {
                costs: costs.to_vec(),
                ranges: uses.iter().map(|share| (Q::ZERO, top(share))).collect(),
                rows: Vec::new(),
            },
            scattered: Vec::new(),
            origins: Vec::new(),
            ends: vec![(None, None); count],
        };
        if kept.total {
            settled.linear.rows.push(Row {
                weights: vec![Q::ONE; count],
                at_least: programme.total.clone(),
                is_equal: true,
            });
            settled.origins.push(Part::Total);
        }
        for (rank, bound) in programme.bounds.iter().enumerate() {
            if kept.bounds.get(rank) == Some(&true) {
                settled.ask(rank, bound, uses);
            }
        }
        settled
    }

    fn ask(&mut self, rank: usize, bound: &'a Bound, uses: &[Use]) {
        let state = bound.if_used.and_then(|share| uses.get(share));
        if state == Some(&Use::LeftOut) {
            return;
        }
        let row = row_of(bound);
        let mut weighed = row.weights.iter().enumerate();
        let first = weighed.find(|(_, weight)| !weight.is_zero());
        let is_alone = weighed.all(|(_, weight)| weight.is_zero());
        match first {
            Some((share, weight)) if is_alone && bound.reliance.is_none() => {
                let end = &row.at_least / weight;
                // One that is not used lies below any upper end that is not below zero.
                let holds_at_zero = !weight.is_positive() && !end.is_negative();
                if state != Some(&Use::Open) || (bound.if_used == Some(share) && holds_at_zero) {
                    self.narrow(rank, share, end, weight.is_positive());
                }
            }
            _ if state == Some(&Use::Open) => {}
            _ => {
                self.linear.rows.push(row);
                self.origins.push(Part::Bound(rank));
                if bound.reliance.is_some() {
                    self.scattered.push((rank, bound));
                }
            }
        }
    }

    fn narrow(&mut self, rank: usize, share: usize, end: Q, is_low: bool) {
        let ((low, high), (of_low, of_high)) =
            (&mut self.linear.ranges[share], &mut self.ends[share]);
        if is_low && end > *low {
            (*low, *of_low) = (end, Some(rank));
        } else if !is_low && end < *high {
            (*high, *of_high) = (end, Some(rank));
        }
    }

    /// The cheapest choice. Bounds that scatter are kept with a thousand-millionth to spare, so that the way there ends.
    pub(crate) fn reach(&mut self, start: Option<&Basis>, watch: &Watch<'_>) -> Reached {
        let mut basis = start.cloned();
        for _ in 0..ROUNDS {
            match solve(&self.linear, basis.as_ref(), watch) {
                Solved::Vertex(vertex) => {
                    if !self.cut_off(&vertex.shares) {
                        return Reached::Choice(vertex);
                    }
                    basis = Some(vertex.basis);
                }
                Solved::Empty(multipliers) => {
                    return if proves_empty(&self.linear, &multipliers) {
                        Reached::Empty(self.reasons(&multipliers))
                    } else {
                        Reached::Unsolved
                    };
                }
                Solved::Unsolved => return Reached::Unsolved,
            }
        }
        Reached::Unsolved
    }

    /// Adds a tangent for each bound that scatters and is not kept; whether there was one.
    pub(crate) fn cut_off(&mut self, shares: &[Q]) -> bool {
        let before = self.linear.rows.len();
        for (rank, bound) in &self.scattered {
            if !is_kept(bound, shares) {
                self.linear.rows.push(tangent(bound, shares));
                self.origins.push(Part::Bound(*rank));
            }
        }
        self.linear.rows.len() > before
    }

    /// The bounds that scatter.
    pub(crate) fn scattered(&self) -> impl Iterator<Item = &'a Bound> {
        self.scattered.iter().map(|(_, bound)| *bound)
    }

    /// The parts that the multipliers weigh, with those that end the ranges they run into.
    pub(crate) fn reasons(&self, multipliers: &[Q]) -> BTreeSet<Part> {
        let part = |rank: &Option<usize>| rank.map(Part::Bound);
        let ranges = self.linear.ranges.iter().zip(&self.ends);
        for ((low, high), (of_low, of_high)) in ranges.clone() {
            if low > high {
                return part(of_low).into_iter().chain(part(of_high)).collect();
            }
        }
        let mut reasons = BTreeSet::new();
        for (origin, multiplier) in self.origins.iter().zip(multipliers) {
            if !multiplier.is_zero() {
                reasons.insert(*origin);
            }
        }
        for (share, (_, (of_low, of_high))) in ranges.enumerate() {
            let worth = worth(&self.linear, multipliers, share);
            if worth.is_positive() {
                reasons.extend(part(of_high));
            } else if worth.is_negative() {
                reasons.extend(part(of_low));
            }
        }
        reasons
    }
}
