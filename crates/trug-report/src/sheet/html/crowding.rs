//! How much a sheet has to say, so that few rows are set large and many still fit on one side.

use super::Sheet;

/// How close the print is set.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Crowding {
    /// Room to spare: large letters, headings of their own, all totals.
    Roomy,
    /// One side, without waste.
    Close,
    /// One side, with the least letters that are still read at arm's length.
    Tight,
}

/// About how many letters of the small print fill a line beside the picture.
const LETTERS_A_LINE: usize = 80;

impl Crowding {
    /// Judged by about how many lines of table and text there are; the printed tests hold the limits to it.
    pub(super) fn of(sheet: &Sheet) -> Self {
        let mut lines = 0;
        for block in &sheet.weigh.blocks {
            lines += 1 + block.rows.len();
            for row in &block.rows {
                lines += row.cautions.iter().map(|caution| lines_of(caution, 120)).sum::<usize>();
                lines += usize::from(row.loads.is_some());
            }
        }
        for step in &sheet.mix.steps {
            lines += lines_of(&step.text, LETTERS_A_LINE);
        }
        for section in [&sheet.beware, &sheet.found].into_iter().flatten() {
            lines += section.lines.iter().map(|line| lines_of(line, 120)).sum::<usize>();
        }
        lines += sheet.doses.as_ref().map_or(0, |doses| doses.rows.len());
        match lines {
            0..=38 => Self::Roomy,
            39..=56 => Self::Close,
            _ => Self::Tight,
        }
    }

    /// Its class in the style.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Roomy => "roomy",
            Self::Close => "close",
            Self::Tight => "tight",
        }
    }
}

fn lines_of(text: &str, letters: usize) -> usize {
    text.chars().count().div_ceil(letters).max(1)
}
