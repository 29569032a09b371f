//! Volumes, and which vessel a step goes into.

use trug_model::Q;

use super::flow::{Flow, numbered};
use super::number::Number;
use super::sheet::{Batch, Sheet, Step, StepKind, Vessel};
use super::{Breaches, Rule};

/// Checks volumes and vessels of a batch.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    for (rank, step) in numbered(batch) {
        let place = batch.at_step(step);
        let litres = volume(sheet, flow, rank);
        match (&litres, &step.litres) {
            (None, None) => {}
            (Some(due), Some(said)) if said.prints(due) => {}
            (due, said) => {
                let word = |litres: &Option<Number>| {
                    litres
                        .as_ref()
                        .map_or("unknown".to_owned(), |it| format!("{it} L"))
                };
                let says = format!("its volume is {}, not {}", word(due), word(said));
                found.add(Rule::Litres, &place, says);
            }
        }
        let vessel = step.vessel.and_then(|rank| sheet.vessels.get(rank));
        match (vessel, &litres) {
            (Some(vessel), None) => {
                let says = format!("it is in {}, and its volume is not known", vessel.name);
                found.add(Rule::Vessel, &place, says);
            }
            (Some(vessel), Some(litres)) if !holds(vessel, litres) => {
                let says = format!("{litres} L are more than 70 % of {}", vessel.name);
                found.add(Rule::Vessel, &place, says);
            }
            _ => {}
        }
        check_twice(sheet, batch, flow, (rank, step), found);
        if matches!(step.kind, StepKind::Together | StepKind::Dilute) {
            check_smallest(sheet, batch, flow, (rank, step), litres.as_ref(), found);
        }
    }
}

/// The volume of a step, where the density of all it holds is known.
fn volume(sheet: &Sheet, flow: &Flow, step: usize) -> Option<Number> {
    let mut low = Q::ZERO;
    let mut high = Q::ZERO;
    for (rank, mass) in flow.held(step) {
        let density = sheet.ingredients.get(rank)?.g_per_litre.as_ref()?;
        // A density that does not end was rounded: the volume lies between the two it stands for.
        low += (&mass.value - &mass.slack).over(&(&density.value + &density.slack))?;
        high += (&mass.value + &mass.slack).over(&(&density.value - &density.slack))?;
    }
    let half = Q::ratio(1, 2);
    Some(Number {
        value: (&low + &high) * &half,
        slack: (&high - &low) * &half,
    })
}

/// A vessel is used up to 70 % full.
fn holds(vessel: &Vessel, litres: &Number) -> bool {
    litres.fits(&vessel.litres.times(&Q::ratio(7, 10)))
}

/// How many of a vessel hold something at a step; `with_inputs` counts those its own inputs come in.
fn in_use(batch: &Batch, flow: &Flow, vessel: usize, at: usize, with_inputs: bool) -> usize {
    numbered(batch)
        .take(at)
        .filter(|(rank, step)| {
            let until = flow.user(*rank).unwrap_or(usize::MAX);
            step.vessel == Some(vessel) && (at < until || (with_inputs && at == until))
        })
        .count()
}

fn free(sheet: &Sheet, batch: &Batch, flow: &Flow, vessel: usize, at: usize, strict: bool) -> bool {
    let count = sheet.vessels.get(vessel).map_or(0, |it| it.count);
    let kept = usize::from(strict && may_be_kept(sheet, batch, vessel));
    in_use(batch, flow, vessel, at, strict) + kept < usize::try_from(count).unwrap_or(usize::MAX)
}

/// The vessel that the whole batch is mixed in is kept free for it. Where that went on the floor after all, and the
/// method names no floor, it can have been any.
fn may_be_kept(sheet: &Sheet, batch: &Batch, vessel: usize) -> bool {
    match batch.steps.last().map(|step| step.vessel) {
        Some(Some(mixes)) => mixes == vessel,
        _ => sheet.method.floor.is_none(),
    }
}

fn check_twice(
    sheet: &Sheet,
    batch: &Batch,
    flow: &Flow,
    (rank, step): (usize, &Step),
    found: &mut Breaches,
) {
    if let Some(vessel) = step.vessel
        && !free(sheet, batch, flow, vessel, rank, false)
    {
        let name = sheet.vessels.get(vessel).map_or("", |it| &it.name);
        let says = format!("every {name} holds something else");
        found.add(Rule::VesselTwice, batch.at_step(step), says);
    }
}

/// A small mix goes into the smallest vessel that holds it and is free, else on the floor, which is said.
fn check_smallest(
    sheet: &Sheet,
    batch: &Batch,
    flow: &Flow,
    (rank, step): (usize, &Step),
    litres: Option<&Number>,
    found: &mut Breaches,
) {
    let place = batch.at_step(step);
    let Some(litres) = litres else {
        let is_said = sheet.says(|remark| ["vessel", "data"].contains(&remark.family()));
        if !is_said {
            found.add(
                Rule::Vessel,
                &place,
                "its volume is not known, and no finding says so",
            );
        }
        return;
    };
    let own = step.vessel.and_then(|rank| sheet.vessels.get(rank));
    // A vessel that one of its inputs comes in may or may not count as free: it is asked of neither.
    let better = sheet.vessels.iter().enumerate().find(|(other, vessel)| {
        holds(vessel, litres)
            && own.is_none_or(|own| own.litres.is_over(&vessel.litres))
            && free(sheet, batch, flow, *other, rank, true)
    });
    if let Some((_, vessel)) = better {
        let says = format!("{} is smaller, free, and holds its {litres} L", vessel.name);
        found.add(Rule::Vessel, &place, says);
    } else if own.is_none() && !sheet.says(|it| it.family() == "vessel" && !it.is_note) {
        found.add(
            Rule::Vessel,
            &place,
            "it is on the floor, and no finding says so",
        );
    }
}
