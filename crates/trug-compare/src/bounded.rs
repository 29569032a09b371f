//! Where a ration stands in a bound or a dose, before and after, and how the verdict turned.

use trug_model::Q;
use trug_model::analysis::BoundKind;

use crate::change::Pair;

/// What is bounded.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bounded {
    /// A target, law, harm or limit on the ration.
    Bound {
        /// What stands behind it.
        kind: BoundKind,
        /// What is bounded, as written.
        what: String,
        /// What the value is per.
        basis: String,
    },
    /// The dose of an ingredient, or of the active it adds.
    Dose {
        /// The ingredient.
        ingredient: String,
        /// The active.
        nutrient: Option<String>,
    },
}

/// Where a ration stands in a bound or a dose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// The ration's value; none where nothing can be said.
    pub value: Option<Q>,
    /// The unit of all these numbers.
    pub unit: String,
    /// The lower end.
    pub min: Option<Q>,
    /// The upper end.
    pub max: Option<Q>,
    /// The amount above which harm is possible.
    pub ceiling: Option<Q>,
    /// Kept, missed, or undecided for want of data.
    pub met: Option<bool>,
    /// Whose bound it is: the targets' or the animal's name; empty where it is nobody's.
    pub whose: String,
}

/// A bound or a dose, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandingChange {
    /// What is bounded.
    pub of: Bounded,
    /// Where the ration stands; none on the side where it is not bounded.
    pub at: Pair<Standing>,
}

/// How the verdict on a bound turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// Missed now, and not before.
    Missed,
    /// Missed now as before.
    StillMissed,
    /// Undecided now, and not before.
    Undecided,
    /// Met now, and missed before.
    Met,
    /// The verdict stayed, or the bound came and is met.
    Kept,
    /// The bound is gone.
    Gone,
}

impl StandingChange {
    /// How the verdict turned.
    #[must_use]
    pub fn turn(&self) -> Turn {
        let before = self.at.before.as_ref().map(|at| at.met);
        let Some(after) = self.at.after.as_ref().map(|at| at.met) else {
            return Turn::Gone;
        };
        match (before, after) {
            (Some(Some(false)), Some(false)) => Turn::StillMissed,
            (_, Some(false)) => Turn::Missed,
            (Some(None), None) => Turn::Kept,
            (_, None) => Turn::Undecided,
            (Some(Some(false)), Some(true)) => Turn::Met,
            (_, Some(true)) => Turn::Kept,
        }
    }
}
