//! The dilution drawn: tubs, arrows and masses as plain shapes, for SVG and PDF alike. Black on white, no colour.

mod draw;
mod letters;
mod stack;
mod tree;

pub use draw::{PictureWords, picture};
pub use letters::width_of;

/// Shapes on a ground of `width` by `height`; the unit is the point (1/72 inch) at its natural size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// How wide, in points.
    pub width: u32,
    /// How high, in points.
    pub height: u32,
    /// What it is a picture of, in a few words.
    pub title: String,
    /// The same in sentences, for who cannot see it.
    pub description: String,
    /// Drawn in this order.
    pub shapes: Vec<Shape>,
}

/// One shape. Coordinates are points from the upper left corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A closed outline, filled white, with a line of 1 pt.
    Outline(Vec<Point>),
    /// An open line of 1 pt with an arrow head at its last point.
    Arrow(Vec<Point>),
    /// A circle with a line of 0.75 pt, filled white.
    Circle {
        /// Its middle.
        middle: Point,
        /// Its radius.
        radius: u32,
    },
    /// A line of text.
    Text {
        /// On the base line, at the anchor.
        at: Point,
        /// Which part of the text is there.
        anchor: Anchor,
        /// Height of the letters in points.
        size: u32,
        /// Set bold.
        is_bold: bool,
        /// What it says.
        text: String,
    },
}

/// A place in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Point {
    /// Points to the right.
    pub x: u32,
    /// Points down.
    pub y: u32,
}

/// Which part of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}
