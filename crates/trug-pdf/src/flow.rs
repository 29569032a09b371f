//! Pieces put on pages one under the other; a page that is full begins another, with its title and columns again.

use crate::piece::{Ink, Piece};

/// The size of the paper, in points.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    pub(crate) width: f32,
    pub(crate) height: f32,
}

impl crate::Paper {
    /// ISO 216 and ANSI/ASME Y14.1, in points of 1/72 inch.
    pub(crate) fn size(self) -> Size {
        match self {
            crate::Paper::A4 => Size {
                width: 595.276,
                height: 841.89,
            },
            crate::Paper::Letter => Size {
                width: 612.0,
                height: 792.0,
            },
        }
    }
}

/// One side of paper.
pub(crate) struct Page {
    pub(crate) ink: Vec<Ink>,
    /// Stands large and light behind all else.
    pub(crate) behind: Option<String>,
    /// What a list of contents calls it, where it is in one.
    pub(crate) entry: Option<String>,
}

/// Pages that belong together, with what their text is.
pub(crate) struct Section {
    pub(crate) pages: Vec<Page>,
    pub(crate) tags: crate::tags::Tags,
}

/// Less than this at the foot of a page is not worth beginning something that the next page can hold whole.
const SCRAP: f32 = 200.0;

/// Where pieces go.
pub(crate) struct Flow {
    left: f32,
    top: f32,
    bottom: f32,
    /// Down to where the page is full.
    at: f32,
    /// What each further page begins with.
    title: Piece,
    /// What the columns of the table are, while one is being drawn.
    columns: Option<Piece>,
    pages: Vec<Vec<Ink>>,
    /// Nothing but title and columns is on the page yet.
    is_fresh: bool,
}

impl Flow {
    pub(crate) fn new(size: Size, side: f32, edge: f32, title: Piece) -> Flow {
        Flow {
            left: side,
            top: edge,
            bottom: size.height - edge,
            at: edge,
            title,
            columns: None,
            pages: vec![Vec::new()],
            is_fresh: true,
        }
    }

    /// While a table is being drawn, its columns stand at the top of each further page.
    pub(crate) fn columns(&mut self, columns: Option<Piece>) {
        self.columns = columns;
    }

    /// Free space, unless the page begins here.
    pub(crate) fn space(&mut self, height: f32) {
        if !self.is_fresh {
            self.at += height;
        }
    }

    /// Puts a piece that stays on one page if any page can hold it.
    pub(crate) fn whole(&mut self, piece: Piece) {
        if self.at + piece.height > self.bottom && !self.is_fresh {
            self.turn();
        }
        self.divided(piece);
    }

    /// Puts a piece that may begin on this page and end on the next.
    pub(crate) fn divided(&mut self, piece: Piece) {
        let mut piece = piece;
        let fits_alone = piece.height <= self.bottom - self.top - self.head_height();
        if self.at + piece.height > self.bottom && fits_alone && self.bottom - self.at < SCRAP {
            self.turn();
        }
        while self.at + piece.height > self.bottom + 0.01 {
            let (first, rest) = piece.clone().cut(self.bottom - self.at);
            if first.says_something() {
                self.put(first);
                if !rest.says_something() {
                    return;
                }
                self.turn();
                piece = rest;
            } else if self.is_fresh {
                // Higher than a page and not to be cut: it reaches into the margin.
                break;
            } else {
                self.turn();
            }
        }
        self.put(piece);
    }

    /// Puts a piece at the foot of the page.
    pub(crate) fn foot(&mut self, piece: Piece) {
        if self.at + piece.height <= self.bottom {
            self.at = self.bottom - piece.height;
        }
        self.whole(piece);
    }

    pub(crate) fn pages(self) -> Vec<Vec<Ink>> {
        self.pages
    }

    fn head_height(&self) -> f32 {
        let columns = self.columns.as_ref().map_or(0.0, |columns| columns.height);
        self.title.height + columns
    }

    fn put(&mut self, piece: Piece) {
        let (left, down) = (self.left, self.at);
        if let Some(page) = self.pages.last_mut() {
            page.extend(piece.ink.into_iter().map(|ink| ink.moved(left, down)));
        }
        self.at += piece.height;
        self.is_fresh = false;
    }

    fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.at = self.top;
        self.put(self.title.clone());
        if let Some(columns) = self.columns.clone() {
            self.put(columns);
        }
        self.is_fresh = true;
    }
}
