//! What can be said about data: contents, labels, lots, counts.

use trug_findings::{Code, Finding, Place, Severity};

pub static UNKNOWN: Code = Code::error("data/unknown", include_str!("pages/data-unknown.md"));
pub static OUTSIDE: Code = Code::error("data/outside", include_str!("pages/data-outside.md"));
pub static TWICE: Code = Code::error("data/twice", include_str!("pages/data-twice.md"));
pub static FORM: Code = Code::error("data/form", include_str!("pages/data-form.md"));
pub static LOT: Code = Code::error("data/lot", include_str!("pages/data-lot.md"));

pub static UNVERIFIED: Code =
    Code::note("data/unverified", include_str!("pages/data-unverified.md"));

pub static ALL: &[&Code] = &[&UNKNOWN, &OUTSIDE, &TWICE, &FORM, &LOT, &UNVERIFIED];

/// Values of a ration that nobody read in their source.
pub(crate) fn unverified(place: Place, ration: &str, values: &[(String, Place)]) -> Finding {
    let count = match values.len() {
        1 => "a value that was".to_owned(),
        count => format!("{count} values that were"),
    };
    let finding = UNVERIFIED
        .at(place)
        .says(format!("{ration} rests on {count} not read in a source"))
        .help("write the value of a label or an analysis in your own text, with its `source`");
    values.iter().fold(finding, |finding, (told, written)| {
        finding.also(*written, told.clone())
    })
}

/// An amount by its active, whose content in the product is unknown or nothing.
pub(crate) fn no_active(place: Place, ingredient: &str, active: &str, units: &[&str]) -> Finding {
    let unit = units.first().copied().unwrap_or("%");
    UNKNOWN
        .at(place)
        .says(format!(
            "how much {active} is in {ingredient} is unknown or nothing"
        ))
        .help(format!(
            "write the content from the label in {ingredient}: `{active} … {unit}`"
        ))
}

/// A dose of an active whose content in the product is unknown.
pub(crate) fn dose_unknown(
    place: Place,
    ingredient: &str,
    active: &str,
    written: Place,
    unit: &str,
) -> Finding {
    UNKNOWN
        .at(place)
        .weighing(Severity::Warning)
        .says(format!(
            "{ingredient} is dosed by {active}, and its {active} is unknown"
        ))
        .also(written, "the dose is set here")
        .help(format!(
            "write the content from the label in {ingredient}: `{active} … {unit}`"
        ))
}

/// An amount by volume, where no density is known.
pub(crate) fn no_density(place: Place, ingredient: &str, amount: &str) -> Finding {
    UNKNOWN
        .at(place)
        .says(format!(
            "how much {amount} of {ingredient} weighs is unknown"
        ))
        .help(format!(
            "write a line `bulk-density … kg/L` in {ingredient}, or give its amount as a mass"
        ))
}

pub(crate) fn outside(place: Place, what: &str, value: &str, range: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("{what} is {value}; it can only be {range}"))
        .help("check the number and its unit")
}

pub(crate) fn not_positive(place: Place, value: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("{value} is not above zero"))
        .help("check the number: it must be above zero")
}

pub(crate) fn negative(place: Place, value: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("{value} is less than nothing"))
        .help("check the number and its sign")
}

pub(crate) fn no_count(place: Place, digits: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("{digits} is not a count"))
        .help("write a whole number from 1 up")
}

pub(crate) fn no_age(place: Place, digits: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("{digits} is no age in days"))
        .help("write a whole number of days; day 0 is the day of hatching or birth")
}

/// A phase that ends before it begins.
pub(crate) fn ages_backwards(place: Place, (from, first): (u32, Place), to: u32) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!("day {to} of age lies before day {from}"))
        .also(first, "the first day")
        .help("write the younger day first")
}

pub(crate) fn scale(place: Place, name: &str) -> Finding {
    OUTSIDE
        .at(place)
        .says(format!(
            "{name} weighs less than its own division or minimum"
        ))
        .help("write what it carries, then its division: `5 kg by 1 g`")
}

/// Two rows of one table, or of one ingredient by name and by label.
pub(crate) fn rows_twice(place: Place, ingredient: &str, first: Place) -> Finding {
    TWICE
        .at(place)
        .says(format!("{ingredient} has two rows in one table"))
        .also(first, "once here")
        .help("keep the row that is right")
}

/// A line that an item has once stands in it again.
pub(crate) fn word_twice(place: Place, word: &str, first: Place) -> Finding {
    TWICE
        .at(place)
        .says(format!("`{word}` is given twice, and only one can hold"))
        .also(first, "once here")
        .help("keep the line that is right, and take the other out")
}

pub(crate) fn twice(place: Place, nutrient: &str, first: Place) -> Finding {
    TWICE
        .at(place)
        .says(format!("{nutrient} is given twice"))
        .also(first, "once here")
        .help("keep the line whose analysis is right")
}

pub(crate) fn form(place: Place, word: &str, forms: &[&str]) -> Finding {
    FORM.at(place)
        .says(format!("{word} is no form of an ingredient"))
        .help(format!("write one of: {}", forms.join(", ")))
}

pub(crate) fn lot(place: Place, lot: &str, of: &str, ingredient: &str, declared: Place) -> Finding {
    LOT.at(place)
        .says(format!("lot {lot} is of {of}, not of {ingredient}"))
        .also(declared, "declared here")
        .help(format!("name a lot of {ingredient}"))
}

/// A last day before the first.
pub(crate) fn days_backwards(place: Place, from: Place) -> Finding {
    OUTSIDE
        .at(place)
        .says("the last day lies before the first")
        .also(from, "the first day")
        .help("check the two dates")
}
