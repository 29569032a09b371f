//! A batch written again with a weighing for every lot.

use trug_model::Q;

use super::takings::{Taking, Takings};
use crate::amounts::Case;
use crate::plan::{Batch, Class, Input, InputSource, Step, Weighing};
use crate::sequence::weighed;

/// The batch with its weighings shared among lots, under its number and done so many times.
pub(super) fn rewrite(
    case: &Case,
    batch: &Batch,
    takings: &Takings,
    (number, times): (u32, u32),
) -> Batch {
    let mut weighings: Vec<Weighing> = Vec::new();
    let mut steps: Vec<Step> = Vec::with_capacity(batch.steps.len());
    for step in &batch.steps {
        let mut inputs = Vec::with_capacity(step.inputs.len());
        let mut ratio = step.ratio.clone();
        for input in &step.inputs {
            let InputSource::Weighing(id) = &input.source else {
                inputs.push(input.clone());
                continue;
            };
            let place = batch.weighings.iter().position(|it| it.id == *id);
            let Some(place) = place else { continue };
            let whole = &batch.weighings[place];
            let parts = &takings[place];
            for taking in parts {
                let name = format!("w{}", weighings.len() + 1);
                inputs.push(Input {
                    source: InputSource::Weighing(name.clone()),
                    mass_g: taking.mass.clone(),
                });
                weighings.push(part(case, whole, parts.len() > 1, taking, name));
                if case.class(whole.ingredient) != Class::Bulk {
                    ratio = ratio.map(|ratio| thinner(ratio, &step.output_g, &taking.mass));
                }
            }
        }
        steps.push(Step {
            inputs,
            ratio,
            ..step.clone()
        });
    }
    Batch {
        number,
        times,
        weighings,
        steps,
        ..batch.clone()
    }
}

/// The ratio of a step counts its smallest input.
fn thinner(ratio: Q, output: &Q, mass: &Q) -> Q {
    match output.over(mass) {
        Some(own) => ratio.max(own),
        None => ratio,
    }
}

fn part(case: &Case, whole: &Weighing, is_part: bool, taking: &Taking, id: String) -> Weighing {
    let named = Weighing {
        id,
        lot: taking.lot.clone(),
        ..whole.clone()
    };
    if is_part {
        weighed(case, named, &taking.mass, taking.reading.as_ref())
    } else {
        named
    }
}
