//! A column of a table: its heading read once, and each cell as a line.

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Severity, Span};
use trug_syntax::tree::{IngredientLine, IngredientStatement, ItemBody, Quantity};

use super::cells::Cell;
use super::headings::{CellKind, Heading, with_points};
use super::{LONGEST_CELL, places};
use crate::findings::used;

/// Digits and a point: no number of a text has more.
const MOST_DIGITS: usize = 40;

/// A column.
pub(super) struct Column {
    pub(super) heading: Heading,
    /// The line of a cell with a plain number, whatever the number.
    pattern: Option<IngredientStatement>,
    /// What was said about the heading: it is not said again of each cell.
    said: Vec<Finding>,
    /// The heading is no line, whatever the cells say.
    is_unread: bool,
}

/// The line of a cell could not be read, and that was said.
#[derive(Debug)]
pub(super) struct Unread;

impl Column {
    /// Reads the heading with a number, and with a range where a line wants one.
    pub(super) fn of(heading: Heading, findings: &mut Vec<Finding>) -> Column {
        let mut column = Column {
            heading,
            pattern: None,
            said: Vec::new(),
            is_unread: false,
        };
        if column.heading.cell != CellKind::Number {
            return column;
        }
        let read = |cell| column.heading.line(cell, false).map(|line| parsed(&line));
        let (Some(number), Some(range)) = (read("1"), read("1 .. 2")) else {
            return column;
        };
        let is_error = |said: &[Finding]| said.iter().any(|it| it.severity == Severity::Error);
        let (statement, said) = if is_error(&number.1) && !is_error(&range.1) {
            (None, range.1)
        } else {
            number
        };
        column.is_unread = is_error(&said);
        column.pattern = statement.filter(|it| !column.is_unread && has_number(it));
        column.said = said;
        let span = column.heading.span;
        findings.extend(
            column
                .said
                .iter()
                .map(|finding| moved(finding.clone(), span)),
        );
        column
    }

    /// The line of a cell; none where the cell holds nothing of a line, which was said.
    pub(super) fn line(
        &self,
        cell: &Cell,
        has_decimal_comma: bool,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<IngredientLine>, Unread> {
        if self.is_unread {
            return Err(Unread);
        }
        let text = cell.text.trim();
        let statement = match self.plain(text, has_decimal_comma) {
            Some(statement) => statement,
            None => {
                let line = self.heading.line(text, has_decimal_comma);
                let Some(line) = line.filter(|_| text.len() <= LONGEST_CELL) else {
                    let at = Place::new(FileId::default(), cell.span);
                    findings.push(used::cell(at, &self.heading));
                    return Ok(None);
                };
                let (statement, said) = parsed(&line);
                let is_known = |finding: &Finding| {
                    let mut known = self.said.iter();
                    known
                        .any(|known| known.code == finding.code && known.message == finding.message)
                };
                let said = said.into_iter().filter(|finding| !is_known(finding));
                findings.extend(said.map(|finding| moved(finding, cell.span)));
                statement.ok_or(Unread)?
            }
        };
        Ok(Some(IngredientLine {
            span: cell.span,
            statement: places::moved(statement, cell.span, self.heading.span),
            accept: None,
        }))
    }

    /// The line of a cell that is digits and perhaps a point.
    fn plain(&self, text: &str, has_decimal_comma: bool) -> Option<IngredientStatement> {
        let mut statement = self.pattern.clone()?;
        let number = number_of(&mut statement)?;
        let pointed;
        let digits = if has_decimal_comma {
            pointed = with_points(text);
            pointed.as_str()
        } else {
            text
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let is_number =
            |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        if MOST_DIGITS < digits.len() || !is_number(whole) || !is_number(part) {
            return None;
        }
        number.number.digits = SmolStr::new(digits);
        Some(statement)
    }
}

/// A line as an ingredient's, and what is said about it.
fn parsed(line: &str) -> (Option<IngredientStatement>, Vec<Finding>) {
    let text = format!("ingredient row\n  {line}\n");
    let file = trug_syntax::parse(FileId::default(), &text);
    let item = file.items.into_iter().next();
    let statement = item.and_then(|item| match item.body {
        ItemBody::Ingredient(ingredient) => Some(ingredient.lines.into_iter().next()?.statement),
        _ => None,
    });
    let statement = statement.filter(|it| !matches!(it, IngredientStatement::Unread));
    (statement, file.findings)
}

/// The finding at its place in the table. A heading or a cell holds more than the word a fix would replace.
fn moved(finding: Finding, span: Span) -> Finding {
    Finding {
        place: Place::new(FileId::default(), span),
        related: Vec::new(),
        fixes: Vec::new(),
        ..finding
    }
}

fn has_number(statement: &IngredientStatement) -> bool {
    number_of(&mut statement.clone()).is_some()
}

/// The one quantity of a statement that has one.
fn number_of(statement: &mut IngredientStatement) -> Option<&mut Quantity> {
    use IngredientStatement as S;
    match statement {
        S::Content { value, .. }
        | S::DryMatter(value)
        | S::Price { value, .. }
        | S::BulkDensity(value)
        | S::SoldIn(value)
        | S::ParticleSize(value)
        | S::ParticleDensity(value)
        | S::Ceiling { value, .. }
        | S::Withdrawal { time: value, .. } => Some(value),
        _ => None,
    }
}
