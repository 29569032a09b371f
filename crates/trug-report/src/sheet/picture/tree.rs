//! Where everything stands: each step above the one that uses it, branches side by side, every arrow upright.
//!
//! A branch is laid out in a box of its own, so that nothing of two branches can meet.

use super::letters::width_of;
use super::stack::Stack;

/// Height of the letters of a step's name and vessel.
pub(super) const SMALL: u32 = 8;
/// Height of the letters of what comes out of a step.
pub(super) const LARGE: u32 = 10;
/// From the bottom of a tub to the mass that leaves it.
pub(super) const STUB: u32 = 5;
/// The row of that mass.
pub(super) const MASS_ROW: u32 = 12;
/// From a mass to the tub it goes into.
pub(super) const ARROW: u32 = 14;
/// How far a tub's bottom is drawn in, or a heap runs out, on each side.
pub(super) const SLANT: u32 = 9;

/// Between a tub and what is weighed under it, into the next one.
const CLEARANCE: u32 = 4;
/// Between two branches.
const LANE_GAP: u32 = 8;
/// Between an arrow's mass and what is weighed beside it.
const ENTRY_GAP: u32 = 6;
/// From an arrow to the end of the rim it goes over.
const RIM: u32 = 12;
/// Between the text in a tub and its sides.
const PADDING: u32 = 3;

/// What stands in a tub, and what goes into it.
pub(super) struct Tub {
    /// `step 2`.
    pub(super) name: String,
    /// `1.7 kg`.
    pub(super) output: String,
    /// The vessel's name, in its lines.
    pub(super) vessel: Vec<String>,
    /// Mixed on the floor.
    pub(super) is_heap: bool,
    /// Ranks of the steps that go into it, which all stand before it, with how much.
    pub(super) branches: Vec<(usize, String)>,
    /// What is weighed into it.
    pub(super) stack: Stack,
}

impl Tub {
    pub(super) fn height(&self) -> u32 {
        let lines = u32::try_from(self.vessel.len()).unwrap_or(0);
        6 + (SMALL + 2) + (LARGE + 2) + lines * (SMALL + 1)
    }

    /// Room for every line between the sides, which come nearer from the rim of a tub to its bottom.
    fn width(&self) -> u32 {
        let vessel = self.vessel.iter().map(|line| (line, SMALL, false));
        let lines = [(&self.name, SMALL, false), (&self.output, LARGE, true)];
        let (height, mut bottom, mut width) = (self.height(), 4, 0);
        for (line, size, is_bold) in lines.into_iter().chain(vessel) {
            bottom += size + 2;
            let slant = if self.is_heap {
                0
            } else {
                (SLANT * bottom).div_ceil(height).min(SLANT)
            };
            width = width.max(width_of(line, size, is_bold) + 2 * (slant + PADDING));
        }
        width
    }

    /// From the lower edge of what goes in to the rim.
    pub(super) fn band(&self) -> u32 {
        if self.branches.is_empty() {
            return self.stack.height() + ARROW;
        }
        (STUB + MASS_ROW).max(CLEARANCE + self.stack.height()) + ARROW
    }
}

/// The box of a step and all that flows into it. Lengths are from its left side.
#[derive(Clone, Default)]
pub(super) struct Lane {
    pub(super) width: i64,
    pub(super) height: u32,
    /// Where its output leaves.
    pub(super) axis: i64,
    /// The rim of the tub; a heap runs out beyond it.
    pub(super) rim: (i64, i64),
    /// Where the boxes of the steps that go into it begin.
    pub(super) branches: Vec<i64>,
    /// Where the stack begins.
    pub(super) stack: i64,
}

/// The boxes of all steps; each step's branches stand before it.
pub(super) fn lanes(tubs: &[Tub]) -> Vec<Lane> {
    let mut lanes: Vec<Lane> = Vec::with_capacity(tubs.len());
    for tub in tubs {
        let lane = lane(tub, &lanes);
        lanes.push(lane);
    }
    lanes
}

fn lane(tub: &Tub, before: &[Lane]) -> Lane {
    let mut entries: Vec<i64> = Vec::new();
    let mut branches = Vec::new();
    let mut next = 0;
    let mut height = 0;
    let mut stack = 0;
    for (rank, mass) in &tub.branches {
        let Some(branch) = before.get(*rank) else {
            continue;
        };
        let axis = next + branch.axis;
        entries.push(axis);
        branches.push(next);
        next += branch.width + i64::from(LANE_GAP);
        height = height.max(branch.height);
        stack = axis + half(mass) + i64::from(ENTRY_GAP);
    }
    let branches_end = next - i64::from(LANE_GAP);
    if !tub.stack.is_empty() {
        entries.push(stack + i64::from(tub.stack.width() / 2));
    }
    let (axis, rim) = rim(tub, &entries, branches.len());
    // A tub's own box also holds the mass that leaves it, and a heap's the slopes.
    let out = if tub.is_heap { i64::from(SLANT) } else { 0 };
    let leaves = half(&tub.output);
    let stack_end = stack + i64::from(tub.stack.width());
    let left = (rim.0 - out).min(axis - leaves).min(0);
    let right = (rim.1 + out)
        .max(axis + leaves)
        .max(stack_end)
        .max(branches_end);
    Lane {
        width: right - left,
        height: height + tub.band() + tub.height(),
        axis: axis - left,
        rim: (rim.0 - left, rim.1 - left),
        branches: branches.iter().map(|branch| branch - left).collect(),
        stack: stack - left,
    }
}

/// Where a tub's output leaves, and its rim: under all that goes in, and wide enough for its text.
fn rim(tub: &Tub, entries: &[i64], n_branches: usize) -> (i64, (i64, i64)) {
    let width = i64::from(tub.width());
    let first = entries.first().copied().unwrap_or(0);
    let last = entries.last().copied().unwrap_or(0);
    if n_branches == 1 {
        // One mix that grows goes straight down.
        let left = first - width / 2;
        return (first, (left, (left + width).max(last + i64::from(RIM))));
    }
    let middle = i64::midpoint(first, last);
    let half = (width / 2).max(last + i64::from(RIM) - middle);
    (middle, (middle - half, middle + half))
}

fn half(mass: &str) -> i64 {
    i64::from(width_of(mass, SMALL, false).div_ceil(2))
}
