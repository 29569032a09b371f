//! `evenness/1`: what samples of a batch say of how even it is; and `sampling/0`: where to take them.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.evenness/1";
/// Name and version of the document that says where samples are taken; not pinned yet.
pub const SAMPLING_FORMAT: &str = "trug.sampling/0";

/// One analyte of one record, tested. All its numbers are statistics.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EvennessDocument {
    /// `trug.evenness/1`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The record's name.
    pub record: String,
    /// The text it is named in, relative to the root.
    pub file: String,
    /// What was measured.
    pub nutrient: String,
    /// The unit of mean and standard deviations.
    pub unit: String,
    /// How many samples.
    #[schemars(range(min = 2))]
    pub samples: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation as measured, with n − 1.
    pub sd: f64,
    /// The coefficient of variation without the assay's own share, as are all that follow.
    pub cv_percent: f64,
    /// The lower end of its two-sided 95 % confidence interval.
    pub cv_low: f64,
    /// The upper end of that interval.
    pub cv_high: f64,
    /// Its one-sided 95 % upper limit.
    pub limit_percent: f64,
    /// The assay's own standard deviation.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub assay_sd: Option<f64>,
    /// How even the batch should be: at most this.
    pub wanted_percent: f64,
    /// Whether it is.
    pub verdict: VerdictJson,
    /// The ration that was mixed.
    pub ration: String,
    /// The day it was made.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub made: Option<String>,
    /// The method that says how even; absent where that is common practice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
    /// Its one-sided 95 % lower limit.
    pub least_percent: f64,
    /// The word a published source has for it.
    pub band: String,
    /// The verdict in a sentence.
    pub says: String,
}

/// How a batch came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum VerdictJson {
    /// As even as wanted, with 95 % confidence.
    Even,
    /// Not as even as wanted, with 95 % confidence.
    Uneven,
    /// These samples cannot tell.
    Undecided,
}

/// Where so many samples of a batch are taken.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SamplingDocument {
    /// `trug.sampling/0`.
    #[schemars(extend("const" = SAMPLING_FORMAT))]
    pub format: &'static str,
    /// The ration.
    pub ration: String,
    /// The text it is named in, relative to the root.
    pub file: String,
    /// The batch, in grams; null where none is named.
    pub batch_g: Option<Decimal>,
    /// How many samples.
    pub samples: usize,
    /// How much is taken at each place, in grams.
    pub taken_g: Decimal,
    /// How often each is coned, quartered and halved.
    pub halvings: u32,
    /// How even the batch should be; null where that is not known.
    pub wanted_percent: Option<f64>,
    /// Up to which coefficient of variation found the batch is shown to be even.
    pub even_up_to_percent: Option<f64>,
    /// Above which one found it is shown to be uneven.
    pub uneven_above_percent: Option<f64>,
    /// Where each sample is taken: in the heap, in the bags or along the trough.
    pub places: Vec<SamplingPlaceJson>,
}

/// Where one sample is taken.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SamplingPlaceJson {
    /// Its number, from 1.
    pub number: usize,
    /// The row of fields the heap is cut into, from 1.
    pub row: usize,
    /// The field in its row, from 1.
    pub field: usize,
    /// How far along the heap its middle is.
    pub along_percent: Decimal,
    /// How far across the heap its middle is.
    pub across_percent: Decimal,
    /// The bag, in the order they were filled; absent where the batch is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bag: Option<usize>,
    /// How far along the trough, or through the emptying of a vessel.
    pub trough_percent: Decimal,
}
