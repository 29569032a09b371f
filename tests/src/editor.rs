//! What an editor asks of a text, and the answers as notes and text.
//!
//! The cursor is `|`, cut out before the text is used; two of them are a range. A word `crlf` after the kind gives the
//! texts the line ends of another system.

use std::collections::BTreeMap;

use trug_findings::{FileId, Place, Source, Span};
use trug_model::Farm;

use crate::answer::{Answer, Text, farm_of};
use crate::draw;
use crate::marked::{FIRST_PATH, Note};

/// What an editor asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// What there is to say about the thing at the cursor.
    Hover,
    /// What can be written at the cursor; a number after the kind is how many are shown.
    Complete,
    /// What is worked out behind the lines.
    Hint,
    /// What stands above the rations.
    Lens,
    /// What can be done for the range; a number after the kind applies that one.
    Action,
    /// What each word is.
    Tokens,
}

impl Question {
    /// The question of that word.
    #[must_use]
    pub fn named(word: &str) -> Option<Question> {
        Some(match word {
            "hover" => Question::Hover,
            "complete" => Question::Complete,
            "hint" => Question::Hint,
            "lens" => Question::Lens,
            "action" => Question::Action,
            "tokens" => Question::Tokens,
            _ => return None,
        })
    }

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Question::Hover => "hover",
            Question::Complete => "complete",
            Question::Hint => "hint",
            Question::Lens => "lens",
            Question::Action => "action",
            Question::Tokens => "tokens",
        }
    }
}

/// A text of a farm, and what is marked in it.
pub(crate) struct Asked {
    pub(crate) farm: Farm,
    pub(crate) file: FileId,
    pub(crate) range: Span,
}

