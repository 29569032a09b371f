//! `analysis/1`: what a ration contains, which bounds it keeps, and what it costs.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.analysis/1";

/// The composition of a ration and where it stands in every bound.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AnalysisDocument {
    /// `trug.analysis/1`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The day that prices and deliveries were judged on, where it mattered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub today: Option<String>,
    /// The ration's name.
    pub ration: String,
    /// The text it is named in, relative to the root.
    pub file: String,
    /// The batch with what is dosed on top, in grams; null where none is named.
    pub mass_g: Option<Decimal>,
    /// What it costs; absent where no ingredient has a price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<CostJson>,
    /// What each line of the ration adds to the cost, in their order; absent where the cost is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub costs: Vec<LineCostJson>,
    /// Every nutrient its ingredients name, by name.
    pub nutrients: Vec<NutrientJson>,
    /// Every bound on it, in the order of the texts.
    pub bounds: Vec<BoundJson>,
    /// Every dose and ceiling of its ingredients.
    pub doses: Vec<DoseJson>,
    /// Where its values were read, as their lines say; values whose lines name no source are left out, and so is this where none does.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sources: Vec<SourceJson>,
}

/// Values that were read in one source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SourceJson {
    /// The source; null where a line only says that its value was not read.
    pub source: Option<String>,
    /// True where the values were not read in it.
    pub unverified: bool,
    /// Whose values, and which.
    pub values: Vec<SourcedJson>,
}

/// What one item has from a source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SourcedJson {
    /// The ingredient, the targets or the animal.
    pub of: String,
    /// Nutrients, `dry matter`, `dose`, `ceiling`, or `bound on` something.
    pub what: Vec<String>,
}

/// Money per mass of finished feed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CostJson {
    /// ISO 4217 code: that of the ration's first price.
    pub currency: String,
    /// Money for one kilogram.
    pub per_kg: Decimal,
    /// False where the price of a part is unknown.
    pub complete: bool,
}

/// What one line of a ration adds to the cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineCostJson {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: String,
    /// Its part of the finished feed.
    pub share_percent: Decimal,
    /// Money it adds to one kilogram of finished feed: what is known of it.
    pub per_kg: Decimal,
    /// False where the price of a part is unknown.
    pub complete: bool,
}

/// How much of one nutrient the finished feed holds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NutrientJson {
    /// The nutrient's name.
    pub name: String,
    /// As fed: the sum of what is known.
    pub value: Decimal,
    /// Unit of the value.
    pub unit: String,
    /// Of dry matter, where every dry matter is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value_dry_matter: Option<Decimal>,
    /// False where a part of the sum is unknown.
    pub complete: bool,
    /// Two standard deviations of the analyses below the value.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// Two standard deviations above it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
}

/// What stands behind a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum BoundKindJson {
    /// What the animal is to be given.
    Target,
    /// A regulation.
    Law,
    /// Harm is possible beyond it.
    Harm,
    /// The farmer's own, or the ingredient's.
    Limit,
}

/// One bound, and where the ration stands in it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BoundJson {
    /// What is bounded, as written.
    pub what: String,
    /// What stands behind it.
    pub kind: BoundKindJson,
    /// The ration's value, of what is known; null where nothing can be said.
    pub value: Option<Decimal>,
    /// The unit as the bound writes it; empty for a plain ratio.
    pub unit: String,
    /// What the value is per.
    pub basis: String,
    /// The lower end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<Decimal>,
    /// The upper end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<Decimal>,
    /// Kept, missed, or null for want of data.
    pub met: Option<bool>,
    /// How probably it is kept, from 0 to 1, given the scatter of the analyses.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0, max = 1))]
    pub probability: Option<f64>,
    /// The text the bound is written in.
    pub file: String,
    /// The line it is written in.
    #[schemars(range(min = 1))]
    pub line: usize,
    /// What it can be in one batch and in one portion.
    #[serde(flatten)]
    pub interval: IntervalJson,
}

/// One dose of an ingredient, and where its inclusion stands in it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DoseJson {
    /// The ingredient.
    pub ingredient: String,
    /// The active, where the dose is of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nutrient: Option<String>,
    /// The inclusion, or the active it adds; null where its content is unknown.
    pub value: Option<Decimal>,
    /// The unit as the dose writes it.
    pub unit: String,
    /// The label's least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<Decimal>,
    /// The label's most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<Decimal>,
    /// The amount above which harm is possible.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ceiling: Option<Decimal>,
    /// Within all of them; null where that cannot be said.
    pub met: Option<bool>,
    /// What it can be in one batch and in one portion.
    #[serde(flatten)]
    pub interval: IntervalJson,
}

/// Two standard deviations to either side, in the unit of the value; absent where no plan says how it is weighed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct IntervalJson {
    /// The least in a whole batch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch_low: Option<f64>,
    /// The most in a whole batch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch_high: Option<f64>,
    /// The least in what one animal eats in a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub portion_low: Option<f64>,
    /// The most in what one animal eats in a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub portion_high: Option<f64>,
}
