//! The order of work: what goes on the heap first, and the batch written down with its names for weighings and steps.

use trug_model::Q;

use crate::amounts::Case;
use crate::draft::{Draft, Part, Role, Source};
use crate::liquids::{Heap, rest};
use crate::order::Scale;
use crate::plan::{Amount, Batch, Input, InputSource, Step, StepKind, Weighing};
use crate::scales::{self, Reading};
use crate::vessels::Home;

/// The heap, and the pre-blends spread on it.
///
/// Descending mass, with half of the largest first and half last. The spread ends the batch; without a pre-blend the heap does.
pub(crate) fn pile_up(case: &Case, draft: &mut Draft, heap: Heap, blends: Vec<Source>) {
    let mut bulk = heap.bulk;
    bulk.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let outputs = draft.outputs();
    let mut wet: Vec<(Source, Q)> = heap
        .wet
        .into_iter()
        .map(|source| (source, draft.mass(source, &outputs)))
        .collect();
    let mut bulk = bulk.into_iter();
    let mut inputs = Vec::new();
    let mut last = None;
    let largest = bulk.next();
    let has_others = bulk.len() + wet.len() > 0;
    if let Some((rank, mass)) = largest {
        if let Some(half) = half_of(case, rank, &mass).filter(|_| has_others) {
            let left = &mass - &half.mass;
            inputs.push(draft.part(half));
            last = Some(rest(rank, left));
        } else {
            inputs.push(draft.part(rest(rank, mass)));
        }
    }
    for (rank, mass) in bulk {
        let source = draft.part(rest(rank, mass.clone()));
        wet.push((source, mass));
    }
    wet.sort_by(|a, b| b.1.cmp(&a.1));
    inputs.extend(wet.into_iter().map(|(source, _)| source));
    inputs.extend(last.map(|last| draft.part(last)));
    let mut spread = Vec::new();
    if !inputs.is_empty() {
        spread.push(draft.act(StepKind::Heap, inputs));
    }
    spread.extend(blends);
    // The heap alone, or one pre-blend that is the batch, ends the work by itself.
    let is_done = matches!(spread.as_slice(), [Source::Act(_)] | []);
    if !is_done {
        draft.act(StepKind::Final, spread);
    }
}

/// Half of a heap ingredient, where both halves can be weighed well enough.
fn half_of(case: &Case, rank: usize, mass: &Q) -> Option<Part> {
    let half = mass / &Q::int(2);
    let is_good = |reading: &Reading| scales::is_within(reading, &case.order.method.weigh);
    let snap = |scale: &Scale| half.ceil_to(&scale.division_g);
    let (first, is_first_good) = scales::choose(case, snap, is_good)?;
    let left = mass - &first.mass;
    let (_, is_last_good) =
        scales::choose(case, |scale| left.floor_to(&scale.division_g), is_good)?;
    (is_first_good && is_last_good).then(|| Part {
        ingredient: rank,
        role: Role::Half,
        mass: first.mass.clone(),
        reading: Some(first),
    })
}

/// The batch as it is handed out.
pub(crate) fn write_down(
    case: &Case,
    draft: &Draft,
    homes: &[Home],
    times: u32,
    least: bool,
) -> Batch {
    let outputs = draft.outputs();
    let mut batch = Batch {
        number: 1,
        times,
        total_g: draft.total(),
        amounts: amounts(case, draft),
        weighings: Vec::with_capacity(draft.parts.len()),
        steps: Vec::with_capacity(draft.acts.len()),
        least,
    };
    let ratios = ratios(case, draft);
    for (rank, act) in draft.acts.iter().enumerate() {
        let id = format!("s{}", rank + 1);
        let mut inputs = Vec::with_capacity(act.inputs.len());
        for source in &act.inputs {
            let named = match source {
                Source::Act(act) => InputSource::Step(format!("s{}", act + 1)),
                Source::Part(part) => {
                    let name = format!("w{}", batch.weighings.len() + 1);
                    let part = &draft.parts[*part];
                    batch
                        .weighings
                        .push(weighing(case, part, name.clone(), id.clone()));
                    InputSource::Weighing(name)
                }
            };
            inputs.push(Input {
                source: named,
                mass_g: draft.mass(*source, &outputs),
            });
        }
        let home = &homes[rank];
        batch.steps.push(Step {
            id,
            kind: act.kind,
            inputs,
            output_g: outputs[rank].clone(),
            ratio: ratios[rank].clone(),
            vessel: home.name(case),
            litres: home.litres.clone(),
            turns: turns(case, act.kind),
            portions: case
                .order
                .method
                .portions
                .filter(|_| act.kind == StepKind::Final),
        });
    }
    batch
}

