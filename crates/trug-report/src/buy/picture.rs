//! The stock of one ingredient over the days, as SVG: black on white, with a mark of its own for each thing that happens.

use std::fmt::Write as _;

use maud::{Markup, PreEscaped, Render as _};
use trug_model::Q;
use trug_store::{Buying, Row};

use super::told::kilograms;
use crate::page::text::Text;

/// Size of one picture, and where the stock is drawn in it.
const WIDE: i32 = 330;
const HIGH: i32 = 130;
const LEFT: i32 = 10;
const RIGHT: i32 = 320;
const TOP: i32 = 26;
const BOTTOM: i32 = 108;

/// The stock in the evening of each day, where something is bought, where something expires.
pub(super) fn stock(row: &Row, name: &str, buying: &Buying) -> Markup {
    let scale = Scale::of(row, buying);
    let mut shapes = format!(
        "<path d=\"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.75\"/>"
    );
    let mut line = String::new();
    let mut marks = String::new();
    let mut before = Q::ZERO;
    for (rank, day) in row.days.iter().enumerate() {
        let x = scale.across((day.day - buying.today).get_days());
        let y = |mass: &Q| scale.up(mass);
        if rank == 0 {
            push(&mut line, format_args!("M{x} {}", y(&day.came)));
        } else {
            push(&mut line, format_args!("H{x}"));
        }
        // In the morning what is past its day goes; then comes what comes, and the mix takes.
        let morning = if rank == 0 {
            day.came.clone()
        } else {
            before.clone()
        };
        let after = &morning - &day.expired;
        let came = if rank == 0 { Q::ZERO } else { day.came.clone() };
        let full = &after + &(&came + &day.bought);
        push(
            &mut line,
            format_args!("V{}V{}V{}", y(&after), y(&full), y(&day.left)),
        );
        if day.expired.is_positive() {
            cross(&mut marks, x, y(&morning));
        }
        if day.bought.is_positive() {
            arrow(&mut marks, x, y(&full));
        }
        before = day.left.clone();
    }
    push(&mut line, format_args!("H{RIGHT}"));
    push(
        &mut shapes,
        format_args!(
            "<path d=\"{line}\" fill=\"none\" stroke=\"#000\" stroke-width=\"2\"/>{marks}"
        ),
    );
    let words = [
        (LEFT, TOP - 13, "start", kilograms(&scale.most)),
        (LEFT, BOTTOM + 16, "start", buying.today.to_string()),
        (RIGHT, BOTTOM + 16, "end", buying.last.to_string()),
    ];
    for (x, y, anchor, words) in words {
        push(
            &mut shapes,
            format_args!("<text x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{words}</text>"),
        );
    }
    let title = Text(&title(row, name, buying)).render().into_string();
    PreEscaped(format!(
        "<svg class=\"stock\" role=\"img\" aria-label=\"{title}\" width=\"{WIDE}\" height=\"{HIGH}\" \
         viewBox=\"0 0 {WIDE} {HIGH}\" font-size=\"11\" direction=\"ltr\" fill=\"#000\">{shapes}</svg>"
    ))
}

/// What the picture shows, for those who cannot see it.
fn title(row: &Row, name: &str, buying: &Buying) -> String {
    let bought = row.purchase.as_ref().map_or_else(String::new, |purchase| {
        format!(", {} kg bought by {}", purchase.mass, purchase.by)
    });
    format!(
        "{name}: {} on {}{bought}, {} left on {}",
        kilograms(&row.on_hand),
        buying.today,
        kilograms(&row.left),
        buying.last
    )
}

/// The greatest stock, and how many days are drawn.
struct Scale {
    most: Q,
    days: i32,
}

impl Scale {
    fn of(row: &Row, buying: &Buying) -> Scale {
        let mut most = row.on_hand.clone();
        for day in &row.days {
            most = most.max(&day.left + &day.taken);
        }
        Scale {
            most,
            days: i32::try_from(buying.days).unwrap_or(i32::MAX).max(1),
        }
    }

    fn across(&self, day: i32) -> i32 {
        let room = i64::from(RIGHT - LEFT);
        let moved = room * i64::from(day) / i64::from(self.days);
        LEFT + i32::try_from(moved).unwrap_or(0)
    }

    fn up(&self, mass: &Q) -> i32 {
        let room = &Q::int(i64::from(BOTTOM - TOP));
        let height = (mass * room).over(&self.most).unwrap_or_default();
        let height = height.round_half_even().to_i64().unwrap_or(0);
        BOTTOM - i32::try_from(height).unwrap_or(0)
    }
}

/// An arrow pointing down onto a place: something was brought here.
fn arrow(marks: &mut String, x: i32, y: i32) {
    push(
        marks,
        format_args!(
            "<path d=\"M{} {}H{}L{x} {}Z\"/>",
            x - 5,
            y - 10,
            x + 5,
            y - 2
        ),
    );
}

/// A cross: something went to waste here.
fn cross(marks: &mut String, x: i32, y: i32) {
    push(
        marks,
        format_args!(
            "<path d=\"M{} {}L{} {}M{} {}L{} {}\" stroke=\"#000\" stroke-width=\"2\"/>",
            x - 5,
            y - 5,
            x + 5,
            y + 5,
            x + 5,
            y - 5,
            x - 5,
            y + 5
        ),
    );
}

fn push(shapes: &mut String, shape: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = shapes.write_fmt(shape);
}
