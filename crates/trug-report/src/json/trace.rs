//! `trace/0`: where a lot, a batch or a group's feed came from and went. Not pinned yet.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.trace/0";

/// What went where.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TraceDocument {
    /// `trug.trace/0`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The day withdrawals are counted on.
    pub today: String,
    /// What was asked about.
    pub start: StartJson,
    /// The lot asked about, or those of the batch or of what the group ate.
    pub lots: Vec<LotJson>,
    /// Records, in the order of their days.
    pub records: Vec<RecordJson>,
    /// Groups that were fed of them, by name.
    pub groups: Vec<GroupJson>,
    /// Withdrawals still running, the last to end first.
    pub withdrawals: Vec<WithdrawalJson>,
    /// What could not be followed.
    pub gaps: Vec<GapJson>,
    /// How many texts were looked through.
    pub texts: usize,
    /// How many records they hold.
    pub all_records: usize,
    /// Who decides, and what this rests on.
    pub cautions: Vec<String>,
}

/// What was asked about.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StartJson {
    /// `lot`, `record` or `group`.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// Where it is declared; none where records alone name it.
    pub places: Vec<PlaceJson>,
}

/// Where something is named.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlaceJson {
    /// The text, relative to the root.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
}

/// A lot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LotJson {
    /// Its name.
    pub name: String,
    /// What it is of.
    pub ingredient: String,
    /// What the supplier calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Where it is declared; absent where records alone name it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<PlaceJson>,
    /// The day it came.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub received: Option<String>,
    /// The last day it is good.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best_before: Option<String>,
    /// How much came, in grams.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub came_g: Option<Decimal>,
    /// What all records weighed of it, in grams.
    pub weighed_g: Decimal,
    /// What is left, in grams.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_hand_g: Option<Decimal>,
    /// What came, less what was weighed and is left, in grams; below zero where that is more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub missing_g: Option<Decimal>,
}

/// A record.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecordJson {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub place: PlaceJson,
    /// The ration that was mixed.
    pub ration: String,
    /// The day it was made.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub made: Option<String>,
    /// By whom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// How much was to be mixed, in grams.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch_g: Option<Decimal>,
    /// It is the one asked about.
    pub is_start: bool,
    /// It is certain that it belongs here; else it may.
    pub certain: bool,
    /// What it holds: of what was asked about, or all of its lots.
    pub holds: Vec<HoldsJson>,
    /// Whom it was fed to.
    pub fed: Vec<FedJson>,
}

/// Something a batch holds.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HoldsJson {
    /// `lot`, or `record` for a mix made beforehand.
    pub kind: &'static str,
    /// The name of the lot or of the record.
    pub name: String,
    /// What that is of.
    pub of: String,
    /// How much, in grams, as far as that is certain; absent where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<Decimal>,
    /// It is certain that the batch holds it; else it may.
    pub certain: bool,
    /// It may hold more of it.
    pub may_be_more: bool,
    /// The records of the mixes it came by.
    pub through: Vec<String>,
}

/// Whom a batch was fed to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FedJson {
    /// The group.
    pub group: String,
    /// The first day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The last day; absent where the record does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// How many animals of which kind.
    pub animals: Vec<AnimalsJson>,
    /// What each animal had at most of what was asked about, in grams, if the group ate the whole batch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most_each_g: Option<Decimal>,
}

/// Animals of a kind.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AnimalsJson {
    /// How many.
    pub head: Decimal,
    /// Of which kind.
    pub animal: String,
}

/// A group.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GroupJson {
    /// Its name.
    pub name: String,
    /// What people call it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// How many animals of which kind.
    pub animals: Vec<AnimalsJson>,
    /// The records it was fed from.
    pub records: Vec<String>,
}

/// A withdrawal that has not ended.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WithdrawalJson {
    /// The group that was fed.
    pub group: String,
    /// What its animals give that is not for people.
    pub product: String,
    /// The ingredient it comes with.
    pub ingredient: String,
    /// How long, in days after the last feeding.
    pub days: Decimal,
    /// The record of the batch.
    pub record: String,
    /// The last day it was fed; absent where the record does not say that it has ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last_fed: Option<String>,
    /// The last day of the withdrawal; the earliest that can be, where the feeding has not ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// The record says that the ingredient was weighed; else its ration holds it.
    pub weighed: bool,
}

/// What could not be followed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GapJson {
    /// In a word.
    pub kind: &'static str,
    /// The record it is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub record: Option<String>,
    /// In a sentence.
    pub says: String,
}
