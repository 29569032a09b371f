//! Runs a section: asks the tool, and compares what it says with what is written.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::answer::{self, Answer};
use crate::claims;
use crate::draw;
use crate::marked::{Kind, Marked, Note, Section};

/// Whether the section holds; else what differs, and the section as it would be.
///
/// # Errors
/// Says what was expected and is not there, and what is there and was not expected.
pub fn verdict(section: &Section) -> Result<(), String> {
    let mut differences = Vec::new();
    let answer = answer::ask(section)?;
    if shows_notes(section.kind) {
        differences.extend(note_differences(section, &answer));
    }
    differences.extend(result_differences(section, &answer));
    if differences.is_empty() {
        return Ok(());
    }
    let mut shown = String::new();
    let now = updated(section)?;
    for marked in &now.texts {
        shown.push_str(&format!("//- {}\n", marked.path));
        shown.push_str(&draw::under_lines(&marked.text, &marked.notes));
    }
    if let (Some(result), false) = (&now.result, is_claimed(section.kind)) {
        shown.push_str(&format!("---->\n{result}"));
    }
    let told = differences.join("\n");
    Err(format!(
        "line {}:\n{told}\n\nnow it is:\n{shown}",
        section.line
    ))
}

/// The section with what the tool says in place of what is written.
///
/// # Errors
/// Where the tool cannot be asked at all.
pub fn updated(section: &Section) -> Result<Section, String> {
    let answer = answer::ask(section)?;
    let mut section = section.clone();
    if shows_notes(section.kind) {
        let mut notes = notes_by_text(&answer);
        for marked in &mut section.texts {
            marked.notes = notes.remove(&marked.path).unwrap_or_default();
        }
    }
    let claimed = is_claimed(section.kind);
    section.result = match section.result.take() {
        Some(claims) if claimed => Some(claims::rewritten(&claims, &document(&answer))),
        written if claimed => written,
        _ => answer.text.clone(),
    };
    Ok(section)
}

fn shows_notes(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Check | Kind::Plan | Kind::Analyse | Kind::Balance
    ) || kind.is_of_editor()
}

/// The result is a list of claims about a document, and not a text.
fn is_claimed(kind: Kind) -> bool {
    matches!(kind, Kind::Plan | Kind::Analyse | Kind::Balance)
}

fn document(answer: &Answer) -> Value {
    answer.document.clone().unwrap_or(Value::Null)
}

fn result_differences(section: &Section, answer: &Answer) -> Vec<String> {
    let written = section.result.as_deref();
    match (is_claimed(section.kind), written) {
        (true, None) => Vec::new(),
        (true, Some(claims)) => claims::broken(claims, &document(answer)),
        (false, _) if section.kind == Kind::Check => match written {
            Some(_) => vec!["a check has no result".to_owned()],
            None => Vec::new(),
        },
        (false, written) => {
            // Tidy text needs no result of its own.
            let first = section.texts.first().map(|it| it.text.as_str());
            let first = first.filter(|_| !section.kind.is_of_editor());
            let wanted = written.or(first).unwrap_or("");
            let is = answer.text.as_deref().unwrap_or("");
            let is_same = wanted.trim_end() == is.trim_end();
            if is_same {
                Vec::new()
            } else {
                vec![format!("wanted:\n{wanted}")]
            }
        }
    }
}

fn notes_by_text(answer: &Answer) -> BTreeMap<String, Vec<Note>> {
    let drawn = || draw::notes_of(&answer.findings, &answer.sources);
    answer.notes.clone().unwrap_or_else(drawn)
}

fn note_differences(section: &Section, answer: &Answer) -> Vec<String> {
    let mut differences = Vec::new();
    let mut found = notes_by_text(answer);
    let mut written = section.texts.iter().flat_map(|marked| &marked.notes);
    let is_open = written.any(Note::is_open);
    for marked in &section.texts {
        let notes = found.remove(&marked.path).unwrap_or_default();
        differences.extend(differences_in(marked, &notes, is_open));
    }
    for (name, notes) in found {
        for note in notes.iter().filter(|note| note.code().is_some()) {
            differences.push(format!("in {name}, line {}: {}", note.line + 1, note.says));
        }
    }
    differences
}

/// Where a note leaves its sentence open, further places need not all be written.
fn differences_in(marked: &Marked, found: &[Note], is_open: bool) -> Vec<String> {
    let mut differences = Vec::new();
    let mut left: Vec<&Note> = found.iter().collect();
    for wanted in &marked.notes {
        match left.iter().position(|note| agree(wanted, note)) {
            Some(rank) => {
                left.remove(rank);
            }
            None => differences.push(format!("not found: {}", told(marked, wanted))),
        }
    }
    for note in left {
        if note.code().is_some() || !is_open {
            differences.push(format!("not expected: {}", told(marked, note)));
        }
    }
    differences
}

fn agree(wanted: &Note, found: &Note) -> bool {
    let place = |note: &Note| (note.line, note.start, note.end);
    let says = if wanted.is_open() {
        found.says.starts_with(&wanted.says)
    } else {
        found.says == wanted.says
    };
    place(wanted) == place(found) && says
}

fn told(marked: &Marked, note: &Note) -> String {
    let line = marked.text.lines().nth(note.line).unwrap_or("");
    let letters = line.chars().skip(note.start).take(note.end - note.start);
    let under: String = letters.collect();
    format!("{}:{}: `{under}` {}", marked.path, note.line + 1, note.says)
}
