//! JSON Schemas of the documents, made from the structs that write them.

use schemars::{JsonSchema, SchemaGenerator};

use crate::json::analysis::AnalysisDocument;
use crate::json::finding::FindingsDocument;
use crate::json::to_json;

/// The name of a document and what makes its schema.
type Entry = (&'static str, fn() -> schemars::Schema);

/// By name.
const DOCUMENTS: &[Entry] = &[
    ("analysis", of::<AnalysisDocument>),
    ("findings", of::<FindingsDocument>),
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
fn of<T: JsonSchema>() -> schemars::Schema {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    SchemaGenerator::new(settings).into_root_schema_for::<T>()
}
