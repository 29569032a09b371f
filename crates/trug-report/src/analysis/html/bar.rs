//! A value against its bounds as a bar: drawn for the eye, while every number of it also stands in words beside it.
//!
//! Black and white: the allowed part is hatched, the value a diamond, the intervals lines. Positions on the drawing are
//! rounded to its points; nothing is read off them.

use std::fmt::Write as _;

use maud::{Markup, PreEscaped, html};
use trug_model::Q;

use crate::analysis::Interval;

/// Figures of the ends of a bar: more would not fit below it.
const FIGURES: usize = 4;

/// Width of the drawing, and where the scale begins and ends in it: an end's digits must fit beside the scale.
const WIDTH: i32 = 320;
const LEFT: i32 = 56;
const RIGHT: i32 = 264;
/// Height of the drawing, and the band in it.
const HEIGHT: i32 = 45;
const TOP: i32 = 15;
const BOTTOM: i32 = 31;
const MIDDLE: i32 = (TOP + BOTTOM) / 2;
/// From one line of the hatching to the next.
const HATCH: i32 = 5;

/// What is drawn.
pub(super) struct Bar<'a> {
    pub(super) value: Option<&'a Q>,
    pub(super) min: Option<&'a Q>,
    pub(super) max: Option<&'a Q>,
    pub(super) ceiling: Option<&'a Q>,
    pub(super) interval: Interval,
}

impl Bar<'_> {
    /// The drawing; none where there is nothing to hold a value against.
    pub(super) fn draw(&self) -> Option<Markup> {
        let scale = Scale::of(self)?;
        let mut shapes = self.band(&scale);
        if let Some(ends) = self.interval.portion {
            shapes.push_str(&whisker(&scale, ends, 1, 5));
        }
        if let Some(ends) = self.interval.batch {
            shapes.push_str(&whisker(&scale, ends, 3, 3));
        }
        if let Some(value) = self.value {
            shapes.push_str(&diamond(scale.at(value.to_f64())));
        }
        if let Some(ceiling) = self.ceiling {
            shapes.push_str(&wall(scale.at(ceiling.to_f64()), ceiling));
        }
        Some(drawing(WIDTH, HEIGHT, &shapes))
    }

    /// What is allowed, open on the side that has no end, with the ends' digits below, outside of it.
    fn band(&self, scale: &Scale) -> String {
        let most = [self.max, self.ceiling].into_iter().flatten().min();
        let at = |end: &Q| scale.at(end.to_f64());
        let (from, to) = (self.min.map_or(LEFT, at), most.map_or(RIGHT, at));
        let mut shapes =
            format!("<path d=\"M{LEFT} {BOTTOM}H{RIGHT}\" stroke=\"#000\" stroke-width=\"1\"/>");
        if self.min.is_none() && most.is_none() {
            return shapes;
        }
        shapes.push_str(&hatched(from, to));
        for (end, anchor) in [(self.min, "end"), (self.max, "start")] {
            let Some(end) = end else { continue };
            let x = at(end);
            push(
                &mut shapes,
                format_args!(
                    "<path d=\"M{x} {TOP}V{}\" stroke=\"#000\" stroke-width=\"1.5\"/>\
                 <text x=\"{x}\" y=\"{}\" text-anchor=\"{anchor}\">{}</text>",
                    BOTTOM + 3,
                    HEIGHT - 2,
                    end.readable(FIGURES),
                ),
            );
        }
        shapes
    }
}

/// The values at the ends of the scale.
struct Scale {
    from: f64,
    to: f64,
}

