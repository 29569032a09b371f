//! What a plan of a farm's ration is told about, from what planning it found.

use std::collections::BTreeMap;

use trug_findings::FileId;
use trug_model::ration::Ration;
use trug_model::{Farm, Standing};
use trug_plan::Planned;

use super::{Caution, DoseInterval, PlanAbout};
use crate::analysis::Interval;

impl<'a> PlanAbout<'a> {
    /// All there is to tell about a planned ration of `file`.
    #[must_use]
    pub fn of(
        farm: &'a Farm,
        file: FileId,
        ration: &Ration,
        planned: &Planned,
        standing: &Standing,
        today: &str,
    ) -> PlanAbout<'a> {
        let sources = farm.sources();
        let mut findings = standing.refusing.clone();
        findings.extend(standing.others.iter().cloned());
        PlanAbout {
            sources,
            file: sources[file.index()].name().to_owned(),
            label: ration.label.clone(),
            today: today.to_owned(),
            group: planned.group.clone(),
            days: planned
                .days
                .as_ref()
                .and_then(|days| u32::try_from(days.ceil().to_i64()?).ok()),
            draft: !standing.refusing.is_empty(),
            cautions: planned.cautions.iter().map(caution).collect(),
            findings,
            doses: intervals(planned),
            labels: labels(ration),
        }
    }
}

fn caution(caution: &trug_plan::Caution) -> Caution {
    Caution {
        text: caution.text.clone(),
        ingredient: caution.ingredient.clone(),
        place: caution.place,
    }
}

fn labels(ration: &Ration) -> BTreeMap<String, String> {
    let mut labels = BTreeMap::new();
    for line in &ration.lines {
        let of_ingredient = line
            .ingredient()
            .and_then(|ingredient| ingredient.label.clone());
        let label = of_ingredient.or_else(|| line.nested()?.label.clone());
        labels.extend(label.map(|label| (line.name.to_string(), label)));
    }
    labels
}

fn intervals(planned: &Planned) -> Vec<DoseInterval> {
    let interval = |expected: &trug_plan::doses::Expected| Interval {
        batch: expected.batch,
        portion: expected.portion,
    };
    let mut intervals = Vec::new();
    for (dose, expected) in planned
        .analysis
        .doses
        .iter()
        .zip(&planned.expectations.doses)
    {
        let Some(value) = &dose.value else { continue };
        let what = dose
            .nutrient
            .as_ref()
            .map_or_else(|| "dose".to_owned(), |active| format!("dose of {active}"));
        intervals.push(DoseInterval {
            ingredient: Some(dose.ingredient.clone()),
            what,
            value: value.clone(),
            unit: dose.unit.clone(),
            min: dose.min.clone(),
            max: dose.max.clone().or_else(|| dose.ceiling.clone()),
            interval: interval(expected),
        });
    }
    for (bound, expected) in planned
        .analysis
        .bounds
        .iter()
        .zip(&planned.expectations.bounds)
    {
        let is_dosed = !matches!(bound.kind, trug_model::analysis::BoundKind::Limit);
        let Some(value) = bound.value.as_ref().filter(|_| is_dosed) else {
            continue;
        };
        intervals.push(DoseInterval {
            ingredient: None,
            what: format!("{}, {}", bound.what, bound.kind.word()),
            value: value.clone(),
            unit: bound.unit.clone(),
            min: bound.min.clone(),
            max: bound.max.clone(),
            interval: interval(expected),
        });
    }
    intervals
}
