//! What can be said about doses: an ingredient's inclusion against its label.

use smol_str::SmolStr;
use trug_findings::{Code, Finding, Place};

pub static UNDER: Code = Code::warning("dose/under", include_str!("pages/dose-under.md"));
pub static OVER: Code = Code::warning("dose/over", include_str!("pages/dose-over.md"));

pub static ALL: &[&Code] = &[&UNDER, &OVER];

/// What a ration gives of an ingredient, in words.
pub(crate) struct Dosed {
    pub(crate) ingredient: SmolStr,
    pub(crate) active: Option<SmolStr>,
    pub(crate) value: String,
    pub(crate) window: Option<String>,
    pub(crate) in_batch: Option<String>,
    pub(crate) written: Place,
}

impl Dosed {
    /// `lysine-hcl is 12 g/kg of the mix`, `lysine-hcl adds 9.4 g/kg lysine`.
    pub(crate) fn says(&self) -> String {
        match &self.active {
            None => format!("{} is {} of the mix", self.ingredient, self.value),
            Some(active) => format!("{} adds {} {active}", self.ingredient, self.value),
        }
    }

    pub(crate) fn keep_to(&self) -> String {
        match (&self.window, &self.in_batch) {
            (Some(window), Some(masses)) => {
                format!("keep to the label's dose, {window}: {masses} in this batch")
            }
            (Some(window), None) => format!("keep to the label's dose, {window}"),
            (None, _) => "keep to the label's dose".to_owned(),
        }
    }

    fn finding(&self, code: &'static Code, place: Place) -> Finding {
        let window = self.window.as_deref().unwrap_or("another");
        code.at(place)
            .says(format!("{}; its dose is {window}", self.says()))
            .also(self.written, "the dose is set here")
            .help(format!(
                "{}; the label and a veterinarian decide this amount",
                self.keep_to()
            ))
    }
}

pub(crate) fn under(place: Place, dosed: &Dosed) -> Finding {
    dosed.finding(&UNDER, place)
}

pub(crate) fn over(place: Place, dosed: &Dosed) -> Finding {
    dosed.finding(&OVER, place)
}
