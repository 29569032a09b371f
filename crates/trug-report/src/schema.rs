//! JSON Schemas of the documents, made from the structs that write them.

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde_json::Value;

use crate::json::analysis::AnalysisDocument;
use crate::json::balance::BalanceDocument;
use crate::json::buy::BuyDocument;
use crate::json::compare::CompareDocument;
use crate::json::evenness::{EvennessDocument, SamplingDocument};
use crate::json::finding::FindingsDocument;
use crate::json::plan::PlanDocument;
use crate::json::to_json;
use crate::json::trace::TraceDocument;

/// The name of a document and what makes its schema.
type Entry = (&'static str, fn() -> Schema);

/// By name.
const DOCUMENTS: &[Entry] = &[
    ("analysis", of::<AnalysisDocument>),
    ("balance", of::<BalanceDocument>),
    ("buy", of::<BuyDocument>),
    ("compare", of::<CompareDocument>),
    ("evenness", of::<EvennessDocument>),
    ("findings", of::<FindingsDocument>),
    ("plan", of::<PlanDocument>),
    ("sampling", of::<SamplingDocument>),
    ("trace", of::<TraceDocument>),
];

/// The schema of a document; none where there is no such document. More fields than it names may stand in a document.
#[must_use]
pub fn schema(name: &str) -> Option<String> {
    let (_, make) = DOCUMENTS.iter().find(|(known, _)| *known == name)?;
    Some(to_json(&make()))
}

/// The names of the documents that have a schema.
#[must_use]
pub fn names() -> Vec<&'static str> {
    DOCUMENTS.iter().map(|(name, _)| *name).collect()
}

/// A document is written by us: what a reader can count on is required.
fn of<T: JsonSchema>() -> Schema {
    let settings = SchemaSettings::draft2020_12()
        .for_serialize()
        .with_transform(RecursiveTransform(absent_and_never_null));
    SchemaGenerator::new(settings).into_root_schema_for::<T>()
}

/// A field that may be left out is left out, never null: the generator allows both.
fn absent_and_never_null(schema: &mut Schema) {
    let required: Vec<Value> = schema
        .get("required")
        .and_then(Value::as_array)
        .cloned()
        .unwrap_or_default();
    let Some(fields) = schema.get_mut("properties").and_then(Value::as_object_mut) else {
        return;
    };
    for (name, field) in fields {
        if !required.iter().any(|known| known == name) {
            without_null(field);
        }
    }
}

fn without_null(field: &mut Value) {
    if let Some(kinds) = field.get_mut("type").and_then(Value::as_array_mut) {
        kinds.retain(|kind| kind != "null");
        if let [only] = kinds.as_slice() {
            field["type"] = only.clone();
        }
    }
    if let Some(choices) = field.get_mut("anyOf").and_then(Value::as_array_mut) {
        choices.retain(|choice| choice.get("type").is_none_or(|kind| kind != "null"));
    }
}
