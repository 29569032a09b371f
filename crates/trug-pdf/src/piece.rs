//! A part of a page: its height, and its ink. Pieces are stacked, set beside each other, and cut where a page ends.

use crate::picture::Drawing;
use crate::tags::Tag;
use crate::text::Paragraph;
use std::rc::Rc;

/// A part of a page. Coordinates are points from its upper left corner.
#[derive(Clone, Default)]
pub(crate) struct Piece {
    pub(crate) height: f32,
    pub(crate) ink: Vec<Ink>,
}

/// What is put on the paper.
#[derive(Clone)]
pub(crate) enum Ink {
    /// One line of a paragraph whose upper left corner is at `x`, `y`.
    Line {
        paragraph: Rc<Paragraph>,
        line: usize,
        x: f32,
        y: f32,
        /// Upper and lower edge of the line.
        top: f32,
        bottom: f32,
        shade: Shade,
        tag: Option<Tag>,
    },
    /// A straight line.
    Rule {
        from: (f32, f32),
        to: (f32, f32),
        width: f32,
    },
    /// A rectangle.
    Frame {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        look: Look,
    },
    /// The picture.
    Drawing {
        drawing: Rc<Drawing>,
        x: f32,
        y: f32,
        tag: Tag,
    },
}

/// How dark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shade {
    Black,
    White,
    Light,
}

/// How a rectangle looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Look {
    /// Its edge, so wide.
    Edge(f32),
    /// Its edge in dashes.
    Dashed(f32),
    /// Filled.
    Filled(Shade),
}

impl Piece {
    pub(crate) fn new() -> Piece {
        Piece::default()
    }

    /// Free space.
    pub(crate) fn space(height: f32) -> Piece {
        Piece {
            height,
            ink: Vec::new(),
        }
    }

    /// A paragraph alone.
    pub(crate) fn paragraph(paragraph: &Rc<Paragraph>, x: f32, tag: Option<Tag>) -> Piece {
        let mut piece = Piece::space(paragraph.height());
        piece.text(paragraph, x, 0.0, Shade::Black, tag);
        piece
    }

    /// Puts a paragraph at a place.
    pub(crate) fn text(
        &mut self,
        paragraph: &Rc<Paragraph>,
        x: f32,
        y: f32,
        shade: Shade,
        tag: Option<Tag>,
    ) {
        for (line, (top, bottom)) in paragraph.lines().enumerate() {
            self.ink.push(Ink::Line {
                paragraph: Rc::clone(paragraph),
                line,
                x,
                y,
                top: y + top,
                bottom: y + bottom,
                shade,
                tag,
            });
        }
    }

    /// Puts a line from left to right.
    pub(crate) fn rule(&mut self, x: f32, y: f32, length: f32, width: f32) {
        self.ink.push(Ink::Rule {
            from: (x, y),
            to: (x + length, y),
            width,
        });
    }

    /// Puts a rectangle before what there is, so that text stands on it.
    pub(crate) fn frame_behind(&mut self, x: f32, width: f32, look: Look) {
        let frame = Ink::Frame {
            x,
            y: 0.0,
            width,
            height: self.height,
            look,
        };
        self.ink.insert(0, frame);
    }

    /// Puts a rectangle.
    pub(crate) fn frame(&mut self, x: f32, y: f32, width: f32, height: f32, look: Look) {
        self.ink.push(Ink::Frame {
            x,
            y,
            width,
            height,
            look,
        });
    }

    /// Adds another under what there is.
    pub(crate) fn below(&mut self, other: Piece) {
        let down = self.height;
        self.ink
            .extend(other.ink.into_iter().map(|ink| ink.moved(0.0, down)));
        self.height += other.height;
    }

    /// Adds another at a place of its own, beside what there is.
    pub(crate) fn beside(&mut self, other: Piece, x: f32, y: f32) {
        let height = y + other.height;
        self.ink
            .extend(other.ink.into_iter().map(|ink| ink.moved(x, y)));
        self.height = self.height.max(height);
    }

    /// What ends above the height, and what does not, moved up to begin at its top.
    pub(crate) fn cut(self, at: f32) -> (Piece, Piece) {
        let stays = |ink: &Ink| ink.extent().1 <= at + 0.01;
        let tops = self.ink.iter().filter(|ink| ink.is_whole() && !stays(ink));
        let rest_top = tops.map(|ink| ink.extent().0).fold(at, f32::min);
        let mut first = Piece::space(at);
        let mut rest = Piece::space(self.height - rest_top);
        for ink in self.ink {
            if stays(&ink) {
                first.ink.push(ink);
            } else if ink.is_whole() {
                rest.ink.push(ink.moved(0.0, -rest_top));
            } else {
                let (above, below) = ink.divided(at, rest_top);
                first.ink.extend(above);
                rest.ink.extend(below);
            }
        }
        (first, rest)
    }

    /// Something in it is more than a frame or a rule.
    pub(crate) fn says_something(&self) -> bool {
        self.ink.iter().any(Ink::is_whole)
    }
}

impl Ink {
    /// Upper and lower edge.
    pub(crate) fn extent(&self) -> (f32, f32) {
        match self {
            Ink::Line { top, bottom, .. } => (*top, *bottom),
            Ink::Rule { from, to, .. } => (from.1.min(to.1), from.1.max(to.1)),
            Ink::Frame { y, height, .. } => (*y, y + height),
            Ink::Drawing { drawing, y, .. } => (*y, y + drawing.height),
        }
    }

    /// It cannot be divided between two pages.
    fn is_whole(&self) -> bool {
        matches!(self, Ink::Line { .. } | Ink::Drawing { .. })
    }

    /// The same elsewhere.
    pub(crate) fn moved(mut self, right: f32, down: f32) -> Ink {
        match &mut self {
            Ink::Line {
                x, y, top, bottom, ..
            } => {
                *x += right;
                *y += down;
                *top += down;
                *bottom += down;
            }
            Ink::Rule { from, to, .. } => {
                *from = (from.0 + right, from.1 + down);
                *to = (to.0 + right, to.1 + down);
            }
            Ink::Frame { x, y, .. } | Ink::Drawing { x, y, .. } => {
                *x += right;
                *y += down;
            }
        }
        self
    }

    /// A frame or rule on two pages: above the cut, and what is left of it below `rest_top`.
    fn divided(self, at: f32, rest_top: f32) -> (Option<Ink>, Option<Ink>) {
        let Ink::Frame {
            x,
            y,
            width,
            height,
            look,
        } = self
        else {
            let (top, _) = self.extent();
            let rest = self.moved(0.0, -rest_top.min(top));
            return (None, Some(rest));
        };
        let above = (y < at).then(|| Ink::Frame {
            x,
            y,
            width,
            height: at - y,
            look,
        });
        let from = (y - rest_top).max(0.0);
        let below = Ink::Frame {
            x,
            y: from,
            width,
            height: (y + height - rest_top - from).max(0.0),
            look,
        };
        (above, Some(below))
    }
}
