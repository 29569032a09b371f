//! What the language says: the words of every line that can be read, and the items.

use std::collections::BTreeMap;

use trug_findings::{FileId, Span};
use trug_ide::TokenKind;
use trug_model::{Farm, InMemory, Settings};
use trug_syntax::tree::{
    AnimalStatement, File, IngredientStatement, ItemBody, LotStatement, RationStatement,
};
use trug_syntax::words;

use crate::kinds::{self, Kind, Token};

/// The tokens of each line that can be read, by its number. Lines that cannot are left out.
pub(crate) fn tokens(text: &str) -> BTreeMap<usize, Vec<Token>> {
    let tree = trug_syntax::parse(FileId(0), text);
    let read = read_lines(&tree, text);
    let drawn = drawn(text);
    let mut by_line = BTreeMap::new();
    for (number, line) in kinds::lines(text).iter().enumerate() {
        let content = line.start + (line.text.len() - line.text.trim_start().len());
        let said = line.text.trim_start();
        if !said.is_empty() && !said.starts_with('#') && !read.contains_key(&content) {
            continue;
        }
        let end = line.start + line.text.len();
        let mut opening = read.get(&content).copied().unwrap_or(0);
        let of_line = drawn.range(line.start..end.max(line.start));
        let tokens: Vec<Token> = of_line
            .map(|(start, (length, kind))| {
                let kind = match kind {
                    Some(kind) => *kind,
                    None if opening > 0 => {
                        opening -= 1;
                        Kind::Line
                    }
                    None => Kind::Word,
                };
                let start = start - line.start;
                Token {
                    start,
                    end: start + length,
                    kind,
                }
            })
            .collect();
        by_line.insert(number, kinds::usual(line.text, &tokens));
    }
    by_line
}

/// Where each token starts, how long it is and what it is; none for words of the language that open no item.
fn drawn(text: &str) -> BTreeMap<usize, (usize, Option<Kind>)> {
    let farm = Farm::read(
        &["farm.trug".to_owned()],
        &InMemory::new([("farm.trug", text)]),
        Settings::default(),
    );
    let mut sources = farm.sources().iter();
    let rank = sources
        .position(|source| source.name() == "farm.trug")
        .unwrap();
    let tokens = trug_ide::tokens(&farm, FileId(rank as u32), Span::new(0, text.len()));
    let placed = tokens.iter().map(|token| {
        let range = token.span.range();
        (range.start, (range.len(), kind(token.kind)))
    });
    placed.collect()
}

fn kind(kind: TokenKind) -> Option<Kind> {
    Some(match kind {
        TokenKind::Keyword => Kind::Item,
        TokenKind::Property => return None,
        TokenKind::Number => Kind::Number,
        TokenKind::Unit => Kind::Unit,
        TokenKind::Text => Kind::Text,
        TokenKind::Comment => Kind::Comment,
        TokenKind::Operator => Kind::Operator,
        _ => Kind::Name,
    })
}

/// Where each line starts that can be read, and how many words open it.
fn read_lines(tree: &File, text: &str) -> BTreeMap<usize, usize> {
    let mut read = BTreeMap::new();
    for item in &tree.items {
        let Some(word) = words::item_word(item.keyword.of(text)) else {
            continue;
        };
        if matches!(item.body, ItemBody::Unread(_)) {
            continue;
        }
        read.insert(item.header.range().start, 0);
        for span in line_spans(&item.body)
            .into_iter()
            .chain(origin_lines(item, text))
        {
            let first = span.of(text).split_whitespace().next().unwrap_or("");
            let line = word.line_word(first);
            let count = line.map_or(0, |line| line.word.split(' ').count());
            read.insert(span.range().start, count);
        }
    }
    read
}

/// Where the lines stand that say where all values of an item are from: several of them are one in the tree.
fn origin_lines(item: &trug_syntax::tree::Item, text: &str) -> Vec<Span> {
    let mut spans = Vec::new();
    for line in kinds::lines(text) {
        let said = line.text.trim_start();
        let start = line.start + (line.text.len() - said.len());
        let is_of_item = item.header.range().end <= start && start < item.whole.range().end;
        let opens = said.starts_with("source") || said.starts_with("unverified");
        let alone = format!("ingredient alone\n  {said}\n");
        if is_of_item && opens && trug_syntax::parse(FileId(0), &alone).findings.is_empty() {
            spans.push(Span::new(start, start + said.len()));
        }
    }
    spans
}

/// Where the lines of an item stand that could be read.
fn line_spans(body: &ItemBody) -> Vec<Span> {
    let mut spans = Vec::new();
    let mut add = |span: Span, is_read: bool| spans.extend(is_read.then_some(span));
    match body {
        ItemBody::Animal(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.statement != AnimalStatement::Unread)),
        ItemBody::Ingredient(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.statement != IngredientStatement::Unread)),
        ItemBody::Lot(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.statement != LotStatement::Unread)),
        ItemBody::Targets(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.target.is_some() || line.accept.is_some())),
        ItemBody::Ration(it) => it.lines.iter().for_each(|line| {
            let is_unread = matches!(line.statement, RationStatement::Unread(_));
            add(line.span, !is_unread);
        }),
        ItemBody::Method(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.rule.is_some())),
        ItemBody::Group(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.statement.is_some())),
        ItemBody::Record(it) => it
            .lines
            .iter()
            .for_each(|line| add(line.span, line.statement.is_some())),
        _ => {}
    }
    spans
}

/// An item: the word it opens with, the name it declares, its first line and its last, counted from 0.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Item {
    pub(crate) word: Option<String>,
    pub(crate) name: Option<String>,
    pub(crate) first: usize,
    pub(crate) last: usize,
}

/// The items of a text; those that cannot be read have neither word nor name.
pub(crate) fn items(text: &str) -> Vec<Item> {
    let tree = trug_syntax::parse(FileId(0), text);
    let lines = kinds::lines(text);
    let line = |at: usize| lines.partition_point(|line| line.start <= at) - 1;
    let item = |item: &trug_syntax::tree::Item| {
        let is_read = !matches!(item.body, ItemBody::Unread(_));
        let name = item.body.name().filter(|_| is_read);
        Item {
            word: is_read.then(|| item.keyword.of(text).to_owned()),
            name: name.map(|name| name.span.of(text).to_owned()),
            first: line(item.header.range().start),
            last: line(item.whole.range().end.max(1) - 1),
        }
    };
    tree.items.iter().map(item).collect()
}
