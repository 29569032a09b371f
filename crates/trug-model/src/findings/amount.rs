//! What can be said about the amounts of a ration.

use trug_findings::{Code, Finding, Place};

use super::sum::mass;
use crate::Q;

pub static OPEN: Code = Code::note("amount/open", include_str!("pages/amount-open.md"));
pub static BATCH: Code = Code::error("amount/batch", include_str!("pages/amount-batch.md"));
pub static TWO_RESTS: Code = Code::error(
    "amount/two-rests",
    include_str!("pages/amount-two-rests.md"),
);
pub static NEEDED: Code = Code::error("amount/needed", include_str!("pages/amount-needed.md"));
pub static NOT_INHERITED: Code = Code::error(
    "amount/not-inherited",
    include_str!("pages/amount-not-inherited.md"),
);
pub static FORM: Code = Code::error("amount/form", include_str!("pages/amount-form.md"));
pub static GIVING: Code = Code::error("amount/giving", include_str!("pages/amount-giving.md"));
pub static MANY: Code = Code::error("amount/many", include_str!("pages/amount-many.md"));
pub static MEASURE: Code = Code::warning("amount/measure", include_str!("pages/amount-measure.md"));

pub static ALL: &[&Code] = &[
    &OPEN,
    &BATCH,
    &TWO_RESTS,
    &NEEDED,
    &NOT_INHERITED,
    &FORM,
    &GIVING,
    &MANY,
    &MEASURE,
];

/// Open amounts: a note in `check`; `plan` weighs it as an error.
pub fn open<'a>(
    place: Place,
    ration: &str,
    lines: impl Iterator<Item = (Place, &'a str)>,
) -> Finding {
    let finding = OPEN
        .at(place)
        .says(format!(
            "{ration} has open amounts, which are still to be chosen"
        ))
        .help("write one amount on each of these lines before mixing");
    lines.fold(finding, |finding, (place, name)| {
        finding.also(place, format!("{name} is open"))
    })
}

pub(crate) fn batch(place: Place, ration: &str, name: &str, amount: Place) -> Finding {
    BATCH
        .at(place)
        .says(format!(
            "{ration} gives masses, and its batch does not follow from them"
        ))
        .also(amount, format!("{name} is a mass"))
        .help("name the batch these masses are for: `batch 120 kg`")
}

pub(crate) fn too_many(place: Place, ration: &str, ingredients: usize, most: usize) -> Finding {
    MANY.at(place)
        .says(format!(
            "{ration} holds {ingredients} ingredients; at most {most} are read"
        ))
        .help("mix some of them beforehand, and buy or keep that mix as one ingredient of its own")
}

pub(crate) fn two_rests(place: Place, name: &str, first: Place, first_name: &str) -> Finding {
    let says = if name == first_name {
        format!("{name} is the rest on two lines, and can be on one")
    } else {
        format!("{name} and {first_name} cannot both be the rest")
    };
    TWO_RESTS
        .at(place)
        .says(says)
        .also(first, format!("{first_name} is the rest here"))
        .help("give all but one of them an amount")
}

pub(crate) fn rest_moved(place: Place, new: &str, old: &str, old_place: Place) -> Finding {
    NEEDED
        .at(place)
        .says(format!("{new} is the rest now, so {old} needs an amount"))
        .also(old_place, format!("{old} was the rest here"))
        .help(format!(
            "write a line for {old} with its amount, or `drop {old}`"
        ))
}

pub(crate) fn not_inherited(place: Place, name: &str, ration: &str) -> Finding {
    NOT_INHERITED
        .at(place)
        .says(format!("{ration} takes over no line for {name}"))
        .help("name an ingredient of the ration this one is `like`")
}

pub(crate) fn parts(place: Place, ration: &str, with_rest: bool) -> Finding {
    let other = if with_rest { "a rest" } else { "open amounts" };
    FORM.at(place)
        .says(format!(
            "{ration} has parts and {other}: both want what is left"
        ))
        .help("parts divide what the other lines leave; write the others as fixed amounts")
}

pub(crate) fn no_parts(place: Place, ration: &str) -> Finding {
    FORM.at(place)
        .says(format!(
            "{ration} leaves nothing for its parts: the other lines are the whole"
        ))
        .help("lower the other lines: parts divide what they leave")
}

pub(crate) fn not_per_day(place: Place, name: &str, ration: &str) -> Finding {
    FORM.at(place)
        .says(format!(
            "{name} is not a day's amount; other lines of {ration} are"
        ))
        .help("give every line an amount a day, such as `2 kg/day`, or none")
}

pub(crate) fn intake_differs(place: Place, ration: &str, total: &Q, intake: &Q) -> Finding {
    FORM.at(place)
        .says(format!(
            "the lines of {ration} make {} a day; its intake says {}",
            mass(total),
            mass(intake)
        ))
        .help("leave the intake out: it is the sum of the lines")
}

pub(crate) fn open_top(place: Place, name: &str) -> Finding {
    FORM.at(place)
        .says(format!("{name} is on top, so it needs one fixed amount"))
        .help("write one amount, such as `1.5 kg/t on top`")
}

pub(crate) fn giving_without_rest(place: Place, name: &str) -> Finding {
    GIVING
        .at(place)
        .says(format!(
            "{name} is given by its active, and no line takes the rest"
        ))
        .help("write `rest` on the line that may take up what the others leave")
}

pub(crate) fn by_measure(place: Place, name: &str, share: &Q) -> Finding {
    MEASURE
        .at(place)
        .says(format!(
            "{name} is small ({} % of the mix) and given by volume or measure",
            (share * Q::int(100)).readable(3)
        ))
        .help("weigh small ingredients: a measure heaped or level differs by more than their dose allows")
}
