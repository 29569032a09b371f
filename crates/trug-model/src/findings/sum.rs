//! What can be said about sums: the lines of a ration against the whole.

use trug_findings::{Code, Finding, Place};

use crate::Q;

pub static SHORT: Code = Code::error("sum/short", include_str!("pages/sum-short.md"));
pub static OVER: Code = Code::error("sum/over", include_str!("pages/sum-over.md"));
pub static NOTHING: Code = Code::error("sum/nothing", include_str!("pages/sum-nothing.md"));

pub static ALL: &[&Code] = &[&SHORT, &OVER, &NOTHING];

/// A line that could take up the difference, and its amount then.
pub(crate) struct Closing {
    pub(crate) name: String,
    pub(crate) place: Place,
    pub(crate) amount: String,
}

/// The lines miss the whole by `off`: 100 %, or the batch where all are masses.
pub(crate) fn off(
    place: Place,
    ration: &str,
    total: &Q,
    off: &Q,
    whole: Option<&Q>,
    closing: Option<Closing>,
) -> Finding {
    let shown = |share: &Q| match whole {
        Some(batch) => mass(&(share * batch)),
        None => format!("{} %", share * Q::int(100)),
    };
    let aim = whole.map_or_else(|| "100 %".to_owned(), mass);
    let (code, says) = if off.is_positive() {
        (
            &OVER,
            format!(
                "{ration} adds up to {}: {} too much",
                shown(total),
                shown(off)
            ),
        )
    } else {
        (
            &SHORT,
            format!(
                "{ration} adds up to {}: {} short of {aim}",
                shown(total),
                shown(&off.abs())
            ),
        )
    };
    let finding = code.at(place).says(says);
    match closing {
        Some(closing) => finding
            .also(
                closing.place,
                format!("{} here would close it", closing.amount),
            )
            .help("write `rest` on one line: it takes up what the others leave")
            .offer(
                format!("make {} {}", closing.name, closing.amount),
                closing.place,
                closing.amount,
            ),
        None => finding.help(
            "check each amount, or write `rest` on a line that may take up what the others leave",
        ),
    }
}

/// A mass in kg, in words.
pub(crate) fn mass(kg: &Q) -> String {
    if kg.abs() < Q::ONE {
        format!("{} g", kg * Q::int(1000))
    } else {
        format!("{} kg", kg)
    }
}

pub(crate) fn shares_and_masses(place: Place, ration: &str, shares: &Q, masses: &Q) -> Finding {
    OVER.at(place)
        .says(format!(
            "{ration}: the shares alone are {} %, and {} come beside",
            shares * Q::int(100),
            mass(masses)
        ))
        .help("lower the shares, or write all amounts as masses")
}

pub(crate) fn nothing(place: Place, ration: &str) -> Finding {
    NOTHING
        .at(place)
        .says(format!("{ration} holds no ingredient"))
        .help("write a line for each ingredient: its name, then its amount")
}
