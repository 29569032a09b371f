//! The parts of a `trug.plan/1` document as they stand in the JSON; fields added later are passed over.

use serde::de::{Deserialize, DeserializeOwned, Deserializer};
use serde_json::Value;

use super::number::Number;
use super::{Breaches, Rule};

#[derive(serde::Deserialize)]
pub(super) struct PlanPart {
    pub(super) format: String,
    pub(super) ration: String,
    pub(super) file: String,
    pub(super) today: String,
    pub(super) draft: bool,
    pub(super) order: OrderPart,
    pub(super) ordered_g: Number,
    pub(super) weighed_g: Number,
    pub(super) given: GivenPart,
    pub(super) batches: Vec<Value>,
    pub(super) cautions: Vec<Value>,
    pub(super) accepted: Vec<Value>,
    pub(super) findings: Vec<Value>,
}

#[derive(serde::Deserialize)]
pub(super) struct OrderPart {
    pub(super) group: Option<String>,
    pub(super) days: Option<u32>,
}

#[derive(serde::Deserialize)]
pub(super) struct GivenPart {
    pub(super) method: MethodPart,
    pub(super) scales: Vec<Value>,
    pub(super) vessels: Vec<Value>,
    pub(super) ingredients: Vec<Value>,
}

#[derive(serde::Deserialize)]
pub(super) struct MethodPart {
    pub(super) name: String,
    pub(super) small_percent: Number,
    pub(super) preblend_percent: Number,
    pub(super) dilutes: Number,
    pub(super) weigh_percent: Number,
    pub(super) even_percent: Option<Number>,
    pub(super) floor_g: Option<Number>,
    #[serde(deserialize_with = "or_null")]
    pub(super) lift_g: Option<Number>,
}

#[derive(serde::Deserialize)]
pub(super) struct ScalePart {
    pub(super) name: String,
    pub(super) capacity_g: Number,
    pub(super) division_g: Number,
    pub(super) minimum_g: Number,
    pub(super) accuracy_class: Option<String>,
}

#[derive(serde::Deserialize)]
pub(super) struct VesselPart {
    pub(super) name: String,
    pub(super) count: u32,
    pub(super) litres: Number,
}

#[derive(serde::Deserialize)]
pub(super) struct IngredientPart {
    pub(super) name: String,
    pub(super) share_percent: Number,
    pub(super) exact: Option<String>,
    pub(super) on_top: bool,
    pub(super) class: String,
    pub(super) carrier: bool,
    pub(super) g_per_litre: Option<Number>,
    pub(super) apart: Vec<ApartPart>,
    #[serde(default)]
    pub(super) lots: Vec<LotPart>,
}

#[derive(serde::Deserialize)]
pub(super) struct LotPart {
    pub(super) name: String,
    pub(super) best_before: Option<String>,
    pub(super) on_hand_g: Option<Number>,
    pub(super) named_percent: Option<Number>,
    pub(super) open: bool,
}

#[derive(serde::Deserialize)]
pub(super) struct ApartPart {
    pub(super) from: String,
    pub(super) times: Number,
}

#[derive(serde::Deserialize)]
pub(super) struct BatchPart {
    pub(super) number: u32,
    pub(super) times: u32,
    pub(super) total_g: Number,
    pub(super) amounts: Vec<Value>,
    pub(super) weighings: Vec<Value>,
    pub(super) steps: Vec<Value>,
    pub(super) least: bool,
}

#[derive(serde::Deserialize)]
pub(super) struct AmountPart {
    pub(super) ingredient: String,
    pub(super) ordered_g: Number,
    pub(super) weighed_g: Number,
}

#[derive(serde::Deserialize)]
pub(super) struct WeighingPart {
    pub(super) id: String,
    pub(super) ingredient: String,
    pub(super) lot: Option<String>,
    pub(super) class: String,
    pub(super) step: String,
    pub(super) mass_g: Number,
    #[serde(deserialize_with = "or_null")]
    pub(super) scale: Option<String>,
    pub(super) loads_g: Vec<Number>,
    pub(super) error_g: Number,
    pub(super) from_g: Number,
    pub(super) to_g: Number,
}

#[derive(serde::Deserialize)]
pub(super) struct StepPart {
    pub(super) id: String,
    pub(super) kind: String,
    pub(super) inputs: Vec<InputPart>,
    pub(super) output_g: Number,
    #[serde(deserialize_with = "or_null")]
    pub(super) ratio: Option<f64>,
    pub(super) vessel: String,
    #[serde(deserialize_with = "or_null")]
    pub(super) litres: Option<Number>,
    pub(super) turns: Option<u32>,
    pub(super) portions: Option<u32>,
}

#[derive(serde::Deserialize)]
pub(super) struct InputPart {
    pub(super) weighing: Option<String>,
    pub(super) step: Option<String>,
    pub(super) mass_g: Number,
}

#[derive(serde::Deserialize)]
pub(super) struct CautionPart {
    pub(super) text: String,
    pub(super) ingredient: Option<String>,
    pub(super) file: String,
    pub(super) line: u32,
}

#[derive(serde::Deserialize)]
pub(super) struct FindingPart {
    pub(super) code: String,
    pub(super) severity: String,
    pub(super) message: String,
    pub(super) file: String,
    pub(super) line: u32,
    pub(super) column: u32,
    pub(super) end_line: u32,
    pub(super) end_column: u32,
    pub(super) related: Vec<Value>,
    pub(super) fixes: Vec<Value>,
}

/// Reads one part; what is missing or of another kind is a breach at `place`.
pub(super) fn part<T: DeserializeOwned>(
    value: &Value,
    place: &str,
    found: &mut Breaches,
) -> Option<T> {
    match T::deserialize(value) {
        Ok(part) => Some(part),
        Err(why) => {
            found.add(Rule::Form, place, why.to_string());
            None
        }
    }
}

/// A field that must be there, though it may be null.
fn or_null<'de, D: Deserializer<'de>, T: Deserialize<'de>>(from: D) -> Result<Option<T>, D::Error> {
    Option::deserialize(from)
}
