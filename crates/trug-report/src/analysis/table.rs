//! Tables in plain text: columns as wide as they need, and one of them narrower where the page is.

use crate::words::{columns, lines_of};

/// How a column stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Left,
    Right,
}

/// Cells side by side, and sentences below them.
#[derive(Default)]
pub(crate) struct Row {
    pub(crate) cells: Vec<String>,
    pub(crate) below: Vec<String>,
}

impl Row {
    pub(crate) fn new<const N: usize>(cells: [String; N]) -> Row {
        Row {
            cells: cells.into(),
            below: Vec::new(),
        }
    }
}

/// How a table is laid out.
pub(crate) struct Layout<'a> {
    pub(crate) sides: &'a [Side],
    /// The column that gives way where the page is narrow: longer cells of it stand on a line of their own.
    pub(crate) flexible: usize,
    pub(crate) width: usize,
}

/// Blanks before and between columns.
const GAP: usize = 2;
/// The flexible column never gets narrower.
const LEAST: usize = 12;

/// Rows under a heading; nothing where there are no rows.
pub(crate) struct Group<'a> {
    pub(crate) heading: &'a str,
    pub(crate) rows: Vec<Row>,
}

/// Draws groups of rows in the same columns. A column that is empty throughout is left out.
pub(crate) fn tables(groups: &[Group<'_>], layout: &Layout<'_>) -> Vec<String> {
    let rows: Vec<&Row> = groups.iter().flat_map(|group| &group.rows).collect();
    let wide = widths(&rows, layout);
    let drawn = groups.iter().filter(|group| !group.rows.is_empty());
    drawn
        .map(|group| {
            let rows = group.rows.iter();
            let text: String = rows.map(|row| with_remarks(row, layout, &wide)).collect();
            if group.heading.is_empty() {
                text
            } else {
                format!("{}\n{text}", group.heading)
            }
        })
        .collect()
}

fn with_remarks(row: &Row, layout: &Layout<'_>, wide: &[usize]) -> String {
    let mut text = row_text(row, layout, wide);
    let indent = GAP + layout.indent(wide);
    for sentence in &row.below {
        for line in lines_of(sentence, layout.width.saturating_sub(indent)) {
            text.push_str(&format!("{:indent$}{line}\n", ""));
        }
    }
    text
}

impl Layout<'_> {
    /// Where sentences below a row begin: under the flexible column.
    fn indent(&self, wide: &[usize]) -> usize {
        let before = wide.iter().take(self.flexible).filter(|wide| **wide > 0);
        before.map(|wide| wide + GAP).sum()
    }
}

fn widths(rows: &[&Row], layout: &Layout<'_>) -> Vec<usize> {
    let widest = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.cells.get(column));
        cells.map(|cell| columns(cell)).max().unwrap_or(0)
    };
    let mut wide: Vec<usize> = (0..layout.sides.len()).map(widest).collect();
    let total: usize = wide
        .iter()
        .filter(|wide| **wide > 0)
        .map(|wide| wide + GAP)
        .sum();
    let over = total.saturating_sub(layout.width);
    if let Some(flexible) = wide.get_mut(layout.flexible) {
        *flexible = flexible.saturating_sub(over).max(LEAST.min(*flexible));
    }
    wide
}

fn row_text(row: &Row, layout: &Layout<'_>, wide: &[usize]) -> String {
    let mut text = String::new();
    let mut line = String::new();
    let mut edge = 0;
    for ((cell, side), room) in row.cells.iter().zip(layout.sides).zip(wide) {
        if *room == 0 {
            continue;
        }
        line.push_str(&" ".repeat(GAP));
        let pad = " ".repeat(room.saturating_sub(columns(cell)));
        match side {
            Side::Left => line.extend([cell.as_str(), &pad]),
            Side::Right => line.extend([&pad, cell.as_str()]),
        }
        edge += GAP + room;
        if columns(&line) > edge {
            end_line(&mut line, &mut text);
            line.push_str(&" ".repeat(edge));
        }
    }
    if !line.trim().is_empty() {
        end_line(&mut line, &mut text);
    }
    text
}

fn end_line(line: &mut String, text: &mut String) {
    text.push_str(line.trim_end());
    text.push('\n');
    line.clear();
}

#[cfg(test)]
mod tests {
    use super::*;

    fn groups() -> [Group<'static>; 3] {
        let row = |cells: [&str; 4]| Row::new(cells.map(str::to_owned));
        let mut second = row(["MISSED", "calcium / available-phosphorus", "", "5.2"]);
        second.below.push("at least six, set far away".to_owned());
        let group = |heading, rows| Group { heading, rows };
        [
            group("law", vec![row(["met", "protein", "", "16.84"])]),
            group("limits", Vec::new()),
            group("targets", vec![second]),
        ]
    }

    const SIDES: [Side; 4] = [Side::Left, Side::Left, Side::Left, Side::Right];

    fn drawn(width: usize) -> Vec<String> {
        let layout = Layout {
            sides: &SIDES,
            flexible: 1,
            width,
        };
        tables(&groups(), &layout)
    }

    #[test]
    fn columns_are_as_wide_as_their_widest_cell() {
        assert_eq!(
            drawn(60),
            [
                "law\n  met     protein                         16.84\n",
                "targets\n  MISSED  calcium / available-phosphorus    5.2\n          \
                 at least six, set far away\n"
            ]
        );
    }

    #[test]
    fn a_long_cell_stands_alone_where_the_page_is_narrow() {
        assert_eq!(
            drawn(34),
            [
                "law\n  met     protein            16.84\n",
                "targets\n  MISSED  calcium / available-phosphorus\n                               \
                 5.2\n          at least six, set far\n          away\n"
            ]
        );
    }
}
