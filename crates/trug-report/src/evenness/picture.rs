//! Values in their order as a chart: dots, a line through them, and levels they are held against.
//!
//! Black and white, drawn for the eye; every number of it also stands in words beside it.

use std::fmt::Write as _;

use maud::{Markup, PreEscaped, Render as _};

use super::trends::short;
use crate::page::text::Text;

/// Width of the drawing, and where the values begin and end in it: the words of a level stand to the right.
const WIDTH: i32 = 680;
const LEFT: i32 = 16;
const RIGHT: i32 = 470;
const HEIGHT: i32 = 240;
const TOP: i32 = 14;
const BOTTOM: i32 = 212;
/// From one line of words to the next.
const LINE: i32 = 14;
/// More numbers than this below the dots would run into each other.
const MOST_NUMBERS: usize = 24;
/// More values than this are a smear, and say nothing.
pub(super) const MOST_VALUES: usize = 400;

/// What is drawn.
pub(super) struct Chart<'a> {
    /// What is shown, for those who cannot see it.
    pub(super) title: &'a str,
    pub(super) points: &'a [Point],
    pub(super) levels: &'a [Level],
}

/// A value in its place.
pub(super) struct Point {
    pub(super) value: f64,
    /// Drawn as one that stands out.
    pub(super) stands_out: bool,
}

/// Something values are held against.
pub(super) struct Level {
    pub(super) value: f64,
    pub(super) says: String,
    /// How its line is broken; empty is unbroken.
    pub(super) dashes: &'static str,
}

impl Chart<'_> {
    /// The drawing; none where there are too few values or too many, or no scale holds them.
    pub(super) fn draw(&self) -> Option<Markup> {
        let is_drawable = (2..=MOST_VALUES).contains(&self.points.len());
        let scale = Scale::of(self).filter(|_| is_drawable)?;
        let mut shapes = String::new();
        push(
            &mut shapes,
            format_args!("<path d=\"M{LEFT} {BOTTOM}H{RIGHT}\" stroke=\"#000\"/>"),
        );
        self.draw_levels(&scale, &mut shapes);
        self.draw_points(&scale, &mut shapes);
        let title = Text(self.title).render().into_string();
        Some(PreEscaped(format!(
            "<svg class=\"chart\" role=\"img\" aria-label=\"{title}\" width=\"{WIDTH}\" height=\"{HEIGHT}\" \
             viewBox=\"0 0 {WIDTH} {HEIGHT}\" font-size=\"12\" direction=\"ltr\" fill=\"#000\">{shapes}</svg>"
        )))
    }

    fn draw_levels(&self, scale: &Scale, shapes: &mut String) {
        let mut levels: Vec<&Level> = self.levels.iter().collect();
        levels.sort_by(|a, b| b.value.total_cmp(&a.value));
        let mut free = TOP - LINE;
        for level in levels {
            let y = scale.at(level.value);
            // Words that would lie on others move down, and their line's end shows where they belong.
            let words = y.max(free + LINE);
            free = words;
            let dashes = if level.dashes.is_empty() {
                String::new()
            } else {
                format!(" stroke-dasharray=\"{}\"", level.dashes)
            };
            push(
                shapes,
                format_args!(
                    "<path d=\"M{LEFT} {y}H{RIGHT}L{} {words}\" fill=\"none\" stroke=\"#000\"{dashes}/>\
                     <text x=\"{}\" y=\"{}\">{}</text>",
                    RIGHT + 12,
                    RIGHT + 16,
                    words + 4,
                    Text(&level.says).render().into_string(),
                ),
            );
        }
    }

    fn draw_points(&self, scale: &Scale, shapes: &mut String) {
        let count = self.points.len();
        let mut line = String::new();
        let mut dots = String::new();
        let every = count.div_ceil(MOST_NUMBERS).max(1);
        for (rank, point) in self.points.iter().enumerate() {
            let (x, y) = (across(rank, count), scale.at(point.value));
            let letter = if rank == 0 { 'M' } else { 'L' };
            push(&mut line, format_args!("{letter}{x} {y}"));
            if point.stands_out {
                push(
                    &mut dots,
                    format_args!(
                        "<path d=\"M{} {y}L{x} {}L{} {y}L{x} {}Z\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>",
                        x - 7,
                        y - 7,
                        x + 7,
                        y + 7
                    ),
                );
            }
            push(
                &mut dots,
                format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"3\"/>"),
            );
            if rank % every == 0 {
                push(
                    &mut dots,
                    format_args!(
                        "<text x=\"{x}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
                        BOTTOM + 16,
                        rank + 1
                    ),
                );
            }
        }
        push(
            shapes,
            format_args!(
                "<path d=\"{line}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.75\"/>{dots}"
            ),
        );
    }
}

/// The middle of the place of one of `count` values.
fn across(rank: usize, count: usize) -> i32 {
    let whole = |number: usize| i32::try_from(number).unwrap_or(i32::MAX / 2000);
    let room = RIGHT - LEFT;
    LEFT + room * (2 * whole(rank) + 1) / (2 * whole(count.max(1)))
}

/// The values at the ends of the drawing.
struct Scale {
    from: f64,
    to: f64,
}

impl Scale {
    fn of(chart: &Chart<'_>) -> Option<Scale> {
        let points = chart.points.iter().map(|point| point.value);
        let levels = chart.levels.iter().map(|level| level.value);
        let all: Vec<f64> = points.chain(levels).collect();
        if !all.iter().all(|one| one.is_finite()) {
            return None;
        }
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let span = if most > least {
            most - least
        } else {
            most.abs().max(f64::MIN_POSITIVE)
        };
        let (from, to) = ((least - span / 20.0).max(0.0), most + span / 20.0);
        let scale = Scale { from, to };
        (scale.to.is_finite() && scale.from < scale.to).then_some(scale)
    }

    fn at(&self, value: f64) -> i32 {
        let part = (value - self.from) / (self.to - self.from);
        let y = f64::from(BOTTOM) - part * f64::from(BOTTOM - TOP);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "held between the ends of the drawing"
        )]
        let y = y.round().clamp(f64::from(TOP), f64::from(BOTTOM)) as i32;
        y
    }
}

/// A level with its value in words.
pub(super) fn level(value: f64, what: &str, unit: &str, dashes: &'static str) -> Level {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    Level {
        value,
        says: format!("{what} {}{unit}", short(value)),
        dashes,
    }
}

fn push(shapes: &mut String, shape: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = shapes.write_fmt(shape);
}
