//! Tests of evenness drawn for people and for programs, and where samples are to be taken.

mod html;
mod json;
mod picture;
mod sampling;
mod text;
mod trends;
mod words;

pub use html::evenness_html;
pub use json::{evenness_document, sampling_document};
pub use sampling::{sampling_html, sampling_text};
pub use text::evenness_text;
pub use words::why_untested;

use trug_evenness::EvennessTest;
use trug_findings::Source;
use trug_model::View;

use crate::findings::{file_name, start_of};

/// A test with what is told around it.
#[derive(Clone, Debug)]
pub struct Tested<'a> {
    /// What was tested.
    pub test: EvennessTest,
    /// The texts, by their number.
    pub sources: &'a [Source],
    /// What people call the ration.
    pub label: Option<String>,
    /// The text that names the ration: rations of one name in several texts are several.
    ration_in: String,
}

impl<'a> Tested<'a> {
    /// A test, as the text sees it that has the record.
    #[must_use]
    pub fn of(test: EvennessTest, view: &View<'a>) -> Tested<'a> {
        let sources = view.farm().sources();
        let ration = view.made_out(&test.ration);
        let at = ration.as_ref().map_or(test.place, |ration| ration.place);
        Tested {
            label: ration.and_then(|ration| ration.label.clone()),
            ration_in: file_name(at, sources).to_owned(),
            sources,
            test,
        }
    }

    /// `records.trug:5`.
    fn written(&self) -> String {
        let file = file_name(self.test.place, self.sources);
        let line = start_of(self.test.place, self.sources).line;
        format!("{file}:{line}")
    }

    /// What people call what was measured; its name where it has no label.
    fn nutrient(&self) -> &str {
        let label = self.test.label.as_deref();
        label.unwrap_or(&self.test.nutrient)
    }

    /// What people call the ration; its name where it has no label.
    fn ration(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.test.ration)
    }

    fn made(&self) -> Option<String> {
        self.test.made.map(|day| day.to_string())
    }
}
