//! Where in a spreadsheet its ingredients and its headings stand: ingredients in rows or in columns, a title above,
//! units in a line of their own.

use std::collections::BTreeMap;

use trug_model::table::{Cell, FIRST_HEADING, Grid, Row};

use crate::to_text::own::LABEL;
use crate::units::{parts, unit_and_basis};
use crate::words::{Means, meaning, plain};

/// Headings are looked for in so many rows from the top; above them stand titles.
const ROWS_LOOKED_AT: usize = 20;

/// Headings of a table that has its ingredients in columns are looked for in so many rows.
const HEADINGS_LOOKED_AT: usize = 200;

/// A table with its ingredients in rows, whichever way it was written.
#[derive(Debug, Default)]
pub(crate) struct Layout<'g> {
    /// What stands above the headings.
    pub(crate) titles: Vec<&'g Cell>,
    /// What the first heading is.
    pub(crate) corner: Option<&'g Cell>,
    /// The ingredients, by their rank; none where nothing names them.
    pub(crate) names: Vec<Option<&'g Cell>>,
    /// What is said of them.
    pub(crate) columns: Vec<Column<'g>>,
}

/// One thing said of ingredients.
#[derive(Debug, Default)]
pub(crate) struct Column<'g> {
    /// The heading; none where there is none above the cells.
    pub(crate) heading: Option<&'g Cell>,
    /// Its unit, where that stands in a cell of its own.
    pub(crate) unit: Option<&'g Cell>,
    /// The cells that say anything, each with the rank of its ingredient.
    pub(crate) cells: Vec<(usize, &'g Cell)>,
}

/// Finds out how the table is laid out.
pub(crate) fn lay(grid: &Grid) -> Layout<'_> {
    let Some(head) = head(&grid.rows) else {
        return Layout::default();
    };
    let titles = grid.rows.iter().take(head).flat_map(|row| &row.cells);
    let titles: Vec<&Cell> = titles.filter(|cell| is_said(cell)).collect();
    let rows = grid.rows.get(head..).unwrap_or_default();
    let Some((headings, below)) = rows.split_first() else {
        return Layout::default();
    };
    let first = name_column(headings);
    let mut layout = if has_ingredients_in_columns(headings, below, first) {
        in_columns(headings, below, first)
    } else {
        in_rows(headings, below, first)
    };
    layout.titles = titles;
    layout.corner = headings.cells.get(first);
    layout
}

/// The row of the headings: the first that names the ingredients' column beside others, else the first of which two
/// cells are known, else the first of two cells.
fn head(rows: &[Row]) -> Option<usize> {
    let looked = || rows.iter().take(ROWS_LOOKED_AT).enumerate();
    let count = |row: &Row| row.cells.iter().filter(|cell| is_said(cell)).count();
    let names = |row: &Row| {
        row.cells
            .iter()
            .any(|cell| means(cell) == Some(Means::Name))
    };
    let known = |row: &Row| row.cells.iter().filter(|cell| is_heading(cell)).count();
    let by_name = looked().find(|(_, row)| 2 <= count(row) && names(row));
    let by_words = || looked().find(|(_, row)| 2 <= known(row));
    let by_cells = || looked().find(|(_, row)| 2 <= count(row));
    let found = by_name.or_else(by_words).or_else(by_cells);
    found
        .map(|(rank, _)| rank)
        .or((!rows.is_empty()).then_some(0))
}

/// The column of the names: the one that says so, else the first that says anything.
fn name_column(headings: &Row) -> usize {
    let cells = &headings.cells;
    let named = cells
        .iter()
        .position(|cell| means(cell) == Some(Means::Name));
    // The corner of a table may be empty: then the names stand under it, unless the column is empty altogether.
    named.unwrap_or(0)
}

fn has_ingredients_in_columns(headings: &Row, below: &[Row], first: usize) -> bool {
    // What the tool has written is in rows, also where an ingredient is called as a nutrient is.
    let corner = headings.cells.get(first);
    if corner.is_some_and(|cell| is_own(cell, headings.cells.iter())) {
        return false;
    }
    let beside = headings.cells.iter().skip(first + 1);
    let beside = beside.filter(|cell| is_heading(cell)).count();
    let under = below.iter().take(HEADINGS_LOOKED_AT);
    let under = under.filter_map(|row| row.cells.get(first));
    let under = under.filter(|cell| is_heading(cell)).count();
    beside < under
}

