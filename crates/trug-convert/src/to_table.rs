//! A text to a table: its ingredients, a row each, and the amounts of one ration.

mod statements;
mod words;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use trug_findings::{FileId, Severity, Span};
use trug_model::table::FIRST_HEADING;
use trug_syntax::tree::{self, ItemBody, RationLine, RationStatement};

use crate::remarks::{Converted, Refusal, Remark, short};
use crate::to_text::own::{AMOUNT, CLAUSES, LABEL};
use words::{bound, number, unit};

/// Converts the ingredients of a text, and the ration named or the only one, to a table.
///
/// # Errors
/// Says why there is nothing to convert, or which rations there are to choose from.
pub fn to_table(text: &str, ration: Option<&str>) -> Result<Converted, Refusal> {
    let file = trug_syntax::parse(FileId::default(), text);
    let ration = chosen(&file, ration)?;
    let mut maker = Maker {
        text,
        remarks: Vec::new(),
        rows: Vec::new(),
        headings: Headings::default(),
        without_amount: BTreeMap::new(),
        amounts: 0,
    };
    maker.unread(&file);
    maker.ingredients(&file);
    if let Some(ration) = ration {
        maker.ration(ration);
    }
    if maker.rows.is_empty() {
        return Err(Refusal::new(
            "there is no ingredient and no ration in this text",
            "name a text that has some: a table holds ingredients and the amounts of one ration",
        ));
    }
    maker.left_out(&file, ration);
    let columns = maker.headings.in_order.len();
    if MOST_CELLS < maker.rows.len().saturating_mul(columns) {
        return Err(Refusal::new(
            format!(
                "a table of this text has {} rows and {columns} columns",
                maker.rows.len()
            ),
            "convert a part of it: a sheet of over twenty million cells opens nowhere",
        ));
    }
    Ok(maker.converted())
}

/// Cells of the largest table that is written.
const MOST_CELLS: usize = 20_000_000;

fn chosen<'t>(
    file: &'t tree::File,
    name: Option<&str>,
) -> Result<Option<&'t tree::Ration>, Refusal> {
    let rations = file.items.iter().filter_map(|item| match &item.body {
        ItemBody::Ration(ration) => Some(ration),
        _ => None,
    });
    let rations: Vec<&tree::Ration> = rations.collect();
    let names: Vec<&str> = rations
        .iter()
        .map(|ration| ration.name.text.as_str())
        .take(NAMES_SAID)
        .collect();
    let more = if NAMES_SAID < rations.len() {
        ", …"
    } else {
        ""
    };
    let names = format!("{}{more}", names.join(", "));
    match (name, rations.as_slice()) {
        (Some(name), rations) => match rations.iter().find(|ration| ration.name.text == name) {
            Some(ration) => Ok(Some(ration)),
            None => Err(Refusal::new(
                format!("there is no ration {} in this text", short(name)),
                if rations.is_empty() {
                    "leave --ration out".to_owned()
                } else {
                    format!("name one of: {names}")
                },
            )),
        },
        (None, []) => Ok(None),
        (None, [ration]) => Ok(Some(ration)),
        (None, _) => Err(Refusal::new(
            format!(
                "this text has {} rations, and a table holds one",
                rations.len()
            ),
            format!("name it with --ration: {names}"),
        )),
    }
}

/// So many names of rations are said.
const NAMES_SAID: usize = 8;

/// The table in the making.
struct Maker<'t> {
    text: &'t str,
    remarks: Vec<Remark>,
    rows: Vec<Row>,
    headings: Headings,
    /// The rows that have no amount yet, by the names of their ingredients.
    without_amount: BTreeMap<String, usize>,
    /// So many lines of the ration are written.
    amounts: usize,
}

/// Headings in the order of their columns; one that stands there again has a number.
#[derive(Default)]
struct Headings {
    in_order: Vec<String>,
    ranks: BTreeMap<(String, usize), usize>,
}

impl Headings {
    fn rank(&mut self, heading: &str, count: usize) -> usize {
        let next = self.in_order.len();
        let rank = *self
            .ranks
            .entry((heading.to_owned(), count))
            .or_insert(next);
        if rank == next {
            self.in_order.push(heading.to_owned());
        }
        rank
    }

