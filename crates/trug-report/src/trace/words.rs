//! What a trace says in sentences.

use jiff::civil::Date;
use trug_model::Q;
use trug_record::trace::{FedTraced, Gap, Holds, Kind, LotTraced, RecordTraced, Running, Trace};

use crate::words::{count, mass};

/// A mass of so many kg.
pub(super) fn kilograms(kg: &Q) -> String {
    mass(&(kg * &Q::int(1000)))
}

/// What was asked about: `lot DP-12 of duck-premix`.
pub(super) fn title(trace: &Trace) -> String {
    let start = &trace.start;
    let of = match start.kind {
        Kind::Lot => trace.lots.first().map(|lot| lot.of.clone()),
        Kind::Record => {
            let mut records = trace.records.iter();
            records
                .find(|record| record.is_start)
                .map(|record| record.of.clone())
        }
        Kind::Group => None,
    };
    let of = of.map_or_else(String::new, |of| format!(" of {of}"));
    format!("{} {}{of}", start.kind.word(), start.name)
}

/// What is said of the start itself, where it is not one item that is declared.
pub(super) fn of_start(trace: &Trace) -> Option<String> {
    let start = &trace.start;
    let kind = start.kind.word();
    match start.places.len() {
        0 => Some(format!(
            "No text declares this {kind}; it is what records name so."
        )),
        1 => None,
        several => Some(format!(
            "{several} texts declare a {kind} of this name; all of them are followed here."
        )),
    }
}

/// How a lot adds up.
pub(super) fn account(lot: &LotTraced) -> String {
    let weighed = format!("{} weighed in records", kilograms(&lot.weighed));
    let Some(declared) = &lot.lot else {
        return weighed;
    };
    let said = |kg: &Option<Q>, what: &str| {
        let mass = kg.as_ref().map(kilograms);
        mass.map_or_else(
            || format!("how much {what} is not said"),
            |mass| format!("{mass} {what}"),
        )
    };
    let sums = format!(
        "{}, {weighed}, {}",
        said(&declared.came, "came"),
        said(&declared.on_hand, "left")
    );
    match &lot.missing {
        None => sums,
        Some(kg) if kg.is_zero() => format!("{sums}: all of it is accounted for"),
        Some(kg) if kg.is_positive() => {
            format!("{sums}: {} NOT ACCOUNTED FOR", kilograms(kg))
        }
        Some(kg) => format!("{sums}: {} MORE THAN CAME", kilograms(&kg.abs())),
    }
}

/// `R-118 of laying-mash, 120 kg, by A. and M.`
pub(super) fn record(record: &RecordTraced) -> String {
    let mut says = format!("{} of {}", record.name, record.of);
    if let Some(batch) = &record.batch {
        says.push_str(&format!(", {}", kilograms(batch)));
    }
    if let Some(by) = &record.by {
        says.push_str(&format!(", by {by}"));
    }
    if !record.is_certain {
        says.push_str(" (POSSIBLE)");
    }
    says
}

/// `300 g of lot DP-12 (duck-premix)`
pub(super) fn holds(held: &Holds) -> String {
    let what = if held.is_mix {
        format!("the mix {} ({})", held.name, held.of)
    } else {
        format!("lot {} ({})", held.name, held.of)
    };
    let mut says = match (&held.kg, held.is_certain) {
        (_, false) => format!("may hold {what}"),
        (Some(kg), true) => format!("holds {} of {what}", kilograms(kg)),
        (None, true) => format!("holds {what}, how much is not known"),
    };
    if held.is_certain && held.may_be_more {
        says.push_str(", perhaps more");
    }
    if !held.through.is_empty() {
        says.push_str(&format!(", by {}", held.through.join(", ")));
    }
    says
}

/// `fed to pond-house (180 laying-duck) from 2026-11-15 to 2026-11-18`
pub(super) fn fed(fed: &FedTraced) -> String {
    let animals = animals(&fed.animals);
    let of = if animals.is_empty() {
        String::new()
    } else {
        format!(" ({animals})")
    };
    let mut says = format!("fed to {}{of}, {}", fed.group, days(fed));
    if let Some(each) = &fed.each {
        says.push_str(&format!("; at most {} each", kilograms(each)));
    }
    says
}

/// `from 2026-11-15 to 2026-11-18`
fn days(fed: &FedTraced) -> String {
    match (fed.from, fed.to) {
        (Some(from), Some(to)) => format!("from {from} to {to}"),
        (Some(from), None) => format!("from {from}, no end is written down"),
        (None, Some(to)) => format!("to {to}"),
        (None, None) => "no days are written down".to_owned(),
    }
}

