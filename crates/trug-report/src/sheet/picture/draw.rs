//! A batch of a plan to its picture: every step a tub or a heap, what is weighed above it, the whole batch at the bottom.

use std::collections::BTreeSet;

use trug_model::Q;
use trug_plan::plan::{Batch, InputSource, Plan, Step};

use super::letters::in_lines;
use super::stack::Stack;
use super::tree::{ARROW, LARGE, Lane, SLANT, SMALL, STUB, Tub, lanes};
use super::{Anchor, Picture, Point, Shape};

/// Free ground on each side.
const MARGIN: u32 = 4;
/// As wide as a small phone shows, and a column of a page: 88 mm.
const WANTED_WIDTH: u32 = 250;
/// Weighings above each other: few where there is room, more where that makes a picture fit.
const ROWS: std::ops::RangeInclusive<usize> = 5..=10;
/// A vessel's name has so much room, in so many lines.
const VESSEL_WIDE: u32 = 72;
const VESSEL_LINES: usize = 2;

/// Every word of a picture, in the language of the sheet.
pub struct PictureWords<'a> {
    /// What it is a picture of.
    pub title: String,
    /// The same in sentences.
    pub description: String,
    /// What each step of the batch is called: `step 1`; in their order.
    pub steps: Vec<String>,
    /// What stands for the floor.
    pub floor: String,
    /// A mass as the sheet writes it.
    pub mass: &'a dyn Fn(&Q) -> String,
}

/// The dilution of a batch. Weighings have the numbers of their rows in the weighing table, counted from 1.
#[must_use]
pub fn picture(plan: &Plan, batch: &Batch, words: &PictureWords<'_>) -> Picture {
    let drawn = |rows: usize| {
        let tubs = tubs(plan, batch, words, rows);
        let lanes = lanes(&tubs);
        let last = last_ones(&tubs);
        let width = total_width(&lanes, &last);
        (width, tubs, lanes, last)
    };
    let mut best = drawn(*ROWS.start());
    for rows in ROWS.skip(1) {
        if best.0 <= WANTED_WIDTH {
            break;
        }
        let other = drawn(rows);
        if other.0 < best.0 {
            best = other;
        }
    }
    let (width, tubs, lanes, last) = best;
    let height = last.iter().filter_map(|rank| lanes.get(*rank));
    let height = height.map(|lane| lane.height).max().unwrap_or(0) + 2 * MARGIN;
    Picture {
        width,
        height,
        title: words.title.clone(),
        description: words.description.clone(),
        shapes: shapes(&tubs, &lanes, &last, height - MARGIN),
    }
}

/// Steps that no other uses: the whole batch, and what a plan with errors leaves standing.
fn last_ones(tubs: &[Tub]) -> Vec<usize> {
    let used: BTreeSet<usize> = tubs
        .iter()
        .flat_map(|tub| tub.branches.iter().map(|(rank, _)| *rank))
        .collect();
    (0..tubs.len())
        .filter(|rank| !used.contains(rank))
        .collect()
}

fn total_width(lanes: &[Lane], last: &[usize]) -> u32 {
    let widths = last.iter().filter_map(|rank| lanes.get(*rank));
    let total: i64 = widths.map(|lane| lane.width + i64::from(2 * MARGIN)).sum();
    points(total)
}

fn points(length: i64) -> u32 {
    u32::try_from(length.max(0)).unwrap_or(u32::MAX)
}

fn tubs(plan: &Plan, batch: &Batch, words: &PictureWords<'_>, rows: usize) -> Vec<Tub> {
    let mut used = BTreeSet::new();
    let steps = batch.steps.iter().enumerate();
    steps
        .map(|(rank, step)| {
            let (vessel, is_heap) =
                match plan.order.vessels.iter().find(|it| it.name == step.vessel) {
                    Some(vessel) => (vessel.name.as_str(), false),
                    None => (words.floor.as_str(), true),
                };
            Tub {
                name: words.steps.get(rank).cloned().unwrap_or_default(),
                output: (words.mass)(&step.output_g),
                vessel: in_lines(vessel, SMALL, VESSEL_WIDE, VESSEL_LINES),
                is_heap,
                branches: branches(batch, rank, step, words, &mut used),
                stack: Stack::new(weighed(batch, step, words), rows),
            }
        })
        .collect()
}

/// The earlier steps that go into this one, in the order of work; each goes into one only.
fn branches(
    batch: &Batch,
    rank: usize,
    step: &Step,
    words: &PictureWords<'_>,
    used: &mut BTreeSet<usize>,
) -> Vec<(usize, String)> {
    let mut branches: Vec<(usize, String)> = Vec::new();
    for input in &step.inputs {
        let InputSource::Step(id) = &input.source else {
            continue;
        };
        let earlier = batch.steps.iter().take(rank).position(|it| it.id == *id);
        if let Some(earlier) = earlier.filter(|earlier| used.insert(*earlier)) {
            branches.push((earlier, (words.mass)(&input.mass_g)));
        }
    }
    branches.sort_by_key(|(earlier, _)| *earlier);
    branches
}

