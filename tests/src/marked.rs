//! Marked texts: sections of farm texts, with what is expected written under the line it concerns.
//!
//! ```text
//! --- sum-over check ---
//! ration river-mash
//! #      ^^^^^^^^^^ error[sum/over] river-mash adds up to 101 %: 1 % too much
//!   maize        61 %
//!   wheat-bran   40 %
//! ```
//!
//! A section may hold several texts: a line `//- coop/store.trug` starts a further one. Lines whose
//! first word is a run of carets, or a lone bar for an empty place, are cut out before a text is used,
//! so that columns are the user's. A line `---->` ends the texts; what follows is the expected result.

use crate::{editor, places};

/// The path of a section's first text where none is named.
pub const FIRST_PATH: &str = "farm.trug";
/// What stands between the texts of a section and their result.
const RESULT: &str = "---->";
/// What opens a section.
const SECTION: &str = "--- ";
/// What starts a further text in a section.
const PATH: &str = "//- ";

/// A file of `suite/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suite {
    /// What stands before the first section: what these sections are about.
    pub preamble: String,
    /// Its sections in order.
    pub sections: Vec<Section>,
}

/// One test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its name, unique in its file.
    pub name: String,
    /// What is asked.
    pub kind: Kind,
    /// Words after the kind.
    pub arguments: Vec<String>,
    /// Comments above the first text, where that is named.
    pub about: String,
    /// The texts of the farm.
    pub texts: Vec<Marked>,
    /// The expected result, for kinds that have one.
    pub result: Option<String>,
    /// The line of its head in the file, counted from 1.
    pub line: usize,
}

/// What a section asks of the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The findings of all texts.
    Check,
    /// The first text after its fixes.
    Fix,
    /// The first text in its one layout.
    Tidy,
    /// Claims about the plan of a ration.
    Plan,
    /// Claims about the analysis of a ration.
    Analyse,
    /// Claims about the balance of a ration.
    Balance,
    /// The first text with the amounts of a balanced ration written into it.
    Write,
    /// What an editor asks of the first text.
    Editor(editor::Question),
    /// Where an editor goes from the cursor, and what it changes there.
    Places(places::Question),
}

/// A text and the notes under its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// Its path, as `use` names it.
    pub path: String,
    /// The path stands in the section.
    pub is_named: bool,
    /// The text without its notes.
    pub text: String,
    /// The notes.
    pub notes: Vec<Note>,
}

/// What is said of a place.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Note {
    /// The line, counted from 0.
    pub line: usize,
    /// The first column, counted from 0.
    pub start: usize,
    /// The column after the last.
    pub end: usize,
    /// `severity[code] message`, or what a further place contributed.
    pub says: String,
}

impl Kind {
    /// The kind of that word.
    #[must_use]
    pub fn named(word: &str) -> Option<Kind> {
        Some(match word {
            "check" => Kind::Check,
            "fix" => Kind::Fix,
            "tidy" => Kind::Tidy,
            "plan" => Kind::Plan,
            "analyse" => Kind::Analyse,
            "balance" => Kind::Balance,
            "write" => Kind::Write,
            word => match places::Question::named(word) {
                Some(question) => Kind::Places(question),
                None => Kind::Editor(editor::Question::named(word)?),
            },
        })
    }

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Kind::Check => "check",
            Kind::Fix => "fix",
            Kind::Tidy => "tidy",
            Kind::Plan => "plan",
            Kind::Analyse => "analyse",
            Kind::Balance => "balance",
            Kind::Write => "write",
            Kind::Editor(question) => question.word(),
            Kind::Places(question) => question.word(),
        }
    }
}

impl Kind {
    /// Whether it asks as an editor does.
    #[must_use]
    pub fn is_of_editor(self) -> bool {
        matches!(self, Kind::Editor(_) | Kind::Places(_))
    }
}

impl Note {
    /// The code, where the note is a finding and not a further place.
    #[must_use]
    pub fn code(&self) -> Option<&str> {
        let (severity, rest) = self.says.split_once('[')?;
        ["error", "warning", "note"]
            .contains(&severity)
            .then(|| rest.split_once(']').map(|(code, _)| code))?
    }

    /// It names a code and leaves the sentence open.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.code().is_some() && (self.says.ends_with(']') || self.says.ends_with("] accepted:"))
    }
}

impl Suite {
    /// Reads a file of `suite/`.
    ///
    /// # Errors
    /// Says which line is not of the format.
    pub fn read(content: &str) -> Result<Suite, String> {
        let mut suite = Suite {
            preamble: String::new(),
            sections: Vec::new(),
        };
        let mut body = String::new();
        for (index, line) in content.split_inclusive('\n').enumerate() {
            if let Some(head) = line.strip_prefix(SECTION) {
                close(&mut suite, &mut body)?;
                suite.sections.push(head_of(head, index + 1)?);
            } else {
                body.push_str(line);
            }
        }
        close(&mut suite, &mut body)?;
        let mut names: Vec<_> = suite.sections.iter().map(|it| it.name.as_str()).collect();
        names.sort_unstable();
        match names.windows(2).find(|pair| pair[0] == pair[1]) {
            Some(pair) => Err(format!("two sections are called {}", pair[0])),
            None => Ok(suite),
        }
    }

    /// The file again.
    #[must_use]
    pub fn write(&self) -> String {
        let mut content = self.preamble.clone();
        for section in &self.sections {
            section.write(&mut content);
        }
        content
    }
}

