//! What stands on a sheet beside the plan itself: names for people, cautions, findings, and what each dose can be.

use std::collections::BTreeMap;

use trug_findings::{Finding, Source};
use trug_model::analysis::{BoundKind, BoundValue, DoseValue};
use trug_model::ration::{Line, Ration};
use trug_model::view::Ingredient;
use trug_plan::Planned;
use trug_plan::doses::{Expectations, Expected};

use super::{Bounded, Caution, DoseInterval, Labels, PlanAbout};
use crate::analysis::Interval;

impl<'a> PlanAbout<'a> {
    /// All there is to tell about a planned ration: `findings` are those that concern it.
    #[must_use]
    pub fn of(
        planned: &Planned,
        ration: &Ration,
        findings: &[Finding],
        sources: &'a [Source],
        today: &str,
    ) -> PlanAbout<'a> {
        let days = planned.days.as_ref().filter(|days| days.is_whole());
        PlanAbout {
            sources,
            file: sources
                .get(ration.file.index())
                .map_or_else(String::new, |source| source.name().to_owned()),
            label: ration.label.clone(),
            today: today.to_owned(),
            group: planned.group.clone(),
            group_called: planned.group_called.clone(),
            head: planned.head.clone(),
            animal: planned.animal.clone(),
            fed: planned.fed.clone(),
            keeps: planned.keeps.clone(),
            for_mixing: planned.for_mixing,
            is_medicated: planned.is_medicated,
            days: days.and_then(|days| u32::try_from(days.to_i64()?).ok()),
            draft: false,
            cautions: planned
                .cautions
                .iter()
                .map(|one| caution(one, ration))
                .collect(),
            findings: findings.to_vec(),
            doses: doses(planned),
            labels: labels(ration),
        }
    }
}

/// What is expected of bounds and doses, as the report draws it.
#[must_use]
pub fn intervals(expectations: &Expectations) -> (Vec<Interval>, Vec<Interval>) {
    let all = |expected: &[Expected]| expected.iter().map(interval).collect();
    (all(&expectations.bounds), all(&expectations.doses))
}

fn interval(expected: &Expected) -> Interval {
    Interval {
        batch: expected.batch,
        portion: expected.portion,
    }
}

/// A caution of what was mixed in beforehand is one of the mix that is weighed now.
fn caution(caution: &trug_plan::Caution, ration: &Ration) -> Caution {
    let name = caution.ingredient.as_deref();
    let is_weighed = name.is_none_or(|name| ration.lines.iter().any(|line| line.name == name));
    let mixed_in = |line: &&Line| {
        let nested = line.nested().into_iter();
        nested
            .flat_map(|nested| nested.ingredients())
            .any(|one| Some(one.name.as_str()) == name)
    };
    let holder = ration.lines.iter().find(mixed_in).filter(|_| !is_weighed);
    Caution {
        hazard: caution.hazard.clone(),
        mixed_in: holder.and_then(|_| caution.ingredient.clone()),
        ingredient: match holder {
            Some(holder) => Some(holder.name.to_string()),
            None => caution.ingredient.clone().filter(|_| is_weighed),
        },
        place: caution.place,
    }
}

/// The doses of the ingredients, then the bounds on the whole feed; those of which nothing is known are left out.
fn doses(planned: &Planned) -> Vec<DoseInterval> {
    let analysis = &planned.analysis;
    let (bounds, doses) = intervals(&planned.expectations);
    let own = analysis
        .doses
        .iter()
        .zip(doses)
        .filter_map(|(dose, interval)| of_dose(dose, interval));
    let whole = analysis
        .bounds
        .iter()
        .zip(bounds)
        .filter_map(|(bound, interval)| of_bound(bound, interval));
    own.chain(whole).collect()
}

fn of_dose(dose: &DoseValue, interval: Interval) -> Option<DoseInterval> {
    let least_of = [&dose.max, &dose.ceiling].into_iter().flatten().cloned();
    let active = dose.nutrient.as_ref().map(ToString::to_string);
    Some(DoseInterval {
        ingredient: Some(dose.ingredient.clone()),
        what: Bounded::Dose { active },
        value: dose.value.clone()?,
        unit: dose.unit.clone(),
        min: dose.min.clone(),
        max: least_of.reduce(trug_model::Q::min),
        interval,
    })
}

fn of_bound(bound: &BoundValue, interval: Interval) -> Option<DoseInterval> {
    let what = bound.what.clone();
    let what = match bound.kind {
        BoundKind::Target => Bounded::Target(what),
        BoundKind::Law => Bounded::Law(what),
        BoundKind::Harm => Bounded::Harm(what),
        // Limits are of amounts, which the weighing table shows.
        BoundKind::Limit => return None,
    };
    Some(DoseInterval {
        ingredient: None,
        what,
        value: bound.value.clone()?,
        unit: bound.unit.clone(),
        min: bound.min.clone(),
        max: bound.max.clone(),
        interval,
    })
}

/// What people call the ingredients, by their names.
pub(crate) fn labels(ration: &Ration) -> BTreeMap<String, Labels> {
    let labels = |line: &Line| {
        let labels = match (line.ingredient(), line.nested()) {
            (Some(ingredient), _) => Labels {
                plain: ingredient.label.clone(),
                by_language: by_language(ingredient),
            },
            (None, Some(nested)) => Labels {
                plain: nested.label.clone(),
                ..Labels::default()
            },
            (None, None) => Labels::default(),
        };
        (line.name.to_string(), labels)
    };
    ration.lines.iter().map(labels).collect()
}

fn by_language(ingredient: &Ingredient) -> BTreeMap<String, String> {
    let labels = ingredient.labels.iter();
    labels
        .map(|(language, label)| (language.to_string(), label.clone()))
        .collect()
}
