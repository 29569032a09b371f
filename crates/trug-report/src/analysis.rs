//! An analysis drawn for people and for programs.

mod json;
mod table;
mod text;

pub use json::analysis_document;
pub use text::analysis_text;

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
