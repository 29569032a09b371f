//! `plan/1`: how a ration is weighed and mixed, with all that was given and all that was found.

use schemars::JsonSchema;
use serde::Serialize;

use super::finding::FindingJson;
use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.plan/1";

/// A mixing plan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlanDocument {
    /// `trug.plan/1`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The ration's name.
    pub ration: String,
    /// The text it is named in, relative to the root.
    pub file: String,
    /// The day the plan was made for.
    pub today: String,
    /// Not to be mixed as it is.
    pub draft: bool,
    /// Who it was ordered for.
    pub order: OrderJson,
    /// What was ordered, tops included, in grams.
    pub ordered_g: Decimal,
    /// What is weighed, tops included, over all batches, in grams.
    pub weighed_g: Decimal,
    /// What decides the plan.
    pub given: GivenJson,
    /// The batches: one entry for all that are done alike.
    pub batches: Vec<BatchJson>,
    /// What to beware of.
    pub cautions: Vec<CautionJson>,
    /// Findings that were accepted, with the reason.
    pub accepted: Vec<FindingJson>,
    /// Findings that stand.
    pub findings: Vec<FindingJson>,
    /// What each dose and bound comes to, and how far it can be off.
    pub doses: Vec<DoseIntervalJson>,
}

/// Who a plan was ordered for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OrderJson {
    /// The animals fed alike.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// For how many days.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1))]
    pub days: Option<u32>,
    /// The first day it is eaten, where the group eats it by its age.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The last day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// How many days old the group is on the first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub age_days: Option<i64>,
}

/// What a plan was made from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GivenJson {
    /// How it is mixed.
    pub method: MethodJson,
    /// The scales there are.
    pub scales: Vec<ScaleJson>,
    /// The vessels there are.
    pub vessels: Vec<VesselJson>,
    /// The ingredients, in the order of the ration.
    pub ingredients: Vec<IngredientJson>,
}

/// How a mix is made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MethodJson {
    /// Its name.
    pub name: String,
    /// An ingredient below this share of the batch is small.
    pub small_percent: Decimal,
    /// The pre-blend's share of the batch.
    pub preblend_percent: Decimal,
    /// The largest ratio of one step.
    pub dilutes: Decimal,
    /// The possible error allowed to a weighing.
    pub weigh_percent: Decimal,
    /// The coefficient of variation wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub even_percent: Option<Decimal>,
    /// What the floor takes, in grams.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub floor_g: Option<Decimal>,
    /// The most one person lifts, in grams; null where nothing bounds it.
    pub lift_g: Option<Decimal>,
}

/// A scale.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ScaleJson {
    /// Its name.
    pub name: String,
    /// The most it weighs, in grams.
    pub capacity_g: Decimal,
    /// The steps it shows, in grams.
    pub division_g: Decimal,
    /// The least it weighs, in grams.
    pub minimum_g: Decimal,
    /// Its class of OIML R 76.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub accuracy_class: Option<AccuracyClassJson>,
}

/// Accuracy classes of OIML R 76.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[expect(missing_docs, reason = "the classes are called by these numerals")]
pub enum AccuracyClassJson {
    #[serde(rename = "I")]
    One,
    #[serde(rename = "II")]
    Two,
    #[serde(rename = "III")]
    Three,
    #[serde(rename = "IIII")]
    Four,
}

/// A vessel, or several alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct VesselJson {
    /// Its name.
    pub name: String,
    /// How many there are.
    pub count: u32,
    /// What each holds, in litres.
    pub litres: Decimal,
}

/// The classes of ingredient in a hand mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ClassJson {
    /// Goes through the pre-blend.
    Small,
    /// Goes on the heap, and carries.
    Bulk,
    /// Is worked into heap ingredients.
    Liquid,
}

/// An ingredient, with its share and its part in the mix.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct IngredientJson {
    /// Its name.
    pub name: String,
    /// What people call it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Its share of the 100 %, in percent.
    pub share_percent: Decimal,
    /// The same as a fraction, where the decimals do not end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(regex(pattern = r"^-?[0-9]+/[0-9]+$"))]
    pub exact: Option<String>,
    /// Dosed beyond the 100 %.
    pub on_top: bool,
    /// Its class.
    pub class: ClassJson,
    /// It may carry smaller ones.
    pub carrier: bool,
    /// Bulk density, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub g_per_litre: Option<Decimal>,
    /// What it may not meet early.
    pub apart: Vec<ApartJson>,
    /// Its deliveries that may be taken, the one to be used first at the head.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lots: Vec<LotJson>,
}