    fn of(&self, rank: usize) -> &str {
        self.in_order.get(rank).map_or("", String::as_str)
    }
}

/// A row, its cells by the rank of their heading.
struct Row {
    name: String,
    label: String,
    cells: BTreeMap<usize, String>,
    /// Its rank among the lines of the ration; rows the ration does not take come first.
    order: usize,
}

impl Row {
    fn new(name: &str, label: &str) -> Row {
        Row {
            name: name.to_owned(),
            label: label.to_owned(),
            cells: BTreeMap::new(),
            order: 0,
        }
    }
}

impl<'t> Maker<'t> {
    fn unread(&mut self, file: &tree::File) {
        let errors = file
            .findings
            .iter()
            .filter(|finding| finding.severity == Severity::Error);
        for finding in errors {
            let help = finding.help.clone().unwrap_or_default();
            self.remarks.push(Remark::lost(
                finding.place.span,
                finding.message.clone(),
                help,
            ));
        }
    }

    fn ingredients(&mut self, file: &tree::File) {
        for item in &file.items {
            let ItemBody::Ingredient(ingredient) = &item.body else {
                continue;
            };
            let label = ingredient
                .label
                .as_ref()
                .map_or("", |label| label.text.as_str());
            let row = self.rows.len();
            self.rows.push(Row::new(&ingredient.name.text, label));
            let name = ingredient.name.text.to_string();
            self.without_amount.entry(name).or_insert(row);
            for line in &ingredient.lines {
                let cells = statements::cells(&line.statement);
                if cells.is_none() && !matches!(line.statement, tree::IngredientStatement::Unread) {
                    let says = format!("`{}` is not written", short(line.span.of(self.text)));
                    self.remarks.push(Remark::left_out(line.span, says, ""));
                }
                for (heading, cell) in cells.into_iter().flatten() {
                    self.put(row, &heading, cell);
                }
                if let Some(accept) = &line.accept {
                    let says = format!("`{}` is not written", short(accept.span.of(self.text)));
                    self.remarks.push(Remark::left_out(accept.span, says, ""));
                }
            }
        }
    }

    fn ration(&mut self, ration: &tree::Ration) {
        let mut others: Vec<&RationLine> = Vec::new();
        for line in &ration.lines {
            let RationStatement::Amount(amount) = &line.statement else {
                others.extend(
                    (!matches!(line.statement, RationStatement::Unread(_))).then_some(line),
                );
                continue;
            };
            let Some((heading, cell)) = amount_cell(&amount.form) else {
                let says = format!(
                    "the amount of {} has no unit, so it is not written",
                    amount.name.text
                );
                self.remarks
                    .push(Remark::lost(line.span, says, "write its unit"));
                continue;
            };
            let row = self.row_of(&amount.name.text);
            self.put(row, &heading, cell);
            let clauses = Span::new(amount.span.end as usize, line.span.end as usize);
            let clauses = clauses.of(self.text).trim();
            if !clauses.is_empty() {
                self.put(row, CLAUSES, clauses.to_owned());
            }
        }
        if let Some(like) = &ration.like {
            let says = format!(
                "what {} takes over from {} is not written",
                ration.name.text, like.text
            );
            self.remarks.push(Remark::lost(
                like.span,
                says,
                "write the lines it takes over into it first",
            ));
        }
        for line in others {
            let says = format!(
                "`{}` is not written: a table holds amounts",
                short(line.span.of(self.text))
            );
            self.remarks.push(Remark::left_out(line.span, says, ""));
        }
    }

    /// The row for an amount of this ingredient: its own where it has none yet, else a further one.
    fn row_of(&mut self, name: &str) -> usize {
        let last = self.rows.len();
        let own = self.without_amount.remove(name);
        if own.is_none() {
            self.rows.push(Row::new(name, ""));
        }
        let row = own.unwrap_or(last);
        self.amounts += 1;
        if let Some(row) = self.rows.get_mut(row) {
            row.order = self.amounts;
        }
        row
    }

    /// Writes a cell into a row, under its heading; a heading that is taken there stands again.
    fn put(&mut self, row: usize, heading: &str, cell: String) {
        let Some(row) = self.rows.get_mut(row) else {
            return;
        };
        for count in 0..=row.cells.len() {
            let rank = self.headings.rank(heading, count);
            if let Entry::Vacant(free) = row.cells.entry(rank) {
                free.insert(cell);
                return;
            }
        }
    }

