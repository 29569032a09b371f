//! Draws sheets as PDF without a browser: fonts embedded, the same bytes on every run.
//!
//! `fonts` and `text` set paragraphs; `piece` is a part of a page with its ink; the files after it make the parts of
//! a sheet into pieces; `sheet` puts them together as roomy as one page allows; `write` puts ink on pages.

mod clean;
mod fonts;
mod text;

mod piece;
mod table;
mod tags;

mod form;

mod facts;
mod head;

mod weighing;

mod steps;

mod picture;

mod doses;
mod label;
mod lists;

mod flow;
mod parts;

mod day;
mod sheet;

mod pen;
mod write;

use trug_report::sheet::Booklet;

/// A finished document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pdf {
    /// The file.
    pub bytes: Vec<u8>,
    /// Characters that no embedded font has, each once, in their order. They are drawn as a box.
    pub undrawable: Vec<char>,
}

/// What the sheets are printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

/// The document could not be written: a limit of the format was met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unwritable {
    /// What the writer of the format said.
    pub why: String,
}

impl std::fmt::Display for Unwritable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the PDF could not be written: {}", self.why)
    }
}

impl std::error::Error for Unwritable {}

/// Draws every sheet of the booklet, and the order of the day before them where there is one.
pub fn pdf(booklet: &Booklet, paper: Paper) -> Result<Pdf, Unwritable> {
    let mut setter = text::Setter::new();
    let size = paper.size();
    let mut sections = Vec::new();
    if let Some(day) = &booklet.day {
        sections.push(day::day(&mut setter, booklet, day, size));
    }
    let mut near = sheet::Fit::default();
    for sheet in &booklet.sheets {
        let (section, fitting) = sheet::sheet(&mut setter, sheet, size, near);
        sections.push(section);
        near = fitting;
    }
    let bytes = write::document(&mut setter, booklet, size, &sections)?;
    let undrawable = setter.undrawable();
    Ok(Pdf { bytes, undrawable })
}