/// A delivery of an ingredient.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LotJson {
    /// Its name.
    pub name: String,
    /// The day until which it is best, where it is written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best_before: Option<String>,
    /// What is left of it, in grams, where it is written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_hand_g: Option<Decimal>,
    /// Which part of the ingredient lines take from it and from no other, in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub named_percent: Option<Decimal>,
    /// Whether a line that names no lot may take from it.
    pub open: bool,
}

/// Another ingredient that must be met late.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ApartJson {
    /// The other.
    pub from: String,
    /// Each is first in an output so many times its mass.
    pub times: Decimal,
}

/// A batch, done so many times.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BatchJson {
    /// Counted from 1.
    #[schemars(range(min = 1))]
    pub number: u32,
    /// How often it is done.
    #[schemars(range(min = 1))]
    pub times: u32,
    /// What it weighs, tops included, in grams.
    pub total_g: Decimal,
    /// What of each ingredient, in the order of the ration.
    pub amounts: Vec<AmountJson>,
    /// In the order of work.
    pub weighings: Vec<WeighingJson>,
    /// In the order of work; the last is the whole batch.
    pub steps: Vec<StepJson>,
    /// No plan with fewer steps exists, and that was proved.
    pub least: bool,
}

/// What of one ingredient goes into a batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AmountJson {
    /// The ingredient.
    pub ingredient: String,
    /// What the ration asks, in grams.
    pub ordered_g: Decimal,
    /// What the scales can give, in grams.
    pub weighed_g: Decimal,
}

/// One part of an ingredient, weighed for one step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WeighingJson {
    /// Its id in this batch.
    pub id: String,
    /// What is weighed.
    pub ingredient: String,
    /// From which delivery.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<String>,
    /// The ingredient's class.
    pub class: ClassJson,
    /// The step it goes into.
    pub step: String,
    /// How much, in grams.
    pub mass_g: Decimal,
    /// On which scale; null where none will do.
    pub scale: Option<String>,
    /// The loads it is weighed in, in grams.
    pub loads_g: Vec<Decimal>,
    /// How far it may be off, in grams.
    pub error_g: Decimal,
    /// The least it may read, in grams.
    pub from_g: Decimal,
    /// The most it may read, in grams.
    pub to_g: Decimal,
}

/// The kinds of step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StepKindJson {
    /// Mixes small ingredients, and earlier mixes of them, without new carrier.
    Together,
    /// Adds carrier on the way.
    Dilute,
    /// Reaches the pre-blend.
    Preblend,
    /// Works a liquid into heap ingredients.
    Liquid,
    /// Mixes the bulk that is left.
    Heap,
    /// Spreads one on the other.
    Final,
}

/// One act of mixing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StepJson {
    /// Its id in this batch.
    pub id: String,
    /// What it does.
    pub kind: StepKindJson,
    /// What goes in, in that order.
    pub inputs: Vec<InputJson>,
    /// What comes out, in grams.
    pub output_g: Decimal,
    /// Output over the smallest input that needs diluting, to three decimals; null for a heap.
    pub ratio: Option<f64>,
    /// The vessel, or `floor`.
    pub vessel: String,
    /// The volume; null where a density is not known.
    pub litres: Option<Decimal>,
    /// How often it is turned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turns: Option<u32>,
    /// In how many portions the pre-blend is spread.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub portions: Option<u32>,
}

/// Something that goes into a step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum InputJson {
    /// Something weighed.
    Weighing {
        /// The weighing's id.
        weighing: String,
        /// How much, in grams.
        mass_g: Decimal,
    },
    /// Something mixed before.
    Step {
        /// The earlier step's id.
        step: String,
        /// How much, in grams.
        mass_g: Decimal,
    },
}

/// Something to beware of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CautionJson {
    /// What.
    pub text: String,
    /// The ingredient it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ingredient: Option<String>,
    /// The text it is written in.
    pub file: String,
    /// The line it is written in.
    #[schemars(range(min = 1))]
    pub line: usize,
}

/// What a dose or a bound comes to, and two standard deviations to either side.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DoseIntervalJson {
    /// The ingredient whose dose it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ingredient: Option<String>,
    /// What is bounded.
    pub what: String,
    /// What the plan comes to.
    pub value: Decimal,
    /// The unit of all these numbers.
    pub unit: String,
    /// The lower bound.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<Decimal>,
    /// The upper bound.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max: Option<Decimal>,
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
