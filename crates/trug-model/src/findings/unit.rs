//! What can be said about units: missing, unknown, or of another kind than the place wants.

use trug_findings::{Code, Finding, Place, Span};

use crate::quantity::Dimension;

pub static MISSING: Code = Code::error("unit/missing", include_str!("pages/unit-missing.md"));
pub static UNKNOWN: Code = Code::error("unit/unknown", include_str!("pages/unit-unknown.md"));
pub static MISMATCH: Code = Code::error("unit/mismatch", include_str!("pages/unit-mismatch.md"));

pub static ALL: &[&Code] = &[&MISSING, &UNKNOWN, &MISMATCH];

fn ticked(units: &[&str]) -> String {
    let ticked: Vec<String> = units.iter().map(|unit| format!("`{unit}`")).collect();
    ticked.join(", ")
}

/// A bare number. Each unit that fits is offered; none is guessed.
/// A number without a unit. One goes after `last`, the end of the number or of its scatter.
pub(crate) fn missing(
    place: Place,
    digits: &str,
    last: Span,
    noun: &str,
    units: &[&str],
) -> Finding {
    let mut finding = MISSING
        .at(place)
        .says(format!("{digits} has no unit"))
        .help(format!("write {noun}, for example in {}", ticked(units)));
    let after = Place::new(place.file, Span::at(last.end as usize));
    for unit in units {
        finding = finding.offer(format!("write {digits} {unit}"), after, format!(" {unit}"));
    }
    finding
}

pub(crate) fn unknown(place: Place, written: &str, near: &[String]) -> Finding {
    let mut finding = UNKNOWN
        .at(place)
        .says(format!("{written} is no unit that is known here"))
        .help("write a unit of the reference, or declare the measure: `unit basket = 18 L`");
    for unit in near {
        finding = finding.offer(format!("write {unit}"), place, unit.as_str());
    }
    finding
}

pub(crate) fn mismatch(
    place: Place,
    written: &str,
    is: &str,
    wants: &str,
    units: &[&str],
) -> Finding {
    MISMATCH
        .at(place)
        .says(format!("`{written}` counts {is}; {wants} is wanted here"))
        .help(format!("write it in {}", ticked(units)))
}

/// A value in a unit that is not how the thing is counted.
pub(crate) fn unlike(
    place: Place,
    written: (&str, &Dimension),
    what: (&str, &Dimension),
    units: &[&str],
) -> Finding {
    MISMATCH
        .at(place)
        .says(format!(
            "`{}` counts {}; {} is {}",
            written.0, written.1, what.0, what.1
        ))
        .help(format!("write it in {}", ticked(units)))
}

/// Activities of two nutrients in one sum.
pub(crate) fn activities(place: Place, first: &str, second: &str) -> Finding {
    MISMATCH
        .at(place)
        .says(format!(
            "the activity of {second} never adds to that of {first}"
        ))
        .help("bound each of them on a line of its own")
}

/// Two terms of a sum that count different things.
pub(crate) fn do_not_add(
    place: Place,
    first: (&str, &Dimension),
    second: (&str, &Dimension),
) -> Finding {
    MISMATCH
        .at(place)
        .says(format!(
            "{} is {}, {} is {}: they do not go together",
            first.0, first.1, second.0, second.1
        ))
        .help(
            "add only what is counted alike; activity units of one vitamin never add to another's",
        )
}

pub(crate) fn no_factor(place: Place, digits: &str) -> Finding {
    MISMATCH
        .at(place)
        .says(format!(
            "nothing can be divided or multiplied by {digits} here"
        ))
        .help("use a number other than zero, in a unit that fits")
}

pub(crate) fn no_content(place: Place, name: &str, is: &str) -> Finding {
    MISMATCH
        .at(place)
        .says(format!(
            "{name} would be {is}, which no feed is said to contain"
        ))
        .help("a nutrient is a share, or energy, charge or activity per mass")
}

pub(crate) fn counted_in(place: Place, word: &str) -> Finding {
    UNKNOWN
        .at(place)
        .says(format!("nutrients are not counted in {word}"))
        .help("write `in share`, `in energy`, `in charge`, `in IU`, `in U`, `in FTU` or `in CFU`")
}

pub(crate) fn no_measure(place: Place, name: &str) -> Finding {
    MISMATCH
        .at(place)
        .says(format!("one {name} must be a mass or a volume above zero"))
        .help("write for example `unit basket = 18 L` or `unit sack = 50 kg`")
}

pub(crate) fn no_rate(place: Place) -> Finding {
    MISMATCH
        .at(place)
        .says("a rate is between amounts of two currencies, both above zero")
        .help("write for example `rate 1 EUR = 325 LKR`")
}
