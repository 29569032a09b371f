//! How a ration is mixed, shortened to what a reviewer asks: how many steps, in what, weighed on which scales.

use std::collections::{BTreeMap, BTreeSet};

use trug_plan::plan::{InputSource, Plan};

use crate::change::{StepAt, Work};

/// The work of a plan; none where it has no batch.
pub(crate) fn of(plan: &Plan) -> Option<Work> {
    let batch = plan.batches.first()?;
    let name = |rank: usize| {
        let ingredient = plan.order.ingredients.get(rank);
        ingredient.map_or_else(String::new, |ingredient| ingredient.name.clone())
    };
    let weighed: BTreeMap<&str, usize> = batch
        .weighings
        .iter()
        .map(|weighing| (weighing.id.as_str(), weighing.ingredient))
        .collect();
    let scales: BTreeSet<String> = batch
        .weighings
        .iter()
        .filter_map(|weighing| plan.order.scales.get(weighing.scale?))
        .map(|scale| scale.name.clone())
        .collect();
    let vessels: BTreeSet<&str> = batch
        .steps
        .iter()
        .map(|step| step.vessel.as_str())
        .collect();
    let steps = batch.steps.iter().map(|step| StepAt {
        kind: step.kind.word(),
        vessel: step.vessel.clone(),
        ingredients: step
            .inputs
            .iter()
            .filter_map(|input| match &input.source {
                InputSource::Weighing(id) => weighed.get(id.as_str()).copied().map(name),
                InputSource::Step(_) => None,
            })
            .collect(),
        turns: step.turns,
    });
    Some(Work {
        batches: plan.batches.iter().map(|batch| batch.times).sum(),
        weighings: batch.weighings.len(),
        steps: steps.collect(),
        vessels: vessels.into_iter().map(str::to_owned).collect(),
        scales: scales.into_iter().collect(),
    })
}
