//! That a step does what its kind says, and that the kinds follow one another as they must.

use super::amounts::coarsest;
use super::flow::{Flow, numbered};
use super::number::Number;
use super::sheet::{Batch, Class, Input, InputSource, Sheet, Step, StepKind, Weighing};
use super::{Breaches, Rule};

/// The number of small ingredients up to which the fewest steps are proved.
const PROVED_UP_TO: usize = 7;

/// Checks the kinds of all steps of a batch.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    for (rank, step) in numbered(batch) {
        let is_last = rank + 1 == batch.steps.len();
        if let Some(says) = wrong_step(sheet, batch, flow, (rank, step), is_last) {
            found.add(Rule::Kind, batch.at_step(step), says);
        }
    }
    check_ends(sheet, batch, found);
    check_heap_order(sheet, batch, found);
    check_least(sheet, batch, found);
}

/// What one input is, as far as kinds care.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Small,
    Carrier,
    OtherBulk,
    Liquid,
    Step(StepKind),
    Nothing,
}

fn part(sheet: &Sheet, batch: &Batch, input: &Input) -> Part {
    match input.source {
        InputSource::Step(rank) => batch
            .steps
            .get(rank)
            .map_or(Part::Nothing, |step| Part::Step(step.kind)),
        InputSource::Weighing(rank) => {
            let ingredient = batch
                .weighings
                .get(rank)
                .and_then(|weighing| sheet.ingredients.get(weighing.ingredient));
            match ingredient {
                None => Part::Nothing,
                Some(it) if it.class == Class::Small => Part::Small,
                Some(it) if it.class == Class::Liquid => Part::Liquid,
                Some(it) if it.carrier => Part::Carrier,
                Some(_) => Part::OtherBulk,
            }
        }
    }
}

fn wrong_step(
    sheet: &Sheet,
    batch: &Batch,
    flow: &Flow,
    (rank, step): (usize, &Step),
    is_last: bool,
) -> Option<&'static str> {
    let parts: Vec<Part> = step
        .inputs
        .iter()
        .map(|it| part(sheet, batch, it))
        .collect();
    let has = |wanted| parts.contains(&wanted);
    let all = |is_fit: fn(Part) -> bool| parts.iter().all(|it| is_fit(*it));
    let holds = |class| flow.holds(sheet, rank, class);
    let count = |kind| parts.iter().filter(|it| **it == Part::Step(kind)).count();
    match step.kind {
        StepKind::Together if !all(fits_together) || parts.len() < 2 => {
            Some("together mixes two or more small ingredients, or mixes of them, and no carrier")
        }
        StepKind::Dilute if !all(fits_dilute) || !has(Part::Carrier) || !holds(Class::Small) => {
            Some("dilute adds carrier to small ingredients or mixes of them")
        }
        StepKind::PreBlend if !holds(Class::Small) => Some("the pre-blend holds nothing small"),
        StepKind::PreBlend if !is_last && !all(fits_dilute) => {
            Some("the pre-blend takes small ingredients, mixes of them, and carriers")
        }
        StepKind::PreBlend if !holds(Class::Bulk) && !sheet.owns_up_to_mixing() => {
            Some("the pre-blend holds no carrier")
        }
        StepKind::PreBlend if !all(fits_whole) => Some("the pre-blend takes a heap or a spread"),
        StepKind::Liquid if !all(fits_liquid) || parts.len() < 2 || !holds(Class::Liquid) => {
            Some("liquid works a liquid into heap ingredients")
        }
        StepKind::Heap if !all(fits_liquid) => {
            Some("the heap takes bulk, and liquids or what they were worked into")
        }
        StepKind::Final
            if !spreads_on_something(count(StepKind::Heap), count(StepKind::PreBlend))
                || !parts.iter().all(|it| is_spread(*it, sheet.owns_up()))
                || parts.len() < 2 =>
        {
            Some("the last step spreads the pre-blend on one heap, and nothing else")
        }
        _ => None,
    }
}

