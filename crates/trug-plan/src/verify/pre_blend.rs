//! The mass of the pre-blend: the largest of three, never over the batch.

use trug_model::Q;

use super::amounts::coarsest;
use super::flow::{Flow, numbered};
use super::number::Number;
use super::scales::snapped_by;
use super::sheet::{Batch, Class, Sheet, StepKind};
use super::{Breaches, Rule};

/// The pre-blend is at least so many times the small ingredients.
const OVER_SMALL: i64 = 2;

/// Checks what all pre-blends of a batch weigh together.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    let pre_blends: Vec<usize> = numbered(batch)
        .filter(|(_, step)| step.kind == StepKind::PreBlend)
        .map(|(rank, _)| rank)
        .collect();
    if pre_blends.is_empty() {
        return;
    }
    let is_the_batch = batch
        .steps
        .last()
        .is_some_and(|step| step.kind == StepKind::PreBlend);
    let small: Number = batch
        .amounts
        .iter()
        .zip(&sheet.ingredients)
        .filter(|(_, ingredient)| ingredient.class == Class::Small)
        .map(|(amount, _)| &amount.weighed)
        .sum();
    let whole = sheet.whole_of_a_batch();
    let rule = |batch: &Number| {
        let twice = small.times(&Q::int(OVER_SMALL));
        let spread = batch.times(&sheet.method.dilutes.inverse().unwrap_or(Q::ONE));
        let share = whole.times(&sheet.method.pre_blend);
        larger(larger(twice, spread), share)
    };
    // The spread, tops and all, obeys R too, which can ask for a little more.
    let least = smaller(rule(&whole), whole.clone());
    // Where it is the batch, what goes on top is in it too.
    let most = if least.is(&whole) {
        batch.total.clone()
    } else {
        let largest = rule(&larger(whole.clone(), batch.total.clone()));
        smaller(largest, batch.total.clone())
    };
    let room = snapping(sheet, batch, flow, &pre_blends);
    let actual: Number = batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::PreBlend)
        .map(|step| &step.output)
        .sum();
    let is_short = least.is_over(&actual.plus(&room));
    // The scales may ask for more, so that no snapping brings a ratio over the bound: more carrier is no harm.
    let more = room
        .plus(&most.times(&Q::ratio(1, 10)))
        .plus(&coarsest(sheet, batch).times(&Q::int(4)));
    let is_long = actual.is_over(&most.plus(&more));
    let is_excused = sheet.owns_up();
    if (is_short || is_long) && !is_excused {
        let says = format!("the pre-blend is {actual} g; the rule gives {least} g");
        found.add(Rule::PreBlend, &batch.place, says);
    }
    let covers = !whole.is_over(&least.plus(&room));
    if is_the_batch && !covers && !is_excused {
        let says = format!("the pre-blend is the batch; the rule gives {least} g");
        found.add(Rule::PreBlend, &batch.place, says);
    }
}

/// How far scales may have moved the pre-blend: twice a division of each of its weighings.
fn snapping(sheet: &Sheet, batch: &Batch, flow: &Flow, pre_blends: &[usize]) -> Number {
    let goes_in = |step: usize| {
        let mut step = step;
        // Each user stands later, so this ends.
        while !pre_blends.contains(&step) {
            let Some(user) = flow.user(step) else {
                return false;
            };
            step = user;
        }
        true
    };
    let divisions: Number = batch
        .weighings
        .iter()
        .filter(|weighing| goes_in(weighing.step))
        .filter(|weighing| weighing.scale.is_some())
        .map(|weighing| snapped_by(sheet, weighing))
        .fold(Number::exact(Q::ZERO), |sum, next| sum.plus(&next));
    // Where no scale will do, what even the finest does not show is left open.
    let carriers = batch.weighings.iter().filter(|it| goes_in(it.step)).count();
    let finest = sheet.scales.iter().map(|scale| &scale.division);
    let unshown = match finest.min_by(|a, b| a.value.cmp(&b.value)) {
        Some(division) => division.times(&Q::int(i64::try_from(carriers).unwrap_or(i64::MAX))),
        None => Number::exact(Q::ZERO),
    };
    divisions.times(&Q::int(2)).plus(&unshown)
}

fn larger(a: Number, b: Number) -> Number {
    if b.value > a.value { b } else { a }
}

fn smaller(a: Number, b: Number) -> Number {
    if b.value < a.value { b } else { a }
}
