//! `findings/1`: what was found, where, and how it can be mended.

use schemars::JsonSchema;
use serde::Serialize;

/// Name and version of the document.
pub const FORMAT: &str = "trug.findings/1";

/// Every finding of a run, sorted by file, line, column and code.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingsDocument {
    /// `trug.findings/1`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The day that stock, best-before and price age were judged on, where it mattered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub today: Option<String>,
    /// The findings, accepted ones among them.
    pub findings: Vec<FindingJson>,
    /// How many there are of each severity, accepted ones left out.
    pub counts: CountsJson,
}

/// Something the tool says about a text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingJson {
    /// `family/slug`.
    #[schemars(regex(pattern = r"^[a-z]+/[a-z0-9-]+$"))]
    pub code: String,
    /// How much it weighs.
    pub severity: SeverityJson,
    /// A fact, with its numbers and their units.
    pub message: String,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
    /// Where it stands.
    #[serde(flatten)]
    pub place: PlaceJson,
    /// Other places that matter.
    pub related: Vec<RelatedJson>,
    /// Edits that would mend it.
    pub fixes: Vec<FixJson>,
    /// Set where the text accepts it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub accepted: Option<AcceptedJson>,
}

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SeverityJson {
    /// A plan is refused while it stands.
    Error,
    /// Worth acting on.
    Warning,
    /// Worth knowing.
    Note,
}

/// A range of a text. Lines and columns count from 1, a column is one Unicode scalar value, the end is exclusive.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceJson {
    /// Relative to the root with `/`; `-` is standard input, `book:…` a bundled book.
    pub file: String,
    /// Line of the first character.
    #[schemars(range(min = 1))]
    pub line: usize,
    /// Column of the first character.
    #[schemars(range(min = 1))]
    pub column: usize,
    /// Line of the end.
    #[schemars(range(min = 1))]
    pub end_line: usize,
    /// Column of the end.
    #[schemars(range(min = 1))]
    pub end_column: usize,
}

/// Another place, and what it has to do with the finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RelatedJson {
    /// What this place contributed.
    pub message: String,
    /// Where.
    #[serde(flatten)]
    pub place: PlaceJson,
}

/// A way to mend a text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FixJson {
    /// What it does.
    pub title: String,
    /// Edits that belong together; none overlaps another.
    pub edits: Vec<EditJson>,
}

/// One replacement of a range by a text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EditJson {
    /// What goes.
    #[serde(flatten)]
    pub place: PlaceJson,
    /// What comes.
    pub text: String,
}

/// Why a finding was accepted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AcceptedJson {
    /// The user's reason.
    pub reason: String,
}

/// How many findings there are of each severity.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CountsJson {
    /// Errors.
    pub error: usize,
    /// Warnings.
    pub warning: usize,
    /// Notes.
    pub note: usize,
}