/// On one heap; where separate pre-blends are the batch, on each other.
fn spreads_on_something(heaps: usize, pre_blends: usize) -> bool {
    heaps == 1 || (heaps == 0 && pre_blends > 1)
}

/// Where there is no carrier, what is small is spread as it is.
fn is_spread(part: Part, owns_up: bool) -> bool {
    matches!(part, Part::Step(StepKind::Heap | StepKind::PreBlend))
        || (owns_up && fits_together(part))
}

fn fits_together(part: Part) -> bool {
    matches!(
        part,
        Part::Small | Part::Step(StepKind::Together | StepKind::Dilute)
    )
}

fn fits_dilute(part: Part) -> bool {
    part == Part::Carrier || fits_together(part)
}

/// Where the pre-blend is the batch, it takes what there is.
fn fits_whole(part: Part) -> bool {
    let is_out = Part::Step(StepKind::Heap) == part
        || Part::Step(StepKind::Final) == part
        || part == Part::Nothing;
    !is_out
}

fn fits_liquid(part: Part) -> bool {
    matches!(
        part,
        Part::Carrier | Part::OtherBulk | Part::Liquid | Part::Step(StepKind::Liquid)
    )
}

/// A spread ends a plan; so does a heap where nothing is small, or a pre-blend that is the batch.
fn check_ends(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let has_small = batch
        .weighings
        .iter()
        .any(|it| class_of(sheet, it) == Some(Class::Small));
    let count = |kind| batch.steps.iter().filter(|step| step.kind == kind).count();
    let last = batch.steps.last().map(|step| step.kind);
    let ends_well = match last {
        Some(StepKind::Heap) => !has_small,
        Some(StepKind::Final) => has_small,
        Some(StepKind::PreBlend) => has_small && count(StepKind::Heap) == 0,
        _ => false,
    };
    let is_once = count(StepKind::Heap) <= 1 && count(StepKind::Final) <= 1;
    if !ends_well || !is_once {
        let says = "it ends in one spread, in a heap of bulk alone, or in a pre-blend that is all";
        found.add(Rule::Kind, &batch.place, says);
    }
}

pub(super) fn class_of(sheet: &Sheet, weighing: &Weighing) -> Option<Class> {
    sheet
        .ingredients
        .get(weighing.ingredient)
        .map(|it| it.class)
}

/// Bulk goes on the heap in descending mass, as far as scales tell; the largest may come in two parts, first and last.
fn check_heap_order(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    for heap in batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::Heap)
    {
        let mut bulk: Vec<&Weighing> = heap
            .inputs
            .iter()
            .filter_map(|input| match input.source {
                InputSource::Weighing(rank) => batch.weighings.get(rank),
                InputSource::Step(_) => None,
            })
            .filter(|weighing| class_of(sheet, weighing) == Some(Class::Bulk))
            .collect();
        let is_split = bulk.len() > 1
            && bulk.first().map(|it| it.ingredient) == bulk.last().map(|it| it.ingredient);
        let halves = if is_split { bulk.pop() } else { None };
        let mut masses: Vec<_> = bulk.iter().map(|it| it.mass.clone()).collect();
        if let (Some(first), Some(second)) = (masses.first_mut(), halves) {
            *first = first.plus(&second.mass);
        }
        let room = coarsest(sheet, batch);
        let is_after = |two: &[Number]| matches!(two, [a, b] if b.is_over(&a.plus(&room)));
        if masses.windows(2).any(is_after) {
            let says = "bulk does not go on the heap in descending mass";
            found.add(Rule::Order, batch.at_step(heap), says);
        }
    }
}

/// Fewest steps are proved for up to seven small ingredients.
fn check_least(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let small = sheet
        .ingredients
        .iter()
        .zip(&batch.amounts)
        .filter(|(it, amount)| it.class == Class::Small && amount.weighed.is_positive())
        .count();
    if batch.least && small > PROVED_UP_TO {
        let says = format!("the fewest steps cannot be proved of {small} small ingredients");
        found.add(Rule::Least, &batch.place, says);
    }
}
