//! Lines to items: which item a line belongs to, what kind of line it is, and what happens when it cannot be read.

mod alike;
mod lines;

use trug_findings::{FileId, Finding, Place, Span};

use crate::findings::{name, syntax};
use crate::grammar::{self, Part, Rule};
use crate::lines::{Line, Lines, first_word};
use crate::mistakes::{self, Failed, MOST_CHARACTERS};
use crate::names::composed;
use crate::reader::{self, LineEnd, Mistake, Read, Reader};
use crate::spelling;
use crate::tree::{File, Item, ItemBody, Name, Origin, Unread};
use crate::words::{self, ItemWord, LineWord};

use alike::{Alike, At};
use lines::{add_unread, put};

/// An item whose lines are still coming.
struct Open {
    item: Item,
    /// Its word; none where its header could not be read: then its lines are kept silent.
    word: Option<&'static ItemWord>,
}

/// A text on its way to a tree.
pub(crate) struct Assembly<'t> {
    file: FileId,
    text: &'t str,
    tree: File,
    open: Option<Open>,
    alike: Alike<'t>,
}

/// Reads all lines of a text.
pub(crate) fn assemble(file: FileId, text: &str) -> File {
    let mut assembly = Assembly::new(file, text);
    assembly.look_for_nul();
    assembly.read(Lines::of(text))
}

/// Reads the lines of a part of a text.
pub(crate) fn assemble_part(file: FileId, text: &str, part: std::ops::Range<usize>) -> File {
    Assembly::new(file, text).read(Lines::of_part(text, part))
}

impl<'t> Assembly<'t> {
    fn new(file: FileId, text: &'t str) -> Assembly<'t> {
        Assembly {
            file,
            text,
            tree: File::default(),
            open: None,
            alike: Alike::default(),
        }
    }

    fn read(mut self, lines: Lines<'t>) -> File {
        for line in lines {
            if !line.is_blank() {
                self.line(&line);
            }
        }
        self.close();
        self.tree
    }

    /// A text with a NUL is none; the rest of it is read all the same.
    fn look_for_nul(&mut self) {
        if let Some(at) = self.text.find('\0') {
            let place = Place::new(self.file, Span::new(at, at + 1));
            self.tree
                .findings
                .push(syntax::not_a_character(place, '\0'));
        }
    }

    fn line(&mut self, line: &Line) {
        let first = first_word(self.content(line));
        match words::item_word(first) {
            word if !line.is_indented => self.header(line, word),
            Some(word) if self.reads_as_header(line, word) => {
                self.say_margin(line);
                self.header(line, Some(word));
            }
            _ => self.body_line(line, first),
        }
    }

    fn content(&self, line: &Line) -> &'t str {
        self.text.get(line.content.clone()).unwrap_or("")
    }

    fn span(line: &Line) -> Span {
        Span::new(line.content.start, line.content.end)
    }

    fn say_margin(&mut self, line: &Line) {
        let place = Place::new(self.file, Self::span(line));
        let indentation = Place::new(self.file, Span::new(line.whole.start, line.content.start));
        self.tree
            .findings
            .push(syntax::margin(place, self.content(line), indentation));
    }

    fn reads_as_header(&self, line: &Line, word: &ItemWord) -> bool {
        can_be_read(line, self.content(line))
            && grammar::read(word.rule, self.content(line)).is_ok()
    }

    /// A line at the margin ends the item above and opens one.
    fn header(&mut self, line: &Line, word: Option<&'static ItemWord>) {
        let content = self.content(line);
        let span = Self::span(line);
        let keyword = Span::new(
            line.content.start,
            line.content.start + first_word(content).len(),
        );
        let read = word
            .ok_or(Mistake::Form(0))
            .and_then(|word| self.read_header(line, word));
        let (body, word) = match read {
            Ok(body) => (body, word),
            Err(mistake) => (self.unread_header(line, &mistake), None),
        };
        self.close();
        self.say_if_reserved(word, &body);
        let item = Item {
            header: span,
            keyword,
            whole: span,
            body,
            origins: Vec::new(),
            has_unread_line: false,
        };
        self.open = Some(Open { item, word });
    }

    fn read_header(&mut self, line: &Line, word: &'static ItemWord) -> Read<ItemBody> {
        let content = self.content(line);
        if !can_be_read(line, content) {
            return Err(Mistake::Form(0));
        }
        let before = self.tree.findings.len();
        let mut reader = Reader::new(self.file, line.content.start, &mut self.tree.findings);
        let read = grammar::read(word.rule, content)
            .map_err(Mistake::Form)
            .and_then(|header| reader::header(&mut reader, header));
        match read {
            Ok(_) => say_signs(self.file, line, content, &mut self.tree.findings),
            Err(_) => self.tree.findings.truncate(before),
        }
        read
    }

    fn unread_header(&mut self, line: &Line, mistake: &Mistake) -> ItemBody {
        let content = self.content(line);
        let above = self.open.as_ref().and_then(|open| open.word);
        if !content.contains('\0') {
            let failed = self.failed(line);
            self.tree
                .findings
                .push(mistakes::header(&failed, above, mistake));
        }
        if let Some(open) = &mut self.open
            && words::item_word(first_word(content)).is_none()
            && above.is_some_and(|above| mistakes::reads_as_line_of(content, above))
        {
            // The line was very likely meant for the item above, which cannot be judged without it.
            open.item.has_unread_line = true;
        }
        let name = mistakes::declared(content).map(|(name, range)| Name {
            text: composed(&name),
            span: Span::new(range.start, range.end).after(line.content.start),
        });
        ItemBody::Unread(Unread { name })
    }

