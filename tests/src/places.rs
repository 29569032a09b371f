//! What an editor asks of a text, drawn as notes under the places that answer.

use std::collections::BTreeMap;

use trug_findings::{Edit, FileId, Place, Source, Span};
use trug_ide::{
    Move, Role, Symbol, Taking, definition, document_symbols, folds, highlights, links, mend_uses,
    prepare_rename, references, rename, selections, taken_by, taker_at, takers_of, type_definition,
    workspace_symbols,
};
use trug_model::Farm;

use crate::answer::{Answer, Text};
use crate::draw;
use crate::editor::Asked;
use crate::marked::Note;

/// Symbols of the farm that are asked for.
const MOST_SYMBOLS: usize = 8;
/// What stands before a text in a result.
const PATH: &str = "//- ";

/// Where an editor goes, and what it changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Where the name at the cursor is declared; `define type`: what it is a kind of.
    Define,
    /// Everywhere the name at the cursor is meant; `references uses`: not where it is declared; `references here`: in
    /// this text.
    References,
    /// The texts after the name at the cursor is changed to another: `rename NEW`.
    Rename,
    /// The texts after texts or folders get other paths: `move FROM TO`.
    Move,
    /// The items of the text; `symbol QUERY`: those of the farm that the query finds.
    Symbol,
    /// What of the text can be folded away.
    Fold,
    /// What a selection at the cursor grows to.
    Select,
    /// What the ration at the cursor takes: `calls out`; who takes what is named there: `calls in`.
    Calls,
    /// Where the `use` lines of the text lead.
    Link,
}

/// The questions by their words.
const QUESTIONS: [(&str, Question); 9] = [
    ("define", Question::Define),
    ("references", Question::References),
    ("rename", Question::Rename),
    ("move", Question::Move),
    ("symbol", Question::Symbol),
    ("fold", Question::Fold),
    ("select", Question::Select),
    ("calls", Question::Calls),
    ("link", Question::Link),
];

impl Question {
    /// The question of that word.
    #[must_use]
    pub fn named(word: &str) -> Option<Question> {
        let mut known = QUESTIONS.iter().filter(|(name, _)| *name == word);
        known.next().map(|(_, question)| *question)
    }

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        let mut known = QUESTIONS.iter().filter(|(_, question)| *question == self);
        known.next().map_or("", |(word, _)| *word)
    }
}

/// A farm with its cursor, and what is asked of it.
struct Asking<'a> {
    asked: Asked,
    texts: &'a [Text<'a>],
    arguments: Vec<&'a str>,
}