impl Section {
    fn write(&self, content: &mut String) {
        let arguments: String = self.arguments.iter().map(|it| format!(" {it}")).collect();
        let kind = self.kind.word();
        content.push_str(&format!("{SECTION}{} {kind}{arguments} ---\n", self.name));
        content.push_str(&self.about);
        for marked in &self.texts {
            if marked.is_named {
                content.push_str(&format!("{PATH}{}\n", marked.path));
            }
            content.push_str(&crate::draw::under_lines(&marked.text, &marked.notes));
        }
        if let Some(result) = &self.result {
            content.push_str(RESULT);
            content.push('\n');
            content.push_str(result);
        }
    }
}

fn head_of(head: &str, line: usize) -> Result<Section, String> {
    let head = head.trim().trim_end_matches("---");
    let mut words = head.split_whitespace().map(str::to_owned);
    let (Some(name), Some(kind)) = (words.next(), words.next()) else {
        return Err(format!("line {line}: write `--- name kind ---`"));
    };
    let kind = Kind::named(&kind).ok_or_else(|| format!("line {line}: {kind} is no kind"))?;
    Ok(Section {
        name,
        kind,
        arguments: words.collect(),
        about: String::new(),
        texts: Vec::new(),
        result: None,
        line,
    })
}

fn close(suite: &mut Suite, body: &mut String) -> Result<(), String> {
    let body = std::mem::take(body);
    let Some(section) = suite.sections.last_mut() else {
        suite.preamble = body;
        return Ok(());
    };
    let mut texts = vec![(FIRST_PATH.to_owned(), false, String::new())];
    let mut lines = body.split_inclusive('\n');
    for line in lines.by_ref() {
        if line.trim_end() == RESULT {
            section.result = Some(String::new());
            break;
        }
        if let Some(path) = line.strip_prefix(PATH) {
            texts.push((path.trim().to_owned(), true, String::new()));
        } else if let Some((.., text)) = texts.last_mut() {
            text.push_str(line);
        }
    }
    if let Some(result) = &mut section.result {
        *result = lines.collect();
    }
    if let [(_, false, about), _, ..] = &texts[..] {
        section.about.clone_from(about);
        texts.remove(0);
    }
    for (path, is_named, text) in texts {
        let (text, notes) = cut_notes(&text, section.line)?;
        section.texts.push(Marked {
            path,
            is_named,
            text,
            notes,
        });
    }
    Ok(())
}

fn cut_notes(marked: &str, head: usize) -> Result<(String, Vec<Note>), String> {
    let mut text = String::new();
    let mut notes = Vec::new();
    let mut lines = 0;
    for line in marked.split_inclusive('\n') {
        match note_of(line) {
            None => {
                text.push_str(line);
                lines += 1;
            }
            Some(_) if lines == 0 => {
                return Err(format!("line {head}: a note stands above every line"));
            }
            Some(note) => notes.push(Note {
                line: lines - 1,
                ..note
            }),
        }
    }
    Ok((text, notes))
}

/// A note where the line is one: `^^^ …`, `#  ^^^ …` or `#  | …`.
fn note_of(line: &str) -> Option<Note> {
    let line = line.trim_end();
    let after_hash = line.strip_prefix('#').unwrap_or(line);
    let blanks = after_hash.chars().take_while(|it| *it == ' ').count();
    let start = blanks + usize::from(line.starts_with('#'));
    let marks = after_hash.trim_start_matches(' ');
    let carets = marks.chars().take_while(|it| *it == '^').count();
    let is_empty = line.starts_with('#') && (marks == "|" || marks.starts_with("| "));
    if carets == 0 && !is_empty || !line.starts_with('#') && blanks > 0 {
        return None;
    }
    let says = marks.get(carets.max(1)..)?;
    if !says.is_empty() && !says.starts_with(' ') {
        return None;
    }
    Some(Note {
        line: 0,
        start,
        end: start + carets,
        says: says.trim().to_owned(),
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod tests {
    use super::*;

    const EXAMPLE: &str = "\
About sums.
--- sum-over check ---
ration a
#      ^ error[sum/over] a adds up to 101 %
#      ^ a second one
  maize  101 %
--- two plan a 120kg ---
nonsense
^^^^^^^^ error[syntax/item] said
---->
total = 3
--- three check ---
# About both texts.
//- b.trug
# a comment
#^ error[sum/short]
#  | here it would go
//- c.trug
";

    #[test]
    fn notes_are_cut_out_and_put_back() {
        let suite = Suite::read(EXAMPLE).unwrap();
        assert_eq!(suite.write(), EXAMPLE);
        let [first, second, third] = &suite.sections[..] else {
            panic!("three sections");
        };
        assert_eq!(first.texts[0].text, "ration a\n  maize  101 %\n");
        assert_eq!(first.texts[0].notes[0].code(), Some("sum/over"));
        assert_eq!(first.texts[0].notes[1].code(), None);
        assert_eq!(second.arguments, ["a", "120kg"]);
        assert_eq!(second.texts[0].notes[0].start, 0);
        assert_eq!(third.about, "# About both texts.\n");
        assert!(third.texts[0].notes[0].is_open());
        assert_eq!(third.texts[0].notes[1].end, third.texts[0].notes[1].start);
        assert_eq!(second.result.as_deref(), Some("total = 3\n"));
    }

    #[test]
    fn a_wrong_head_is_told() {
        assert!(Suite::read("--- a guess ---\n").is_err());
        assert!(Suite::read("--- a check ---\n--- a check ---\n").is_err());
    }
}
