//! What an editor asks of a text, drawn as notes under the places that answer.

use trug_findings::{Edit, FileId, Place, Source, Span};
use trug_ide::calls::{Taking, taken_by, taker_at, takers_of};
use trug_ide::definition::{definition, type_definition};
use trug_ide::folding::folds;
use trug_ide::links::links;
use trug_ide::moved::{Move, mend_uses};
use trug_ide::names::Role;
use trug_ide::references::{highlights, references};
use trug_ide::rename::{prepare_rename, rename};
use trug_ide::selection::selections;
use trug_ide::symbols::{Symbol, document_symbols, workspace_symbols};
use trug_model::Farm;

use crate::answer::{Answer, Text, farm_of};
use crate::marked::{Kind, PATH, Section};

/// Symbols of the farm that are asked for.
const MOST_SYMBOLS: usize = 8;

/// A section's farm, and where its cursor stands.
struct Asked<'s> {
    section: &'s Section,
    farm: Farm,
    file: FileId,
    offset: usize,
}

/// Asks what the section asks. With the argument `crlf`, all its lines end so.
///
/// # Errors
/// Where the section asks for something there is not.
pub(crate) fn ask(section: &Section) -> Result<Answer, String> {
    let with_crlf = section.arguments.iter().any(|argument| argument == "crlf");
    let ended = |text: &str| {
        if with_crlf {
            text.replace('\n', "\r\n")
        } else {
            text.to_owned()
        }
    };
    let texts: Vec<(&str, String)> = section
        .texts
        .iter()
        .map(|marked| (marked.path.as_str(), ended(&marked.text)))
        .collect();
    let shared: Vec<Text<'_>> = texts
        .iter()
        .map(|(path, text)| (*path, text.as_str()))
        .collect();
    let farm = farm_of(&shared);
    let (rank, offset) = section.cursor.unwrap_or_default();
    let marked = section.texts.get(rank).ok_or("the section has no text")?;
    let before = marked.text.get(..offset).unwrap_or("");
    let asked = Asked {
        section,
        file: farm.file(&marked.path).ok_or("the text was not read")?,
        offset: ended(before).len(),
        farm,
    };
    let mut answer = asked.answer()?;
    if with_crlf && let Some(text) = &mut answer.text {
        *text = text.replace("\r\n", "\n");
    }
    Ok(answer)
}

impl Asked<'_> {
    fn argument(&self, rank: usize) -> Option<&str> {
        self.section.arguments.get(rank).map(String::as_str)
    }

    fn answer(&self) -> Result<Answer, String> {
        let (farm, file, offset) = (&self.farm, self.file, self.offset);
        let here = |span: Span| Place::new(file, span);
        let mut notes: Vec<(Place, String)> = Vec::new();
        let mut text = None;
        match self.section.kind {
            Kind::Define => {
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
            Kind::References if self.argument(0) == Some("here") => {
                notes.extend(highlights(farm, file, offset).into_iter().map(|it| {
                    let says = match it.role {
                        Role::Declares => "declared",
                        Role::Uses => "used",
                    };
                    (here(it.span), says.to_owned())
                }));
            }
            Kind::References => {
                let with_declarations = self.argument(0) != Some("uses");
                let places = references(farm, file, offset, with_declarations);
                notes.extend(places.into_iter().map(|place| (place, "here".to_owned())));
            }
            Kind::Rename => {
                let new = self.argument(0).ok_or("write `rename NEW`")?;
                let can = prepare_rename(farm, file, offset);
                notes.extend(can.ok().map(|it| (here(it.span), "this".to_owned())));
                text = Some(match rename(farm, file, offset, new) {
                    Ok(edits) => self.after(&edits),
                    Err(refusal) => format!("refused: {}\n", refusal.says),
                });
            }
            Kind::Move => text = Some(self.after(&mend_uses(farm, &self.moves()))),
            Kind::Symbol => match self.argument(0).filter(|it| *it != "crlf") {
                Some(query) => text = Some(self.found(query)),
                None => {
                    for symbol in document_symbols(farm, file) {
                        self.symbol(&symbol, "", &mut notes);
                    }
                }
            },
            Kind::Fold => {
                notes.extend(folds(farm, file).into_iter().map(|fold| {
                    let says = format!("{:?}{}", fold.kind, self.to_line(fold.span));
                    (here(fold.span), says)
                }));
            }
            Kind::Select => {
                let grown = selections(farm, file, offset).into_iter();
                notes.extend(grown.enumerate().map(|(rank, span)| {
                    (here(span), format!("{}{}", rank + 1, self.to_line(span)))
                }));
            }
            Kind::Calls => self.calls(&mut notes),
            Kind::Link => {
                notes.extend(links(farm, file).into_iter().map(|link| {
                    let target = self.source(link.target).map_or("", Source::name);
                    (here(link.span), format!("to {target}"))
                }));
            }
            kind => return Err(format!("{} is not asked by an editor", kind.word())),
        }
        let outside = self.outside(&notes);
        if !outside.is_empty() {
            text = Some(text.unwrap_or_default() + &outside);
        }
        Ok(Answer {
            sources: farm.sources().to_vec(),
            notes,
            text,
            ..Answer::default()
        })
    }

    fn source(&self, file: FileId) -> Option<&Source> {
        self.farm.sources().get(file.index())
    }

    /// What is said of texts that do not stand in the section.
    fn outside(&self, notes: &[(Place, String)]) -> String {
        let mut lines = String::new();
        for (place, says) in notes {
            let Some(source) = self.source(place.file) else {
                continue;
            };
            let is_inside = |path: &str| path == source.name();
            if !self.section.texts.iter().any(|it| is_inside(&it.path)) {
                let named = place.span.of(source.text()).lines().next();
                let named = named.unwrap_or_default();
                lines.push_str(&format!("{}: `{named}` {says}\n", source.name()));
            }
        }
        lines
    }

    fn to_line(&self, span: Span) -> String {
        let line = |offset: u32| {
            let source = self.source(self.file);
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
        let pairs = self.section.arguments.chunks_exact(2);
        let moved = |pair: &[String]| Move {
            from: pair[0].clone(),
            to: pair[1].clone(),
        };
        pairs.map(moved).collect()
    }

    fn found(&self, query: &str) -> String {
        let found = workspace_symbols(&self.farm, query, MOST_SYMBOLS).into_iter();
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
        notes.push((Place::new(self.file, symbol.span), says));
        for line in &symbol.lines {
            self.symbol(line, "- ", notes);
        }
    }

    fn calls(&self, notes: &mut Vec<(Place, String)>) {
        let (farm, file, offset) = (&self.farm, self.file, self.offset);
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
