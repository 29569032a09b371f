//! Findings drawn as notes under the lines of their texts.

use std::collections::BTreeMap;

use trug_findings::{Finding, Place, Source};

use crate::marked::Note;

/// The text with each note under its line.
#[must_use]
pub fn under_lines(text: &str, notes: &[Note]) -> String {
    let mut drawn = String::new();
    for (number, line) in text.split_inclusive('\n').enumerate() {
        drawn.push_str(line);
        for note in notes.iter().filter(|note| note.line == number) {
            if !drawn.ends_with('\n') {
                drawn.push('\n');
            }
            drawn.push_str(&drawn_note(note));
        }
    }
    drawn
}

/// The notes of `findings`, by the name of the text they stand in, in the order they are drawn.
#[must_use]
pub fn notes_of(findings: &[Finding], sources: &[Source]) -> BTreeMap<String, Vec<Note>> {
    let mut notes: BTreeMap<String, Vec<Note>> = BTreeMap::new();
    let mut add = |place: Place, says: String, sources: &[Source]| {
        if let Some((name, note)) = note_at(place, says, sources) {
            notes.entry(name).or_default().push(note);
        }
    };
    for finding in findings {
        let accepted = if finding.is_open() { "" } else { " accepted:" };
        let says = format!(
            "{}[{}]{accepted} {}",
            finding.severity.word(),
            finding.code.name,
            finding.message
        );
        add(finding.place, says, sources);
        for related in &finding.related {
            add(related.place, related.message.clone(), sources);
        }
    }
    for notes in notes.values_mut() {
        let is_related = |note: &Note| note.code().is_none();
        notes.sort_by_key(|it| (it.line, it.start, it.end, is_related(it), it.says.clone()));
        // Two findings may name one further place in the same words.
        notes.dedup();
    }
    notes
}

/// A note of a place, with the name of its text.
pub(crate) fn note_at(place: Place, says: String, sources: &[Source]) -> Option<(String, Note)> {
    let source = sources.get(place.file.index())?;
    let range = place.span.range();
    let start = source.position(range.start);
    let line_end = source.line_start(start.line);
    let line = source
        .text()
        .get(..line_end)
        .map_or(0, |it| it.trim_end_matches(['\n', '\r']).len());
    // A place over several lines is drawn to the end of its first.
    let end = source.position(range.end.min(line.max(range.start)));
    let note = Note {
        line: start.line - 1,
        start: start.column - 1,
        end: end.column - 1,
        says,
    };
    Some((source.name().to_owned(), note))
}

fn drawn_note(note: &Note) -> String {
    let marks = match note.end.saturating_sub(note.start) {
        0 => "|".to_owned(),
        width => "^".repeat(width),
    };
    let margin = match note.start {
        0 if note.end > note.start => String::new(),
        0 => "#".to_owned(),
        start => format!("#{}", " ".repeat(start - 1)),
    };
    format!("{margin}{marks} {}", note.says)
        .trim_end()
        .to_owned()
        + "\n"
}
