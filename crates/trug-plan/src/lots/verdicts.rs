//! Bounds that are kept or missed only because of the deliveries a batch is weighed from.

use trug_findings::{Finding, Severity};
use trug_model::ration::Ration;
use trug_model::view::Delivered;
use trug_model::{Q, View};

use crate::from_ration::merged;
use crate::plan::{Batch, Plan};
use crate::planned::weighed_inclusions;
use crate::words::names;

/// Judges every batch with the analyses of its lots, by their masses, and once more with what is really weighed of each.
///
/// What is missed only so weighs as that bound does: harm and law are errors. A target that is missed as written and met with
/// the lots is a note. `before` is what was said of the ration as written, and of what snapping to scales alone misses.
pub(crate) fn judge(
    view: &View<'_>,
    ration: &Ration,
    plan: &Plan,
    before: &[&[Finding]],
) -> Vec<Finding> {
    let batches: Vec<Case> = plan
        .batches
        .iter()
        .map(|batch| Case::of(view, ration, plan, batch))
        .collect();
    let weighed = weighed_inclusions(ration, plan);
    let weighed = weighed.map(|inclusions| ration.with_inclusions(&inclusions));
    let states = [(Some(ration), ""), (weighed.as_ref(), " and as weighed")];
    let mut new: Vec<Finding> = Vec::new();
    for case in batches.iter().filter(|case| !case.lots.is_empty()) {
        for (ration, how) in states {
            let Some(ration) = ration else { continue };
            for finding in view.judge(&view.as_delivered(ration, &case.delivered)) {
                let mut known = before.iter().flat_map(|known| known.iter()).chain(&new);
                if !known.any(|known| is_same(known, &finding)) {
                    let with = case.with(case.causes(view, ration, &finding));
                    new.push(said_with(finding, &format!("{with}{how}")));
                }
            }
        }
    }
    let as_written = before.first().copied().unwrap_or_default();
    new.extend(met(view, ration, &batches, as_written));
    new
}

/// A batch with its lots.
struct Case<'a> {
    delivered: Vec<Delivered>,
    /// Those whose own analysis says other than the ingredient's.
    lots: Vec<&'a str>,
    /// Its number among several.
    number: Option<u32>,
}

