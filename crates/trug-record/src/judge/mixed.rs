//! The bounds a batch misses as it was really mixed, and its ration as written does not.

use trug_findings::{Finding, Place, Severity, Span};
use trug_model::ration::{Ration, Weight};
use trug_model::view::Record;
use trug_model::{Q, View};

use super::Plans;
use super::weights::Compared;

/// What can be missed by weighing otherwise.
const BOUNDS: [&str; 5] = ["dose", "target", "limit", "law", "harm"];
/// What of it stays where the ration has become another since.
const OF_ANY_RATION: [&str; 3] = ["dose", "law", "harm"];

/// What such a finding begins with.
pub(super) const AS_MIXED: &str = "as really mixed, ";

/// Every bound the batch misses, in the words of the bound, where the record causes it.
pub(super) fn judge(
    view: &View<'_>,
    record: &Record,
    ration: &Ration,
    plans: &mut Plans,
    of: &Compared<'_>,
) -> Vec<Finding> {
    let Some(weights) = weights(record, ration, of) else {
        return Vec::new();
    };
    let Some(mixed) = view.as_mixed(ration, &weights) else {
        return Vec::new();
    };
    let item = item_of(view, ration);
    let written = plans.written(view, ration);
    let is_new = |finding: &Finding| {
        let key = Key::of(finding, item);
        written.iter().all(|known| Key::of(known, item) != key)
    };
    let families: &[&str] = if of.is_of_another() {
        &OF_ANY_RATION
    } else {
        &BOUNDS
    };
    let mut findings = view.judge(&mixed);
    findings.retain(|finding| {
        let family = finding.code.family();
        Severity::Note < finding.severity && families.contains(&family) && is_new(finding)
    });
    for finding in &mut findings {
        finding.message = format!("{AS_MIXED}{}", finding.message);
        finding.fixes.clear();
        let own = finding.place;
        finding.place = place_in(record, ration, own);
        if finding.place != own {
            *finding = finding.clone().also(own, "the ration as it is written");
        }
    }
    findings
}

/// What was weighed; with what is missing as planned where the record is incomplete. None where that cannot be told.
fn weights(record: &Record, ration: &Ration, of: &Compared<'_>) -> Option<Vec<Weight>> {
    let weighed = record.weighed.iter().map(|weighed| {
        Some(Weight {
            name: weighed.name.clone(),
            kg: weighed.kg.clone()?,
            lot: weighed.lot.as_ref().map(|(lot, _)| lot.clone()),
            place: weighed.written,
        })
    });
    let mut weights: Vec<Weight> = weighed.collect::<Option<_>>()?;
    if !of.is_incomplete {
        return Some(weights);
    }
    let batch = record.batch.as_ref()?;
    for (name, _) in &of.missing {
        let lines = ration.lines.iter().filter(|line| line.name == *name);
        let share: Q = lines.map(|line| &line.low).sum();
        weights.push(Weight {
            name: (*name).into(),
            kg: batch * &share,
            lot: None,
            place: record.place,
        });
    }
    Some(weights)
}

/// What tells one missed bound from another, whatever the numbers: its code, and where it is written.
#[derive(PartialEq)]
struct Key {
    code: &'static str,
    place: Place,
    bounds: Vec<Place>,
}

impl Key {
    fn of(finding: &Finding, item: Option<Place>) -> Key {
        // Which lines bring how much differs with every weight.
        let is_bound = |place: &Place| item.is_none_or(|item| !holds(item, *place));
        let places = finding.related.iter().map(|related| related.place);
        Key {
            code: finding.code.name,
            place: finding.place,
            bounds: places.filter(is_bound).collect(),
        }
    }
}

fn item_of(view: &View<'_>, ration: &Ration) -> Option<Place> {
    let named = view.farm().ration_named_at(ration.place)?;
    Some(Place::new(ration.file, named.item))
}

fn holds(item: Place, place: Place) -> bool {
    let Span { start, end, .. } = item.span;
    item.file == place.file && start <= place.span.start && place.span.end <= end
}

/// Where in the record it is caused: at the weight, where the ration's line causes it; else at the record's name.
fn place_in(record: &Record, ration: &Ration, own: Place) -> Place {
    if record.weighed.iter().any(|weighed| weighed.written == own) {
        return own;
    }
    let mut lines = ration.lines.iter();
    let line = lines.find(|line| line.place == own && own != ration.place);
    let weighed = line.and_then(|line| {
        let mut weighed = record.weighed.iter();
        weighed.find(|weighed| weighed.name == line.name)
    });
    weighed.map_or(record.place, |weighed| weighed.written)
}
