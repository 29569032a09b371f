//! How large everything is set: from roomy to as tight as a tired worker can still read.

/// The number of levels.
pub(crate) const LEVELS: usize = SIZES + 6;

/// So many levels differ in the size of letters; the last ones only in that of the picture, which repeats the steps.
const SIZES: usize = 12;

/// The sizes of one level, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Form {
    /// From the edge of the paper, left and right.
    pub(crate) side: f32,
    /// From the edge of the paper, above and below.
    pub(crate) edge: f32,
    /// Between the parts of the sheet.
    pub(crate) gap: f32,
    pub(crate) title: f32,
    pub(crate) fact: f32,
    /// The weighing rows: never under 10.
    pub(crate) row: f32,
    /// From one base line to the next, in letter heights, where no script needs more.
    pub(crate) leading: f32,
    /// Above and below the text of a row.
    pub(crate) pad: f32,
    pub(crate) caution: f32,
    pub(crate) step: f32,
    /// Headings of parts.
    pub(crate) heading: f32,
    /// Doses, findings, and other fine print: never under 7.
    pub(crate) note: f32,
    /// The smallest that the picture may be drawn, of its natural size: its small letters are of 8 points.
    pub(crate) picture: f32,
    /// Every total is listed, not only those of what is weighed in parts.
    pub(crate) lists_totals: bool,
    /// The parts under the table may be set in columns, wherever they are shortest.
    pub(crate) is_packed: bool,
    /// The headings of the blocks of the table stand beside them.
    pub(crate) has_side_headings: bool,
}

impl Form {
    /// The sizes of a level.
    pub(crate) fn level(level: usize) -> Form {
        let step = level.min(SIZES - 1);
        let further = level.min(LEVELS - 1) - step;
        let between = |roomy: f32, tight: f32| {
            let share = step as f32 / (SIZES - 1) as f32;
            // Quarters of a point: sizes that a printer's eye knows, and the same on every machine.
            ((roomy + (tight - roomy) * share) * 4.0).round() / 4.0
        };
        Form {
            side: between(34.0, 22.0),
            // The narrowest that printers can do is 5 mm.
            edge: if further > 1 {
                15.0
            } else {
                between(30.0, 20.0)
            },
            gap: between(10.0, 3.0),
            title: between(20.0, 13.0),
            fact: between(10.0, 8.0),
            row: between(12.0, 10.0),
            leading: if step > 9 { 1.1 } else { 1.2 },
            pad: between(3.0, 0.5),
            caution: between(10.5, 8.0),
            step: between(11.0, 8.0),
            heading: between(11.0, 8.0),
            note: between(9.0, 7.0),
            picture: 0.9 - 0.02 * step as f32 - 0.08 * further as f32,
            lists_totals: step < 6,
            is_packed: step > 5,
            has_side_headings: step > 8,
        }
    }
}
