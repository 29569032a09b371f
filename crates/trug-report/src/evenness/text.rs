//! Tests of evenness for a person to read.

use super::Tested;
use super::trends::{Trend, short, trends};
use super::words::{CHECKED, advice, cv, measured, published, published_word, says, wanted_by};
use crate::words::{hanging, lines_of, printable};
use trug_evenness::verdict::Verdict;

/// Narrower than this no sentence reads.
const LEAST_WIDTH: usize = 60;

/// All tests as a page of text, with the trends there are.
#[must_use]
pub fn evenness_text(tests: &[Tested<'_>], width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let mut sections: Vec<String> = tests.iter().map(|tested| section(tested, width)).collect();
    sections.extend(trends(tests).iter().map(|trend| trended(trend, width)));
    sections.push(others(width));
    sections.push(lines_of(CHECKED, width).join("\n") + "\n");
    printable(&sections.join("\n")).into_owned()
}

/// Words that need no colour.
pub(super) fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Even => "even",
        Verdict::Uneven => "UNEVEN",
        Verdict::Undecided => "undecided",
    }
}

fn section(tested: &Tested<'_>, width: usize) -> String {
    let test = &tested.test;
    let made = tested
        .made()
        .map_or_else(String::new, |day| format!(", made {day}"));
    let mut text = hanging(
        "",
        &format!(
            "{} of {}{made} ({})",
            test.record,
            tested.ration(),
            tested.written()
        ),
        width,
    );
    let verdict = format!("{}: {}", word(test.verdict), says(test));
    text.push_str(&hanging(
        &format!("  {}  ", tested.nutrient()),
        &verdict,
        width,
    ));
    let lines = [
        ("    measured   ", measured(test)),
        ("    CV         ", cv(test)),
        ("    wanted     ", wanted_by(&test.wanted)),
        ("    published  ", published_word(test)),
    ];
    for (heading, line) in lines {
        text.push_str(&hanging(heading, &line, width));
    }
    for sentence in advice(test) {
        text.push_str(&hanging("    ", &sentence, width));
    }
    text
}

fn trended(trend: &Trend<'_>, width: usize) -> String {
    let mut text = hanging("Trend: ", &trend.title(), width);
    for tested in &trend.tests {
        let test = &tested.test;
        let day = tested.made().unwrap_or_else(|| "no day".to_owned());
        let line = format!(
            "{}  {} %  {}",
            test.record,
            short(test.spread.cv),
            word(test.verdict)
        );
        text.push_str(&hanging(&format!("  {day:10}  "), &line, width));
    }
    let closing = format!("{}; {}.", trend.expected(), trend.outside_words());
    text.push_str(&hanging("  ", &closing, width));
    text
}

/// What others want.
fn others(width: usize) -> String {
    let mut text = "Published, for comparison:\n".to_owned();
    for line in published() {
        text.push_str(&hanging("  ", &line, width));
    }
    text
}
