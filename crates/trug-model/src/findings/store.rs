//! What can be said about what lies in the store: deliveries past their day, and such as do not suffice.

use jiff::civil::Date;
use trug_findings::{Code, Finding, Place};

use crate::Q;

pub static SHORT: Code = Code::warning("store/short", include_str!("pages/store-short.md"));
pub static EXPIRED: Code = Code::warning("store/expired", include_str!("pages/store-expired.md"));

pub static ALL: &[&Code] = &[&SHORT, &EXPIRED];

/// A delivery with something left of it is past its best before.
pub(crate) fn left_over(
    (lot, place): (&str, Place),
    left: &Q,
    best_before: Date,
    today: Date,
) -> Finding {
    EXPIRED
        .at(place)
        .says(format!(
            "lot {lot} was best before {best_before}, {} ago; {} are left",
            days_between(best_before, today),
            in_words(left)
        ))
        .label(format!("counted on {today}"))
        .help(format!(
            "ask the supplier whether it may still be fed, and write the day in {lot}; else throw it \
             out and write `on hand 0 kg`"
        ))
}

/// A line takes from a delivery that is past its best before.
pub(crate) fn named(
    place: Place,
    ingredient: &str,
    (lot, declared): (&str, Place),
    best_before: Date,
    today: Date,
) -> Finding {
    EXPIRED
        .at(place)
        .says(format!(
            "{ingredient} is taken from lot {lot}, best before {best_before}, {} ago",
            days_between(best_before, today)
        ))
        .label(format!("counted on {today}"))
        .also(declared, "the lot")
        .help("name a fresher lot, or leave the lot out: `plan` then takes what expires first")
}

/// A delivery named in a ration holds less than one batch of it takes.
pub(crate) fn named_short(
    place: Place,
    ingredient: &str,
    (lot, declared): (&str, Place),
    [wanted, left]: [&Q; 2],
) -> Finding {
    let (wanted, left) = (in_words(wanted), in_words(left));
    SHORT
        .at(place)
        .says(format!(
            "one batch takes {wanted} of {ingredient} from lot {lot}; {left} are on hand"
        ))
        .also(declared, "what is on hand is written here")
        .help(format!(
            "name a second lot on a line of its own, leave the lot out, or mend `on hand` of {lot}"
        ))
}

/// What a plan wants of an ingredient, and what its lots give.
#[derive(Clone, Debug)]
pub struct Short<'a> {
    /// Where the ration names its amount.
    pub place: Place,
    /// The ingredient.
    pub ingredient: &'a str,
    /// How much all batches take, in kg.
    pub wanted: &'a Q,
    /// How much of that its lots give, in kg.
    pub given: &'a Q,
    /// For how many of how many batches it suffices.
    pub batches: (u32, u32),
    /// Who eats it, and the day on which it runs out.
    pub runs_out: Option<(&'a str, Date)>,
    /// The lots there are, with what is to say of each.
    pub lots: Vec<(Place, String)>,
}

/// A plan wants more of an ingredient than its lots give.
#[must_use]
pub fn short(short: &Short<'_>) -> Finding {
    let Short {
        ingredient,
        wanted,
        given,
        ..
    } = short;
    let mut says = format!(
        "{ingredient} is {} short: {} wanted, its lots give {}",
        in_words(&(*wanted - *given)),
        in_words(wanted),
        in_words(given)
    );
    let (enough, all) = short.batches;
    if all > 1 {
        says.push_str(&format!("; enough for {enough} of {all} batches"));
    }
    if let Some((group, day)) = short.runs_out {
        says.push_str(&format!("; {group} runs out of it on {day}"));
    }
    let found = SHORT.at(short.place).says(says).help(
        "buy more, mix less, or mend `on hand` of its lots; what they do not cover is weighed without a lot",
    );
    let lots = short.lots.iter();
    lots.fold(found, |found, (place, says)| {
        found.also(*place, says.clone())
    })
}

/// Every lot there is of an ingredient is past its best before, so none of them is taken.
#[must_use]
pub fn all_expired(
    place: Place,
    ingredient: &str,
    lots: &[(String, Place, Date)],
    today: Date,
) -> Finding {
    let says = match lots {
        [(lot, _, day)] => format!(
            "the only lot of {ingredient}, {lot}, is past its best before: {day}, {} ago",
            days_between(*day, today)
        ),
        lots => format!(
            "all {} lots of {ingredient} are past their best before",
            lots.len()
        ),
    };
    let found = EXPIRED
        .at(place)
        .says(says)
        .label(format!("counted on {today}; weighed without a lot"))
        .help("buy a fresh lot and write it down; what is past its day is not taken unless a line names it");
    lots.iter().fold(found, |found, (lot, place, day)| {
        found.also(*place, format!("lot {lot}: best before {day}"))
    })
}

/// Feed with this lot in it is still eaten after the lot's best before.
#[must_use]
pub fn before_eaten(
    place: Place,
    ingredient: &str,
    (lot, declared): (&str, Place),
    best_before: Date,
    last: Date,
) -> Finding {
    EXPIRED
        .at(place)
        .says(format!(
            "lot {lot} of {ingredient} is best before {best_before}; the feed is eaten until {last}"
        ))
        .also(declared, "the lot")
        .help("mix for fewer days, or take a fresher lot")
}

/// `1 day`, `24 days`.
fn days_between(from: Date, to: Date) -> String {
    let days = from.until(to).map_or(0, |span| span.get_days());
    match days {
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    }
}

/// A mass for a sentence.
fn in_words(kg: &Q) -> String {
    if kg.abs() < Q::ONE && !kg.is_zero() {
        format!("{} g", (kg * &Q::int(1000)).readable(4))
    } else {
        format!("{} kg", kg.readable(6))
    }
}