/// `180 laying-duck and 20 goose`
pub(super) fn animals<T: std::fmt::Display>(animals: &[(Q, T)]) -> String {
    let kinds = animals.iter();
    let kinds: Vec<String> = kinds.map(|(head, kind)| format!("{head} {kind}")).collect();
    kinds.join(" and ")
}

/// What is not for people yet, until when.
pub(super) fn running(one: &Running, today: Date) -> String {
    let until = match (one.last_fed, one.until) {
        (_, None) => "for longer than the calendar goes".to_owned(),
        (Some(_), Some(until)) => format!("until {until}"),
        (None, Some(until)) => format!("at least until {until}"),
    };
    format!(
        "{} of {} {until}: {}",
        one.product,
        one.group,
        why(one, today)
    )
}

/// What a withdrawal comes with, and since when.
pub(super) fn why(one: &Running, today: Date) -> String {
    let days = count(
        usize::try_from(one.days.to_i64().unwrap_or(2)).unwrap_or(2),
        "day",
        "days",
    );
    let days = if one.days.is_whole() {
        days
    } else {
        format!("{} days", one.days)
    };
    let fed = match (one.from, one.last_fed) {
        (_, Some(last)) if last < today => format!("{} was fed until {last}", one.record),
        (_, Some(last)) => format!("{} is fed until {last}", one.record),
        (Some(from), None) if today < from => format!("{} is fed from {from} on", one.record),
        (_, None) => format!("{} is fed, no end is written down", one.record),
    };
    let mut says = format!("{}, {days} after the last feeding; {fed}", one.ingredient);
    if !one.is_weighed {
        says.push_str(" (by its ration; the record does not say that it was weighed)");
    }
    says
}

/// What could not be followed, each in a sentence: of one record all that lacks a lot in one.
pub(super) fn gaps(trace: &Trace) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    let mut rest = trace.gaps.as_slice();
    while let Some((first, others)) = rest.split_first() {
        rest = others;
        let Gap::NoLot { record, made, .. } = first else {
            told.push(gap(first));
            continue;
        };
        let is_same = |other: &&Gap| gap_record(other) == Some(record) && is_no_lot(other);
        let same = others.iter().take_while(is_same).count();
        let (same, others) = others.split_at(same);
        rest = others;
        let weights: Vec<String> = std::iter::once(first).chain(same).map(no_lot).collect();
        told.push(format!(
            "{record}{}: no lot is named of {}",
            on(*made),
            weights.join(", ")
        ));
    }
    told
}

fn is_no_lot(gap: &Gap) -> bool {
    matches!(gap, Gap::NoLot { .. })
}

/// `18 kg sorghum`, where no lot is named of it.
fn no_lot(gap: &Gap) -> String {
    match gap {
        Gap::NoLot { ingredient, kg, .. } => match kg {
            Some(kg) => format!("{} {ingredient}", kilograms(kg)),
            None => format!("some {ingredient}"),
        },
        _ => String::new(),
    }
}

fn on(made: Option<Date>) -> String {
    made.map_or_else(String::new, |day| format!(" on {day}"))
}

/// What a gap is called in a program.
pub(super) fn gap_word(gap: &Gap) -> &'static str {
    match gap {
        Gap::NoLot { .. } => "no-lot",
        Gap::NoWeights { .. } => "no-weights",
        Gap::UnknownLot { .. } => "unknown-lot",
        Gap::MixNotNamed { .. } => "mix-not-named",
        Gap::NotFed { .. } => "not-fed",
        Gap::NotUsed { .. } => "not-used",
        Gap::NoEnd { .. } => "no-end",
        Gap::UnknownGroup { .. } => "unknown-group",
        Gap::NoDay { .. } => "no-day",
        Gap::Unread { .. } => "unread-record",
        Gap::UnreadText { .. } => "unread-text",
        Gap::Incomplete { .. } => "incomplete",
        Gap::OneText { .. } => "one-text",
        Gap::Missing { .. } => "missing",
        Gap::TooMuch { .. } => "too-much",
        Gap::NotReckoned { .. } => "not-reckoned",
    }
}

