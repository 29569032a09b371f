//! How liquids are worked into the heap: each first into at least five times its mass, the smallest first, by steps that keep the ratio.
//!
//! Liquids that are apart from each other go separate ways until they meet in the heap.

use trug_findings::Finding;
use trug_model::Q;

use crate::amounts::Case;
use crate::draft::{Draft, Part, Role, Source};
use crate::findings::mix;
use crate::order::Scale;
use crate::plan::{Class, StepKind};
use crate::preblend::{Preblend, bed};
use crate::scales::{self, Reading};

/// More steps than this for one liquid are not made: the ratio of a step is then too near to one.
const MOST_STEPS: usize = 40;

/// What is still to go on the heap.
pub(crate) struct Heap {
    /// Bulk ingredients and what is left of each.
    pub(crate) bulk: Vec<(usize, Q)>,
    /// Mixes that hold liquids, and liquids that no step could take before.
    pub(crate) wet: Vec<Source>,
}

/// The bulk that the pre-blends leave, none of it worked yet.
pub(crate) fn left_for_heap(case: &Case, preblend: &Preblend, draft: &Draft) -> Heap {
    let mut bulk = Vec::new();
    for rank in case.of_class(Class::Bulk) {
        let taken: Q = draft.parts_of(rank).map(|part| &part.mass).sum();
        let is_whole = preblend
            .carriers
            .iter()
            .any(|carrier| carrier.ingredient == rank && carrier.is_whole);
        let left = case.amount(rank) - taken;
        if left.is_positive() && !is_whole {
            bulk.push((rank, left));
        }
    }
    Heap {
        bulk,
        wet: Vec::new(),
    }
}

/// Draws the steps of the liquids into the draft.
pub(crate) fn work_in(case: &Case, draft: &mut Draft, heap: &mut Heap) {
    let mut liquids: Vec<Part> = case
        .of_class(Class::Liquid)
        .into_iter()
        .map(|rank| scales::whole(case, rank))
        .collect();
    liquids.sort_by(|a, b| a.mass.cmp(&b.mass).then(a.ingredient.cmp(&b.ingredient)));
    let wet: Q = liquids.iter().map(|part| &part.mass).sum();
    let all = heap.bulk.iter().map(|(_, mass)| mass).sum::<Q>() + wet;
    for way in ways(case, liquids) {
        Way::new(case, &way, &all).walk(draft, heap, way);
    }
}

/// Liquids that may share their steps, smallest first.
fn ways(case: &Case, liquids: Vec<Part>) -> Vec<Vec<Part>> {
    let mut ways: Vec<Vec<Part>> = Vec::new();
    for liquid in liquids {
        let may_join = |way: &&mut Vec<Part>| {
            way.iter()
                .all(|other| times_apart(case, liquid.ingredient, other.ingredient).is_none())
        };
        match ways.iter_mut().find(may_join) {
            Some(way) => way.push(liquid),
            None => ways.push(vec![liquid]),
        }
    }
    ways
}

fn times_apart<'a>(case: &'a Case, one: usize, other: usize) -> Option<&'a Q> {
    case.pairs
        .iter()
        .find(|pair| pair.partner_of(one) == Some(other))
        .map(|pair| &pair.times)
}

/// The steps of liquids that go together.
struct Way<'a, 'b> {
    case: &'a Case<'b>,
    ratio: Q,
    /// What the last mix must reach before it goes on the heap.
    goal: Q,
    /// Bulk that the liquids may not meet before the heap.
    avoided: Vec<usize>,
}

impl<'a, 'b> Way<'a, 'b> {
    fn new(case: &'a Case<'b>, liquids: &[Part], all: &Q) -> Way<'a, 'b> {
        let ratio = case.order.method.dilutes.clone().max(Q::ONE);
        let mut goal = all / &ratio;
        let mut avoided = Vec::new();
        for liquid in liquids {
            for pair in &case.pairs {
                let Some(other) = pair.partner_of(liquid.ingredient) else {
                    continue;
                };
                // Small ingredients are met with the spread, when the whole heap holds the liquid.
                if case.class(other) != Class::Small {
                    goal = goal.max(&pair.times * &liquid.mass);
                    avoided.push(other);
                }
            }
        }
        Way {
            case,
            ratio,
            goal,
            avoided,
        }
    }

    fn walk(&self, draft: &mut Draft, heap: &mut Heap, liquids: Vec<Part>) {
        let masses: Vec<Q> = liquids.iter().map(|liquid| liquid.mass.clone()).collect();
        let mut mix: Option<(Source, Q)> = None;
        for (rank, liquid) in liquids.into_iter().enumerate() {
            let wetted = &liquid.mass * &(bed() + Q::ONE);
            // The next liquid's bed must not dilute this mix too far, nor the heap the last one.
            let next = masses.get(rank + 1);
            let next = next.map_or_else(
                || self.goal.clone(),
                |mass| mass * &(bed() + Q::ONE) / &self.ratio,
            );
            let mass = liquid.mass.clone();
            let smallest = match &mix {
                Some((_, mixed)) => mixed.clone().min(mass.clone()),
                None => mass.clone(),
            };
            let held = mass
                + mix
                    .as_ref()
                    .map(|(_, mass)| mass.clone())
                    .unwrap_or_default();
            let mut inputs: Vec<Source> =
                mix.take().map(|(source, _)| source).into_iter().collect();
            inputs.push(draft.part(liquid));
            let wanted = wetted.max(self.spaced(&smallest, &next));
            mix = self.step(
                draft,
                heap,
                inputs,
                &held,
                &wanted,
                &(&smallest * &self.ratio),
            );
            for _ in 0..MOST_STEPS {
                let Some((source, mass)) = mix.take() else {
                    break;
                };
                if mass >= next {
                    mix = Some((source, mass));
                    break;
                }
                let wanted = self.spaced(&mass, &next);
                mix = self.step(
                    draft,
                    heap,
                    vec![source],
                    &mass,
                    &wanted,
                    &(&mass * &self.ratio),
                );
            }
        }
        heap.wet.extend(mix.map(|(source, _)| source));
    }

