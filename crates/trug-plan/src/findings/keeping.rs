//! What can be said about time: a mix made for longer than it keeps.

use trug_findings::{Code, Finding, Place};
use trug_model::Q;

/// More is mixed than is eaten while it keeps.
pub static KEEPS: Code = Code::warning("mix/keeps", include_str!("pages/mix-keeps.md"));

/// The family's further codes.
pub static ALL: &[&Code] = &[&KEEPS];

pub(crate) fn keeps(place: Place, ration: &str, days: &Q, keeps: &Q) -> Finding {
    KEEPS
        .at(place)
        .says(format!(
            "{ration} is mixed for {days} days; it keeps {keeps}"
        ))
        .help("mix for fewer days, more often: what is old grows mould and loses vitamins")
}

pub(crate) fn too_many_days(place: Place, days: &Q, mix_for: &Q) -> Finding {
    KEEPS
        .at(place)
        .says(format!(
            "the order is for {days} days; the group's mix is for at most {mix_for}"
        ))
        .help("mix for fewer days, more often")
}
