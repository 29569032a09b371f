//! What can be said about weighing: scales that are too coarse for what they weigh.

use trug_findings::{Code, Finding, Severity};

use crate::amounts::Case;
use crate::order::Window;
use crate::words::{mass, percent};
use trug_model::Q;

/// The possible error of a weighing is more than the method allows, or could carry an amount past a bound.
pub static COARSE: Code = Code::warning("weigh/coarse", include_str!("pages/weigh-coarse.md"));

/// The family, in the order of the reference.
pub static ALL: &[&Code] = &[&COARSE];

/// There is no scale at all.
pub(crate) fn none_written(case: &Case) -> Finding {
    COARSE
        .at(case.order.place)
        .weighing(Severity::Error)
        .says(format!(
            "{}: no scale is known to weigh it",
            case.order.ration
        ))
        .help("write each scale there is, as in `scale bench 5 kg by 1 g`")
}

/// No scale takes a part.
pub(crate) fn nothing_weighs(case: &Case, rank: usize, part: &Q) -> Finding {
    COARSE
        .at(case.ingredient(rank).place)
        .weighing(Severity::Error)
        .says(format!(
            "no scale weighs {} of {}",
            mass(part),
            case.name(rank)
        ))
}

/// An ingredient whose weighing may be off by too much.
pub(crate) fn coarse(case: &Case, rank: usize, weighed: &Q, error: &Q, scale: &str) -> Finding {
    let relative = error.over(weighed).unwrap_or_default();
    let severity = if relative > Q::ratio(1, 10) {
        Severity::Error
    } else {
        Severity::Warning
    };
    let allowed = &case.order.method.weigh;
    COARSE
        .at(case.ingredient(rank).place)
        .weighing(severity)
        .says(format!(
            "{} of {} may be {} off, {}; {} is wanted",
            mass(weighed),
            case.name(rank),
            mass(error),
            percent(&relative),
            percent(allowed)
        ))
        .label(format!("{} on {scale}", mass(weighed)))
        .also(
            case.order.method.place,
            format!("within {} by this method", percent(allowed)),
        )
}

/// A carrier's part that may be off by too much.
pub(crate) fn coarse_part(case: &Case, rank: usize, part: &Q, error: &Q, scale: &str) -> Finding {
    COARSE
        .at(case.ingredient(rank).place)
        .says(format!(
            "a part of {}, {}, may be {} off; 10 % is wanted",
            case.name(rank),
            mass(part),
            mass(error)
        ))
        .label(format!("{} on {scale}", mass(part)))
}

/// A possible error that could carry an amount past a bound.
pub(crate) fn past(
    case: &Case,
    rank: usize,
    weighed: &Q,
    error: &Q,
    scale: &str,
    window: &Window,
) -> Finding {
    COARSE
        .at(case.ingredient(rank).place)
        .weighing(Severity::Error)
        .says(format!(
            "{} of {} may be {} off: past {}",
            mass(weighed),
            case.name(rank),
            mass(error),
            window.what
        ))
        .label(format!("{} on {scale}", mass(weighed)))
        .also(window.place, format!("{} is written here", window.what))
}