/// The weighings that go into a step: their numbers and masses.
fn weighed(batch: &Batch, step: &Step, words: &PictureWords<'_>) -> Vec<(String, String)> {
    let inputs = step.inputs.iter();
    inputs
        .filter_map(|input| {
            let InputSource::Weighing(id) = &input.source else {
                return None;
            };
            let rank = batch.weighings.iter().position(|it| it.id == *id)?;
            Some(((rank + 1).to_string(), (words.mass)(&input.mass_g)))
        })
        .collect()
}

/// From the bottom up: a step's branches are placed when the step is.
fn shapes(tubs: &[Tub], lanes: &[Lane], last: &[usize], ground: u32) -> Vec<Shape> {
    let mut corners: Vec<Option<(i64, u32)>> = vec![None; tubs.len()];
    let mut left = i64::from(MARGIN);
    for rank in last {
        if let (Some(corner), Some(lane)) = (corners.get_mut(*rank), lanes.get(*rank)) {
            *corner = Some((left, ground));
            left += lane.width + i64::from(2 * MARGIN);
        }
    }
    let mut shapes = Vec::new();
    for (rank, (tub, lane)) in tubs.iter().zip(lanes).enumerate().rev() {
        let Some(Some((left, bottom))) = corners.get(rank).copied() else {
            continue;
        };
        let rim = bottom.saturating_sub(tub.height());
        draw_tub(tub, lane, left, bottom, &mut shapes);
        draw_stack(tub, lane, left, rim, &mut shapes);
        for ((branch, mass), begin) in tub.branches.iter().zip(&lane.branches) {
            let above = rim.saturating_sub(tub.band());
            if let Some(corner) = corners.get_mut(*branch) {
                *corner = Some((left + begin, above));
            }
            if let Some(branch) = lanes.get(*branch) {
                draw_flow(
                    points(left + begin + branch.axis),
                    above,
                    rim,
                    mass,
                    &mut shapes,
                );
            }
        }
    }
    shapes
}

/// A tub, wider above; or a heap, wider below.
fn draw_tub(tub: &Tub, lane: &Lane, left: i64, bottom: u32, shapes: &mut Vec<Shape>) {
    let (from, to) = (points(left + lane.rim.0), points(left + lane.rim.1));
    let top = bottom.saturating_sub(tub.height());
    let point = |x: u32, y: u32| Point { x, y };
    let outline = if tub.is_heap {
        let third = tub.height() / 3;
        vec![
            point(from, top),
            point(to, top),
            point(to + 2 * SLANT / 3, top + third),
            point(to + SLANT, bottom),
            point(from.saturating_sub(SLANT), bottom),
            point(from.saturating_sub(2 * SLANT / 3), top + third),
        ]
    } else {
        vec![
            point(from, top),
            point(to, top),
            point(to.saturating_sub(SLANT), bottom),
            point(from + SLANT, bottom),
        ]
    };
    shapes.push(Shape::Outline(outline));
    let middle = u32::midpoint(from, to);
    let mut base = top + 3;
    let mut line = |text: &str, size: u32, is_bold: bool, gap: u32| {
        base += size + gap;
        shapes.push(Shape::Text {
            at: point(middle, base.saturating_sub(gap)),
            anchor: Anchor::Middle,
            size,
            is_bold,
            text: text.to_owned(),
        });
    };
    line(&tub.name, SMALL, false, 2);
    line(&tub.output, LARGE, true, 2);
    for vessel in &tub.vessel {
        line(vessel, SMALL, false, 1);
    }
}

fn draw_stack(tub: &Tub, lane: &Lane, left: i64, rim: u32, shapes: &mut Vec<Shape>) {
    if tub.stack.is_empty() {
        return;
    }
    let line = rim.saturating_sub(ARROW);
    let x = points(left + lane.stack);
    let corner = Point {
        x,
        y: line.saturating_sub(tub.stack.height()),
    };
    tub.stack.draw(corner, shapes);
    let x = x + tub.stack.width() / 2;
    shapes.push(Shape::Arrow(vec![
        Point { x, y: line },
        Point { x, y: rim },
    ]));
}

/// From a tub to the one that uses it, with the mass in between.
fn draw_flow(x: u32, above: u32, rim: u32, mass: &str, shapes: &mut Vec<Shape>) {
    let line = rim.saturating_sub(ARROW);
    let top = line.saturating_sub(SMALL + 3).max(above + STUB);
    shapes.push(Shape::Outline(vec![
        Point { x, y: above },
        Point { x, y: top },
    ]));
    shapes.push(Shape::Text {
        at: Point {
            x,
            y: line.saturating_sub(2),
        },
        anchor: Anchor::Middle,
        size: SMALL,
        is_bold: false,
        text: mass.to_owned(),
    });
    shapes.push(Shape::Arrow(vec![
        Point { x, y: line },
        Point { x, y: rim },
    ]));
}
