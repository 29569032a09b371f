//! One batch drawn as a draft: pre-blend, steps, liquids, heap and spread, and bulk snapped last.

use trug_findings::Finding;
use trug_model::Q;

use crate::amounts::Case;
use crate::draft::Draft;
use crate::findings::mix;
use crate::liquids;
use crate::plan::StepKind;
use crate::preblend::{self, Preblend};
use crate::scales;
use crate::sequence::{self, ratios};
use crate::steps;

/// A batch with all its parts and acts.
pub(crate) struct Mixed {
    pub(crate) draft: Draft,
    preblend: Preblend,
    pub(crate) is_proved: bool,
}

/// The draft of a batch.
///
/// Bulk is snapped when the steps are known, and that may carry a ratio that was just kept beyond what it may be. Then the steps are
/// sought once more with a margin of some divisions.
pub(crate) fn mix(case: &Case) -> Mixed {
    let first = attempt(case, &Q::ZERO);
    let broken = broken(case, &first.draft).len();
    if broken == 0 {
        return first;
    }
    let margin = scales::coarsest(case, &first.draft) * Q::int(2);
    if margin.is_zero() {
        return first;
    }
    let second = attempt(case, &margin);
    if self::broken(case, &second.draft).len() < broken {
        second
    } else {
        first
    }
}

fn attempt(case: &Case, margin: &Q) -> Mixed {
    let mut draft = Draft::default();
    let small = steps::small(case);
    let mass: Q = small.iter().map(|part| &part.mass).sum();
    if small.is_empty() {
        let preblend = Preblend::default();
        finish(case, &mut draft, &preblend, Vec::new());
        return Mixed {
            draft,
            preblend,
            is_proved: true,
        };
    }
    let preblend = preblend::preblend(case, &mass, margin);
    let blended = steps::blend(case, &mut draft, small, &preblend, margin);
    finish(case, &mut draft, &preblend, blended.sources);
    Mixed {
        draft,
        preblend,
        is_proved: blended.is_proved,
    }
}

fn finish(case: &Case, draft: &mut Draft, preblend: &Preblend, blends: Vec<crate::draft::Source>) {
    let mut heap = liquids::left_for_heap(case, preblend, draft);
    liquids::work_in(case, draft, &mut heap);
    sequence::pile_up(case, draft, heap, blends);
    scales::share_out(case, draft);
}

/// The acts whose ratio is above what one step may dilute.
fn broken(case: &Case, draft: &Draft) -> Vec<(usize, Q)> {
    let heap = draft.acts.iter().position(|act| act.kind == StepKind::Heap);
    let of_heap = heap.zip(sequence::ratio_of_heap(case, draft));
    ratios(case, draft)
        .into_iter()
        .enumerate()
        .filter_map(|(act, ratio)| Some((act, ratio?)))
        .chain(of_heap)
        .filter(|(_, ratio)| *ratio > case.order.method.dilutes)
        .collect()
}

/// What the steps could not keep.
pub(crate) fn judge(case: &Case, mixed: &Mixed) -> Vec<Finding> {
    let mut findings = Vec::new();
    if mixed.preblend.missing.is_positive() {
        let short = &mixed.preblend;
        findings.push(mix::carrier(case, &short.wanted, &short.missing));
    }
    let broken = broken(case, &mixed.draft);
    if !broken.is_empty() {
        findings.push(mix::step(case, &mixed.draft, &broken));
    }
    findings.extend(liquids::judge(case, &mixed.draft));
    findings
}
