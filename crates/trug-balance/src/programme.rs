//! The question, in numbers alone: shares to choose, the bounds they keep, and what each costs.

use trug_model::Q;

/// Shares that together make `total`, keep every bound, and cost the least.
///
/// What a ration fixes is in the constants of the bounds; only what can be chosen is a share. Every share is at least zero and at
/// most `total`.
#[derive(Clone, Debug, PartialEq)]
pub struct Programme {
    /// What is chosen, in the order of the text.
    pub shares: Vec<Share>,
    /// What all shares add up to.
    pub total: Q,
    /// What the shares keep, one entry a side, in the order of the text.
    pub bounds: Vec<Bound>,
    /// Shares that may not both be used.
    pub exclusions: Vec<Exclusion>,
    /// What everything that is not chosen costs, per kg of finished feed: what 0.01 % of the cost is depends on it.
    pub fixed_cost: Q,
}

/// One share that is chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// Money that one whole of it costs, per kg of finished feed.
    pub cost: Q,
    /// It may be left out: then the bounds that hold only where it is used do not count.
    pub or_none: bool,
    /// What is written now; of equally cheap choices the nearest to this is taken.
    pub now: Option<Q>,
    /// It takes what the rounded others leave.
    pub is_rest: bool,
}

/// `above ÷ below` is at least, or at most, `limit`; `below` is positive for every choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Bound {
    /// The sum that is bounded.
    pub above: Sum,
    /// What it is divided by; of a plain sum the constant one.
    pub below: Sum,
    /// What it must keep, in base units.
    pub limit: Q,
    /// Which side this is.
    pub end: End,
    /// It may be loosened to make an impossible question possible.
    pub may_be_relaxed: bool,
    /// It holds only where this share, an `or none`, is used.
    pub if_used: Option<usize>,
    /// It holds with a margin of so many standard deviations.
    pub reliance: Option<Q>,
}

/// Which side of a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The value is not below the limit.
    AtLeast,
    /// The value is not above the limit.
    AtMost,
}

/// A sum over the shares, and its scatter.
#[derive(Clone, Debug, PartialEq)]
pub struct Sum {
    /// What one whole of each share adds.
    pub weights: Vec<Q>,
    /// What is fixed.
    pub constant: Q,
    /// Square of one standard deviation of each weight; all zero where nothing scatters.
    pub variances: Vec<Q>,
    /// The same of what is fixed.
    pub constant_variance: Q,
}

/// All of `one` or all of `other` are left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Exclusion {
    /// Shares that hold the one.
    pub one: Vec<usize>,
    /// Shares that hold the other; none of them where what is fixed holds it already.
    pub other: Vec<usize>,
}

/// What came of the question.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// There is a choice, the cheapest or nearly.
    Chosen(Box<Chosen>),
    /// There is none, for these reasons.
    Infeasible(Conflict),
    /// Neither was found in the work allowed, or the work was cancelled; the words say which.
    Unanswered(String),
}

/// A choice that keeps every bound exactly.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    /// The cheapest shares, before they are rounded.
    pub shares: Vec<Q>,
    /// The shares as they can be written: rounded to 0.01 % or finer, every bound kept exactly.
    pub rounded: Vec<Q>,
    /// What the rounded shares cost.
    pub cost: Q,
    /// No choice costs less than this; proved in exact arithmetic.
    pub cost_bound: Q,
    /// Why the gap between the two is above 0.01 % of the cost; none where it is not.
    pub unproved: Option<String>,
    /// How each bound stands at `shares`.
    pub bounds: Vec<Standing>,
    /// How far the cost of each share decides, in money per whole of it per kg of finished feed.
    pub costs: Vec<CostRange>,
}

/// How a bound stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// It is kept with nothing to spare.
    pub is_binding: bool,
    /// How fast the cost rises with the limit as it is tightened, per base unit, at least zero.
    pub price: Q,
}

/// Between which costs of one share the choice stays; none is without end.
#[derive(Clone, Debug, PartialEq)]
pub struct CostRange {
    /// The least cost.
    pub low: Option<Q>,
    /// The greatest cost.
    pub high: Option<Q>,
    /// Of a share at zero, the greatest cost at which some cheapest choice uses it; none where no choice can, or it is used.
    pub enters_below: Option<Q>,
}

/// Why there is no choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// What cannot all be kept; without any one of them, the others can.
    pub parts: Vec<Part>,
    /// The least changes that make a choice possible, the smallest relative change first. Where none suffices alone, those that
    /// together do.
    pub relaxations: Vec<Relaxation>,
    /// Only all relaxations together make a choice possible.
    pub is_together: bool,
}

/// A part of a conflict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The shares add up to their total.
    Total,
    /// The bound of this rank.
    Bound(usize),
    /// The exclusion of this rank.
    Exclusion(usize),
}

/// One bound loosened.
#[derive(Clone, Debug, PartialEq)]
pub struct Relaxation {
    /// Rank of the bound.
    pub bound: usize,
    /// The limit that suffices, in base units.
    pub to: Q,
    /// What the cheapest choice then costs, per kg of finished feed; none where that was not found.
    pub cost: Option<Q>,
}
