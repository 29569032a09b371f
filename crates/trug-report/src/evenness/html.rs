//! Tests of evenness as one HTML file that needs nothing else: each with its samples drawn, and charts of what several
//! records of one ration show.

use maud::{Markup, html};
use trug_evenness::verdict::Verdict;

use super::Tested;
use super::picture::{Chart, Level, Point, level};
use super::trends::{Trend, trends};
use super::words::{
    CHECKED, advice, against, cv, measured, published, published_word, says, wanted_by,
};
use crate::page::still::still_page;
use crate::page::text::Text;

/// How the page looks, on a screen and on paper.
pub(super) const STYLE: &str = concat!(
    include_str!("../page/base.css"),
    include_str!("evenness.css")
);

/// The tests as a page, in their order, the charts first.
#[must_use]
pub fn evenness_html(tests: &[Tested<'_>]) -> String {
    let title = match tests {
        [only] => format!("Evenness: {} of {}", only.test.record, only.ration()),
        _ => "Evenness".to_owned(),
    };
    let content = html! {
        @for trend in trends(tests) { (trended(&trend)) }
        @for tested in tests { (article(tested)) }
        section {
            h2 { "Published, for comparison" }
            ul { @for line in published() { li { (Text(&line)) } } }
        }
        p.about { (CHECKED) }
    };
    still_page(&title, STYLE, &content)
}

/// A text of the farm's, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

/// A number from statistics, with the digits that programs read.
fn estimate(value: f64, shown: &str) -> Markup {
    html! { data value=(value) { (Text(shown)) } }
}

fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Even => "verdict",
        Verdict::Uneven => "verdict is-uneven",
        Verdict::Undecided => "verdict is-undecided",
    }
}

fn article(tested: &Tested<'_>) -> Markup {
    let test = &tested.test;
    html! {
        article {
            h1 { (apart(tested.nutrient())) " in " (apart(tested.ration())) ", " (apart(&test.record)) }
            p class=(class(test.verdict)) { strong { (test.verdict.word()) } ": " (Text(&says(test))) }
            @for sentence in advice(test) { p { (Text(&sentence)) } }
            dl.facts {
                div { dt { "Written" } dd { (apart(&tested.written())) } }
                @if let Some(day) = tested.made() { div { dt { "Made" } dd { (day) } } }
                div { dt { "Measured" } dd { (Text(&measured(test))) } }
                div { dt { "CV" } dd { (estimate(test.spread.cv, &cv(test))) } }
                div { dt { "Wanted" } dd { (Text(&wanted_by(&test.wanted))) } }
                div { dt { "Published" } dd { (Text(&published_word(test))) } }
            }
            @if let Some(drawing) = samples(tested) {
                figure {
                    (drawing)
                    figcaption.about { "The samples in the order of the line. Of a batch just as even as wanted, 19 in 20 lie \
                        between the two broken lines." }
                }
            }
        }
    }
}

/// The samples, against where they would lie if the batch were as even as wanted.
fn samples(tested: &Tested<'_>) -> Option<Markup> {
    let test = &tested.test;
    let unit = &test.readings.unit;
    let mean = test.summary.mean.to_f64();
    let own = test.own_percent();
    let wanted = test.wanted.percent.to_f64();
    // Two standard deviations to either side, of the batch and of the assay together.
    let reach = 2.0 * mean * (wanted * wanted + own * own).sqrt() / 100.0;
    let samples = test.readings.samples.iter();
    let points: Vec<Point> = samples
        .map(|sample| Point {
            value: sample.to_f64(),
            stands_out: false,
        })
        .collect();
    let levels: Vec<Level> = vec![
        level(mean + reach, "19 in 20 up to", unit, "6 4"),
        level(mean, "mean", unit, ""),
        level((mean - reach).max(0.0), "and from", unit, "6 4"),
    ];
    let title = format!("{} of {}, sample by sample", tested.nutrient(), test.record);
    let chart = Chart {
        title: &title,
        points: &points,
        levels: &levels,
    };
    chart.draw()
}

fn trended(trend: &Trend<'_>) -> Markup {
    let title = trend.title();
    html! {
        article {
            h1 { (apart(&title)) }
            p { (Text(&trend.expected())) "; " (Text(&trend.outside_words())) "." }
            @if let Some(drawing) = chart(trend, &title) {
                figure {
                    (drawing)
                    figcaption.about { "The CV of each record, in the order the batches were made. A diamond lies outside the \
                        limits." }
                }
            }
            (table(trend))
        }
    }
}

fn chart(trend: &Trend<'_>, title: &str) -> Option<Markup> {
    let points: Vec<Point> = trend
        .tests
        .iter()
        .map(|tested| Point {
            value: tested.test.spread.cv,
            stands_out: !trend.limits.hold(tested.test.spread.cv),
        })
        .collect();
    let mut levels = vec![
        level(trend.limits.high, "upper limit", "%", "6 4"),
        level(trend.limits.centre, "mean CV", "%", ""),
    ];
    levels.extend(
        trend
            .limits
            .low
            .map(|low| level(low, "lower limit", "%", "6 4")),
    );
    let mut wanted: Vec<f64> = trend
        .tests
        .iter()
        .map(|tested| tested.test.wanted.percent.to_f64())
        .collect();
    wanted.dedup();
    if let [wanted] = wanted.as_slice() {
        levels.push(level(*wanted, "wanted: at most", "%", "1 3"));
    }
    let chart = Chart {
        title,
        points: &points,
        levels: &levels,
    };
    chart.draw()
}

fn table(trend: &Trend<'_>) -> Markup {
    html! {
        table {
            thead { tr {
                th.figure { "No." } th { "Record" } th { "Made" } th.figure { "Samples" } th.figure { "CV, %" }
                th.figure { "95 % confidence, %" } th { "Verdict" }
            } }
            tbody { @for (rank, tested) in trend.tests.iter().enumerate() {
                @let test = &tested.test;
                @let wanted = &test.wanted.percent;
                tr {
                    td.figure { (rank + 1) }
                    th scope="row" { (apart(&test.record)) }
                    td { (tested.made().unwrap_or_default()) }
                    td.figure { (test.summary.samples) }
                    td.figure { (estimate(test.spread.cv, &against(test.spread.cv, wanted))) }
                    td.figure { (estimate(test.spread.low, &against(test.spread.low, wanted))) " .. "
                        (estimate(test.spread.high, &against(test.spread.high, wanted))) }
                    td { (test.verdict.word()) }
                }
            } }
        }
    }
}
