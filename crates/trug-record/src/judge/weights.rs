//! What was weighed beside what the plan asks.

use trug_findings::{Finding, Place};
use trug_model::ration::Ration;
use trug_model::view::Record;
use trug_model::{Q, View};

use super::{Plans, Sum, mixed, sums};
use crate::findings::record as says;

/// The part of a batch that may be unwritten before a record counts as incomplete: then what is missing is taken to be
/// as planned, since a batch cannot have been mixed without it unnoticed.
fn most_unwritten() -> Q {
    Q::ratio(1, 20)
}

/// Says which weights are outside of what the plan allows, what is missing and what is too much, and which bounds the
/// batch misses as it was really mixed.
pub(super) fn judge(
    view: &View<'_>,
    record: &Record,
    ration: &Ration,
    plans: &mut Plans,
    findings: &mut Vec<Finding>,
) {
    if record.weighed.is_empty() || !ration.is_known() {
        return;
    }
    let Some(sums) = sums(view, record) else {
        return;
    };
    let of = Compared::of(record, ration, &sums);
    let ration_at = (ration.name.as_str(), ration.place);
    let mut own = Vec::new();
    if of.is_of_another() {
        let lines = of.common.len() + of.missing.len();
        let (same, all) = (of.common.len(), lines.max(sums.len()));
        own.push(says::ration(
            record.of_at,
            &record.name,
            ration_at,
            same,
            all,
        ));
    } else {
        if !of.missing.is_empty() {
            own.push(says::missing(record.place, &record.name, &of.missing));
        }
        for sum in &of.extra {
            own.push(says::extra(sum.written, sum.name, &sum.kg, ration_at));
        }
        own.extend(off_the_plan(view, record, ration, plans, &of));
    }
    let as_mixed = mixed::judge(view, record, ration, plans, &of);
    // What passes a bound at this weight is that bound's to say.
    own.retain(|weight| {
        let is_weight = weight.code.name == says::WEIGHT.name;
        !is_weight || as_mixed.iter().all(|bound| bound.place != weight.place)
    });
    findings.extend(own);
    findings.extend(as_mixed);
}

/// A record beside its ration, ingredient by ingredient.
pub(super) struct Compared<'record> {
    /// In both, with where the ration asks for it.
    pub(super) common: Vec<(&'record Sum<'record>, Place)>,
    /// In the record only.
    pub(super) extra: Vec<&'record Sum<'record>>,
    /// In the ration only, with where it asks for it.
    pub(super) missing: Vec<(&'record str, Place)>,
    /// What was weighed of the 100 %, in kg.
    pub(super) main: Q,
    /// More is missing than could be left out unnoticed.
    pub(super) is_incomplete: bool,
}

impl<'record> Compared<'record> {
    pub(super) fn of(
        record: &Record,
        ration: &'record Ration,
        sums: &'record [Sum<'record>],
    ) -> Compared<'record> {
        let line_of = |name: &str| ration.lines.iter().find(|line| line.name == name);
        let mut compared = Compared {
            common: Vec::new(),
            extra: Vec::new(),
            missing: Vec::new(),
            main: Q::ZERO,
            is_incomplete: false,
        };
        for sum in sums {
            match line_of(sum.name) {
                Some(line) => compared.common.push((sum, line.written)),
                None => compared.extra.push(sum),
            }
            compared.main += &sum.kg * &part_of_main(ration, sum.name);
        }
        for line in &ration.lines {
            let is_weighed = sums.iter().any(|sum| line.name == sum.name);
            let is_known = compared.missing.iter().any(|(name, _)| line.name == *name);
            if !is_weighed && !is_known && line.low.is_positive() {
                compared.missing.push((&line.name, line.written));
            }
        }
        compared.is_incomplete = !compared.missing.is_empty()
            && record
                .batch
                .as_ref()
                .is_none_or(|batch| &compared.main + batch * &most_unwritten() < *batch);
        compared
    }

    /// So few ingredients are the same that the ration must be another than was mixed.
    pub(super) fn is_of_another(&self) -> bool {
        let most = self.common.len() + self.missing.len().max(self.extra.len());
        !self.extra.is_empty() && 2 * self.common.len() < most
    }

    fn is_alike(&self) -> bool {
        self.extra.is_empty() && self.missing.is_empty()
    }
}

/// What part of an ingredient counts in the 100 %: all of what is not on top.
pub(super) fn part_of_main(ration: &Ration, name: &str) -> Q {
    let lines = || ration.lines.iter().filter(|line| line.name == name);
    let main = lines().filter(|line| !line.on_top).map(|line| &line.low);
    let main: Q = main.sum();
    let whole: Q = lines().map(|line| &line.low).sum();
    main.over(&whole).unwrap_or(Q::ONE)
}

/// Weights outside of what the plan allows; where there are none, a sum that is not the batch.
fn off_the_plan(
    view: &View<'_>,
    record: &Record,
    ration: &Ration,
    plans: &mut Plans,
    of: &Compared<'_>,
) -> Vec<Finding> {
    let asked = record.batch.as_ref();
    let Some((batch, asked)) = asked.and_then(|it| Some((it, plans.asked(view, ration, it)?)))
    else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for (sum, line) in &of.common {
        let Some(reading) = asked.of.get(sum.name) else {
            continue;
        };
        if sum.kg < reading.from || reading.to < sum.kg {
            let window = (&reading.from, &reading.to);
            findings.push(says::weight(sum.written, sum.name, &sum.kg, window, *line));
        }
    }
    let is_off = asked.error < (&of.main - batch).abs();
    if findings.is_empty() && of.is_alike() && is_off {
        let (name, place) = (&record.name, record.place);
        findings.push(says::total(place, name, &of.main, batch, &asked.error));
    }
    findings
}
