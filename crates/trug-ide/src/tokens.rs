//! What each word of a text is, for colouring: every sign of a line that was read, and the words of those that were not.

use std::collections::BTreeMap;

use trug_findings::{FileId, Span};
use trug_model::{Farm, Namespace, View};
use trug_syntax::tree::{Bound, Item, ItemBody, Quantity, UnitText};
use trug_syntax::words::{self, ItemWord};

use crate::lines::{self, Line, Shape, lines_in};
use crate::parts::{self, LineRef, Part, written};

/// A run of characters and what it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token {
    /// Where; never over the end of a line.
    pub span: Span,
    /// What.
    pub kind: TokenKind,
    /// It declares the name.
    pub is_declaration: bool,
    /// A bundled book declares it.
    pub is_of_book: bool,
}

/// What a run of characters is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the thing of that name")]
pub enum TokenKind {
    /// A word that opens an item.
    Keyword,
    /// A word that opens a line, or joins its parts.
    Property,
    Ingredient,
    Ration,
    Nutrient,
    Animal,
    Targets,
    Lot,
    Scale,
    Vessel,
    Method,
    Group,
    Record,
    /// A measure of the yard, where it is declared.
    Measure,
    Book,
    /// A form, a product, a language: a word that names no item.
    Plain,
    Number,
    Unit,
    Text,
    Code,
    Comment,
    Operator,
}

/// The tokens of the lines in a range, in order; none overlaps another.
#[must_use]
pub fn tokens(farm: &Farm, file: FileId, range: Span) -> Vec<Token> {
    let Some(source) = written(farm, file) else {
        return Vec::new();
    };
    let view = farm.open(file);
    let mut drawn = Tokens {
        view: &view,
        text: source.text(),
        feeds: BTreeMap::new(),
        tokens: Vec::new(),
    };
    let items = &farm.tree(file).items;
    let lines: Vec<Line> = lines_in(drawn.text, range).collect();
    let mut of_item: Option<(&Item, Vec<LineRef<'_>>)> = None;
    for line in &lines {
        let content = Span::new(line.content.start, line.content.end);
        let item = parts::item_at(items, line.content.start);
        if let Some(item) = item
            && of_item
                .as_ref()
                .is_none_or(|(known, _)| known.header != item.header)
        {
            of_item = Some((item, parts::lines(&item.body)));
        }
        let known = of_item.as_ref().filter(|_| item.is_some());
        drawn.line(
            line,
            content,
            known.map(|(item, lines)| (*item, lines.as_slice())),
        );
    }
    drawn.tokens
}

struct Tokens<'a> {
    view: &'a View<'a>,
    text: &'a str,
    /// Names that were looked up: what they are, and whether a book has them.
    feeds: BTreeMap<(Namespace, &'a str), (TokenKind, bool)>,
    tokens: Vec<Token>,
}

impl<'a> Tokens<'a> {
    fn push(&mut self, span: Span, kind: TokenKind) {
        if span.start < span.end {
            self.tokens.push(Token {
                span,
                kind,
                is_declaration: false,
                is_of_book: false,
            });
        }
    }

    fn line(&mut self, line: &Line, content: Span, known: Option<(&'a Item, &[LineRef<'a>])>) {
        let mut at = line.content.start;
        if let Some((item, lines)) = known {
            let parts = if item.header == content {
                Some(parts::header(&item.body))
            } else {
                let rank = lines.binary_search_by_key(&content.start, |line| line.span().start);
                rank.ok()
                    .and_then(|rank| lines.get(rank))
                    .map(|line| line.parts())
            };
            for part in parts.unwrap_or_default() {
                self.gap(at..part.span().start as usize, line, Some(item));
                self.part(&part);
                at = at.max(part.span().end as usize);
            }
        }
        self.gap(at..line.whole.end, line, known.map(|(item, _)| item));
    }

    /// What stands between the parts: words of the language, signs, the comment.
    fn gap(&mut self, range: std::ops::Range<usize>, line: &Line, item: Option<&Item>) {
        for token in lines::tokens(self.text, range) {
            let kind = match token.shape {
                Shape::Number | Shape::Date => TokenKind::Number,
                Shape::Text => TokenKind::Text,
                Shape::Sign => TokenKind::Operator,
                Shape::Comment => TokenKind::Comment,
                Shape::Word => self.word(token.span, line, item),
            };
            self.push(token.span, kind);
        }
    }

    fn word(&self, span: Span, line: &Line, item: Option<&Item>) -> TokenKind {
        let word = span.of(self.text);
        let is_first = span.start as usize == line.content.start;
        if is_first && words::item_word(word).is_some() && self.opens(line, item) {
            return TokenKind::Keyword;
        }
        let of_item = item.and_then(|item| words::item_word(item.keyword.of(self.text)));
        if words::is_reserved(word) || is_of_line(of_item, word) {
            return TokenKind::Property;
        }
        if crate::units::unit(word).is_some() {
            return TokenKind::Unit;
        }
        if self.follows_accept(span, line) {
            return TokenKind::Code;
        }
        TokenKind::Plain
    }

    /// Whether a line opens an item: at the margin, or read as a header all the same.
    fn opens(&self, line: &Line, item: Option<&Item>) -> bool {
        !line.is_indented
            || item.is_some_and(|item| item.header.start as usize == line.content.start)
    }

    fn follows_accept(&self, span: Span, line: &Line) -> bool {
        let before = self
            .text
            .get(line.content.start..span.start as usize)
            .unwrap_or("");
        before.trim_end().ends_with("accept")
    }

    fn part(&mut self, part: &Part<'a>) {
        match part {
            Part::Declares(namespace, name) => self.name(*namespace, &name.text, name.span, true),
            Part::Name(namespace, name) => self.name(*namespace, &name.text, name.span, false),
            Part::Quantity(quantity) => self.quantity(quantity),
            Part::Bound(bound) => self.bound(bound),
            Part::Number(number) => self.push(number.span, TokenKind::Number),
            Part::Unit(unit) => self.unit(unit),
            Part::Counted(word) => self.push(word.span, TokenKind::Unit),
            Part::Text(text) | Part::Path(text) => self.push(text.span, TokenKind::Text),
            Part::Book(book) => {
                self.push(book.name.span, TokenKind::Book);
                if let Some(token) = self.tokens.last_mut() {
                    token.is_of_book = true;
                }
                if let Some(year) = &book.edition {
                    self.push(year.span, TokenKind::Number);
                }
            }
            Part::Date(date) => self.push(date.span, TokenKind::Number),
            Part::Plain(name) => self.push(name.span, TokenKind::Plain),
            Part::Accept(accept) => {
                let word = Span::new(
                    accept.span.start as usize,
                    accept.span.start as usize + "accept".len(),
                );
                self.push(word, TokenKind::Property);
                self.push(accept.code.span, TokenKind::Code);
                self.push(accept.reason.span, TokenKind::Text);
            }
        }
    }

    fn name(&mut self, namespace: Namespace, name: &'a str, span: Span, declares: bool) {
        let view = self.view;
        let known = self.feeds.entry((namespace, name));
        let (kind, is_of_book) = *known.or_insert_with(|| looked_up(view, namespace, name));
        self.tokens.push(Token {
            span,
            kind,
            is_declaration: declares,
            is_of_book,
        });
    }

    fn quantity(&mut self, quantity: &Quantity) {
        let end = quantity.unit.as_ref().map(|unit| unit.span);
        self.pieces(quantity.span, end);
    }

    fn bound(&mut self, bound: &Bound) {
        self.pieces(bound.span, bound.unit.as_ref().map(|unit| unit.span));
    }

    fn unit(&mut self, unit: &UnitText) {
        self.pieces(unit.span, Some(unit.span));
    }

    /// Numbers and signs, the unit, and the words of a bound or a basis.
    fn pieces(&mut self, span: Span, unit: Option<Span>) {
        for token in lines::tokens(self.text, span.range()) {
            let is_unit = unit
                .is_some_and(|unit| unit.start <= token.span.start && token.span.end <= unit.end);
            let word = token.span.of(self.text);
            let kind = match token.shape {
                Shape::Number | Shape::Date => TokenKind::Number,
                Shape::Word if is_unit && word != "per" => TokenKind::Unit,
                // `88 %` of a basis.
                Shape::Word if word == "%" => TokenKind::Unit,
                Shape::Word => TokenKind::Property,
                Shape::Text => TokenKind::Text,
                Shape::Sign => TokenKind::Operator,
                Shape::Comment => TokenKind::Comment,
            };
            self.push(token.span, kind);
        }
    }
}

