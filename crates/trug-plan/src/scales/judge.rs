//! Which weighings the scales there are cannot do well enough.

use std::collections::BTreeSet;

use trug_findings::{Finding, Severity};
use trug_model::Q;

use super::{carrier_error, is_within, remedy};
use crate::amounts::Case;
use crate::draft::{Act, Draft, Part, Source};
use crate::findings::weigh;
use crate::order::{Window, WindowKind};
use crate::plan::{Class, StepKind};
use crate::words::names;

/// What the scales leave open: one finding for each ingredient, or one for all where there is no scale.
pub(crate) fn judge(case: &Case, draft: &Draft) -> Vec<Finding> {
    if case.order.scales.is_empty() {
        let has_parts = !draft.parts.is_empty();
        return has_parts
            .then(|| weigh::none_written(case))
            .into_iter()
            .collect();
    }
    let mut parts: Vec<Vec<Weighed>> = vec![Vec::new(); case.amounts.len()];
    let mut batch = Q::ZERO;
    let in_blends = in_blends(draft);
    for (rank, part) in draft.parts.iter().enumerate() {
        let is_bulk = case.class(part.ingredient) == Class::Bulk;
        parts[part.ingredient].push(Weighed {
            part,
            is_carrier: is_bulk && in_blends.contains(&rank),
        });
        if !case.ingredient(part.ingredient).on_top {
            batch += &part.mass;
        }
    }
    parts
        .iter()
        .enumerate()
        .filter(|(_, parts)| !parts.is_empty())
        .filter_map(|(rank, parts)| of_ingredient(case, rank, parts, &batch))
        .collect()
}

/// A part, and whether it carries smaller ones on their way.
#[derive(Clone, Copy)]
struct Weighed<'a> {
    part: &'a Part,
    is_carrier: bool,
}

/// The parts that go into the pre-blends and the steps before them.
fn in_blends(draft: &Draft) -> BTreeSet<usize> {
    let is_blend = |act: &&Act| matches!(act.kind, StepKind::Dilute | StepKind::PreBlend);
    let sources = draft
        .acts
        .iter()
        .filter(is_blend)
        .flat_map(|act| &act.inputs);
    sources
        .filter_map(|source| match source {
            Source::Part(part) => Some(*part),
            Source::Act(_) => None,
        })
        .collect()
}

fn of_ingredient(case: &Case, rank: usize, parts: &[Weighed], batch: &Q) -> Option<Finding> {
    let weighed: Q = parts.iter().map(|weighed| &weighed.part.mass).sum();
    if let Some(unread) = parts.iter().find(|weighed| weighed.part.reading.is_none()) {
        let found = weigh::nothing_weighs(case, rank, &unread.part.mass);
        return Some(remedy::offer(
            case,
            found,
            rank,
            &allowed(case, rank, &weighed, batch),
        ));
    }
    let readings = || {
        parts
            .iter()
            .filter_map(|weighed| weighed.part.reading.as_ref())
    };
    let error: Q = readings().map(|reading| &reading.error).sum();
    let mut scales: Vec<&str> = readings()
        .map(|reading| case.order.scales[reading.scale].name.as_str())
        .collect();
    scales.dedup();
    let scale = names(&scales);
    let passed = passed(case, rank, &weighed, &error, batch);
    let is_coarse = error > &case.order.method.weigh * &weighed;
    let found = match passed {
        Some(window) => weigh::past(case, rank, &weighed, &error, &scale, window),
        None if is_coarse => weigh::coarse(case, rank, &weighed, &error, &scale),
        None => return of_carrier(case, rank, parts),
    };
    let is_harmful = passed.is_some_and(|window| {
        found.severity == Severity::Error
            && matches!(window.kind, WindowKind::Harm | WindowKind::Ceiling)
    });
    let allowed = allowed(case, rank, &weighed, batch);
    Some(if is_harmful {
        remedy::help_only(case, found, rank, &allowed)
    } else {
        remedy::offer(case, found, rank, &allowed)
    })
}

fn of_carrier(case: &Case, rank: usize, parts: &[Weighed]) -> Option<Finding> {
    let carried = parts.iter().filter(|weighed| weighed.is_carrier);
    let coarse = carried
        .filter_map(|weighed| weighed.part.reading.as_ref())
        .find(|reading| !is_within(reading, &carrier_error()))?;
    let scale = &case.order.scales[coarse.scale].name;
    let found = weigh::coarse_part(case, rank, &coarse.mass, &coarse.error, scale);
    Some(remedy::help_only(
        case,
        found,
        rank,
        &(carrier_error() * &coarse.mass),
    ))
}

/// The first bound that the amount keeps as the ration has it and that the possible error could pass.
fn passed<'a>(
    case: &'a Case,
    rank: usize,
    weighed: &Q,
    error: &Q,
    batch: &Q,
) -> Option<&'a Window> {
    let windows = case.ingredient(rank).windows.iter();
    let mut passed: Vec<&Window> = windows
        .filter(|window| room(case, rank, weighed, batch, window).is_some_and(|room| *error > room))
        .collect();
    // The worst first.
    passed.sort_by_key(|window| std::cmp::Reverse(window.kind));
    passed.first().copied()
}

/// How far the weighed amount is from the nearer side of a bound; none where the ration itself does not keep that side.
fn room(case: &Case, rank: usize, weighed: &Q, batch: &Q, window: &Window) -> Option<Q> {
    let asked = case.amount(rank);
    let low = window
        .low
        .as_ref()
        .filter(|low| *low * &case.batch <= asked);
    let high = window
        .high
        .as_ref()
        .filter(|high| asked <= *high * &case.batch);
    let below = low.map(|low| weighed - &(low * batch));
    let above = high.map(|high| &(high * batch) - weighed);
    below.into_iter().chain(above).min()
}

/// The possible error that would do: within `weigh`, and within every bound.
pub(crate) fn allowed(case: &Case, rank: usize, weighed: &Q, batch: &Q) -> Q {
    let windows = case.ingredient(rank).windows.iter();
    let rooms = windows.filter_map(|window| room(case, rank, weighed, batch, window));
    let wanted = &case.order.method.weigh * weighed;
    rooms.fold(wanted, Q::min)
}