/// What is shovelled is turned; what is stirred in a basin is not counted.
fn turns(case: &Case, kind: StepKind) -> Option<u32> {
    let is_turned = matches!(kind, StepKind::PreBlend | StepKind::Heap | StepKind::Final);
    case.order.method.turns.filter(|_| is_turned)
}

fn amounts(case: &Case, draft: &Draft) -> Vec<Amount> {
    let mut weighed = vec![Q::ZERO; case.amounts.len()];
    for part in &draft.parts {
        weighed[part.ingredient] += &part.mass;
    }
    weighed
        .into_iter()
        .enumerate()
        .map(|(ingredient, weighed_g)| Amount {
            ingredient,
            ordered_g: case.amount(ingredient),
            weighed_g,
        })
        .collect()
}

fn weighing(case: &Case, part: &Part, id: String, step: String) -> Weighing {
    let ingredient = part.ingredient;
    let (mass, reading) = (&part.mass, part.reading.as_ref());
    let blank = Weighing {
        id,
        ingredient,
        lot: None,
        step,
        mass_g: Q::ZERO,
        scale: None,
        loads_g: Vec::new(),
        error_g: Q::ZERO,
        from_g: Q::ZERO,
        to_g: Q::ZERO,
    };
    weighed(case, blank, mass, reading)
}

/// A weighing with this mass, read so; without a reading no scale will do.
pub(crate) fn weighed(
    case: &Case,
    weighing: Weighing,
    mass: &Q,
    reading: Option<&Reading>,
) -> Weighing {
    let weigh = &case.order.method.weigh;
    let (from_g, to_g) = match reading {
        Some(reading) => {
            let division = &case.order.scales[reading.scale].division_g;
            (
                (mass * &(Q::ONE - weigh)).ceil_to(division),
                (mass * &(Q::ONE + weigh)).floor_to(division),
            )
        }
        None => (mass.clone(), mass.clone()),
    };
    let loads = reading.map(|reading| {
        let runs = reading.loads.iter();
        runs.flat_map(|(times, load)| {
            let times = usize::try_from(*times).unwrap_or(0);
            std::iter::repeat_n(load.clone(), times)
        })
        .collect()
    });
    Weighing {
        mass_g: mass.clone(),
        scale: reading.map(|reading| reading.scale),
        loads_g: loads.unwrap_or_else(|| vec![mass.clone()]),
        // Without a scale nothing is known: it may be off by all of it.
        error_g: reading.map_or_else(|| mass.clone(), |reading| reading.error.clone()),
        from_g,
        to_g,
        ..weighing
    }
}

/// The ratio of every step: its output over its smallest input that needs diluting; none for a heap.
pub(crate) fn ratios(case: &Case, draft: &Draft) -> Vec<Option<Q>> {
    let outputs = draft.outputs();
    let needs = |rank: usize| crate::apart::is_asked(case, rank);
    let with = draft.acts_with(needs);
    let is_heap = |source: &Source| match source {
        Source::Act(act) => draft.acts[*act].kind == StepKind::Heap,
        Source::Part(_) => false,
    };
    let smallest = |act: usize| {
        let inputs = draft.acts[act].inputs.iter();
        inputs
            .filter(|source| draft.acts[act].kind != StepKind::Final || !is_heap(source))
            .filter(|source| draft.holds(**source, &with, &needs))
            .map(|source| draft.mass(*source, &outputs))
            .min()
    };
    (0..draft.acts.len())
        .map(|act| {
            if draft.acts[act].kind == StepKind::Heap {
                None
            } else {
                outputs[act].over(&smallest(act)?)
            }
        })
        .collect()
}

/// The ratio by mass at which the heap dilutes its liquids; none where it holds none.
pub(crate) fn ratio_of_heap(case: &Case, draft: &Draft) -> Option<Q> {
    let outputs = draft.outputs();
    let needs = |rank: usize| crate::apart::is_asked(case, rank);
    let with = draft.acts_with(needs);
    let heap = draft
        .acts
        .iter()
        .position(|act| act.kind == StepKind::Heap)?;
    let smallest = draft.acts[heap]
        .inputs
        .iter()
        .filter(|source| draft.holds(**source, &with, &needs))
        .map(|source| draft.mass(*source, &outputs))
        .min()?;
    outputs[heap].over(&smallest)
}
