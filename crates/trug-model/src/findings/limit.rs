//! What can be said about limits: how much of an ingredient a ration may hold.

use trug_findings::{Code, Finding, Place};

pub static UNDER: Code = Code::warning("limit/under", include_str!("pages/limit-under.md"));
pub static OVER: Code = Code::warning("limit/over", include_str!("pages/limit-over.md"));

pub static ALL: &[&Code] = &[&UNDER, &OVER];

/// A limit that is missed, in words.
pub(crate) struct Limited {
    pub(crate) what: String,
    pub(crate) value: String,
    pub(crate) range: String,
    pub(crate) is_open: bool,
    pub(crate) written: Place,
}

impl Limited {
    fn finding(&self, code: &'static Code, place: Place) -> Finding {
        let says = if self.is_open { "reaches" } else { "is" };
        let best = if self.is_open { " at best" } else { "" };
        let finding = code.at(place).says(format!(
            "{} {says} {}{best}; its limit is {}",
            self.what, self.value, self.range
        ));
        if self.written == place {
            finding
        } else {
            finding.also(self.written, "the limit is set here")
        }
    }
}

pub(crate) fn under(place: Place, limited: &Limited) -> Finding {
    limited
        .finding(&UNDER, place)
        .help("raise it, or change the limit")
}

pub(crate) fn over(place: Place, limited: &Limited) -> Finding {
    limited
        .finding(&OVER, place)
        .help("lower it, or change the limit")
}
