//! What can be said about records: whether what was written down can show what it was taken for.

use trug_findings::{Code, Finding, Place};

use crate::Q;
use crate::view::Readings;

pub static SAMPLES: Code = Code::warning("record/samples", include_str!("pages/record-samples.md"));

pub static ALL: &[&Code] = &[&SAMPLES];

/// Samples that cannot show how even a mix is: a single one, or such as hold nothing.
pub(crate) fn samples(place: Place, nutrient: &str, readings: &Readings) -> Option<Finding> {
    let count = readings.samples.len();
    if count < 2 {
        return Some(
            SAMPLES
                .at(place)
                .says(format!(
                    "1 sample of {nutrient} cannot show how even a mix is"
                ))
                .help("write two samples or more; ten are common practice"),
        );
    }
    readings.samples.iter().all(Q::is_zero).then(|| {
        SAMPLES
            .at(place)
            .says(format!("none of the {count} samples holds any {nutrient}"))
            .help("sample for something that was mixed in, and that the assay can find")
    })
}
