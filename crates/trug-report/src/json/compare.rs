//! `compare/0`: what changed between two states of a farm. Not pinned yet: fields may still be renamed.

use schemars::JsonSchema;
use serde::Serialize;

use super::analysis::BoundKindJson;
use super::finding::SeverityJson;
use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.compare/0";

/// Something before and after; null on the side where it is not there.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BothJson<T> {
    /// On the first side.
    pub before: Option<T>,
    /// On the second side.
    pub after: Option<T>,
}

/// What changed between two states of a farm. What did not change is left out.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CompareDocument {
    /// `trug.compare/0`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The day that both sides were judged on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub today: Option<String>,
    /// The first side, as it was asked for.
    pub before: String,
    /// The second side, as it was asked for.
    pub after: String,
    /// The one ration that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ration: Option<String>,
    /// Anything that is compared changed.
    pub changed: bool,
    /// A text differs, were it only in how something is written.
    pub texts_differ: bool,
    /// How many rations are on both sides and alike.
    pub alike: usize,
    /// Items whose own values changed, each once: the reasons.
    pub causes: Vec<CauseJson>,
    /// Rations that changed, came or went, by file and name.
    pub rations: Vec<RationChangeJson>,
    /// Groups that eat something else, or more or less of it.
    pub groups: Vec<GroupChangeJson>,
    /// Findings that came or went and belong to no ration above.
    pub elsewhere: Vec<FoundJson>,
}

/// An item whose own values changed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CauseJson {
    /// The keyword of the item: `ingredient`, `animal`, `targets`, …
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// The text it stands in, relative to each side; null on the side where it is not there.
    pub file: BothJson<String>,
    /// What of it changed; empty where it came or went.
    pub changes: Vec<FactJson>,
}

/// A line that changed, its value in words.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FactJson {
    /// What it is about: `price`, `protein`.
    pub what: String,
    /// What it says.
    #[serde(flatten)]
    pub says: BothJson<String>,
}

/// What changed in a ration.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RationChangeJson {
    /// Its name.
    pub name: String,
    /// Whether it is on both sides.
    pub change: ChangeJson,
    /// The text it stands in, relative to each side; null on the side where it is not there.
    pub file: BothJson<String>,
    /// What stood in the way of comparing all of it; null on the side where it is not there.
    pub hindrances: BothJson<Vec<HindranceJson>>,
    /// Its lines that are no amounts: `batch`, `for`, `meets`, …
    pub lines: Vec<FactJson>,
    /// Its amounts, those that are gone last.
    pub amounts: Vec<AmountChangeJson>,
    /// Where it stands in its bounds, the worst first.
    pub bounds: Vec<BoundChangeJson>,
    /// Where its ingredients stand in their doses, the worst first.
    pub doses: Vec<DoseChangeJson>,
    /// What it holds, by name.
    pub nutrients: Vec<NutrientChangeJson>,
    /// What a kilogram costs; absent where that has not changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<BothJson<CostAtJson>>,
    /// How it is mixed; absent where that has not changed, null on a side that cannot be planned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub work: Option<BothJson<WorkJson>>,
    /// Findings that came or went, errors first.
    pub findings: Vec<FoundJson>,
}

/// Whether a ration is on both sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ChangeJson {
    /// On both.
    Changed,
    /// On the second only.
    Added,
    /// On the first only.
    Removed,
}

/// Why something of a ration could not be compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum HindranceJson {
    /// It could not be made out at all.
    Unread,
    /// Its amounts are not known whole: no contents, doses and cost.
    NotWhole,
    /// Amounts are open: counted at the middle of their ranges, not planned.
    Open,
    /// It has errors: not planned.
    Errors,
    /// No batch is named: not planned.
    NoBatch,
}

/// One ingredient of a ration.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AmountChangeJson {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: String,
    /// Beyond the 100 %.
    pub on_top: bool,
    /// How much.
    #[serde(flatten)]
    pub amount: BothJson<AmountJson>,
}

/// How much of an ingredient a ration holds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AmountJson {
    /// Its least inclusion.
    pub low_percent: Decimal,
    /// Its greatest inclusion; the same where the amount is not open.
    pub high_percent: Decimal,
    /// The amount is open: chosen at least cost.
    pub open: bool,
    /// It may be left out.
    pub or_none: bool,
    /// The least in the batch; null where no batch is named.
    pub low_g: Option<Decimal>,
    /// The most in the batch.
    pub high_g: Option<Decimal>,
    /// The deliveries it is taken from.
    pub lots: Vec<String>,
}

