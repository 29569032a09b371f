//! Sentences about bounds that turned, in the words a reviewer wants to hear.

use trug_compare::{Bounded, Pair, Standing, StandingChange, Turn};
use trug_model::analysis::BoundKind;

use super::values::{bounded, ends, standing_values};
use crate::words::quantity;

/// On which side of a bound a value lies.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lies {
    Below,
    Above,
    /// Above the amount beyond which harm is possible.
    AboveCeiling,
    /// Missed, and nobody can say where.
    Outside,
}

/// `protein 16.4 % -> 15.8 %: now below duck-lay's 16 .. 18 %`.
pub(super) fn of_bound(change: &StandingChange, arrow: &str) -> String {
    let what = match &change.of {
        // The end of the sentence says whose bound it is.
        Bounded::Bound { what, basis, .. } if basis.is_empty() || basis == "as fed" => what.clone(),
        Bounded::Bound { what, basis, .. } => format!("{what} ({basis})"),
        Bounded::Dose { .. } => bounded(&change.of),
    };
    let values = values(&change.at, arrow);
    let verdict = verdict(change);
    let was = was(&change.at);
    format!("{what} {values}: {verdict}{was}")
}

/// Both values, or the one there is.
fn values(at: &Pair<Standing>, arrow: &str) -> String {
    let is_same = match (&at.before, &at.after) {
        (Some(before), Some(after)) => before.value == after.value && before.unit == after.unit,
        _ => true,
    };
    let shown = standing_values(at);
    match (shown.before, shown.after) {
        (Some(before), Some(after)) if !is_same => format!("{before} {arrow} {after}"),
        (before, after) => after.or(before).unwrap_or_default(),
    }
}

/// The bound of before, where it was another.
fn was(at: &Pair<Standing>) -> String {
    match (&at.before, &at.after) {
        (Some(before), Some(after)) => {
            let ends = ends(before);
            let same = ends == self::ends(after);
            if same {
                String::new()
            } else {
                format!(" (was {ends})")
            }
        }
        _ => String::new(),
    }
}

fn verdict(change: &StandingChange) -> String {
    let turn = change.turn();
    let Some(after) = &change.at.after else {
        let bound = change.at.before.as_ref().map(ends).unwrap_or_default();
        return format!("no longer bounded ({bound})");
    };
    let bound = whose(change, after);
    match turn {
        Turn::Missed if change.at.before.is_none() => format!("{} {bound}", side(after, "").trim()),
        Turn::Missed => format!("{} {bound}", side(after, "now ")),
        Turn::StillMissed => format!("{} {bound}", side(after, "still ")),
        Turn::Undecided => format!("no longer known to keep {bound}"),
        Turn::Met => format!("now within {bound}"),
        Turn::Kept | Turn::Gone if after.met == Some(true) => format!("within {bound}"),
        Turn::Kept | Turn::Gone => format!("not known to keep {bound}"),
    }
}

fn side(at: &Standing, since: &str) -> String {
    let side = match lies(at) {
        Lies::Below => "below",
        Lies::Above | Lies::AboveCeiling => "above",
        Lies::Outside => "outside",
    };
    format!("{since}{side}")
}

fn lies(at: &Standing) -> Lies {
    let Some(value) = &at.value else {
        return Lies::Outside;
    };
    if at.ceiling.as_ref().is_some_and(|ceiling| value > ceiling) {
        Lies::AboveCeiling
    } else if at.max.as_ref().is_some_and(|max| value > max) {
        Lies::Above
    } else if at.min.as_ref().is_some_and(|min| value < min) {
        Lies::Below
    } else {
        Lies::Outside
    }
}

/// The bound with whose it is: `duck-lay's 16 .. 18 %`.
fn whose(change: &StandingChange, at: &Standing) -> String {
    let ends = ends(at);
    match &change.of {
        Bounded::Dose { .. } => match &at.ceiling {
            Some(ceiling) if at.met == Some(false) && lies(at) == Lies::AboveCeiling => {
                let ceiling = quantity(&ceiling.to_string(), &at.unit);
                format!("the ceiling of {ceiling}: harm is possible")
            }
            _ => format!("the label's {ends}"),
        },
        Bounded::Bound { kind, .. } => match kind {
            BoundKind::Target if at.whose.is_empty() => format!("the target {ends}"),
            BoundKind::Target => format!("{}'s {ends}", at.whose),
            BoundKind::Law if at.whose.is_empty() => format!("the law: {ends}"),
            BoundKind::Law => format!("the law for {}: {ends}", at.whose),
            BoundKind::Harm if at.whose.is_empty() => format!("what is harmless: {ends}"),
            BoundKind::Harm => format!("what is harmless to {}: {ends}", at.whose),
            BoundKind::Limit => format!("the limit {ends}"),
        },
    }
}

/// The word of a verdict in a table.
pub(super) fn turn_word(change: &StandingChange) -> &'static str {
    match change.turn() {
        Turn::Missed if change.at.before.is_none() => "MISSED, new bound",
        Turn::Missed if change.at.before.as_ref().is_some_and(|at| at.met.is_none()) => {
            "MISSED now"
        }
        Turn::Missed => "MISSED now, met before",
        Turn::StillMissed => "MISSED as before",
        Turn::Undecided => "undecided now",
        Turn::Met => "met now, missed before",
        Turn::Gone => "no longer bounded",
        Turn::Kept => match change.at.after.as_ref().and_then(|at| at.met) {
            Some(true) => "met",
            _ => "undecided",
        },
    }
}
