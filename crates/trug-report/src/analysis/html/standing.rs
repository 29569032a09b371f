//! Where the ration stands in each bound and dose: in words with their numbers, and as a bar.

use maud::{Markup, html};
use trug_model::Q;
use trug_model::analysis::{BoundValue, DoseValue};

use super::bar::Bar;
use super::{Analysed, Text, apart, estimate, id, number, words};
use crate::analysis::Interval;
use crate::analysis::text::{KINDS, verdict};
use crate::findings::{file_name, start_of};
use crate::words::{beside as figures_beside, probability, statistic};

/// One bound or dose.
pub(super) struct Standing<'a> {
    /// Its id in the page.
    pub(super) id: String,
    /// What is bounded.
    pub(super) what: String,
    /// The active and what it is added by, or what a bound's value is per.
    about: Option<String>,
    value: Option<&'a Q>,
    unit: &'a str,
    min: Option<&'a Q>,
    max: Option<&'a Q>,
    ceiling: Option<&'a Q>,
    pub(super) met: Option<bool>,
    interval: Interval,
    probability: Option<f64>,
    /// Where it is written, where that has to be looked up.
    written: Option<String>,
    pub(super) bar: Option<Markup>,
}

/// All that has a bound, by what stands behind it, what can hurt first.
pub(super) fn standings<'a>(
    page: &'a Analysed<'_>,
    rank: usize,
) -> Vec<(&'static str, Vec<Standing<'a>>)> {
    let analysis = &page.analysis;
    let mut groups = Vec::new();
    for (kind, _) in KINDS {
        let bounds = analysis.bounds.iter().enumerate();
        let rows: Vec<_> = bounds
            .filter(|(_, bound)| bound.kind == kind)
            .map(|(place, bound)| {
                let interval = page.bounds.get(place).copied().unwrap_or_default();
                of_bound(
                    page,
                    bound,
                    interval,
                    id(rank, &format!("bound-{}", place + 1)),
                )
            })
            .collect();
        groups.push((words::of_kind(kind), rows));
    }
    let doses = analysis.doses.iter().enumerate();
    let rows = doses.map(|(place, dose)| {
        let interval = page.doses.get(place).copied().unwrap_or_default();
        of_dose(
            page,
            dose,
            interval,
            id(rank, &format!("dose-{}", place + 1)),
        )
    });
    groups.push((words::DOSES, rows.collect()));
    groups.retain(|(_, rows)| !rows.is_empty());
    groups
}

fn of_bound<'a>(
    page: &'a Analysed<'_>,
    bound: &'a BoundValue,
    interval: Interval,
    id: String,
) -> Standing<'a> {
    let written = || {
        let line = start_of(bound.place, page.sources).line;
        format!("{}:{line}", file_name(bound.place, page.sources))
    };
    let is_plain = bound.basis.is_empty() || bound.basis == "as fed";
    Standing {
        id,
        what: bound.what.clone(),
        about: (!is_plain).then(|| bound.basis.clone()),
        value: bound.value.as_ref(),
        unit: &bound.unit,
        min: bound.min.as_ref(),
        max: bound.max.as_ref(),
        ceiling: None,
        met: bound.met,
        interval,
        probability: bound.probability,
        written: (bound.met != Some(true)).then(written),
        bar: None,
    }
    .with_bar()
}

fn of_dose<'a>(
    page: &'a Analysed<'_>,
    dose: &'a DoseValue,
    interval: Interval,
    id: String,
) -> Standing<'a> {
    let ingredient = page.called(&dose.ingredient);
    let (what, about) = match &dose.nutrient {
        Some(active) => (
            active.clone(),
            Some(format!("{} {ingredient}", words::ADDED_BY)),
        ),
        None => (ingredient.to_owned(), None),
    };
    Standing {
        id,
        what,
        about,
        value: dose.value.as_ref(),
        unit: &dose.unit,
        min: dose.min.as_ref(),
        max: dose.max.as_ref(),
        ceiling: dose.ceiling.as_ref(),
        met: dose.met,
        interval,
        probability: None,
        written: None,
        bar: None,
    }
    .with_bar()
}

impl Standing<'_> {
    fn with_bar(mut self) -> Self {
        self.bar = Bar {
            value: self.value,
            min: self.min,
            max: self.max,
            ceiling: self.ceiling,
            interval: self.interval,
        }
        .draw();
        self
    }

    fn class(&self) -> &'static str {
        match self.met {
            Some(true) => "standing",
            Some(false) => "standing is-missed",
            None => "standing is-open",
        }
    }

    /// The value with as many figures as show on which side of the bounds it is.
    fn value(&self) -> Markup {
        let Some(value) = self.value else {
            return html! { (words::NOT_KNOWN) };
        };
        let ends: Vec<&Q> = [self.min, self.max, self.ceiling]
            .into_iter()
            .flatten()
            .collect();
        html! { span.value { (number(value, &figures_beside(value, &ends))) } (self.unit()) }
    }

    fn unit(&self) -> Markup {
        html! { @if !self.unit.is_empty() { " " (Text(self.unit)) } }
    }

    /// `16 .. 18 %`, `at least 0.8 %`, with each number on its own.
    fn bound(&self) -> Markup {
        let end = |value: &Q, class: &str| {
            html! { data class=(class) value=(value.to_string()) { (value.to_string()) } }
        };
        html! {
            @match (self.min, self.max) {
                (Some(min), Some(max)) => { (end(min, "min")) " .. " (end(max, "max")) (self.unit()) }
                (Some(min), None) => { "at least " (end(min, "min")) (self.unit()) }
                (None, Some(max)) => { "at most " (end(max, "max")) (self.unit()) }
                (None, None) => { @if self.ceiling.is_none() { (words::NO_BOUND) } }
            }
            @if let Some(ceiling) = self.ceiling {
                @if self.min.is_some() || self.max.is_some() { "; " }
                (words::HARM_ABOVE) " " (end(ceiling, "ceiling")) (self.unit())
            }
        }
    }

    fn remarks(&self) -> Vec<Markup> {
        let ends = [
            (words::IN_BATCH, self.interval.batch),
            (words::IN_PORTION, self.interval.portion),
        ];
        let mut remarks = Vec::new();
        if self.met.is_none() && self.value.is_some() {
            remarks.push(html! { (words::OF_WHAT_IS_KNOWN) });
        }
        for (of, ends) in ends {
            let Some((low, high)) = ends else { continue };
            if !(low.is_finite() && high.is_finite()) {
                continue;
            }
            remarks.push(html! {
                (of) " " (estimate(low, &statistic(low))) " .. " (estimate(high, &statistic(high))) (self.unit())
            });
        }
        if let Some(likely) = self.probability.filter(|it| it.is_finite()) {
            remarks.push(html! {
                (words::KEPT) " " (estimate(likely, &probability(likely))) " " (words::PROBABILITY)
            });
        }
        if let Some(written) = &self.written {
            remarks.push(html! { (words::SET_AT) " " (apart(written)) });
        }
        remarks
    }
}

/// One line of a list: what, how much, of how much, the verdict in a word, the bar, and what else there is to say.
pub(super) fn row(row: &Standing<'_>) -> Markup {
    html! {
        li id=(row.id) class=(row.class()) {
            p.what {
                (apart(&row.what))
                @if let Some(about) = &row.about { " " span.about dir="auto" { (Text(about)) } }
            }
            p.verdict { (verdict(row.met)) }
            p.numbers { (row.value()) span.of { " (" (row.bound()) ")" } }
            @if let Some(bar) = &row.bar { (bar) }
            @for remark in row.remarks() { p.remark { (remark) } }
        }
    }
}
