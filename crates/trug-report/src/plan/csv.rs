//! A plan as one flat table (RFC 4180): a row for every weighing, then a row for every step, of each batch.

use trug_model::Q;
use trug_plan::plan::{Batch, Class, Input, InputSource, Plan, Step, Weighing};

use super::PlanAbout;
use crate::table::{Row, written};

/// The columns, in an order that stays; a row leaves empty what it does not have.
const COLUMNS: &[&str] = &[
    "kind",
    "ration",
    "draft",
    "batch",
    "times",
    "id",
    "step",
    "step_kind",
    "ingredient",
    "class",
    "lot",
    "mass_g",
    "scale",
    "loads_g",
    "error_g",
    "from_g",
    "to_g",
    "inputs",
    "output_g",
    "ratio",
    "vessel",
    "turns",
    "portions",
];

/// Decimals of a printed ratio.
const RATIO_DECIMALS: usize = 3;

/// The plan as CSV. No text cell starts with a sign that a spreadsheet would take for a formula.
#[must_use]
pub fn plan_csv(plan: &Plan, about: &PlanAbout<'_>) -> String {
    let is_draft = about.is_draft(plan);
    let mut rows = Vec::new();
    for batch in &plan.batches {
        let head = |kind: &str| {
            let mut row = Row::of(COLUMNS);
            row.put("kind", kind);
            row.text("ration", &plan.order.ration);
            row.put("draft", if is_draft { "true" } else { "false" });
            row.put("batch", &batch.number.to_string());
            row.put("times", &batch.times.to_string());
            row
        };
        for weighing in &batch.weighings {
            rows.push(weighing_row(plan, batch, weighing, head("weighing")));
        }
        for step in &batch.steps {
            rows.push(step_row(step, head("step")));
        }
    }
    written(COLUMNS, &rows)
}

fn weighing_row(plan: &Plan, batch: &Batch, weighing: &Weighing, mut row: Row) -> Row {
    let ingredient = plan.order.ingredients.get(weighing.ingredient);
    let class = plan
        .kinds
        .get(weighing.ingredient)
        .map(|kind| match kind.class {
            Class::Small => "small",
            Class::Bulk => "bulk",
            Class::Liquid => "liquid",
        });
    let step = batch.steps.iter().find(|step| step.id == weighing.step);
    let scale = weighing.scale.and_then(|rank| plan.order.scales.get(rank));
    let loads: Vec<String> = weighing.loads_g.iter().map(Q::to_string).collect();
    row.text("id", &weighing.id);
    row.text("step", &weighing.step);
    row.put("step_kind", step.map_or("", |step| step.kind.word()));
    row.text("ingredient", ingredient.map_or("", |it| it.name.as_str()));
    row.put("class", class.unwrap_or(""));
    row.text("lot", weighing.lot.as_deref().unwrap_or(""));
    row.grams("mass_g", &weighing.mass_g);
    row.text("scale", scale.map_or("", |scale| scale.name.as_str()));
    row.put("loads_g", &loads.join("; "));
    row.grams("error_g", &weighing.error_g);
    row.grams("from_g", &weighing.from_g);
    row.grams("to_g", &weighing.to_g);
    row
}

fn step_row(step: &Step, mut row: Row) -> Row {
    let inputs: Vec<String> = step.inputs.iter().map(input).collect();
    let count = |count: Option<u32>| count.map_or_else(String::new, |count| count.to_string());
    row.text("id", &step.id);
    row.text("step", &step.id);
    row.put("step_kind", step.kind.word());
    row.text("inputs", &inputs.join("; "));
    row.grams("output_g", &step.output_g);
    let ratio = step
        .ratio
        .as_ref()
        .map(|ratio| ratio.rounded(RATIO_DECIMALS));
    row.put("ratio", &ratio.unwrap_or_default());
    row.text("vessel", &step.vessel);
    row.put("turns", &count(step.turns));
    row.put("portions", &count(step.portions));
    row
}

/// `w1 600`: what, and how many grams of it.
fn input(input: &Input) -> String {
    let (InputSource::Weighing(id) | InputSource::Step(id)) = &input.source;
    format!("{id} {}", input.mass_g)
}
