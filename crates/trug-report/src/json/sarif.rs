//! The part of SARIF 2.1.0 that findings need, in the names of that standard.

use serde::Serialize;

use super::finding::SeverityJson;

/// A log file.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Log<Results: Serialize> {
    #[serde(rename = "$schema")]
    pub(crate) schema: &'static str,
    pub(crate) version: &'static str,
    pub(crate) runs: [Run<Results>; 1],
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Run<Results: Serialize> {
    pub(crate) tool: Tool,
    pub(crate) column_kind: &'static str,
    /// A list of [`Outcome`].
    pub(crate) results: Results,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) properties: Option<RunProperties>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct RunProperties {
    pub(crate) today: String,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Tool {
    pub(crate) driver: Driver,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Driver {
    pub(crate) name: &'static str,
    pub(crate) version: &'static str,
    pub(crate) rules: Vec<Rule>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Rule {
    pub(crate) id: &'static str,
    pub(crate) short_description: Message,
    pub(crate) help: Help,
    pub(crate) default_configuration: Configuration,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Help {
    pub(crate) text: &'static str,
    pub(crate) markdown: &'static str,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Configuration {
    pub(crate) level: SeverityJson,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Message {
    pub(crate) text: String,
}

/// What the standard calls a result.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Outcome {
    pub(crate) rule_id: &'static str,
    pub(crate) rule_index: usize,
    pub(crate) level: SeverityJson,
    pub(crate) message: Message,
    pub(crate) locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) related_locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) fixes: Vec<Mending>,
    /// Always there: an absent list would leave open whether a result is suppressed.
    pub(crate) suppressions: Vec<Suppression>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) properties: Option<OutcomeProperties>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct OutcomeProperties {
    pub(crate) help: String,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) id: Option<usize>,
    pub(crate) physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) message: Option<Message>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct PhysicalLocation {
    pub(crate) artifact_location: ArtifactLocation,
    pub(crate) region: Region,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct ArtifactLocation {
    pub(crate) uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) uri_base_id: Option<&'static str>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Region {
    pub(crate) start_line: usize,
    pub(crate) start_column: usize,
    pub(crate) end_line: usize,
    pub(crate) end_column: usize,
}

/// What the standard calls a fix.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Mending {
    pub(crate) description: Message,
    pub(crate) artifact_changes: Vec<ArtifactChange>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct ArtifactChange {
    pub(crate) artifact_location: ArtifactLocation,
    pub(crate) replacements: Vec<Replacement>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Replacement {
    pub(crate) deleted_region: Region,
    pub(crate) inserted_content: Message,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct Suppression {
    pub(crate) kind: &'static str,
    pub(crate) status: &'static str,
    pub(crate) location: Location,
    pub(crate) justification: String,
}