    /// What the next output should weigh so that as many steps as are needed from `from` to `goal` dilute alike.
    fn spaced(&self, from: &Q, goal: &Q) -> Q {
        if self.ratio <= Q::ONE {
            return goal.clone();
        }
        let mut wanted = goal.clone();
        for _ in 0..MOST_STEPS {
            if wanted <= from * &self.ratio {
                break;
            }
            wanted = wanted / &self.ratio;
        }
        wanted
    }

    /// One step: works what is there into heap ingredients until it weighs what is wanted, at most `most`. What does not find enough goes on the heap as it is.
    fn step(
        &self,
        draft: &mut Draft,
        heap: &mut Heap,
        mut inputs: Vec<Source>,
        held: &Q,
        wanted: &Q,
        most: &Q,
    ) -> Option<(Source, Q)> {
        let wanted = wanted.clone().min(most.clone());
        let taken = self.take(heap, &(&wanted - held), &(most - held));
        if taken.is_empty() {
            heap.wet.extend(inputs);
            return None;
        }
        let mut mass = held.clone();
        for part in taken {
            mass += &part.mass;
            inputs.push(draft.part(part));
        }
        Some((draft.act(StepKind::Liquid, inputs), mass))
    }

    /// Heap ingredients that weigh at least `wanted` together and at most `most`: one as a whole where that fits, for a weighing
    /// less; else from the largest. Never all there is: the heap must be left something.
    fn take(&self, heap: &mut Heap, wanted: &Q, most: &Q) -> Vec<Part> {
        if !wanted.is_positive() {
            return Vec::new();
        }
        let is_free = |rank: usize| !self.avoided.contains(&rank);
        let fits = |(rank, mass): &&(usize, Q)| is_free(*rank) && wanted <= mass && mass <= most;
        let whole = heap
            .bulk
            .iter()
            .filter(fits)
            .min_by(|a, b| a.1.cmp(&b.1))
            .cloned();
        if let Some((rank, mass)) = whole.filter(|_| heap.bulk.len() > 1) {
            heap.bulk.retain(|(other, _)| *other != rank);
            return vec![rest(rank, mass)];
        }
        let free: Q = heap
            .bulk
            .iter()
            .filter(|(rank, _)| is_free(*rank))
            .map(|(_, mass)| mass)
            .sum();
        let all: Q = heap.bulk.iter().map(|(_, mass)| mass).sum();
        if free < *wanted || all <= *wanted {
            return Vec::new();
        }
        let mut order: Vec<(usize, Q)> = heap.bulk.clone();
        order.retain(|(rank, _)| is_free(*rank));
        order.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        let mut left = wanted.clone();
        let mut taken = Vec::new();
        for (rank, mass) in order {
            if !left.is_positive() {
                break;
            }
            let portion = self.portion(rank, &left);
            if portion.mass < mass {
                heap.bulk
                    .iter_mut()
                    .filter(|(other, _)| *other == rank)
                    .for_each(|(_, mass)| *mass -= &portion.mass);
                left -= &portion.mass;
                taken.push(portion);
            } else {
                heap.bulk.retain(|(other, _)| *other != rank);
                left -= &mass;
                taken.push(rest(rank, mass));
            }
        }
        taken
    }

    /// A fixed part of a heap ingredient, as much as a scale can give, not below `mass`.
    fn portion(&self, rank: usize, mass: &Q) -> Part {
        let is_good = |reading: &Reading| scales::is_within(reading, &scales::carrier_error());
        let up = |scale: &Scale| {
            mass.clone()
                .max(scale.minimum_g.clone())
                .ceil_to(&scale.division_g)
        };
        let reading = scales::choose(self.case, up, is_good).map(|(reading, _)| reading);
        Part {
            ingredient: rank,
            role: Role::Carrier,
            mass: reading
                .as_ref()
                .map_or(mass.clone(), |reading| reading.mass.clone()),
            reading,
        }
    }
}

/// All that is left of a bulk ingredient.
pub(crate) fn rest(ingredient: usize, mass: Q) -> Part {
    Part {
        ingredient,
        role: Role::Rest,
        mass,
        reading: None,
    }
}

/// Liquids that do not find their bed.
pub(crate) fn judge(case: &Case, draft: &Draft) -> Vec<Finding> {
    let outputs = draft.outputs();
    let liquids = case.of_class(Class::Liquid);
    let is_poor = |rank: usize| {
        let with = draft.acts_with(|other| other == rank);
        let first = with.iter().position(|is_in| *is_in)?;
        let mass = draft.mass_of(rank);
        let times = (&outputs[first] - &mass).over(&mass)?;
        (times < bed()).then_some((rank, times))
    };
    liquids
        .into_iter()
        .filter_map(is_poor)
        .map(|(rank, times)| mix::liquid(case, rank, &times))
        .collect()
}