/// Asks the question of the text that holds the cursor, or of the first.
///
/// # Errors
/// Where no text was read.
pub fn ask(question: Question, texts: &[Text<'_>], arguments: &[String]) -> Result<Answer, String> {
    let is_crlf = arguments.iter().any(|it| it == "crlf");
    let asked = Asked::of(texts, is_crlf)?;
    let mut answer = Answer {
        sources: asked.farm.sources().to_vec(),
        ..Answer::default()
    };
    let mut notes = Vec::new();
    let number: Option<usize> = arguments.iter().find_map(|it| it.parse().ok());
    answer.text = match question {
        Question::Hover => asked.hover(&mut notes),
        Question::Complete => Some(asked.complete(number, &mut notes)),
        Question::Hint => {
            asked.hint(&mut notes);
            None
        }
        Question::Lens => {
            asked.lens(&mut notes);
            None
        }
        Question::Action => Some(asked.action(number)),
        Question::Tokens => Some(asked.tokens()),
    };
    answer.notes = Some(drawn(asked.file, &notes, &answer.sources));
    Ok(answer)
}

impl Asked {
    pub(crate) fn of(texts: &[Text<'_>], is_crlf: bool) -> Result<Asked, String> {
        let marked = texts.iter().position(|(_, text)| text.contains('|'));
        let mut range = Span::default();
        let mut own = Vec::new();
        for (rank, (path, text)) in texts.iter().enumerate() {
            let mut text = (*text).to_owned();
            if is_crlf {
                text = text.replace('\n', "\r\n");
            }
            if marked == Some(rank) {
                let start = text.find('|').unwrap_or_default();
                text.remove(start);
                range = Span::at(start);
                if let Some(end) = text.find('|') {
                    text.remove(end);
                    range = Span::new(start, end);
                }
            }
            own.push(((*path).to_owned(), text));
        }
        let borrowed: Vec<Text<'_>> = own
            .iter()
            .map(|(path, text)| (path.as_str(), text.as_str()))
            .collect();
        let farm = farm_of(&borrowed);
        let first = texts
            .iter()
            .position(|(path, _)| *path == FIRST_PATH)
            .unwrap_or(0);
        let (path, _) = borrowed
            .get(marked.unwrap_or(first))
            .ok_or("the section has no text")?;
        let file = farm.file(path).ok_or("the text was not read")?;
        Ok(Asked { farm, file, range })
    }

    fn hover(&self, notes: &mut Vec<(Span, String)>) -> Option<String> {
        let hover = trug_ide::hover(&self.farm, self.file, self.range.start as usize)?;
        notes.push((hover.span, "hover".to_owned()));
        Some(hover.markdown + "\n")
    }
}

impl Asked {
    /// A line a candidate: what is shown, what stands beside it, what is written.
    fn complete(&self, most: Option<usize>, notes: &mut Vec<(Span, String)>) -> String {
        let offset = self.range.start as usize;
        let candidates = trug_ide::completion(&self.farm, self.file, offset).candidates;
        let replaced = candidates.first().map(|candidate| candidate.span);
        notes.extend(replaced.map(|span| (span, "replaced".to_owned())));
        let mut lines = String::new();
        for candidate in candidates.iter().take(most.unwrap_or(usize::MAX)) {
            let mut line = format!("{} ({:?})", candidate.label, candidate.kind);
            if !candidate.detail.is_empty() {
                line.push_str(&format!(" {}", candidate.detail));
            }
            if candidate.insert != candidate.label {
                line.push_str(&format!(" => {:?}", candidate.insert));
            }
            lines.push_str(&(line + "\n"));
        }
        if let Some(more) = most.and_then(|most| candidates.len().checked_sub(most)) {
            lines.push_str(&format!("and {more} more\n"));
        }
        lines
    }
}

impl Asked {
    fn text(&self) -> &str {
        self.farm.sources()[self.file.index()].text()
    }

    fn hint(&self, notes: &mut Vec<(Span, String)>) {
        let whole = Span::new(0, self.text().len());
        for hint in trug_ide::hints(&self.farm, self.file, whole, trug_ide::HintKinds::ALL) {
            notes.push((
                Span::at(hint.offset),
                format!("{:?}: {}", hint.kind, hint.label),
            ));
        }
    }

    fn lens(&self, notes: &mut Vec<(Span, String)>) {
        for lens in trug_ide::lenses(&self.farm, self.file) {
            let arguments = lens.command.arguments.join(", ");
            let mut says = format!("{} => {}({arguments})", lens.title, lens.command.name);
            if !lens.places.is_empty() {
                says.push_str(&format!(", {} places", lens.places.len()));
            }
            notes.push((lens.span, says));
        }
    }

    /// A line an action; or the text after the one of that number.
    fn action(&self, number: Option<usize>) -> String {
        let findings = trug_record::check_file(&self.farm, self.file);
        let actions = trug_ide::actions(&self.farm, self.file, self.range, &findings);
        let Some(number) = number else {
            let line = |(rank, action): (usize, &trug_ide::Action)| {
                let sure = if action.is_sure { ", sure" } else { "" };
                format!("{} ({:?}{sure}) {}\n", rank + 1, action.kind, action.title)
            };
            return actions.iter().enumerate().map(line).collect();
        };
        let Some(action) = actions.get(number.saturating_sub(1)) else {
            return "there is no such action\n".to_owned();
        };
        let mut text = self.text().to_owned();
        for edit in action.edits.iter().rev() {
            text.replace_range(edit.place.span.range(), &edit.text);
        }
        text.replace("\r\n", "\n")
    }

    /// A line a token: what it is, and what it says.
    fn tokens(&self) -> String {
        let text = self.text();
        let tokens = trug_ide::tokens(&self.farm, self.file, Span::new(0, text.len()));
        let line = |token: &trug_ide::Token| {
            let declares = if token.is_declaration {
                " declares"
            } else {
                ""
            };
            let of_book = if token.is_of_book { " of the book" } else { "" };
            format!(
                "{:?}{declares}{of_book}: {}\n",
                token.kind,
                token.span.of(text)
            )
        };
        tokens.iter().map(line).collect()
    }
}

fn drawn(file: FileId, said: &[(Span, String)], sources: &[Source]) -> BTreeMap<String, Vec<Note>> {
    let mut notes: BTreeMap<String, Vec<Note>> = BTreeMap::new();
    for (span, says) in said {
        if let Some((name, note)) = draw::note_at(Place::new(file, *span), says.clone(), sources) {
            notes.entry(name).or_default().push(note);
        }
    }
    notes
}