    fn say_if_reserved(&mut self, word: Option<&'static ItemWord>, body: &ItemBody) {
        if let (Some(word), Some(declared)) = (word, body.name())
            && words::is_reserved(&declared.text)
        {
            let place = Place::new(self.file, declared.span);
            self.tree
                .findings
                .push(name::reserved(place, word.word, &declared.text));
        }
    }

    fn failed(&self, line: &Line) -> Failed<'t> {
        Failed {
            file: self.file,
            text: self.content(line),
            base: line.content.start,
            open_quote: line.open_quote,
        }
    }

    /// An indented line belongs to the item above.
    fn body_line(&mut self, line: &Line, first: &str) {
        let span = Self::span(line);
        let content = self.content(line);
        let failed = self.failed(line);
        let Some(open) = &mut self.open else {
            self.tree
                .findings
                .push(syntax::homeless(Place::new(self.file, span)));
            return;
        };
        open.item.whole = open.item.whole.to(span);
        let Some(word) = open.word else { return };
        let form = word.line_word(first).or(word.otherwise);
        let before = self.tree.findings.len();
        let mut reader = Reader::new(self.file, line.content.start, &mut self.tree.findings);
        let mistake = match form {
            Some(form) if can_be_read(line, content) && opens_rightly(form, first) => {
                let at = At {
                    form,
                    content,
                    span,
                };
                let item = &mut open.item;
                if self.alike.put(&mut item.body, at) {
                    None
                } else {
                    let origins = item.origins.len();
                    let mistake = add_line(item, span, &mut reader, form, content);
                    let is_whole = item.origins.len() == origins;
                    if mistake.is_none() && is_whole && self.tree.findings.len() == before {
                        self.alike.keep(&item.body, at);
                    }
                    mistake
                }
            }
            _ => Some(Mistake::Form(0)),
        };
        let Some(mistake) = mistake else {
            say_signs(self.file, line, content, &mut self.tree.findings);
            return;
        };
        self.tree.findings.truncate(before);
        open.item.has_unread_line = true;
        add_unread(&mut open.item.body, span, content);
        if !content.contains('\0') {
            self.tree
                .findings
                .push(mistakes::line(&failed, word, form, &mistake));
        }
    }

    /// The open item has all its lines.
    fn close(&mut self) {
        if let Some(open) = self.open.take() {
            self.tree.items.push(open.item);
        }
    }
}

/// Lines too long, or with a quote that nothing closes, are not given to the grammar.
fn can_be_read(line: &Line, content: &str) -> bool {
    let is_short = content.len() <= MOST_CHARACTERS || content.chars().count() <= MOST_CHARACTERS;
    line.open_quote.is_none() && is_short
}

/// A line without a word of its own cannot open with a word of the language, in capitals or not.
fn opens_rightly(form: &LineWord, first: &str) -> bool {
    form.is_word() || !words::is_reserved(first)
}

/// Signs of text processors in a line that was read.
fn say_signs(file: FileId, line: &Line, content: &str, findings: &mut Vec<Finding>) {
    if line.is_ascii {
        return;
    }
    let mut signs = spelling::typography(content);
    while let Some((first, usual)) = signs.first().cloned() {
        let written = content.get(first).unwrap_or("");
        let same = |(range, typed): &(std::ops::Range<usize>, &str)| {
            *typed == usual && (usual == " " || content.get(range.clone()) == Some(written))
        };
        let places: Vec<_> = signs
            .iter()
            .filter(|sign| same(sign))
            .map(|(range, _)| {
                Place::new(
                    file,
                    Span::new(range.start, range.end).after(line.content.start),
                )
            })
            .collect();
        signs.retain(|sign| !same(sign));
        findings.push(syntax::signs(&places, written, usual));
    }
}

/// Reads a line and puts it into its item; says why where it cannot.
fn add_line(
    item: &mut Item,
    span: Span,
    reader: &mut Reader<'_>,
    form: &LineWord,
    content: &str,
) -> Option<Mistake> {
    let read = match grammar::read_line(form.rule, content) {
        Ok((line, _)) if line.as_rule() == Rule::origin_line => reader
            .origin_in(line)
            .and_then(|origin| add_origin(item, origin)),
        Ok((line, None)) => put(&mut item.body, span, reader, line, None),
        Ok((line, Some((at, end)))) => reader
            .line_end_at(at, end)
            .and_then(|end| add_ended(item, span, reader, line, end)),
        Err(at) => Err(Mistake::Form(at)),
    };
    read.err()
}

/// Puts a line into its item, with what ends it.
fn add_ended(
    item: &mut Item,
    span: Span,
    reader: &mut Reader<'_>,
    line: Part<'_>,
    end: LineEnd,
) -> Read<()> {
    if let Some(origin) = &end.origin
        && !item.body.has_origins()
    {
        return Err(Mistake::NoOrigin(origin.span));
    }
    put(&mut item.body, span, reader, line, end.accept)?;
    let of = Some(span);
    item.origins
        .extend(end.origin.map(|origin| Origin { of, ..origin }));
    Ok(())
}

/// What an item says of all its lines, in one line or in two.
fn add_origin(item: &mut Item, new: Origin) -> Read<()> {
    let said = item.origins.iter_mut().find(|said| said.of.is_none());
    let Some(said) = said else {
        item.origins.push(new);
        return Ok(());
    };
    let is_twice = said.source.is_some() && new.source.is_some()
        || said.unverified.is_some() && new.unverified.is_some();
    if is_twice {
        return Err(Mistake::Twice(new.span));
    }
    said.source = said.source.take().or(new.source);
    said.unverified = said.unverified.or(new.unverified);
    Ok(())
}