impl Scale {
    /// Wide enough for everything that is drawn, with room beside it; none where there is no bound, or no number.
    fn of(bar: &Bar<'_>) -> Option<Scale> {
        let bounds = [bar.min, bar.max, bar.ceiling];
        let bounds: Vec<f64> = bounds.into_iter().flatten().map(Q::to_f64).collect();
        let ends = [bar.interval.batch, bar.interval.portion];
        let ends = ends
            .into_iter()
            .flatten()
            .flat_map(|(low, high)| [low, high]);
        let value = bar.value.map(Q::to_f64);
        let all: Vec<f64> = bounds.iter().copied().chain(value).chain(ends).collect();
        if bounds.is_empty() || !all.iter().all(|one| one.is_finite()) {
            return None;
        }
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        // Numbers that are nearly alike are not drawn as if they were far apart.
        let size = least.abs().max(most.abs());
        let span = if size > 0.0 {
            (most - least).max(size / 50.0)
        } else {
            1.0
        };
        let room = span / 3.0;
        let from = if least < 0.0 {
            least - room
        } else {
            (least - room).max(0.0)
        };
        let to = most.max(from + span) + room;
        Some(Scale { from, to }).filter(Scale::is_drawable)
    }

    fn is_drawable(&self) -> bool {
        self.from.is_finite() && self.to.is_finite() && self.from < self.to
    }

    fn at(&self, value: f64) -> i32 {
        let part = (value - self.from) / (self.to - self.from);
        let x = f64::from(LEFT) + part * f64::from(RIGHT - LEFT);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "held between the ends of the drawing"
        )]
        let x = x.round().clamp(f64::from(LEFT), f64::from(RIGHT)) as i32;
        x
    }
}

/// A band with slanted lines in it; no narrower than can be seen.
fn hatched(from: i32, to: i32) -> String {
    let to = to.max(from + 1);
    let height = BOTTOM - TOP;
    let mut lines = String::new();
    let mut start = from - height + HATCH;
    while start < to {
        // From the lower edge up to the right, cut at both ends of the band.
        let (left, right) = (start.max(from), (start + height).min(to));
        if left < right {
            let (low, high) = (BOTTOM - (left - start), BOTTOM - (right - start));
            push(&mut lines, format_args!("M{left} {low}L{right} {high}"));
        }
        start += HATCH;
    }
    format!(
        "<path d=\"{lines}\" fill=\"none\" stroke=\"#555\" stroke-width=\"0.5\"/>\
         <path d=\"M{from} {TOP}H{to}M{from} {BOTTOM}H{to}\" stroke=\"#000\" stroke-width=\"1\"/>"
    )
}

/// A line between two values, with strokes across its ends; white around it, so that it stands out of the hatching.
fn whisker(scale: &Scale, (low, high): (f64, f64), heavy: i32, reach: i32) -> String {
    let (low, high) = (scale.at(low), scale.at(high));
    let (up, down) = (MIDDLE - reach, MIDDLE + reach);
    let way = format!("M{low} {MIDDLE}H{high}M{low} {up}V{down}M{high} {up}V{down}");
    format!(
        "<path d=\"{way}\" fill=\"none\" stroke=\"#fff\" stroke-width=\"{}\"/>\
         <path d=\"{way}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{heavy}\"/>",
        heavy + 3
    )
}

/// The value.
fn diamond(x: i32) -> String {
    format!(
        "<path d=\"M{x} {}L{} {MIDDLE} {x} {} {} {MIDDLE}Z\" stroke=\"#fff\" stroke-width=\"1.5\"/>",
        MIDDLE - 8,
        x + 6,
        MIDDLE + 8,
        x - 6,
    )
}

/// The ceiling: a heavy line through the band, with its digits above it.
fn wall(x: i32, ceiling: &Q) -> String {
    format!(
        "<path d=\"M{x} {}V{}\" stroke=\"#000\" stroke-width=\"4\"/>\
         <text x=\"{x}\" y=\"10\" text-anchor=\"middle\">{}</text>",
        TOP - 3,
        BOTTOM + 3,
        ceiling.readable(FIGURES),
    )
}

fn drawing(width: i32, height: i32, shapes: &str) -> Markup {
    html! {
        svg.bar viewBox={ "0 0 " (width) " " (height) } width=(width) height=(height)
            font-family="sans-serif" font-size="12" direction="ltr" aria-hidden="true" focusable="false" {
            (PreEscaped(shapes))
        }
    }
}

