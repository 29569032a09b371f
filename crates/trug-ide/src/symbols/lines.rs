//! The lines of an item as symbols: the words or the name each opens with, and what it says after them.

use trug_findings::Span;
use trug_syntax::tree::{AnimalStatement, GroupStatement, Item, ItemBody};
use trug_syntax::words::{ItemWord, item_word};

use super::{Symbol, SymbolKind, one_line};

/// The lines of an item, in the order of the text.
pub(super) fn of(item: &Item, text: &str) -> Vec<Symbol> {
    let word = item_word(item.keyword.of(text));
    spans(item)
        .into_iter()
        .map(|(line, subject)| {
            let opening = subject.unwrap_or_else(|| opening(line, word, text));
            let rest = if opening.start == line.start {
                Span {
                    start: opening.end,
                    ..line
                }
            } else {
                // `320 laying-duck`: what is counted comes last.
                Span {
                    end: opening.start,
                    ..line
                }
            };
            Symbol {
                name: one_line(opening.of(text)),
                detail: one_line(rest.of(text)),
                kind: SymbolKind::Line,
                whole: line,
                span: opening,
                lines: Vec::new(),
            }
        })
        .collect()
}

/// The words of the language that open a line, else its first word.
fn opening(line: Span, word: Option<&ItemWord>, text: &str) -> Span {
    let said = line.of(text);
    let end_of_word = |from: usize| {
        let rest = said.get(from..).unwrap_or("");
        let start = from + rest.len() - rest.trim_start().len();
        let word = said.get(start..).unwrap_or("");
        start + word.find(char::is_whitespace).unwrap_or(word.len())
    };
    let first = end_of_word(0);
    let opens = word.and_then(|word| word.line_word(said.get(..first)?));
    let is_two = opens.is_some_and(|opens| opens.word.contains(' '));
    let end = if is_two { end_of_word(first) } else { first };
    Span::new(line.start as usize, line.start as usize + end)
}

/// Where each line of an item stands, in the order of the text.
pub(crate) fn spans_of(item: &Item) -> Vec<Span> {
    spans(item).into_iter().map(|(line, _)| line).collect()
}

/// Where each line stands, and what it is about where that is more or other than its first word.
fn spans(item: &Item) -> Vec<(Span, Option<Span>)> {
    let plain = |span: Span| (span, None);
    match &item.body {
        ItemBody::Animal(animal) => {
            let lines = animal.lines.iter().map(|line| match &line.statement {
                AnimalStatement::Bound { of, .. } => (line.span, Some(of.span)),
                _ => plain(line.span),
            });
            lines.collect()
        }
        ItemBody::Targets(targets) => {
            let lines = targets.lines.iter();
            lines
                .map(|line| (line.span, line.target.as_ref().map(|target| target.of.span)))
                .collect()
        }
        ItemBody::Group(group) => {
            let lines = group.lines.iter().map(|line| match &line.statement {
                Some(GroupStatement::Animals { animal, .. }) => (line.span, Some(animal.span)),
                _ => plain(line.span),
            });
            lines.collect()
        }
        ItemBody::Ingredient(it) => it.lines.iter().map(|line| plain(line.span)).collect(),
        ItemBody::Lot(it) => it.lines.iter().map(|line| plain(line.span)).collect(),
        ItemBody::Ration(it) => it.lines.iter().map(|line| plain(line.span)).collect(),
        ItemBody::Method(it) => it.lines.iter().map(|line| plain(line.span)).collect(),
        ItemBody::Record(it) => it.lines.iter().map(|line| plain(line.span)).collect(),
        _ => Vec::new(),
    }
}
