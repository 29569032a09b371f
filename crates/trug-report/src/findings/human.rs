//! Findings for a person at a terminal: the text at fault, what is wrong with it, and what to do.

use trug_findings::{Acceptance, Finding, Place, Related, Severity, Source};

use super::draw::{Drawing, Pen};
use super::order::{Placed, Tally, in_order, source_of, start_of};
use super::snippet::{Mark, Snippet, line_of};
use crate::words::{count, hanging, printable};

/// How findings are drawn. Nothing of it is taken from the surroundings.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// Columns of the page.
    pub width: usize,
    /// Colours, by the sequences every terminal knows.
    pub color: bool,
    /// Draw with ASCII alone. The texts themselves stay as they are.
    pub ascii: bool,
}

/// A related place so few lines away stands in the same snippet.
const NEAR: usize = 3;
/// More related places than this are counted, not drawn.
const MOST_RELATED: usize = 6;

/// Every finding drawn, and a closing line that counts them.
#[must_use]
pub fn human(findings: &[Finding], sources: &[Source], style: &Style) -> String {
    let pen = Pen::new(style);
    let mut text = String::new();
    for placed in in_order(findings, sources) {
        match &placed.finding.accepted {
            Some(acceptance) => text.push_str(&accepted(&placed, acceptance, &pen)),
            None => open(&placed, sources, &pen, &mut text),
        }
        text.push('\n');
    }
    text.push_str(&summary(findings, sources));
    text.push('\n');
    text
}

fn open(placed: &Placed<'_>, sources: &[Source], pen: &Pen, text: &mut String) {
    let finding = placed.finding;
    let (near, far): (Vec<&Related>, Vec<&Related>) = finding
        .related
        .iter()
        .partition(|related| is_near(related.place, finding.place, sources));
    let mut marks = vec![Mark {
        place: finding.place,
        label: finding.label.as_deref(),
    }];
    marks.extend(near.iter().take(MOST_RELATED).map(|related| Mark {
        place: related.place,
        label: Some(&related.message),
    }));
    let snippet = source_of(finding.place, sources)
        .and_then(|source| Snippet::new(source, placed.start, &marks, &pen.page));
    let below = snippet.as_ref().and_then(|snippet| snippet.below.clone());
    let drawing = Drawing {
        code: Some(heading(finding)),
        severity: finding.severity,
        headline: pen.headline(&finding.message),
        snippet,
    };
    pen.draw(text, &drawing);
    if let Some(label) = below {
        text.push_str(&hanging("  here: ", &label, pen.page.width));
    }
    for (words, sentence) in advice(finding) {
        text.push_str(&hanging(words, &printable(sentence), pen.page.width));
    }
    for related in far.iter().take(MOST_RELATED) {
        text.push('\n');
        draw_related(related, sources, pen, text);
    }
    let undrawn = |places: &[&Related]| places.len().saturating_sub(MOST_RELATED);
    let left = undrawn(&near) + undrawn(&far);
    if left > 0 {
        let more = count(left, "place", "places");
        text.push_str(&format!("\n  and {more} more\n"));
    }
}

/// What to do, and what an editor can do about it.
fn advice(finding: &Finding) -> impl Iterator<Item = (&'static str, &str)> {
    let help = finding.help.iter().map(|help| ("  help: ", help.as_str()));
    let fixes = finding.fixes.iter();
    help.chain(fixes.map(|fix| ("  fix: ", fix.title.as_str())))
}

fn draw_related(related: &Related, sources: &[Source], pen: &Pen, text: &mut String) {
    let mark = Mark {
        place: related.place,
        label: None,
    };
    let start = start_of(related.place, sources);
    let snippet = source_of(related.place, sources)
        .and_then(|source| Snippet::new(source, start, &[mark], &pen.page));
    let drawing = Drawing {
        code: None,
        severity: Severity::Note,
        headline: pen.headline(&related.message),
        snippet,
    };
    pen.draw(text, &drawing);
}

/// Close enough to share the snippet, and nowhere on the same characters, where two underlines would hide each other.
fn is_near(related: Place, main: Place, sources: &[Source]) -> bool {
    let Some(source) = source_of(main, sources) else {
        return false;
    };
    let is_apart = related.span.end <= main.span.start || main.span.end <= related.span.start;
    let is_same = related.span.start == main.span.start;
    let gap = line_of(source, related).abs_diff(line_of(source, main));
    related.file == main.file && is_apart && !is_same && gap <= NEAR
}

/// An accepted finding asks for nothing: its sentence, its place and the reason, in faint ink.
fn accepted(placed: &Placed<'_>, acceptance: &Acceptance, pen: &Pen) -> String {
    let finding = placed.finding;
    let place = format!(
        "{}:{}:{}",
        placed.file, placed.start.line, placed.start.column
    );
    let mut block = hanging(
        &format!("{} accepted: ", heading(finding)),
        &printable(&acceptance.reason),
        pen.page.width,
    );
    block.push_str(&hanging("  ", &printable(&finding.message), pen.page.width));
    block.push_str(&format!("  {}", printable(&place)));
    pen.faint(&block) + "\n"
}

/// `error[harm/ceiling]`.
fn heading(finding: &Finding) -> String {
    format!("{}[{}]", finding.severity.word(), finding.code.name)
}

/// `2 errors, 1 warning`, or that there is nothing to say.
fn summary(findings: &[Finding], sources: &[Source]) -> String {
    let tally = Tally::of(findings);
    let is_open = tally.errors + tally.warnings + tally.notes > 0;
    let mut parts = Vec::new();
    if !is_open {
        parts.push(format!("nothing to say{}", about(sources)));
    }
    let counts = [
        (tally.errors, "error", "errors"),
        (tally.warnings, "warning", "warnings"),
        (tally.notes, "note", "notes"),
        (tally.accepted, "accepted", "accepted"),
    ];
    let said = counts.iter().filter(|(number, ..)| *number > 0);
    parts.extend(said.map(|(number, one, many)| count(*number, one, many)));
    parts.join(", ")
}

/// The books come with the tool; what is counted is the user's own.
fn about(sources: &[Source]) -> String {
    let is_own = |source: &&Source| !source.name().starts_with("book:");
    match sources.iter().filter(is_own).count() {
        0 => String::new(),
        files => format!(" about {}", count(files, "file", "files")),
    }
}