/// How a verdict turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TurnJson {
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

/// A bound on a ration.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BoundChangeJson {
    /// What is bounded, as written.
    pub what: String,
    /// What stands behind it.
    pub kind: BoundKindJson,
    /// What the value is per.
    pub basis: String,
    /// How the verdict turned.
    pub turn: TurnJson,
    /// Where the ration stands.
    #[serde(flatten)]
    pub at: BothJson<StandingJson>,
}

/// A dose of an ingredient.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DoseChangeJson {
    /// The ingredient.
    pub ingredient: String,
    /// The active, where the dose is of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nutrient: Option<String>,
    /// How the verdict turned.
    pub turn: TurnJson,
    /// Where the ingredient stands.
    #[serde(flatten)]
    pub at: BothJson<StandingJson>,
}

/// Where something stands in its bound.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandingJson {
    /// The value; null where nothing can be said.
    pub value: Option<Decimal>,
    /// The unit of all these numbers; empty for a plain ratio.
    pub unit: String,
    /// The lower end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<Decimal>,
    /// The upper end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<Decimal>,
    /// The amount above which harm is possible.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ceiling: Option<Decimal>,
    /// Kept or missed; null where that cannot be said.
    pub met: Option<bool>,
    /// The targets or the animal the bound is of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub whose: Option<String>,
}

/// What a ration holds of a nutrient.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NutrientChangeJson {
    /// The nutrient's name.
    pub name: String,
    /// How much, as fed.
    #[serde(flatten)]
    pub at: BothJson<NutrientAtJson>,
}

/// How much of a nutrient the finished feed holds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NutrientAtJson {
    /// The sum of what is known.
    pub value: Decimal,
    /// Its unit.
    pub unit: String,
    /// False where a part of the sum is unknown.
    pub complete: bool,
}

/// What finished feed costs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CostAtJson {
    /// ISO 4217 code.
    pub currency: String,
    /// Money for one kilogram.
    pub per_kg: Decimal,
    /// False where the price of a part is unknown.
    pub complete: bool,
}

/// How a ration is mixed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WorkJson {
    /// How many batches.
    pub batches: u32,
    /// How many weighings one batch takes.
    pub weighings: usize,
    /// The steps of one batch, in the order of work.
    pub steps: Vec<StepAtJson>,
    /// The vessels it takes; `floor` is one.
    pub vessels: Vec<String>,
    /// The scales it takes.
    pub scales: Vec<String>,
}

/// One act of mixing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StepAtJson {
    /// As in `plan/1`: `together`, `dilute`, `preblend`, `liquid`, `heap`, `final`.
    pub kind: &'static str,
    /// Where.
    pub vessel: String,
    /// The ingredients weighed into it.
    pub ingredients: Vec<String>,
    /// How often it is turned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turns: Option<u32>,
}

/// A finding that came or went.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FoundJson {
    /// It came; else it went.
    pub new: bool,
    /// `family/slug`.
    pub code: &'static str,
    /// How much it weighs.
    pub severity: SeverityJson,
    /// A fact, with its numbers and their units.
    pub message: String,
    /// The text accepts it.
    pub accepted: bool,
    /// The text it stands in, relative to its side.
    pub file: String,
    /// The line it stands at.
    #[schemars(range(min = 1))]
    pub line: usize,
}

/// What a group eats.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GroupChangeJson {
    /// Its name.
    pub name: String,
    /// The text it stands in, relative to each side; null on the side where it is not there.
    pub file: BothJson<String>,
    /// The rations of which it eats more or less, or that cost it more or less.
    pub eats: Vec<EatenChangeJson>,
}

/// What a group eats of one ration.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EatenChangeJson {
    /// The ration.
    pub ration: String,
    /// How much.
    #[serde(flatten)]
    pub eaten: BothJson<EatenJson>,
}

/// What a group eats of one ration in a day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EatenJson {
    /// How many animals.
    pub head: Decimal,
    /// What all of them eat a day; null where nobody says.
    pub day_g: Option<Decimal>,
    /// What that costs a day; absent where a price is unknown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost_a_day: Option<Decimal>,
    /// The currency of that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub currency: Option<String>,
}
