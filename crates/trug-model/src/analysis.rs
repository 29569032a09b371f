//! What a ration contains, which bounds it keeps, and what it costs.

mod make;
mod sources;

use trug_findings::Place;

use crate::Q;

pub(crate) use make::{analyse, cost_of, doses};
pub use sources::Sourced;
pub(crate) use sources::sources;

/// The composition of a ration, per kg of finished feed unless a bound says otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// The ration's name.
    pub ration: String,
    /// Where it is named.
    pub place: Place,
    /// The batch, tops included, in grams; none where neither text nor order names one.
    pub mass_g: Option<Q>,
    /// What it costs; none where no ingredient has a price.
    pub cost: Option<Cost>,
    /// Every nutrient its sources name, in the order of their names.
    pub nutrients: Vec<NutrientValue>,
    /// Every bound on it, in the order of the texts.
    pub bounds: Vec<BoundValue>,
    /// Every dose and ceiling of its ingredients.
    pub doses: Vec<DoseValue>,
}

/// Money per mass of finished feed.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// ISO 4217 code: that of the ration's first price.
    pub currency: String,
    /// Money for one kg.
    pub per_kg: Q,
    /// Every ingredient has a price that could be counted.
    pub complete: bool,
    /// What each line of the ration adds to it, in their order; together they are the whole.
    pub lines: Vec<LineCost>,
}

/// What one line of a ration costs.
#[derive(Clone, Debug, PartialEq)]
pub struct LineCost {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: String,
    /// Its part of the finished feed, as a fraction of one.
    pub share: Q,
    /// Money it adds to one kg of finished feed: what is known of it.
    pub per_kg: Q,
    /// Everything in it has a price that could be counted.
    pub complete: bool,
}

/// How much of one nutrient the finished feed holds, as fed.
#[derive(Clone, Debug, PartialEq)]
pub struct NutrientValue {
    /// The nutrient's name.
    pub name: String,
    /// What people call it.
    pub label: Option<String>,
    /// The sum of what is known.
    pub value: Q,
    /// Unit of the value: `%`, `MJ/kg`, `meq/kg`, `IU/kg`, …
    pub unit: String,
    /// The same of dry matter, where every dry matter is known.
    pub value_dry_matter: Option<Q>,
    /// Every ingredient's content is known.
    pub complete: bool,
    /// Two standard deviations of the analyses below the value, where any has one.
    pub low: Option<f64>,
    /// Two standard deviations above.
    pub high: Option<f64>,
}

/// One bound, and where the ration stands in it.
#[derive(Clone, Debug, PartialEq)]
pub struct BoundValue {
    /// What is bounded, as written: `protein`, `calcium / available-phosphorus`.
    pub what: String,
    /// What stands behind it.
    pub kind: BoundKind,
    /// The ration's value in the bound's unit, of what is known; none where nothing can be said.
    pub value: Option<Q>,
    /// The unit as the bound writes it; empty for a plain ratio.
    pub unit: String,
    /// What the value is per: `as fed`, `of dry-matter`, `at 88 % dry-matter`, `per day`.
    pub basis: String,
    /// The lower end.
    pub min: Option<Q>,
    /// The upper end.
    pub max: Option<Q>,
    /// Kept, missed, or undecided for want of data.
    pub met: Option<bool>,
    /// How probably it is kept, given the scatter of the analyses; none where no analysis has one.
    pub probability: Option<f64>,
    /// How fast the value rises with the inclusion of each line of the ration, in the bound's unit.
    pub rises: Vec<Q>,
    /// One standard deviation of the value, from the scatter of the analyses, in the bound's unit.
    pub deviation: f64,
    /// Where the bound is written.
    pub place: Place,
}

/// What stands behind a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BoundKind {
    /// `targets`.
    Target,
    /// A regulation.
    Law,
    /// Harm is possible beyond it.
    Harm,
    /// `limit` of a ration, `at most` and `at least` of an ingredient.
    Limit,
}

impl BoundKind {
    /// The word programs read.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            BoundKind::Target => "target",
            BoundKind::Law => "law",
            BoundKind::Harm => "harm",
            BoundKind::Limit => "limit",
        }
    }
}

/// One dose of an ingredient, and where its inclusion stands in it.
#[derive(Clone, Debug, PartialEq)]
pub struct DoseValue {
    /// The ingredient.
    pub ingredient: String,
    /// The active, where the dose is of one.
    pub nutrient: Option<String>,
    /// The inclusion, or the active it adds, in the dose's unit; none where its content is unknown.
    pub value: Option<Q>,
    /// The unit as the dose writes it.
    pub unit: String,
    /// The label's least.
    pub min: Option<Q>,
    /// The label's most.
    pub max: Option<Q>,
    /// The amount above which harm is possible.
    pub ceiling: Option<Q>,
    /// Within all of them; none where that cannot be said.
    pub met: Option<bool>,
    /// How fast the value rises with the inclusion of each line that its ingredient sits in, by the line's rank, in the dose's unit.
    pub rises: Vec<(usize, Q)>,
    /// One standard deviation of the value, from the scatter of the analyses, in the dose's unit.
    pub deviation: f64,
    /// Where the dose, or else the ceiling, is written.
    pub place: Place,
}
