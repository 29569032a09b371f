//! What became of a batch, a lot and what a group was fed, in a few words.

use trug_findings::{FileId, Place};
use trug_model::view::Record;
use trug_model::{Namespace, Q, View};
use trug_record::ledger::Ledger;
use trug_record::outcome;
use trug_record::trace::{Kind, Trace, find, trace};
use trug_report::words::{count, mass};

use crate::markdown::plain;

/// Beyond so many texts that may hold records a card does not look through them: `trug trace` does.
const MOST_TEXTS: usize = 60;

fn grams(kilograms: &Q) -> Q {
    kilograms * &Q::int(1000)
}

/// What was mixed, how far from its plan, and for whom: `mixed 120 kg of 120 kg · 1 weight outside · fed to pond-house`.
pub(crate) fn became(view: &View<'_>, record: &Record) -> String {
    let outcome = outcome(view, record);
    let mixed = outcome.mixed.as_ref().map(|kg| mass(&grams(kg)));
    let batch = outcome.batch.as_ref().map(|kg| mass(&grams(kg)));
    let mut told = vec![match (mixed, batch) {
        (Some(mixed), Some(batch)) => format!("mixed {mixed} of {batch}"),
        (Some(mixed), None) => format!("mixed {mixed}"),
        (None, Some(batch)) => format!("batch of {batch}, nothing weighed"),
        (None, None) => "nothing weighed".to_owned(),
    }];
    if 0 < outcome.outside {
        let weights = count(outcome.outside, "weight", "weights");
        told.push(format!("{weights} outside"));
    }
    if 0 < outcome.missed {
        let bounds = count(outcome.missed, "bound", "bounds");
        told.push(format!("{bounds} missed as really mixed"));
    }
    for (group, until) in &outcome.fed {
        told.push(match until {
            Some(until) => format!("fed to {group} until {until}"),
            None => format!("fed to {group}"),
        });
    }
    told.join(" \u{b7} ")
}

/// Where the lots and groups of a record are declared.
pub(crate) fn rests_on(view: &View<'_>, record: &Record) -> Vec<Place> {
    let lots = record.weighed.iter().filter_map(|it| it.lot.as_ref());
    let lots = lots.flat_map(|(name, _)| [(Namespace::Lot, name), (Namespace::Record, name)]);
    let groups = record.fed.iter().map(|fed| (Namespace::Group, &fed.group));
    let mut places: Vec<Place> = Vec::new();
    for (namespace, name) in lots.chain(groups) {
        let declared = view.declaration(namespace, name);
        let place = declared.and_then(|(file, item)| {
            let name = item.body.name()?;
            Some(Place::new(file, name.span))
        });
        places.extend(place.filter(|place| !places.contains(place)));
    }
    places
}

/// A name followed through the texts that can name it; none where those are too many to look through at once.
fn traced(view: &View<'_>, kind: Kind, namespace: Namespace, name: &str) -> Option<Trace> {
    let farm = view.farm();
    let (declared_in, _) = view.declaration(namespace, name)?;
    let mut texts: Vec<FileId> = farm.readers_of(declared_in).into_iter().collect();
    if MOST_TEXTS < texts.len() {
        return None;
    }
    texts.sort();
    let ledger = Ledger::among(farm, &texts);
    let start = find(&ledger, Some(kind), name)?;
    let today = farm.settings().today?;
    let is_named = ledger.records.iter().any(|made| !made.parts.is_empty());
    (is_named || kind == Kind::Group).then(|| trace(&ledger, start, today))
}

/// What records weighed of a lot, and whether that accounts for all of it.
pub(super) fn of_lot(view: &View<'_>, name: &str) -> Vec<String> {
    let Some(trace) = traced(view, Kind::Lot, Namespace::Lot, name) else {
        return Vec::new();
    };
    let Some(lot) = trace.lots.first().filter(|_| !trace.records.is_empty()) else {
        return Vec::new();
    };
    let records = count(trace.records.len(), "record", "records");
    let mut told = vec![format!(
        "{} weighed; in {records}",
        mass(&grams(&lot.weighed))
    )];
    match &lot.missing {
        Some(kg) if kg.is_positive() => {
            told.push(format!("{} not accounted for", mass(&grams(kg))));
        }
        Some(kg) if kg.is_negative() => {
            told.push(format!("{} more than came", mass(&grams(&kg.abs()))));
        }
        _ => {}
    }
    told
}

/// The withdrawals that run for what a group gives.
pub(super) fn of_group(view: &View<'_>, name: &str) -> Vec<String> {
    let Some(trace) = traced(view, Kind::Group, Namespace::Group, name) else {
        return Vec::new();
    };
    let running = trace.running.iter().filter_map(|one| {
        let until = one.until?;
        let least = if one.last_fed.is_none() {
            "at least "
        } else {
            ""
        };
        Some(plain(&format!(
            "withdrawal of {} runs {least}until {until}, after {} in {}: label and veterinarian decide",
            one.product, one.ingredient, one.record
        )))
    });
    running.collect()
}