/// The record a gap is in.
pub(super) fn gap_record(gap: &Gap) -> Option<&str> {
    match gap {
        Gap::NoLot { record, .. }
        | Gap::NoWeights { record, .. }
        | Gap::UnknownLot { record, .. }
        | Gap::MixNotNamed { record, .. }
        | Gap::NotFed { record, .. }
        | Gap::NotUsed { record, .. }
        | Gap::NoEnd { record, .. }
        | Gap::UnknownGroup { record, .. }
        | Gap::NoDay { record }
        | Gap::Unread { record } => Some(record),
        _ => None,
    }
}

/// What could not be followed, in a sentence.
pub(super) fn gap(gap: &Gap) -> String {
    match gap {
        Gap::NoLot { record, made, .. } => {
            format!("{record}{}: no lot is named of {}", on(*made), no_lot(gap))
        }
        Gap::NoWeights {
            record,
            made,
            of,
            ingredient,
        } => match ingredient {
            Some(ingredient) => format!(
                "{record}{}: nothing weighed is written down, and {of} holds {ingredient}",
                on(*made)
            ),
            None => format!("{record}{}: nothing weighed is written down", on(*made)),
        },
        Gap::UnknownLot { record, lot } => format!("{record}: lot {lot} is declared nowhere"),
        Gap::MixNotNamed {
            record,
            mix,
            may_be,
            older,
        } => {
            let of = match (may_be.len(), older) {
                (0, _) => "and there is no record of it".to_owned(),
                (_, 0) => format!("it may be {}", few(may_be)),
                (_, older) => format!(
                    "it may be {}, or one of {older} older ones that are not followed",
                    few(may_be)
                ),
            };
            format!("{record}: the record of the {mix} in it is not named; {of}")
        }
        Gap::NotFed {
            record,
            of,
            eaters,
            medicated,
        } => {
            let mut says = format!("{record}: whom it was fed to is not written down");
            if !eaters.is_empty() {
                says.push_str(&format!("; {of} is eaten by {}", few(eaters)));
            }
            if !medicated.is_empty() {
                says.push_str(&format!(
                    "; it holds {}, which has a withdrawal",
                    few(medicated)
                ));
            }
            says
        }
        Gap::NotUsed { record, of } => {
            format!("{record}: no record says what this {of} was mixed into")
        }
        Gap::NoEnd { record, group } => {
            format!("{record}: until when {group} was fed it is not written down")
        }
        Gap::UnknownGroup { record, group } => {
            format!("{record}: group {group} is declared nowhere")
        }
        Gap::NoDay { record } => format!("{record}: the day it was made is not written down"),
        Gap::Unread { record } => format!("{record}: a line of it could not be read"),
        Gap::UnreadText { text } => format!("{text}: something in it could not be read"),
        Gap::Incomplete { text } => format!("{text}: a text it uses could not be had"),
        Gap::OneText { text } => format!(
            "{text} and what it uses were looked through: texts that use it may hold more; name the folder for all of them"
        ),
        Gap::Missing { lot, kg } => format!(
            "{} of lot {lot} came and is neither weighed in a record nor left",
            kilograms(kg)
        ),
        Gap::TooMuch { lot, kg } => format!(
            "{} more of lot {lot} is weighed or left than came",
            kilograms(kg)
        ),
        Gap::NotReckoned { lot, says_came } => {
            let line = if *says_came {
                "`on hand MASS`"
            } else {
                "`received MASS on DATE`"
            };
            format!(
                "lot {lot}: whether all of it is in these records cannot be reckoned without {line}"
            )
        }
    }
}

/// Names in a row, the first few where there are many.
fn few<T: AsRef<str>>(names: &[T]) -> String {
    const SHOWN: usize = 5;
    let shown: Vec<&str> = names.iter().take(SHOWN).map(AsRef::as_ref).collect();
    match names.len().saturating_sub(SHOWN) {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

/// What a trace rests on.
pub(super) fn searched(trace: &Trace) -> String {
    format!(
        "Looked through: {} in {}. This is what is written down there, and nothing else: ask those who mixed and fed \
         before a recall is closed.",
        count(trace.all_records, "record", "records"),
        count(trace.texts, "text", "texts")
    )
}

/// Who decides.
pub(super) const DECIDES: &str = "The product label and a veterinarian decide when eggs, milk and meat may be used \
                                  again, and local law may ask for more.";

/// What is said where no withdrawal runs.
pub(super) fn none_running(today: Date) -> String {
    format!("None is found running on {today} in these records.")
}

/// What is said where nothing is missing.
pub(super) const NO_GAPS: &str =
    "Nothing: every weight has its lot, every batch its group and days.";
