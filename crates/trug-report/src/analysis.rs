//! An analysis drawn for people and for programs.

mod html;
mod json;
pub(crate) mod table;
mod text;

pub use html::analysis_html;
pub use json::analysis_document;
pub use text::analysis_text;

use std::collections::BTreeMap;

use trug_findings::Source;
use trug_model::analysis::{Analysis, Sourced};
use trug_model::ration::Ration;

use crate::plan::intervals;

/// An analysis with all that is told of it.
#[derive(Clone, Debug)]
pub struct Analysed<'a> {
    /// What was analysed.
    pub analysis: Analysis,
    /// The texts, by their number.
    pub sources: &'a [Source],
    /// For each bound of the analysis, in its order.
    pub bounds: Vec<Interval>,
    /// For each dose of the analysis, in its order.
    pub doses: Vec<Interval>,
    /// Where its values were read, as their lines say.
    pub origins: Vec<Sourced>,
    /// The day, where something was judged by it.
    pub today: Option<String>,
    /// What people call the ration.
    pub label: Option<String>,
    /// What people call the ingredients, by their names; those without a label are left out.
    pub labels: BTreeMap<String, String>,
}

impl<'a> Analysed<'a> {
    /// All there is to tell about an analysed ration.
    #[must_use]
    pub fn of(
        analysed: trug_plan::Analysed,
        sources: &'a [Source],
        today: Option<String>,
    ) -> Analysed<'a> {
        let (bounds, doses) = intervals(&analysed.expectations);
        Analysed {
            sources,
            bounds,
            doses,
            origins: analysed.sources,
            today,
            labels: plain_labels(&analysed.ration),
            label: analysed.ration.label,
            analysis: analysed.analysis,
        }
    }

    /// What the analysis cannot know by itself.
    #[must_use]
    pub fn beside(&self) -> Beside<'_> {
        Beside {
            bounds: &self.bounds,
            doses: &self.doses,
            origins: &self.origins,
            today: self.today.as_deref(),
        }
    }
}

/// What an analysis cannot know by itself: how the batch is weighed and spread, and the day.
#[derive(Clone, Debug, Default)]
pub struct Beside<'a> {
    /// For each bound of the analysis, in its order; missing ones are unknown.
    pub bounds: &'a [Interval],
    /// For each dose of the analysis, in its order; missing ones are unknown.
    pub doses: &'a [Interval],
    /// Where its values were read, as their lines say.
    pub origins: &'a [Sourced],
    /// The day, where something was judged by it.
    pub today: Option<&'a str>,
}

/// Two standard deviations to either side, in the unit of the value it belongs to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Interval {
    /// In a whole batch.
    pub batch: Option<(f64, f64)>,
    /// In what one animal eats in a day.
    pub portion: Option<(f64, f64)>,
}

fn plain_labels(ration: &Ration) -> BTreeMap<String, String> {
    let labels = crate::plan::labels(ration).into_iter();
    labels
        .filter_map(|(name, labels)| Some((name, labels.plain?)))
        .collect()
}