/// The parts of a bar by themselves, for who has to learn what they are.
pub(super) fn samples() -> [Markup; 5] {
    let scale = Scale { from: 0.0, to: 1.0 };
    let (from, to) = (LEFT, LEFT + 40);
    let ends = (0.0, 40.0 / f64::from(RIGHT - LEFT));
    let sample = |shapes: &str| {
        html! {
            svg.sample viewBox={ (LEFT - 8) " " (TOP - 4) " 56 " (BOTTOM - TOP + 8) } width="56" height="24"
                aria-hidden="true" focusable="false" { (PreEscaped(shapes)) }
        }
    };
    [
        sample(&hatched(from, to)),
        sample(&diamond((from + to) / 2)),
        sample(&whisker(&scale, ends, 3, 3)),
        sample(&whisker(&scale, ends, 1, 5)),
        sample(&format!(
            "<path d=\"M{} {TOP}V{BOTTOM}\" stroke=\"#000\" stroke-width=\"4\"/>",
            (from + to) / 2
        )),
    ]
}

/// A part of a whole as a solid bar in a frame.
pub(super) fn part(part: f64) -> Markup {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "held between nothing and the whole"
    )]
    let long = (part * 200.0).round().clamp(0.0, 200.0) as i32;
    html! {
        svg.part viewBox="0 0 202 8" width="202" height="8" preserveAspectRatio="none"
            aria-hidden="true" focusable="false" {
            rect x="0.5" y="0.5" width="201" height="7" fill="#fff" stroke="#000" stroke-width="0.75" {}
            rect x="1" y="1" width=(long) height="6" {}
        }
    }
}

fn push(text: &mut String, more: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = text.write_fmt(more);
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop where it stands")]
mod tests {
    use super::*;

    fn bar<'a>(value: Option<&'a Q>, min: Option<&'a Q>, max: Option<&'a Q>) -> Bar<'a> {
        Bar {
            value,
            min,
            max,
            ceiling: None,
            interval: Interval::default(),
        }
    }

    #[test]
    fn a_value_stands_on_its_side_of_the_bounds() {
        let (low, high) = (Q::int(16), Q::int(18));
        for (value, is_in) in [(10, false), (16, true), (17, true), (18, true), (40, false)] {
            let value = Q::int(value);
            let scale = Scale::of(&bar(Some(&value), Some(&low), Some(&high))).unwrap();
            let at = scale.at(value.to_f64());
            assert_eq!(
                (scale.at(16.0)..=scale.at(18.0)).contains(&at),
                is_in,
                "{value}"
            );
            assert!((LEFT..=RIGHT).contains(&at));
        }
    }

    #[test]
    fn there_is_room_on_both_sides_but_none_below_nothing() {
        let (low, most) = (Q::ratio(1, 10), Q::int(5));
        let scale = Scale::of(&bar(Some(&low), None, Some(&most))).unwrap();
        assert_eq!(scale.at(0.0), LEFT);
        assert!(scale.at(5.0) < RIGHT);
        let scale = Scale::of(&bar(Some(&most), Some(&most), None)).unwrap();
        assert!(LEFT < scale.at(5.0) && scale.at(5.0) < RIGHT);
    }

    #[test]
    fn nothing_is_drawn_of_what_is_no_number_or_has_no_bound() {
        let value = Q::int(5);
        assert!(bar(Some(&value), None, None).draw().is_none());
        let mut odd = bar(Some(&value), Some(&value), None);
        odd.interval.batch = Some((f64::NAN, f64::INFINITY));
        assert!(odd.draw().is_none());
        let zero = Q::ZERO;
        assert!(bar(Some(&zero), Some(&zero), Some(&zero)).draw().is_some());
    }

    #[test]
    fn hatching_stays_in_its_band() {
        for (from, to) in [(LEFT, RIGHT), (100, 101), (100, 103), (100, 100)] {
            let drawn = hatched(from, to);
            let to = to.max(from + 1);
            let ways = drawn
                .split('"')
                .find(|it| it.starts_with('M'))
                .unwrap_or_default();
            for point in ways.split(['M', 'L']).filter(|it| !it.is_empty()) {
                let (x, y) = point.split_once(' ').unwrap();
                let (x, y): (i32, i32) = (x.parse().unwrap(), y.parse().unwrap());
                assert!(
                    (from..=to).contains(&x) && (TOP..=BOTTOM).contains(&y),
                    "{point}"
                );
            }
        }
    }
}
