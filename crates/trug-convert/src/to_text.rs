//! A spreadsheet to a text one would have written by hand.

mod asked;
mod columns;
mod fits;
pub(crate) mod own;
mod rows;

use std::collections::BTreeSet;

use trug_findings::Span;
use trug_model::table::{Fault, Grid, grid};

use crate::book::Book;
use crate::cells::{amount, is_zero};
use crate::items::{Items, Ration, fault, label};
use crate::layout::{Column, Layout, lay};
use crate::names::Names;
use crate::remarks::{Converted, Refusal, Remark, short};
use crate::words::{Means, meaning, plain};
use columns::{Role, Roles};

/// The longest name or label that is taken, in bytes.
const LONGEST_LABEL: usize = 200;

/// What a user asks of a conversion to text.
#[derive(Clone, Debug, Default)]
pub struct Wishes {
    /// Units of headings that have none: what the heading says, and its unit.
    pub units: Vec<(String, String)>,
    /// Headings under which the amounts of rations stand.
    pub rations: Vec<String>,
    /// The animal the rations are for.
    pub animal: Option<String>,
    /// What the table is called: the name of a ration that nothing else names.
    pub name: String,
}

/// Converts a table to a text.
///
/// # Errors
/// Says why there is nothing to convert.
pub fn to_text(table: &str, wishes: &Wishes) -> Result<Converted, Refusal> {
    let grid = grid(table);
    let layout = lay(&grid);
    if layout.columns.is_empty() {
        return Err(Refusal::new(
            "there is no table in this file",
            "save a sheet with a line of headings and an ingredient on each line below it",
        ));
    }
    let mut maker = Maker::new(&grid, &layout, wishes);
    maker.faults();
    maker.ingredients();
    maker.columns()?;
    Ok(maker.converted())
}

/// The text in the making.
pub(super) struct Maker<'g> {
    grid: &'g Grid,
    layout: &'g Layout<'g>,
    wishes: &'g Wishes,
    book: Book,
    names: Names,
    items: Items,
    /// The ingredient of each name of the layout; none where it is none.
    ranks: Vec<Option<usize>>,
    remarks: Vec<Remark>,
    /// Lines that were read with one plain number can be read with any.
    known: BTreeSet<String>,
    /// The table is one that the tool has written: names and headings are those of the language.
    is_own: bool,
}

