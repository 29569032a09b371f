//! What is weighed into one step: numbers and masses in columns, standing on a line as on a pan.

use super::letters::width_of;
use super::{Anchor, Point, Shape};

/// Height of the letters.
pub(super) const SIZE: u32 = 9;
/// Height of the letters in a circle.
const NUMBER_SIZE: u32 = 8;
/// From one row to the next.
pub(super) const ROW: u32 = 16;
/// Between the circle and its mass.
const GAP: u32 = 3;
/// Between two columns.
const COLUMN_GAP: u32 = 8;

/// The weighings of one step.
pub(super) struct Stack {
    /// Each with its number in the weighing table.
    labels: Vec<(String, String)>,
    radius: u32,
    mass_wide: u32,
    rows: usize,
}

impl Stack {
    /// Columns of at most so many rows, as even as they can be.
    pub(super) fn new(labels: Vec<(String, String)>, most_rows: usize) -> Self {
        let columns = labels.len().div_ceil(most_rows.max(1)).max(1);
        let number_wide = widest(labels.iter().map(|(number, _)| number), NUMBER_SIZE);
        Stack {
            rows: labels.len().div_ceil(columns),
            radius: (number_wide.div_ceil(2) + 1).max(7),
            mass_wide: widest(labels.iter().map(|(_, mass)| mass), SIZE),
            labels,
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.labels.is_empty()
    }

    fn column_wide(&self) -> u32 {
        2 * self.radius + GAP + self.mass_wide
    }

    pub(super) fn width(&self) -> u32 {
        let columns = len(self.labels.len().div_ceil(self.rows.max(1)));
        columns * self.column_wide() + columns.saturating_sub(1) * COLUMN_GAP
    }

    pub(super) fn height(&self) -> u32 {
        len(self.rows) * self.row()
    }

    fn row(&self) -> u32 {
        ROW.max(2 * self.radius + 1)
    }

    /// The labels, with their upper left corner there; a short column stands on the line too.
    pub(super) fn draw(&self, corner: Point, shapes: &mut Vec<Shape>) {
        let line = corner.y + self.height();
        if self.is_empty() {
            return;
        }
        let end = Point {
            x: corner.x + self.width(),
            y: line,
        };
        shapes.push(Shape::Outline(vec![Point { y: line, ..corner }, end]));
        for (rank, column) in self.labels.chunks(self.rows.max(1)).enumerate() {
            let x = corner.x + len(rank) * (self.column_wide() + COLUMN_GAP);
            let top = line - len(column.len()) * self.row();
            for (row, label) in column.iter().enumerate() {
                let y = top + len(row) * self.row();
                self.draw_label(Point { x, y }, label, shapes);
            }
        }
    }

    fn draw_label(&self, corner: Point, label: &(String, String), shapes: &mut Vec<Shape>) {
        let middle = Point {
            x: corner.x + self.radius,
            y: corner.y + self.row() / 2,
        };
        shapes.push(Shape::Circle {
            middle,
            radius: self.radius,
        });
        shapes.push(Shape::Text {
            at: Point {
                y: middle.y + 3,
                ..middle
            },
            anchor: Anchor::Middle,
            size: NUMBER_SIZE,
            is_bold: false,
            text: label.0.clone(),
        });
        shapes.push(Shape::Text {
            at: Point {
                x: middle.x + self.radius + GAP,
                y: middle.y + 3,
            },
            anchor: Anchor::Start,
            size: SIZE,
            is_bold: false,
            text: label.1.clone(),
        });
    }
}

/// A count as a length.
pub(super) fn len(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn widest<'a>(texts: impl Iterator<Item = &'a String>, size: u32) -> u32 {
    texts
        .map(|text| width_of(text, size, false))
        .max()
        .unwrap_or(0)
}
