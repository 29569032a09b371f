//! The order findings are read in, and the places of the texts they stand in.

use trug_findings::{Finding, Place, Position, Severity, Source};

/// Stands for a text that was not handed in.
const NO_NAME: &str = "?";

/// A finding with where it starts.
pub(super) struct Placed<'a> {
    pub(super) finding: &'a Finding,
    pub(super) file: &'a str,
    pub(super) start: Position,
}

/// The findings by file, line, column and code.
pub(super) fn in_order<'a>(findings: &'a [Finding], sources: &'a [Source]) -> Vec<Placed<'a>> {
    let place = |finding: &'a Finding| Placed {
        finding,
        file: file_name(finding.place, sources),
        start: start_of(finding.place, sources),
    };
    let mut placed: Vec<Placed> = findings.iter().map(place).collect();
    placed.sort_by(|a, b| {
        let key = |placed: &Placed<'a>| (placed.file, placed.start, placed.finding.code.name);
        key(a)
            .cmp(&key(b))
            .then_with(|| a.finding.message.cmp(&b.finding.message))
    });
    placed
}

/// The text a place stands in.
pub(super) fn source_of(place: Place, sources: &[Source]) -> Option<&Source> {
    sources.get(place.file.index())
}

/// The name of the text a place stands in.
pub(crate) fn file_name(place: Place, sources: &[Source]) -> &str {
    source_of(place, sources).map_or(NO_NAME, Source::name)
}

/// Line and column of the start of a place.
pub(crate) fn start_of(place: Place, sources: &[Source]) -> Position {
    position(place, place.span.start, sources)
}

/// Line and column of the end of a place, never before its start.
pub(super) fn end_of(place: Place, sources: &[Source]) -> Position {
    position(place, place.span.end.max(place.span.start), sources)
}

fn position(place: Place, offset: u32, sources: &[Source]) -> Position {
    let beginning = Position { line: 1, column: 1 };
    source_of(place, sources).map_or(beginning, |source| source.position(offset as usize))
}

/// How many findings there are: open ones by severity, and accepted ones.
#[derive(Clone, Copy, Default)]
pub(super) struct Tally {
    pub(super) errors: usize,
    pub(super) warnings: usize,
    pub(super) notes: usize,
    pub(super) accepted: usize,
}

impl Tally {
    pub(super) fn of(findings: &[Finding]) -> Tally {
        let mut tally = Tally::default();
        for finding in findings {
            let counted = match (finding.is_open(), finding.severity) {
                (false, _) => &mut tally.accepted,
                (true, Severity::Error) => &mut tally.errors,
                (true, Severity::Warning) => &mut tally.warnings,
                (true, Severity::Note) => &mut tally.notes,
            };
            *counted += 1;
        }
        tally
    }
}