impl<'a> Case<'a> {
    fn of(view: &View<'_>, ration: &Ration, plan: &'a Plan, batch: &'a Batch) -> Case<'a> {
        let before = plan.batches.iter();
        let before = before.take_while(|other| other.number < batch.number);
        let before = before.map(|other| other.times).fold(0, u32::saturating_add);
        Case {
            delivered: delivered(ration, plan, batch),
            lots: analysed(view, plan, batch),
            number: (plan.batches.len() > 1).then(|| before.saturating_add(1)),
        }
    }

    /// The lots each of which alone makes the difference; where none does, all.
    fn causes(&self, view: &View<'_>, ration: &Ration, finding: &Finding) -> Vec<&'a str> {
        let alone = |lot: &&&str| {
            let mut delivered = self.delivered.clone();
            for taken in &mut delivered {
                taken.lot = taken.lot.take().filter(|name| name == **lot);
            }
            let found = view.judge(&view.as_delivered(ration, &delivered));
            found.iter().any(|found| is_same(found, finding))
        };
        let causes: Vec<&str> = self.lots.iter().filter(alone).copied().collect();
        if causes.is_empty() {
            self.lots.clone()
        } else {
            causes
        }
    }

    /// `with lot MZ-31`, `with lots MZ-31 and FM-09 in batch 3`.
    fn with(&self, lots: Vec<&str>) -> String {
        let noun = if lots.len() == 1 { "lot" } else { "lots" };
        let named = names(&lots);
        match self.number {
            Some(number) => format!("with {noun} {named} in batch {number}"),
            None => format!("with {noun} {named}"),
        }
    }
}

/// The targets that are missed as written and met with the lots of every batch. Of harm and law it is never said that a delivery
/// mends them.
fn met(
    view: &View<'_>,
    ration: &Ration,
    batches: &[Case<'_>],
    as_written: &[Finding],
) -> Vec<Finding> {
    let missed = as_written.iter().filter(|finding| {
        matches!(finding.code.name, "target/under" | "target/over")
            && finding.severity != Severity::Note
    });
    let missed: Vec<&Finding> = missed.collect();
    if missed.is_empty() || batches.iter().any(|case| case.lots.is_empty()) {
        return Vec::new();
    }
    let rations: Vec<Ration> = batches
        .iter()
        .map(|case| view.as_delivered(ration, &case.delivered))
        .collect();
    let found: Vec<Vec<Finding>> = rations.iter().map(|ration| view.judge(ration)).collect();
    let is_met = |missed: &Finding| !found.iter().flatten().any(|found| is_same(missed, found));
    let told = missed.into_iter().filter(|missed| is_met(missed));
    let told = told.filter_map(|missed| {
        let (case, ration) = (batches.first()?, rations.first()?);
        Some(said_with(
            is_met_now(view, ration, missed)?,
            &case.with(case.lots.clone()),
        ))
    });
    told.collect()
}

/// The same bound, missed in the same way; the numbers may be others.
fn is_same(one: &Finding, other: &Finding) -> bool {
    let places = |finding: &Finding| -> Vec<_> {
        let related = finding.related.iter().map(|related| related.place);
        related.collect()
    };
    let is_of_bound = !one.related.is_empty();
    one.code == other.code
        && places(one) == places(other)
        && (is_of_bound || one.place == other.place)
}

fn said_with(mut finding: Finding, with: &str) -> Finding {
    finding.message = format!("{with}, {}", finding.message);
    // Other amounts would mend the ration as written, not what is in this lot.
    finding.fixes.clear();
    finding
}

/// What a target that was missed comes to with the lots.
fn is_met_now(view: &View<'_>, ration: &Ration, missed: &Finding) -> Option<Finding> {
    let written = missed.related.first()?.place;
    let analysis = view.analyse(ration);
    let mut bounds = analysis.bounds.iter();
    let bound = bounds.find(|bound| bound.place == written && bound.met == Some(true))?;
    let value = bound.value.as_ref()?.readable(4);
    let what = format!("{value} {}", bound.unit);
    let finding = Finding::new(missed.code, missed.place).weighing(Severity::Note);
    let finding = finding.says(format!("{} is {}: met", bound.what, what.trim_end()));
    Some(Finding {
        related: missed.related.clone(),
        ..finding
    })
}

/// The lots of a batch whose own analysis says other than the ingredient's, but for those that the ration names itself.
fn analysed<'a>(view: &View<'_>, plan: &'a Plan, batch: &'a Batch) -> Vec<&'a str> {
    let mut lots: Vec<&str> = Vec::new();
    for weighing in &batch.weighings {
        let Some(lot) = weighing.lot.as_deref() else {
            continue;
        };
        let ingredient = &plan.order.ingredients[weighing.ingredient];
        let named: Q = ingredient.named.iter().map(|named| &named.part).sum();
        if named < Q::ONE && !lots.contains(&lot) && view.is_analysed(lot) {
            lots.push(lot);
        }
    }
    lots
}

/// What of each line that names no lot comes from which.
fn delivered(ration: &Ration, plan: &Plan, batch: &Batch) -> Vec<Delivered> {
    let mut delivered = Vec::new();
    for (rank, lines) in merged(ration).into_iter().enumerate() {
        let ingredient = &plan.order.ingredients[rank];
        let mut parts: Vec<(Option<&str>, Q)> = Vec::new();
        let mut whole = Q::ZERO;
        for weighing in batch.weighings.iter().filter(|it| it.ingredient == rank) {
            let lot = weighing.lot.as_deref();
            whole += &weighing.mass_g;
            match parts.iter_mut().find(|(known, _)| *known == lot) {
                Some((_, mass)) => *mass += &weighing.mass_g,
                None => parts.push((lot, weighing.mass_g.clone())),
            }
        }
        // What lines name is theirs; the others take what is left of each lot.
        for named in &ingredient.named {
            let lot = ingredient.lots.get(named.lot).map(|lot| lot.name.as_str());
            if let Some((_, mass)) = parts.iter_mut().find(|(known, _)| *known == lot) {
                *mass = (&*mass - &(&named.part * &whole)).max(Q::ZERO);
            }
        }
        let open: Q = parts.iter().map(|(_, mass)| mass).sum();
        for (line, (lot, mass)) in lines
            .into_iter()
            .flat_map(|line| parts.iter().map(move |part| (line, part)))
        {
            if let Some(part) = mass.over(&open).filter(Q::is_positive) {
                delivered.push(Delivered {
                    line,
                    lot: lot.map(str::to_owned),
                    part,
                });
            }
        }
    }
    delivered
}
