//! One layout for a text: headers at the margin, lines indented, values in one column, comments kept.
//!
//! Only blanks move, and the clauses of an amount take their order; what cannot be read stays byte for byte, so that
//! nothing is lost that a person has yet to mend.

mod tokens;

use trug_findings::FileId;
use unicode_width::UnicodeWidthStr;

use crate::grammar::{self, Part, Rule};
use crate::lines::{BYTE_ORDER_MARK, Line, Lines, first_word};
use crate::tree::{
    AnimalStatement, File, IngredientStatement, ItemBody, LotStatement, RationStatement,
};
use crate::words::{self, ItemWord, LineWord};

const INDENTATION: &str = "  ";
/// From the indentation to the value: room for the longest common nutrient and for `particle-size`.
const KEY_WIDTH: usize = 15;

/// Lays a text out anew. What it says stays the same; laying it out twice changes nothing more.
#[must_use]
pub fn tidy(text: &str) -> String {
    let line_end = if uses_crlf(text) { "\r\n" } else { "\n" };
    let read = readable_lines(&crate::parse(FileId(0), text));
    let mut layout = Layout {
        text,
        read,
        item: None,
        lines: Vec::new(),
    };
    for line in Lines::of(text) {
        layout.line(&line);
    }
    let mut tidied = String::with_capacity(text.len() + text.len() / 8);
    if text.starts_with(BYTE_ORDER_MARK) {
        tidied.push_str(BYTE_ORDER_MARK);
    }
    for line in layout.without_last_blank() {
        tidied.push_str(&line);
        tidied.push_str(line_end);
    }
    tidied
}

fn uses_crlf(text: &str) -> bool {
    text.find('\n')
        .is_some_and(|at| text.get(..at).is_some_and(|before| before.ends_with('\r')))
}

/// Where the content of each line starts that could be read, in the order of the text.
fn readable_lines(file: &File) -> Vec<usize> {
    let mut starts = Vec::new();
    for item in &file.items {
        if matches!(item.body, ItemBody::Unread(_)) {
            continue;
        }
        starts.push(item.header.start as usize);
        match &item.body {
            ItemBody::Animal(animal) => starts.extend(animal.lines.iter().filter_map(|line| {
                (line.statement != AnimalStatement::Unread).then_some(line.span.start as usize)
            })),
            ItemBody::Ingredient(ingredient) => {
                starts.extend(ingredient.lines.iter().filter_map(|line| {
                    (line.statement != IngredientStatement::Unread)
                        .then_some(line.span.start as usize)
                }))
            }
            ItemBody::Lot(lot) => starts.extend(lot.lines.iter().filter_map(|line| {
                (line.statement != LotStatement::Unread).then_some(line.span.start as usize)
            })),
            ItemBody::Ration(ration) => starts.extend(ration.lines.iter().filter_map(|line| {
                (!matches!(line.statement, RationStatement::Unread(_)))
                    .then_some(line.span.start as usize)
            })),
            ItemBody::Targets(targets) => starts.extend(
                targets
                    .lines
                    .iter()
                    .filter(|line| line.target.is_some() || line.accept.is_some())
                    .map(|line| line.span.start as usize),
            ),
            ItemBody::Method(method) => starts.extend(
                method
                    .lines
                    .iter()
                    .filter_map(|line| line.rule.as_ref().map(|_| line.span.start as usize)),
            ),
            ItemBody::Group(group) => starts.extend(
                group
                    .lines
                    .iter()
                    .filter_map(|line| line.statement.as_ref().map(|_| line.span.start as usize)),
            ),
            ItemBody::Record(record) => starts.extend(
                record
                    .lines
                    .iter()
                    .filter_map(|line| line.statement.as_ref().map(|_| line.span.start as usize)),
            ),
            _ => {}
        }
    }
    starts
}

/// A text on its way to its layout.
struct Layout<'t> {
    text: &'t str,
    read: Vec<usize>,
    /// The item whose lines follow; none where its header could not be read.
    item: Option<&'static ItemWord>,
    lines: Vec<String>,
}

