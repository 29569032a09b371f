//! `balance/1`: the cheapest amounts of a ration with their reasons, or why there are none.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.balance/1";

/// A ration whose open amounts were chosen at least cost. Prices are money per kilogram.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BalanceDocument {
    /// `trug.balance/1`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The day the farm was read on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub today: Option<String>,
    /// The day whose prices were paid, where they are not those of the texts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    /// The ration's name.
    pub ration: String,
    /// The text it is named in, relative to the root.
    pub file: String,
    /// Whether it is proved that nothing is cheaper by more than 0.01 %, or that no choice keeps every bound.
    pub status: StatusJson,
    /// Why it is not proved.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unproved: Option<String>,
    /// ISO 4217 code: that of the ration's first price; null where nothing has a price.
    pub currency: Option<String>,
    /// What one kilogram of finished feed costs with the amounts below; null where there are none.
    pub cost_per_kg: Option<Decimal>,
    /// No choice costs less than this; null where there is none.
    pub cost_bound: Option<Decimal>,
    /// False where a fixed line has no price, so that the feed costs more than is said.
    pub cost_complete: bool,
    /// Every line of the ration, in order.
    pub amounts: Vec<AmountJson>,
    /// Every bound on the choice, one entry a side, in the order of the texts.
    pub bounds: Vec<BoundSideJson>,
    /// What could be chosen and is not used.
    pub left_out: Vec<LeftOutJson>,
    /// What cannot all be kept; without any one of them, the others can. Empty where there is a choice.
    pub conflict: Vec<ConflictJson>,
    /// The least changes of bounds that make a choice possible, each alone unless `relax_together`.
    pub relax: Vec<RelaxJson>,
    /// True where only all changes of `relax` together make a choice possible.
    pub relax_together: bool,
    /// Ingredients whose analyses have no scatter though a certainty is asked for: they count as exact.
    pub counted_as_exact: Vec<String>,
}

/// What is known of the choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StatusJson {
    /// Nothing is cheaper by more than 0.01 %; proved.
    Optimal,
    /// No choice keeps every bound.
    Infeasible,
    /// The amounts keep every bound; whether something is cheaper is not proved.
    Unproved,
}

/// One line of the balanced ration.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AmountJson {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: String,
    /// Its share of the 100 %.
    pub share_percent: Decimal,
    /// The price down to which the choice stays; null where it has no end, or the line is not chosen.
    pub price_low: Option<Decimal>,
    /// The price up to which the choice stays; null where it has no end, or the line is not chosen.
    pub price_high: Option<Decimal>,
    /// The price it was chosen at; null where the line is not chosen.
    pub price: Option<Decimal>,
    /// Whether it was chosen.
    pub chosen: bool,
    /// Dosed beyond the 100 %.
    pub on_top: bool,
    /// The share that was written before; null where none was.
    pub before_percent: Option<Decimal>,
}

/// One side of one bound.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BoundSideJson {
    /// What is bounded, as written.
    pub what: String,
    /// The text it is written in.
    pub file: String,
    /// Its line there, from 1.
    pub line: usize,
    /// The value of what is known, with the amounts above; null where it has none.
    pub value: Option<Decimal>,
    /// Unit of value and bound.
    pub unit: String,
    /// What the value must keep.
    pub bound: Decimal,
    /// Whether the cheapest choice, before it is rounded, keeps it with nothing to spare.
    pub binding: bool,
    /// False where a part of the value is unknown.
    pub complete: bool,
    /// What a kilogram would cost more if the bound were tighter by one of its unit.
    pub shadow_price: Decimal,
    /// Which side.
    pub end: EndJson,
    /// What stands behind it.
    pub kind: RuleJson,
    /// What the value is per, in words.
    pub basis: String,
}

/// A side of a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub enum EndJson {
    /// The value is not below it.
    #[serde(rename = "at least")]
    AtLeast,
    /// The value is not above it.
    #[serde(rename = "at most")]
    AtMost,
}

/// What stands behind a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum RuleJson {
    /// The range of the line itself.
    Range,
    /// `limit` of the ration, `at most` and `at least` of an ingredient.
    Limit,
    /// The product's label.
    Dose,
    /// `targets`.
    Target,
    /// A regulation.
    Law,
    /// The amount of one ingredient above which harm is possible.
    Ceiling,
    /// Harm from the whole feed, or what may never meet.
    Harm,
    /// The sum of the amounts.
    Sum,
}

/// Something that is not used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeftOutJson {
    /// The ingredient.
    pub ingredient: String,
    /// The greatest price at which some cheapest choice uses it; null where no choice can.
    pub enters_below_price: Option<Decimal>,
    /// What it costs.
    pub price: Option<Decimal>,
}

/// One part of a conflict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ConflictJson {
    /// What is bounded, as written; `sum` for the sum of the amounts.
    pub what: String,
    /// The text it is written in.
    pub file: String,
    /// Its line there, from 1.
    pub line: usize,
    /// In words, with its number.
    pub says: String,
    /// Ingredients that do not say what they hold of it, where what is unknown counts as the most there can be.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unknown: Vec<String>,
    /// What stands behind it.
    pub kind: RuleJson,
}

/// One bound loosened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RelaxJson {
    /// What is bounded, as written.
    pub what: String,
    /// The text it is written in.
    pub file: String,
    /// Its line there, from 1.
    pub line: usize,
    /// The bound as it is.
    pub from: Decimal,
    /// The bound that suffices.
    pub to: Decimal,
    /// Unit of both, as written.
    pub unit: String,
    /// What the cheapest choice then costs; null where that was not found.
    pub cost_per_kg: Option<Decimal>,
    /// Which side.
    pub end: EndJson,
}