/// Whether headings are those of a table that the tool has written, which begin with this one.
pub(crate) fn is_own<'g>(corner: &Cell, mut headings: impl Iterator<Item = &'g Cell>) -> bool {
    corner.text == FIRST_HEADING && headings.any(|cell| cell.text == LABEL)
}

fn in_rows<'g>(headings: &'g Row, below: &'g [Row], first: usize) -> Layout<'g> {
    let units = below.first().filter(|row| is_row_of_units(row, first));
    let below = below
        .get(usize::from(units.is_some())..)
        .unwrap_or_default();
    // Only columns that say anything are made: a row of commas is long, and says nothing.
    let mut columns: BTreeMap<usize, Column<'g>> = BTreeMap::new();
    for (rank, cell) in said_in(headings) {
        columns.entry(rank).or_default().heading = Some(cell);
    }
    for (rank, cell) in units.into_iter().flat_map(said_in) {
        columns.entry(rank).or_default().unit = Some(cell);
    }
    for (number, row) in below.iter().enumerate() {
        for (rank, cell) in said_in(row) {
            columns.entry(rank).or_default().cells.push((number, cell));
        }
    }
    columns.remove(&first);
    Layout {
        names: below.iter().map(|row| said(row, first)).collect(),
        columns: columns.into_values().collect(),
        ..Layout::default()
    }
}

fn in_columns<'g>(headings: &'g Row, below: &'g [Row], first: usize) -> Layout<'g> {
    let is_unit = |(_, cell): &(usize, &Cell)| means(cell) == Some(Means::Unit);
    let units = said_in(headings).find(is_unit).map(|(rank, _)| rank);
    let is_of_ingredient = |rank: usize| first < rank && Some(rank) != units;
    let columns = below.iter().map(|row| Column {
        heading: said(row, first),
        unit: units.and_then(|rank| said(row, rank)),
        cells: said_in(row)
            .filter(|(rank, _)| is_of_ingredient(*rank))
            .collect(),
    });
    let width = below
        .iter()
        .chain([headings])
        .map(|row| row.cells.len())
        .max();
    let name = |rank| said(headings, rank).filter(|_| is_of_ingredient(rank));
    Layout {
        names: (0..width.unwrap_or(0)).map(name).collect(),
        columns: columns.collect(),
        ..Layout::default()
    }
}

/// The cells of a row that say anything, by their rank.
fn said_in(row: &Row) -> impl Iterator<Item = (usize, &Cell)> {
    row.cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| is_said(cell))
}

/// A row without a name, or called `unit`, of which every other cell is a unit.
fn is_row_of_units(row: &Row, first: usize) -> bool {
    let name = said(row, first).map(|cell| plain(&cell.text));
    let mut others = said_in(row).filter(|(rank, _)| *rank != first).peekable();
    let has_units = others.peek().is_some();
    let are_units = others
        .all(|(_, cell)| cell.text.len() < LONGEST_HEADING && unit_and_basis(&cell.text).is_some());
    has_units && are_units && matches!(name.as_deref(), None | Some("unit" | "units" | ""))
}

/// The cell of a row, where it says anything.
fn said(row: &Row, rank: usize) -> Option<&Cell> {
    row.cells.get(rank).filter(|cell| is_said(cell))
}

fn is_said(cell: &Cell) -> bool {
    !cell.text.trim().is_empty()
}

fn means(cell: &Cell) -> Option<Means> {
    let text = cell.text.trim();
    if LONGEST_HEADING < text.len() {
        return None;
    }
    meaning(text).or_else(|| meaning(&parts(text).words))
}

/// The longest cell that is looked at as a heading, in bytes.
pub(crate) const LONGEST_HEADING: usize = 200;

/// Whether a cell reads as a heading: a word that is known, or words with a unit.
fn is_heading(cell: &Cell) -> bool {
    let text = cell.text.trim();
    if LONGEST_HEADING < text.len() || text.starts_with(|letter: char| letter.is_ascii_digit()) {
        return false;
    }
    let parts = parts(text);
    means(cell).is_some_and(|means| means != Means::Name) || parts.unit.is_some()
}