impl Layout<'_> {
    fn line(&mut self, line: &Line) {
        let content = self.text.get(line.content.clone()).unwrap_or("");
        let whole = self.text.get(line.whole.clone()).unwrap_or("").trim_end();
        let comment = line
            .comment
            .clone()
            .and_then(|comment| self.text.get(comment))
            .map(str::trim_end);
        if content.is_empty() {
            let indentation = if line.is_indented { INDENTATION } else { "" };
            match comment {
                None => self.blank(),
                Some(comment) => self.lines.push(format!("{indentation}{comment}")),
            }
            return;
        }
        let is_read = self.read.binary_search(&line.content.start).is_ok();
        let word = words::item_word(first_word(content)).filter(|_| is_read);
        let laid_out = match (word, self.item) {
            (Some(word), _) => {
                self.item = Some(word);
                Some(tokens::spaced(content))
            }
            (None, Some(item)) if is_read => body_line(item, content),
            _ => {
                if !line.is_indented {
                    self.item = None;
                }
                None
            }
        };
        self.lines.push(match (laid_out, comment) {
            (None, _) => whole.to_owned(),
            (Some(laid_out), None) => laid_out,
            (Some(laid_out), Some(comment)) => format!("{laid_out}  {comment}"),
        });
    }

    /// At most one blank line in a row, and none at the head.
    fn blank(&mut self) {
        if self.lines.last().is_some_and(|last| !last.is_empty()) {
            self.lines.push(String::new());
        }
    }

    fn without_last_blank(mut self) -> Vec<String> {
        if self.lines.last().is_some_and(String::is_empty) {
            self.lines.pop();
        }
        self.lines
    }
}

/// An indented line: its key, and its value in the column.
fn body_line(item: &'static ItemWord, content: &str) -> Option<String> {
    let form = item.line_word(first_word(content)).or(item.otherwise)?;
    let (part, end) = grammar::read_line(form.rule, content).ok()?;
    let (content, end) = match end {
        Some((start, _)) => content.split_at_checked(start)?,
        None => (content, ""),
    };
    let (key, value) = match form.rule {
        Rule::amount_line => amount(part)?,
        Rule::target_line | Rule::bound_line | Rule::limit_line => {
            let bounded = part.into_inner().next()?.as_span().end();
            split(content, bounded)
        }
        _ => split(content, key_end(form, content)),
    };
    let end = tokens::spaced(end);
    let value = match (value.is_empty(), end.is_empty()) {
        (_, true) => value,
        (true, false) => end,
        (false, false) => format!("{value} {end}"),
    };
    Some(in_column(&key, &value))
}

fn in_column(key: &str, value: &str) -> String {
    let width = key.width();
    let gap = match (value.is_empty(), width < KEY_WIDTH) {
        (true, _) => 0,
        (false, true) => KEY_WIDTH - width,
        (false, false) => 2,
    };
    format!("{INDENTATION}{key}{}{value}", " ".repeat(gap))
}

/// Where the words end that stand before the value.
fn key_end(form: &LineWord, content: &str) -> usize {
    let words = match form.rule {
        // A count of animals has no column.
        Rule::animals_line => return content.len(),
        Rule::label_line => 2,
        _ if form.is_word() => form.word.split(' ').count(),
        _ => 1,
    };
    tokens::of(content)
        .nth(words - 1)
        .map_or(content.len(), |token| token.end)
}

fn split(content: &str, at: usize) -> (String, String) {
    let (key, value) = content.split_at_checked(at).unwrap_or((content, ""));
    (tokens::spaced(key), tokens::spaced(value))
}

/// An amount: the name, then the amount and its clauses in their order.
fn amount(line: Part<'_>) -> Option<(String, String)> {
    let mut parts = line.into_inner();
    let name = parts.next()?.as_str().to_owned();
    let mut value: Vec<_> = parts
        .map(|part| (rank(part.as_rule()), tokens::spaced(part.as_str())))
        .collect();
    value.sort_by_key(|(rank, _)| *rank);
    let value: Vec<_> = value.into_iter().map(|(_, text)| text).collect();
    Some((name, value.join(" ")))
}

fn rank(part: Rule) -> usize {
    match part {
        Rule::within => 1,
        Rule::or_none => 2,
        Rule::on_top => 3,
        Rule::small | Rule::bulk | Rule::not_carrier => 4,
        Rule::lot => 5,
        Rule::accept => 6,
        _ => 0,
    }
}
