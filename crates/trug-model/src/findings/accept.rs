//! What can be said about acceptances.

use trug_findings::{Code, Finding, Place};

pub static UNUSED: Code = Code::warning("accept/unused", include_str!("pages/accept-unused.md"));
pub static REFUSED: Code = Code::error("accept/refused", include_str!("pages/accept-refused.md"));

pub static ALL: &[&Code] = &[&UNUSED, &REFUSED];

pub(crate) fn unused(place: Place, code: &str) -> Finding {
    UNUSED
        .at(place)
        .says(format!("nothing here raises {code}"))
        .help("take the acceptance out, so that it silences nothing later")
        .offer("take it out", place, "")
}

pub(crate) fn refused(place: Place, code: &str) -> Finding {
    REFUSED
        .at(place)
        .says(format!("{code} cannot be accepted"))
        .help("mend what it says; only dose, target, limit, law, mix, weigh, vessel, store and cost can be accepted")
}

pub(crate) fn unknown(place: Place, code: &str) -> Finding {
    REFUSED
        .at(place)
        .says(format!("there is no finding {code}"))
        .help("copy the code from the finding: `accept dose/over \"reason\"`")
}
