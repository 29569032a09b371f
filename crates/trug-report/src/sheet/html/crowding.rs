//! How close a sheet is set in print: as large as one side allows, and never below what is read at arm's length.

use super::Sheet;
use crate::sheet::picture::Picture;
use crate::sheet::{Doses, Section};

/// How close the print is set.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Crowding {
    /// Room to spare: large letters, the whole column of totals.
    Roomy,
    /// One side without waste.
    Close,
    /// One side with the least letters: rows of 10 points, the rest of 7.5.
    Tight,
}

/// Heights in tenths of a point, measured from the print of a sheet; the tests in a browser hold the sides to them.
struct Setting {
    crowding: Crowding,
    /// The title, the facts and the headings.
    fixed: usize,
    row: usize,
    block: usize,
    note: usize,
    step_line: usize,
    step_letters: usize,
    small_line: usize,
    has_totals: bool,
}

const SETTINGS: [Setting; 3] = [
    Setting {
        crowding: Crowding::Roomy,
        fixed: 780,
        row: 210,
        block: 165,
        note: 115,
        step_line: 120,
        step_letters: 62,
        small_line: 100,
        has_totals: true,
    },
    Setting {
        crowding: Crowding::Close,
        fixed: 700,
        row: 160,
        block: 140,
        note: 105,
        step_line: 110,
        step_letters: 68,
        small_line: 100,
        has_totals: false,
    },
    Setting {
        crowding: Crowding::Tight,
        fixed: 560,
        row: 115,
        block: 5,
        note: 87,
        step_line: 81,
        step_letters: 88,
        small_line: 83,
        has_totals: false,
    },
];

/// What is inside the margins of Letter, the lower of the two papers: 259 mm.
const SIDE: usize = 7340;

/// Beside the steps a picture is so wide, in points.
const BESIDE: usize = 225;
/// No picture is lower in print.
const LEAST_PICTURE: usize = 1100;
/// The letters of a picture are of 8 to 10 points; at eight tenths they are still read.
const LEAST_SCALE: (usize, usize) = (8, 10);

/// Letters of small print on a line as wide as the paper.
const WIDE: usize = 135;

impl Crowding {
    /// The largest setting that fits one side. What cannot fit is set to be read, on several sides.
    pub(super) fn of(sheet: &Sheet) -> Self {
        for setting in &SETTINGS {
            // What may just fit is tried, since A4 is higher.
            let side = match setting.crowding {
                Self::Tight => SIDE + SIDE / 10,
                Self::Roomy | Self::Close => SIDE,
            };
            if setting.height(sheet) <= side {
                return setting.crowding;
            }
        }
        Self::Close
    }

    /// Its class in the style.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Roomy => "roomy",
            Self::Close => "close",
            Self::Tight => "tight",
        }
    }

    /// The steps leave room beside the picture, so that they can be set larger.
    pub(super) fn has_long_picture(self, sheet: &Sheet) -> bool {
        let setting = SETTINGS.iter().find(|setting| setting.crowding == self);
        setting.is_some_and(|setting| {
            let left = SIDE.saturating_sub(setting.height(sheet));
            5 * (setting.steps(sheet).max(setting.beside(sheet)) + left) > 7 * setting.steps(sheet)
        })
    }
}

impl Setting {
    /// About how high the sheet would be.
    fn height(&self, sheet: &Sheet) -> usize {
        let draft = if sheet.draft.is_some() { 250 } else { 0 };
        let sections = [&sheet.beware, &sheet.found];
        let sections = sections.into_iter().flatten().map(lines_of_section);
        let doses = sheet.doses.as_ref().map_or(0, lines_of_doses);
        let last = doses.max(lines_of_label(sheet));
        self.fixed
            + draft
            + self.table(sheet)
            + self.steps(sheet).max(self.beside(sheet))
            + (sections.sum::<usize>() + last) * self.small_line
    }

    fn table(&self, sheet: &Sheet) -> usize {
        let mut height = 2 * self.row;
        for block in &sheet.weigh.blocks {
            height += self.block + block.rows.len() * self.row;
            for row in &block.rows {
                let notes: Vec<&str> = row
                    .loads
                    .iter()
                    .chain(&row.cautions)
                    .map(String::as_str)
                    .collect();
                if !notes.is_empty() {
                    height += lines(&notes.join(" ! "), 105) * self.note;
                }
                // A long name is set on two lines.
                height += (lines(&row.what, 40) - 1) * self.row;
            }
        }
        height
    }

    fn steps(&self, sheet: &Sheet) -> usize {
        let steps = sheet.mix.steps.iter();
        let texts = steps.map(|step| {
            let output = step.output.as_ref().map_or(0, |output| output.len() + 3);
            (step.text.chars().count() + output)
                .div_ceil(self.step_letters)
                .max(1)
        });
        texts.sum::<usize>() * self.step_line
    }

    fn beside(&self, sheet: &Sheet) -> usize {
        let totals = &sheet.totals;
        let parts: usize = totals.in_parts.iter().map(|line| lines(line, 55)).sum();
        let column = if self.has_totals {
            totals.rows.len() + 2
        } else {
            1
        };
        // One side comes before the picture: all that it says stands in the table and in the steps.
        let picture = match self.crowding {
            Crowding::Tight => LEAST_PICTURE,
            Crowding::Roomy | Crowding::Close => picture_height(&sheet.picture),
        };
        picture + (parts + column) * self.small_line
    }
}

/// The height a picture is read at.
fn picture_height(picture: &Picture) -> usize {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let (least, whole) = LEAST_SCALE;
    let high = 10 * height * least / whole;
    if width * least / whole > BESIDE {
        10 * height * BESIDE / width.max(1)
    } else {
        high
    }
}

fn lines_of_section(section: &Section) -> usize {
    let lines = section.lines.iter().flat_map(|line| line.lines());
    lines.map(|line| self::lines(line, WIDE)).sum::<usize>() + 1
}

/// What is only aimed at stands in two columns.
fn lines_of_doses(doses: &Doses) -> usize {
    let (can_hurt, aims): (Vec<_>, Vec<_>) = doses.rows.iter().partition(|row| row.can_hurt);
    let can_hurt = can_hurt.iter().map(|row| lines(&row.what, 36));
    let columns = if has_many_aims(doses) { 2 } else { 1 };
    can_hurt.sum::<usize>() + aims.len().div_ceil(columns) + 1 + columns
}

/// So many targets stand in two columns, and without how far they can be off.
pub(super) fn has_many_aims(doses: &Doses) -> bool {
    doses.rows.iter().filter(|row| !row.can_hurt).count() > 6
}

fn lines_of_label(sheet: &Sheet) -> usize {
    let label = &sheet.label;
    let facts = label
        .facts
        .iter()
        .map(|fact| format!("{} {}", fact.what, fact.value));
    let texts = facts
        .chain(label.lines.iter().cloned())
        .chain([sheet.defers.clone()]);
    texts.map(|text| lines(&text, 34)).sum::<usize>() + 3
}

fn lines(text: &str, letters: usize) -> usize {
    text.chars().count().div_ceil(letters).max(1)
}