    /// Says which items are not in the table.
    fn left_out(&mut self, file: &tree::File, ration: Option<&tree::Ration>) {
        let mut kinds: BTreeMap<&str, (usize, Span)> = BTreeMap::new();
        for item in &file.items {
            let is_in = match &item.body {
                ItemBody::Ingredient(_) | ItemBody::Use(_) | ItemBody::Unread(_) => true,
                ItemBody::Ration(own) => ration.is_some_and(|ration| ration.name == own.name),
                _ => false,
            };
            if !is_in {
                let word = item.keyword.of(self.text);
                kinds.entry(word).or_insert((0, item.header)).0 += 1;
            }
        }
        for (word, (count, span)) in kinds {
            let says = match count {
                1 => {
                    format!("this {word} is not written: a table holds ingredients and one ration")
                }
                _ => format!(
                    "{count} items `{word}` are not written: a table holds ingredients and one ration"
                ),
            };
            self.remarks.push(Remark::left_out(span, says, ""));
        }
    }

    fn converted(mut self) -> Converted {
        self.rows.sort_by_key(|row| row.order);
        let mut used: Vec<usize> = (0..self.headings.in_order.len()).collect();
        // What a ration takes stands beside the names, whatever else is known of them.
        used.sort_by_key(|rank| {
            let heading = self.headings.of(*rank);
            (!is_amount(heading), heading != CLAUSES)
        });
        let mut writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .from_writer(Vec::new());
        let heading = |rank: &usize| self.headings.of(*rank);
        let head = [FIRST_HEADING, LABEL]
            .into_iter()
            .chain(used.iter().map(heading));
        // Every row has as many cells as the head, and memory does not refuse to be written to.
        let _ = writer.write_record(head.map(guarded));
        for row in &self.rows {
            let cell = |rank: &usize| row.cells.get(rank).map_or("", String::as_str);
            let cells = [row.name.as_str(), row.label.as_str()]
                .into_iter()
                .chain(used.iter().map(cell));
            let _ = writer.write_record(cells.map(guarded));
        }
        self.remarks.sort_by_key(|remark| remark.span);
        Converted {
            text: String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default(),
            remarks: self.remarks,
        }
    }
}

/// Whether amounts of a ration stand under a heading.
fn is_amount(heading: &str) -> bool {
    let unit = heading.strip_prefix(AMOUNT);
    unit.is_some_and(|unit| unit.is_empty() || unit.starts_with(' '))
}

/// A cell that a spreadsheet takes for no formula: what would start one stands behind an apostrophe. A number starts none.
fn guarded(cell: &str) -> String {
    let is_number = || {
        let digits = cell.strip_prefix(['-', '+']).unwrap_or_default();
        !digits.is_empty()
            && digits
                .bytes()
                .all(|byte| byte.is_ascii_digit() || byte == b'.')
    };
    let would_start_one = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    // An apostrophe that is the text's own is kept apart from one that guards.
    let is_quoted = cell
        .strip_prefix('\'')
        .is_some_and(|rest| rest.starts_with(['=', '+', '-', '@', '\'']));
    if would_start_one && !is_number() || is_quoted {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

/// The heading and the cell of an amount; none where it has no unit.
fn amount_cell(form: &tree::AmountForm) -> Option<(String, String)> {
    use tree::AmountForm as F;
    let with_unit = |unit: String| format!("{AMOUNT} {unit}");
    Some(match form {
        F::Fixed(quantity) => (with_unit(unit(quantity)?), number(quantity)),
        F::Parts(parts) => (with_unit("parts".to_owned()), parts.digits.to_string()),
        F::Rest => (AMOUNT.to_owned(), "rest".to_owned()),
        F::Open(open) => {
            let (cell, unit) = bound(open)?;
            (with_unit(unit), cell)
        }
        F::Giving { quantity, active } => {
            let cell = format!(
                "giving {} {} {}",
                number(quantity),
                unit(quantity)?,
                active.text
            );
            (AMOUNT.to_owned(), cell)
        }
    })
}