/// Asks the question at the cursor, or of the first text.
///
/// # Errors
/// Where the section asks for something there is not.
pub fn ask(question: Question, texts: &[Text<'_>], arguments: &[String]) -> Result<Answer, String> {
    let is_crlf = arguments.iter().any(|it| it == "crlf");
    let arguments = arguments.iter().map(String::as_str);
    let asking = Asking {
        asked: Asked::of(texts, is_crlf)?,
        texts,
        arguments: arguments.filter(|it| *it != "crlf").collect(),
    };
    let (notes, text) = asking.answer(question)?;
    Ok(Answer {
        notes: Some(asking.drawn(&notes)),
        text: text.map(|text| text.replace("\r\n", "\n")),
        sources: asking.asked.farm.sources().to_vec(),
        ..Answer::default()
    })
}

/// What is said of places, and the text of the answer.
type Said = (Vec<(Place, String)>, Option<String>);

impl Asking<'_> {
    fn argument(&self, rank: usize) -> Option<&str> {
        self.arguments.get(rank).copied()
    }

    fn answer(&self, question: Question) -> Result<Said, String> {
        let (farm, file, offset) = self.cursor();
        let here = |span: Span| Place::new(file, span);
        let mut notes: Vec<(Place, String)> = Vec::new();
        let mut text = None;
        match question {
            Question::Define => {
                let targets = if self.argument(0) == Some("type") {
                    type_definition(farm, file, offset)
                } else {
                    definition(farm, file, offset)
                };
                notes.extend(
                    targets
                        .first()
                        .map(|it| (here(it.from), "from here".to_owned())),
                );
                notes.extend(targets.iter().map(|it| match it.to.span {
                    // A whole text is drawn under its first line.
                    head if head.start == head.end => (it.whole, "to this text".to_owned()),
                    _ => (it.to, "to there".to_owned()),
                }));
            }
            Question::References if self.argument(0) == Some("here") => {
                notes.extend(highlights(farm, file, offset).into_iter().map(|it| {
                    let says = match it.role {
                        Role::Declares => "declared",
                        Role::Uses => "used",
                    };
                    (here(it.span), says.to_owned())
                }));
            }
            Question::References => {
                let with_declarations = self.argument(0) != Some("uses");
                let places = references(farm, file, offset, with_declarations);
                notes.extend(places.into_iter().map(|place| (place, "here".to_owned())));
            }
            Question::Rename => {
                let new = self.argument(0).ok_or("write `rename NEW`")?;
                let can = prepare_rename(farm, file, offset);
                notes.extend(can.ok().map(|it| (here(it.span), "this".to_owned())));
                text = Some(match rename(farm, file, offset, new) {
                    Ok(edits) => self.after(&edits),
                    Err(refusal) => format!("refused: {}\n", refusal.says),
                });
            }
            Question::Move => text = Some(self.after(&mend_uses(farm, &self.moves()))),
            Question::Symbol => match self.argument(0) {
                Some(query) => text = Some(self.found(query)),
                None => {
                    for symbol in document_symbols(farm, file) {
                        self.symbol(&symbol, "", &mut notes);
                    }
                }
            },
            Question::Fold => {
                notes.extend(folds(farm, file).into_iter().map(|fold| {
                    let says = format!("{:?}{}", fold.kind, self.to_line(fold.span));
                    (here(fold.span), says)
                }));
            }
            Question::Select => {
                let grown = selections(farm, file, offset).into_iter();
                notes.extend(grown.enumerate().map(|(rank, span)| {
                    (here(span), format!("{}{}", rank + 1, self.to_line(span)))
                }));
            }
            Question::Calls => self.calls(&mut notes),
            Question::Link => {
                notes.extend(links(farm, file).into_iter().map(|link| {
                    let target = self.source(link.target).map_or("", Source::name);
                    (here(link.span), format!("to {target}"))
                }));
            }
        }
        let outside = self.outside(&notes);
        if !outside.is_empty() {
            text = Some(text.unwrap_or_default() + &outside);
        }
        Ok((notes, text))
    }

    fn cursor(&self) -> (&Farm, FileId, usize) {
        let asked = &self.asked;
        (&asked.farm, asked.file, asked.range.start as usize)
    }

    fn drawn(&self, said: &[(Place, String)]) -> BTreeMap<String, Vec<Note>> {
        let mut notes: BTreeMap<String, Vec<Note>> = BTreeMap::new();
        for (place, says) in said {
            let drawn = draw::note_at(*place, says.clone(), self.asked.farm.sources());
            if let Some((name, note)) = drawn.filter(|(name, _)| self.is_inside(name)) {
                notes.entry(name).or_default().push(note);
            }
        }
        notes.values_mut().for_each(|notes| notes.sort());
        notes
    }

    fn is_inside(&self, name: &str) -> bool {
        self.texts.iter().any(|(path, _)| *path == name)
    }

    fn source(&self, file: FileId) -> Option<&Source> {
        self.asked.farm.sources().get(file.index())
    }

    /// What is said of texts that do not stand in the section.
    fn outside(&self, notes: &[(Place, String)]) -> String {
        let mut lines = String::new();
        for (place, says) in notes {
            let Some(source) = self.source(place.file) else {
                continue;
            };
            if !self.is_inside(source.name()) {
                let named = place.span.of(source.text()).lines().next();
                let named = named.unwrap_or_default();
                lines.push_str(&format!("{}: `{named}` {says}\n", source.name()));
            }
        }
        lines
    }

    fn to_line(&self, span: Span) -> String {
        let line = |offset: u32| {
            let source = self.source(self.asked.file);
            source.map_or(0, |source| source.position(offset as usize).line)
        };
        if line(span.start) == line(span.end) {
            String::new()
        } else {
            format!(" to line {}", line(span.end))
        }
    }

    /// The texts that edits change, as they are afterwards.
    fn after(&self, edits: &[Edit]) -> String {
        let mut changed = String::new();
        for edits in edits.chunk_by(|one, next| one.place.file == next.place.file) {
            let source = edits.first().and_then(|edit| self.source(edit.place.file));
            let Some(source) = source else { continue };
            let mut text = source.text().to_owned();
            for edit in edits.iter().rev() {
                text.replace_range(edit.place.span.range(), &edit.text);
            }
            changed.push_str(&format!("{PATH}{}\n{text}", source.name()));
        }
        changed
    }

    fn moves(&self) -> Vec<Move> {
        let pairs = self.arguments.chunks_exact(2);
        let moved = |pair: &[&str]| Move {
            from: pair[0].to_owned(),
            to: pair[1].to_owned(),
        };
        pairs.map(moved).collect()
    }

    fn found(&self, query: &str) -> String {
        let found = workspace_symbols(&self.asked.farm, query, MOST_SYMBOLS).into_iter();
        found
            .map(|it| {
                let source = self.source(it.place.file);
                let file = source.map_or("", Source::name);
                let label = if it.label.is_empty() {
                    String::new()
                } else {
                    format!(" \"{}\"", it.label)
                };
                format!("{:?} {}{label} in {file}\n", it.kind, it.name)
            })
            .collect()
    }

    fn symbol(&self, symbol: &Symbol, indentation: &str, notes: &mut Vec<(Place, String)>) {
        let detail = if symbol.detail.is_empty() {
            String::new()
        } else {
            format!(": {}", symbol.detail)
        };
        let says = format!(
            "{indentation}{:?} {}{detail}{}",
            symbol.kind,
            symbol.name,
            self.to_line(symbol.whole)
        );
        notes.push((Place::new(self.asked.file, symbol.span), says));
        for line in &symbol.lines {
            self.symbol(line, "- ", notes);
        }
    }

    fn calls(&self, notes: &mut Vec<(Place, String)>) {
        let (farm, file, offset) = self.cursor();
        let Some(own) = taker_at(farm, file, offset) else {
            return;
        };
        notes.push((own.place, format!("{:?} asked for", own.kind)));
        let goes_in = self.argument(0) == Some("in");
        let (takings, verb): (Vec<Taking>, &str) = if goes_in {
            (takers_of(farm, file, offset), "takes it")
        } else {
            (taken_by(farm, file, offset), "is taken")
        };
        for taking in takings {
            let taker = if goes_in { taking.who.place } else { own.place };
            let lines = taking.lines.iter();
            notes.extend(lines.map(|line| (Place::new(taker.file, *line), "taken here".into())));
            let says = format!("{:?} {} {verb}", taking.who.kind, taking.who.name);
            notes.push((taking.who.place, says));
        }
    }
}