/// Whether a word is one of those that open the lines of an item, or goes with them.
fn is_of_line(item: Option<&ItemWord>, word: &str) -> bool {
    const JOINING: [&str; 16] = [
        "else",
        "top",
        "none",
        "carrier",
        "least",
        "most",
        "below",
        "times",
        "time",
        "fed",
        "before",
        "hand",
        "dry-matter",
        "book",
        "lot",
        // Of an age; a unit stands in a quantity.
        "day",
    ];
    let opens = |item: &ItemWord| {
        item.lines
            .iter()
            .any(|line| line.word.split(' ').any(|it| it == word))
    };
    JOINING.contains(&word) || item.is_some_and(opens)
}

fn looked_up(view: &View<'_>, namespace: Namespace, name: &str) -> (TokenKind, bool) {
    let declared = view.declaration(namespace, name);
    let is_of_book = declared.is_some_and(|(file, _)| view.farm().is_book(file));
    let kind = match namespace {
        Namespace::Feed | Namespace::Any => match declared.map(|(_, item)| &item.body) {
            Some(ItemBody::Ration(_)) => TokenKind::Ration,
            _ => TokenKind::Ingredient,
        },
        Namespace::Animal => TokenKind::Animal,
        Namespace::Nutrient => TokenKind::Nutrient,
        Namespace::Lot => TokenKind::Lot,
        Namespace::Targets => TokenKind::Targets,
        Namespace::Scale => TokenKind::Scale,
        Namespace::Vessel => TokenKind::Vessel,
        Namespace::Method => TokenKind::Method,
        Namespace::Group => TokenKind::Group,
        Namespace::Record => TokenKind::Record,
        Namespace::Unit => TokenKind::Measure,
    };
    (kind, is_of_book)
}
