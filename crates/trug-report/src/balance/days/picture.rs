//! A line over days, as SVG: black on white, its ends in words beside it.

use maud::{Markup, html};
use trug_model::Q;

use super::Series;
use crate::page::text::Text;

/// Size of one picture, in its own units.
const WIDE: f64 = 640.0;
const HIGH: f64 = 90.0;
/// Room round the line, so that its ends are whole.
const EDGE: f64 = 6.0;

/// The values of a series over the days; a gap where a day has none.
pub(super) fn line(series: &Series) -> Markup {
    let points = points(&series.values);
    let label = format!("{} over the days", series.name);
    html! {
        svg.line role="img" aria-label=(Text(&label)) viewBox=(format!("0 0 {WIDE} {HIGH}")) {
            path d=(path(&points)) fill="none" stroke="#000" stroke-width="2" stroke-linejoin="round" {}
            @if points.len() <= MOST_DOTS {
                @for (x, y) in points.iter().flatten() {
                    circle cx=(short(*x)) cy=(short(*y)) r="3" {}
                }
            }
        }
    }
}

/// More days than this are drawn without a dot each.
const MOST_DOTS: usize = 60;

fn points(values: &[Option<Q>]) -> Vec<Option<(f64, f64)>> {
    let known = || values.iter().flatten();
    let (Some(least), Some(greatest)) = (known().min(), known().max()) else {
        return Vec::new();
    };
    let span = (greatest - least).to_f64();
    let steps = values.len().saturating_sub(1).max(1) as f64;
    let point = |(rank, value): (usize, &Option<Q>)| {
        let value = value.as_ref()?;
        let up = if span > 0.0 {
            (value - least).to_f64() / span
        } else {
            0.5
        };
        let x = EDGE + (WIDE - 2.0 * EDGE) * rank as f64 / steps;
        Some((x, HIGH - EDGE - (HIGH - 2.0 * EDGE) * up))
    };
    values.iter().enumerate().map(point).collect()
}

fn path(points: &[Option<(f64, f64)>]) -> String {
    let mut path = String::new();
    let mut is_down = false;
    for point in points {
        match point {
            Some((x, y)) => {
                let command = if is_down { 'L' } else { 'M' };
                path.push_str(&format!("{command}{} {}", short(*x), short(*y)));
                is_down = true;
            }
            None => is_down = false,
        }
    }
    path
}

fn short(value: f64) -> String {
    format!("{value:.1}")
}
