//! What the search for steps is asked, and what it answers: whole numbers of one unit of mass.

use super::bound::{Bound, Ratio};
use super::grid::Grid;

/// Small ingredients to be brought into a pre-blend.
///
/// Small ingredients are known by their rank in the order of their names.
#[derive(Clone, Debug)]
pub(crate) struct Question {
    pub(crate) masses: Vec<i128>,
    /// The mass of the pre-blends together.
    pub(crate) output: i128,
    /// How much of the first carrier may enter early.
    pub(crate) early: i128,
    /// What a step may dilute.
    pub(crate) bound: Bound,
    pub(crate) apart: Vec<Apart>,
    /// What the output of the pre-blend that holds an ingredient must reach at least.
    pub(crate) reach: Vec<i128>,
    /// What a pre-blend must weigh to be spread.
    pub(crate) spreadable: i128,
    /// The ratio of a spread of one pre-blend: no use in lower ratios elsewhere.
    pub(crate) spread: Ratio,
    pub(crate) grid: Grid,
}

impl Question {
    /// Whether separate pre-blends are worth a thought, and each could be spread.
    pub(crate) fn can_separate(&self) -> bool {
        !self.apart.is_empty() && self.spreadable * 2 <= self.output
    }

    /// What a pre-blend weighs at least.
    pub(crate) fn smallest_blend(&self) -> i128 {
        if self.can_separate() {
            self.spreadable.max(1)
        } else {
            self.output
        }
    }
}

/// Two small ingredients, and the least output that each must be in before they meet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Apart {
    pub(crate) one: usize,
    pub(crate) other: usize,
    pub(crate) one_in: i128,
    pub(crate) other_in: i128,
}

/// The pre-blends, each with its parts.
#[derive(Clone, Debug)]
pub(crate) struct Answer {
    pub(crate) blends: Vec<Blend>,
    /// That no fewer steps would do was proved.
    pub(crate) is_proved: bool,
}

/// One pre-blend: what goes into it beside the carriers.
#[derive(Clone, Debug)]
pub(crate) struct Blend {
    pub(crate) parts: Vec<Mix>,
    pub(crate) output: i128,
}

/// A small ingredient, or an earlier mix with the carrier that enters there.
#[derive(Clone, Debug)]
pub(crate) enum Mix {
    Alone(usize),
    Of { parts: Vec<Mix>, carrier: i128 },
}
