//! What the plan of a batch asks of each ingredient.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_model::ration::Ration;
use trug_model::{Q, View};
use trug_plan::{Request, plan_ration};

/// What the sheets of one batch ask, all together. Masses in kg.
pub(crate) struct Asked {
    /// By ingredient.
    pub(crate) of: BTreeMap<SmolStr, Reading>,
    /// How far all weighings of the 100 % together may be off.
    pub(crate) error: Q,
}

/// What the scales must read of one ingredient, over all its parts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Reading {
    pub(crate) from: Q,
    pub(crate) to: Q,
}

/// What the plan of so many kg of a ration asks; none where there is no such plan.
pub(crate) fn asked(view: &View<'_>, ration: &Ration, batch: &Q) -> Option<Asked> {
    let request = Request {
        batch: Some(batch.clone()),
        ..Request::default()
    };
    let planned = plan_ration(view, ration, &request).ok()?;
    let plan = &planned.plan;
    let mut asked = Asked {
        of: BTreeMap::new(),
        error: Q::ZERO,
    };
    for batch in &plan.batches {
        // Grams on the sheet of one of several like batches to kilograms of all.
        let factor = Q::ratio(i64::from(batch.times), 1000);
        for weighing in &batch.weighings {
            let Some(ingredient) = plan.order.ingredients.get(weighing.ingredient) else {
                continue;
            };
            let name = SmolStr::new(&ingredient.name);
            let reading = asked.of.entry(name).or_default();
            // Where no scale is written down that could show it, what the method allows is all there is to go by.
            let within = &weighing.mass_g * &plan.order.method.weigh;
            let (from, to, error) = match weighing.scale {
                Some(_) => (
                    weighing.from_g.clone(),
                    weighing.to_g.clone(),
                    weighing.error_g.clone(),
                ),
                None => (
                    &weighing.mass_g - &within,
                    &weighing.mass_g + &within,
                    within,
                ),
            };
            reading.from += from * &factor;
            reading.to += to * &factor;
            if !ingredient.on_top {
                asked.error += error * &factor;
            }
        }
    }
    Some(asked)
}