impl<'g> Maker<'g> {
    fn new(grid: &'g Grid, layout: &'g Layout<'g>, wishes: &'g Wishes) -> Maker<'g> {
        Maker {
            grid,
            layout,
            wishes,
            book: Book::read(),
            names: Names::default(),
            items: Items::default(),
            ranks: Vec::new(),
            remarks: Vec::new(),
            known: BTreeSet::new(),
            is_own: own::is_own(layout),
        }
    }

    fn faults(&mut self) {
        for fault in &self.grid.faults {
            self.remarks.push(match fault {
                Fault::OpenQuote(span) => Remark::lost(
                    *span,
                    "this quote is not closed; what follows is not read",
                    "close it, or save the table again",
                ),
                Fault::AfterQuote(span) => Remark::lost(
                    *span,
                    "this stands after the closing quote of its cell",
                    "double a quote that belongs to the cell, or save the table again",
                ),
            });
        }
    }

    /// Reads each column as its heading says.
    fn columns(&mut self) -> Result<(), Refusal> {
        if self.is_own {
            own::columns(self);
            return Ok(());
        }
        let roles = Roles::of(self)?;
        for ration in &roles.rations {
            let (name, called) = self.ration_name(ration);
            self.items.rations.push(Ration {
                label: if called == name {
                    String::new()
                } else {
                    called
                },
                name,
                animal: self.wishes.animal.clone(),
                lines: Vec::new(),
            });
        }
        let layout = self.layout;
        for (column, role) in layout.columns.iter().zip(&roles.roles) {
            let Some(role) = role else { continue };
            for (rank, cell) in &column.cells {
                let Some(Some(ingredient)) = self.ranks.get(*rank).copied() else {
                    continue;
                };
                self.cell(column, role, ingredient, (&cell.text, cell.span));
            }
        }
        Ok(())
    }

    /// The name of a ration, from its heading, the title above the table or the file's name.
    fn ration_name(&mut self, heading: &str) -> (String, String) {
        let said = if heading.is_empty() || meaning(heading) == Some(Means::Amount) {
            match self.layout.titles.as_slice() {
                [title] if title.text.trim().len() <= LONGEST_LABEL => label(&title.text),
                _ => label(&self.wishes.name),
            }
        } else {
            label(heading)
        };
        let said = if said.is_empty() {
            "Ration".to_owned()
        } else {
            said
        };
        (self.names.name(&said), said)
    }

    fn cell(
        &mut self,
        column: &Column<'_>,
        role: &Role,
        ingredient: usize,
        (text, span): (&str, Span),
    ) {
        let heading = column.heading.map_or("", |cell| cell.text.trim());
        if let Role::Label = role {
            if let Some(ingredient) = self.items.ingredients.get_mut(ingredient) {
                ingredient.label = label(text);
                if ingredient.label == ingredient.name {
                    ingredient.label.clear();
                }
            }
            return;
        }
        if let Role::Form = role {
            let line = format!("form {}", text.trim().to_lowercase());
            return self.line(ingredient, line, span);
        }
        let Role::Number {
            word,
            unit,
            basis,
            fits,
            ration,
        } = role
        else {
            return;
        };
        let word_of_rest = plain(text);
        if let (Some(ration), "rest" | "balance" | "remainder") = (ration, word_of_rest.as_str()) {
            return self.amount_line(*ration, ingredient, "rest", span);
        }
        let read = match amount(text, self.grid.has_decimal_comma) {
            Ok(read) => read,
            Err(trouble) if trouble.is_empty => {
                return self
                    .remarks
                    .push(Remark::left_out(span, trouble.says, trouble.help));
            }
            Err(trouble) => {
                return self
                    .remarks
                    .push(Remark::lost(span, trouble.says, trouble.help));
            }
        };
        let unit = match (&read.unit, unit) {
            (None, Some(unit)) => unit.text.as_str(),
            (Some(own), Some(unit)) if own.text == unit.text => own.text.as_str(),
            // A premix is often weighed in kg/t where all else is in percent.
            (Some(own), Some(_)) if ration.is_some() && fits.fit(own) => own.text.as_str(),
            (Some(own), Some(unit)) => {
                let says = format!("this cell is in {}, its heading in {}", own.text, unit.text);
                return self.remarks.push(Remark::lost(
                    span,
                    says,
                    "write the cell in the heading's unit",
                ));
            }
            (Some(own), None) if fits.fit(own) => own.text.as_str(),
            (Some(own), None) => {
                let says = format!("{} does not fit {}", own.text, short(heading));
                return self.remarks.push(Remark::lost(
                    span,
                    says,
                    format!("write it in {}", fits.example),
                ));
            }
            (None, None) => {
                let says = format!("`{}` has no unit, and its heading has none", short(text));
                return self.remarks.push(Remark::lost(
                    span,
                    says,
                    asked::ask(heading, fits.example),
                ));
            }
        };
        let mut value = format!("{} {unit}", read.number);
        if !basis.is_empty() {
            value = format!("{value} {basis}");
        }
        if let (Some(_), true) = (ration, is_zero(&read.number)) {
            let says = "nothing of this is taken, so its line is left out";
            return self.remarks.push(Remark::left_out(span, says, ""));
        }
        let is_plain = read
            .number
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.');
        let key = format!("{word} {unit} {basis}");
        let is_known = is_plain && self.known.contains(&key);
        let before = self.remarks.len();
        match ration {
            Some(ration) if is_known => self.take(*ration, ingredient, &value),
            Some(ration) => self.amount_line(*ration, ingredient, &value, span),
            None if is_known => self.add(ingredient, format!("{word} {value}")),
            None => self.line(ingredient, format!("{word} {value}"), span),
        }
        if is_plain && before == self.remarks.len() {
            self.known.insert(key);
        }
    }

    fn amount_line(&mut self, ration: usize, ingredient: usize, value: &str, span: Span) {
        let Some(name) = self
            .items
            .ingredients
            .get(ingredient)
            .map(|it| it.name.clone())
        else {
            return;
        };
        let line = format!("{name} {value}");
        if let Some((says, help)) = fault("ration x", &line) {
            return self.remarks.push(Remark::lost(span, says, help));
        }
        self.take(ration, ingredient, value);
    }

    fn take(&mut self, ration: usize, ingredient: usize, value: &str) {
        let ingredient = self.items.ingredients.get(ingredient);
        if let (Some(ration), Some(ingredient)) = (self.items.rations.get_mut(ration), ingredient) {
            ration.lines.push(format!("{} {value}", ingredient.name));
        }
    }

    /// Adds a line to an ingredient, where the language can read it.
    fn line(&mut self, ingredient: usize, line: String, span: Span) {
        if let Some((says, help)) = fault("ingredient x", &line) {
            return self.remarks.push(Remark::lost(span, says, help));
        }
        self.add(ingredient, line);
    }

    fn add(&mut self, ingredient: usize, line: String) {
        if let Some(ingredient) = self.items.ingredients.get_mut(ingredient) {
            ingredient.lines.push(line);
        }
    }

    fn converted(mut self) -> Converted {
        let animal = self.wishes.animal.as_deref();
        let is_of_book = animal.is_some_and(|animal| self.book.has_animal(animal));
        self.items.uses_book |= is_of_book && !self.items.rations.is_empty();
        self.remarks.sort_by_key(|remark| remark.span);
        Converted {
            text: self.items.text(),
            remarks: self.remarks,
        }
    }
}

/// A cell without the apostrophe that keeps a spreadsheet from taking it for a formula.
pub(super) fn unguarded(cell: &str) -> &str {
    let guarded = ['=', '+', '-', '@', '\t', '\r', '\n', '\''];
    let bare = cell.strip_prefix('\'');
    bare.filter(|bare| bare.starts_with(guarded))
        .unwrap_or(cell)
}
