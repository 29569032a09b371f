//! An analysis drawn for people and for programs.

mod html;
mod json;
mod table;
mod text;

pub use html::analysis_html;
pub use json::analysis_document;
pub use text::analysis_text;

use std::collections::BTreeMap;

use trug_findings::Source;
use trug_model::analysis::Analysis;
use trug_model::ration::Ration;

/// One analysis of a page of several.
#[derive(Clone, Copy, Debug)]
pub struct AnalysisPage<'a> {
    /// What was analysed.
    pub analysis: &'a Analysis,
    /// The texts, by their number.
    pub sources: &'a [Source],
    /// What it cannot know by itself.
    pub beside: &'a Beside<'a>,
    /// What people call the ration.
    pub label: Option<&'a str>,
    /// What people call the ingredients, by their names.
    pub labels: &'a BTreeMap<String, String>,
}

/// What an analysis cannot know by itself: how the batch is weighed and spread, and the day.
#[derive(Clone, Debug, Default)]
pub struct Beside<'a> {
    /// For each bound of the analysis, in its order; missing ones are unknown.
    pub bounds: &'a [Interval],
    /// For each dose of the analysis, in its order; missing ones are unknown.
    pub doses: &'a [Interval],
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

/// What people call a ration's ingredients, by their names; those without a label are left out.
#[must_use]
pub fn plain_labels(ration: &Ration) -> BTreeMap<String, String> {
    let labels = crate::plan::labels(ration).into_iter();
    labels
        .filter_map(|(name, labels)| Some((name, labels.plain?)))
        .collect()
}
