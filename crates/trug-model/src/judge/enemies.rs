//! What may never be fed together, or to this animal, and what withdraws what it gives.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{Finding, Place};

use crate::findings::{harm, law};
use crate::ration::{Inclusion, Ration};
use crate::view::{Ingredient, View};

pub(super) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    if ration.for_mixing {
        return;
    }
    super::limits::judge_ingredients(view, ration, findings);
    together(ration, findings);
    if let Some(animal) = ration.animal.clone() {
        never_for(view, ration, &animal, None, findings);
        withdrawals(view, ration, &animal, findings);
    }
}

fn together(ration: &Ration, findings: &mut Vec<Finding>) {
    let inclusions = ration.inclusions();
    let mut said: BTreeSet<(SmolStr, SmolStr)> = BTreeSet::new();
    let present = inclusions.iter().filter(|one| one.low.is_positive());
    let present: BTreeMap<&str, &Inclusion<'_>> = present
        .map(|one| (one.ingredient.name.as_str(), one))
        .collect();
    for one in inclusions.iter().filter(|one| one.low.is_positive()) {
        let others = one.ingredient.never_with.iter();
        for never in others.filter(|never| never.other != one.ingredient.name) {
            let Some(other) = present.get(never.other.as_str()) else {
                continue;
            };
            let mut pair = (one.ingredient.name.clone(), never.other.clone());
            if pair.0 > pair.1 {
                std::mem::swap(&mut pair.0, &mut pair.1);
            }
            if !said.insert(pair) {
                continue;
            }
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

/// What is never for an animal, and is not said already, since it is not for the animal the ration is made for either.
pub(crate) fn never_for(
    view: &View<'_>,
    ration: &Ration,
    animal: &str,
    judged_for: Option<&str>,
    findings: &mut Vec<Finding>,
) {
    let is_said = |kind: &str| judged_for.is_some_and(|own| view.steps_up(own, kind).is_some());
    for (ingredient, place) in eaten(ration) {
        for never in &ingredient.never_for {
            if view.steps_up(animal, &never.other).is_some() && !is_said(&never.other) {
                findings.push(harm::never_for(
                    place,
                    &ingredient.name,
                    animal,
                    &never.other,
                    never.reason.as_deref(),
                    never.place,
                ));
            }
        }
    }
}

fn withdrawals(view: &View<'_>, ration: &Ration, animal: &str, findings: &mut Vec<Finding>) {
    let kinds = view.kinds_of(animal);
    for (ingredient, place) in eaten(ration) {
        for withdrawal in &ingredient.withdrawals {
            let gives = |kind: &std::sync::Arc<crate::view::Animal>| {
                kind.gives.contains(&withdrawal.product)
            };
            if kinds.iter().any(gives) {
                findings.push(law::withdrawal(
                    place,
                    &ingredient.name,
                    animal,
                    &withdrawal.product,
                    &withdrawal.days,
                    withdrawal.place,
                ));
            }
        }
    }
}

/// Every ingredient an animal takes in, mixed or beside, each once, with the place of its last line.
fn eaten(ration: &Ration) -> Vec<(Arc<Ingredient>, Place)> {
    let mut eaten: Vec<(Arc<Ingredient>, Place)> = Vec::new();
    let mut names: BTreeSet<SmolStr> = BTreeSet::new();
    for inclusion in ration.inclusions() {
        if let (true, Some(line)) = (inclusion.low.is_positive(), inclusion.lines.last()) {
            names.insert(inclusion.ingredient.name.clone());
            eaten.push((Arc::clone(&inclusion.ingredient), line.place));
        }
    }
    for beside in &ration.beside {
        for leaf in beside.feed.leaves() {
            if leaf.fraction.is_positive() && names.insert(leaf.ingredient.name.clone()) {
                eaten.push((leaf.ingredient, beside.place));
            }
        }
    }
    eaten
}
