//! What may never be fed together, or to this animal, and what withdraws what it gives.

use trug_findings::Finding;

use crate::findings::{harm, law};
use crate::ration::Ration;
use crate::view::View;

pub(super) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    if ration.for_mixing {
        return;
    }
    super::limits::judge_ingredients(view, ration, findings);
    together(ration, findings);
    if let Some(animal) = ration.animal.clone() {
        never_for(view, ration, &animal, findings);
        withdrawals(view, ration, &animal, findings);
    }
}

fn together(ration: &Ration, findings: &mut Vec<Finding>) {
    let inclusions = ration.inclusions();
    let mut said: Vec<(String, String)> = Vec::new();
    for one in inclusions.iter().filter(|one| one.high.is_positive()) {
        for never in &one.ingredient.never_with {
            let other = inclusions
                .iter()
                .find(|other| other.ingredient.name == never.other && other.high.is_positive());
            let Some(other) = other else { continue };
            let mut pair = (one.ingredient.name.to_string(), never.other.to_string());
            if pair.0 > pair.1 {
                std::mem::swap(&mut pair.0, &mut pair.1);
            }
            if said.contains(&pair) {
                continue;
            }
            said.push(pair);
            let (Some(line), Some(other_line)) = (one.lines.last(), other.lines.last()) else {
                continue;
            };
            findings.push(harm::together(
                line.place,
                &one.ingredient.name,
                (&never.other, other_line.written),
                never.reason.as_deref(),
                never.place,
            ));
        }
    }
}

pub(crate) fn never_for(
    view: &View<'_>,
    ration: &Ration,
    animal: &str,
    findings: &mut Vec<Finding>,
) {
    for one in ration
        .inclusions()
        .iter()
        .filter(|one| one.high.is_positive())
    {
        for never in &one.ingredient.never_for {
            if view.steps_up(animal, &never.other).is_none() {
                continue;
            }
            let Some(line) = one.lines.last() else {
                continue;
            };
            findings.push(harm::never_for(
                line.place,
                &one.ingredient.name,
                animal,
                &never.other,
                never.reason.as_deref(),
                never.place,
            ));
        }
    }
}

fn withdrawals(view: &View<'_>, ration: &Ration, animal: &str, findings: &mut Vec<Finding>) {
    let kinds = view.kinds_of(animal);
    for one in ration
        .inclusions()
        .iter()
        .filter(|one| one.high.is_positive())
    {
        for withdrawal in &one.ingredient.withdrawals {
            let gives = kinds
                .iter()
                .any(|kind| kind.gives.contains(&withdrawal.product));
            if !gives {
                continue;
            }
            let Some(line) = one.lines.last() else {
                continue;
            };
            findings.push(law::withdrawal(
                line.place,
                &one.ingredient.name,
                animal,
                &withdrawal.product,
                &withdrawal.days,
                withdrawal.place,
            ));
        }
    }
}
