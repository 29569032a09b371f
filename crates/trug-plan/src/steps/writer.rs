//! Writes what the search found into the draft: small ingredients and mixes, carrier early and late.

use trug_model::Q;

use super::question::{Blend, Mix};
use super::unit::Unit;
use crate::amounts::Case;
use crate::draft::{Draft, Part, Role, Source};
use crate::order::Scale;
use crate::plan::StepKind;
use crate::preblend::Carrier;
use crate::scales::{self, Reading};

/// Writes an answer into the draft.
pub(super) struct Writer<'a, 'b> {
    case: &'a Case<'a>,
    draft: &'b mut Draft,
    /// The parts of the small ingredients, in the order of their names.
    small: Vec<Source>,
    given: &'b [Carrier],
    /// What of each carrier has not entered yet.
    left: Vec<Carrier>,
    unit: Unit,
}

impl<'a, 'b> Writer<'a, 'b> {
    /// Nothing is written yet: all small ingredients wait, and all of each carrier.
    pub(super) fn new(
        case: &'a Case<'a>,
        draft: &'b mut Draft,
        small: Vec<Source>,
        given: &'b [Carrier],
        unit: Unit,
    ) -> Writer<'a, 'b> {
        Writer {
            case,
            draft,
            small,
            given,
            left: given.to_vec(),
            unit,
        }
    }

    /// Every pre-blend, in this order.
    pub(super) fn blends(&mut self, blends: &[Blend]) -> Vec<Source> {
        let mut sources = Vec::with_capacity(blends.len());
        for (rank, blend) in blends.iter().enumerate() {
            sources.push(self.blend(blend, &blends[rank + 1..]));
        }
        sources
    }

    /// One pre-blend. The last takes what is left of every carrier.
    fn blend(&mut self, blend: &Blend, later: &[Blend]) -> Source {
        let mut inputs = self.mixes(&blend.parts);
        let outputs = self.draft.outputs();
        let mass: Q = inputs
            .iter()
            .map(|input| self.draft.mass(*input, &outputs))
            .sum();
        let wanted = self.unit.mass(blend.output) - mass;
        let carriers = if later.is_empty() {
            self.all_that_is_left()
        } else {
            let kept = later.iter().map(|blend| early(&blend.parts)).sum();
            self.some(wanted, &self.unit.mass(kept))
        };
        inputs.extend(carriers);
        match inputs.as_slice() {
            [only] => *only,
            _ => self.draft.act(StepKind::PreBlend, inputs),
        }
    }

    /// The lightest goes in first, so that each finds about its like.
    fn mixes(&mut self, parts: &[Mix]) -> Vec<Source> {
        let mut sources: Vec<Source> = parts.iter().map(|part| self.mix(part)).collect();
        let outputs = self.draft.outputs();
        sources.sort_by_key(|source| self.draft.mass(*source, &outputs));
        sources
    }

    fn mix(&mut self, mix: &Mix) -> Source {
        match mix {
            Mix::Alone(rank) => self.small[*rank],
            Mix::Of { parts, carrier } => {
                let mut inputs = self.mixes(parts);
                if *carrier > 0 {
                    let mass = self.unit.mass(*carrier);
                    inputs.push(self.carrier(0, mass));
                }
                let kind = if *carrier > 0 {
                    StepKind::Dilute
                } else {
                    StepKind::Together
                };
                self.draft.act(kind, inputs)
            }
        }
    }

    /// A fixed part of a carrier, taken off what is left of it.
    fn carrier(&mut self, rank: usize, mass: Q) -> Source {
        let reading = self.reading(|_| mass.clone());
        let part = Part {
            ingredient: self.left[rank].ingredient,
            role: Role::Carrier,
            mass: reading
                .as_ref()
                .map_or(mass, |reading| reading.mass.clone()),
            reading,
        };
        self.left[rank].mass -= &part.mass;
        self.draft.part(part)
    }

    fn reading(&self, snap: impl Fn(&Scale) -> Q) -> Option<Reading> {
        let is_good = |reading: &Reading| scales::is_within(reading, &scales::carrier_error());
        scales::choose(self.case, snap, is_good).map(|(reading, _)| reading)
    }

    /// So much carrier, from the first of which there is some left. The first keeps what later pre-blends take of it early.
    fn some(&mut self, wanted: Q, kept: &Q) -> Vec<Source> {
        let mut wanted = wanted;
        let mut sources = Vec::new();
        for rank in 0..self.left.len() {
            let kept = if rank == 0 { kept.clone() } else { Q::ZERO };
            let left = &self.left[rank].mass - &kept;
            if !wanted.is_positive() || !left.is_positive() {
                continue;
            }
            let mass = wanted.clone().min(left);
            let is_all = kept.is_zero() && !self.is_weighable(&(&self.left[rank].mass - &mass));
            if is_all && self.left[rank].is_whole {
                wanted -= &self.left[rank].mass;
                sources.push(self.rest(rank));
                continue;
            }
            // To the gram where a scale shows it: what one pre-blend lacks the next has too much.
            let reading = self.reading(|_| mass.clone());
            let reading =
                reading.or_else(|| self.reading(|scale| mass.floor_to(&scale.division_g)));
            let given = reading.map_or(mass, |reading| reading.mass);
            wanted -= &given;
            sources.push(self.carrier(rank, given));
            if !self.is_weighable(&wanted) {
                break;
            }
        }
        sources
    }

    /// What is left of every carrier. Of one that leaves nothing for the heap it is what takes up the rounding.
    fn all_that_is_left(&mut self) -> Vec<Source> {
        let mut sources = Vec::new();
        for rank in 0..self.left.len() {
            let left = self.left[rank].clone();
            if !left.mass.is_positive() {
                continue;
            }
            if left.is_whole {
                sources.push(self.rest(rank));
            } else if left.mass == self.given[rank].mass || self.is_weighable(&left.mass) {
                let given = &self.given[rank];
                let mass = if left.mass == given.mass {
                    left.mass
                } else {
                    &given.most - &(&given.mass - &left.mass)
                };
                let reading = self.reading(|scale| mass.floor_to(&scale.division_g));
                let mass = reading.map_or(mass, |reading| reading.mass);
                sources.push(self.carrier(rank, mass));
            }
        }
        sources
    }

    /// All that is left of a carrier that leaves nothing for the heap.
    fn rest(&mut self, rank: usize) -> Source {
        let left = &mut self.left[rank];
        let mass = std::mem::take(&mut left.mass);
        self.draft.part(Part {
            ingredient: left.ingredient,
            role: Role::Rest,
            mass,
            reading: None,
        })
    }

    /// Whether so little can be weighed as a part; anything can where nothing is known of scales.
    fn is_weighable(&self, mass: &Q) -> bool {
        mass.is_positive() && scales::least_weighable(self.case).is_none_or(|least| *mass >= least)
    }
}

/// What enters early into these mixes.
fn early(parts: &[Mix]) -> i128 {
    let of_mix = |mix: &Mix| match mix {
        Mix::Alone(_) => 0,
        Mix::Of { parts, carrier } => carrier + early(parts),
    };
    parts.iter().map(of_mix).sum()
}
