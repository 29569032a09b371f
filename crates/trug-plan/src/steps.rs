//! The steps that bring the small ingredients into the pre-blend: as few as the ratio of one step allows.
//!
//! Preferred, in this order: fewest steps, fewest weighings, smallest largest ratio, names in order. Up to seven small ingredients the
//! fewest are proved (see `exhaustive`); beyond, they are the fewest that were found. With a handful of small
//! ingredients of like size this comes out as the common practice of the trade: small together, pre-blend, heap, spread.
//!
//! What is left of the first carrier's part always enters with the pre-blend itself.

mod bound;
mod exhaustive;
mod fill;
mod greedy;
mod grid;
mod question;
mod thorough;

use trug_model::Q;

use crate::amounts::Case;
use crate::apart::is_asked;
use crate::draft::{Draft, Part, Role, Source};
use crate::plan::{Class, StepKind};
use crate::preblend::{Carrier, Preblend};
use crate::scales::{self, Reading};

use bound::Bound;
use grid::Grid;
use question::{Answer, Apart, Blend, Mix, Question};

/// Masses of the search stay below this, so that their products fit.
const LARGEST: i128 = 1 << 52;
/// Up to so many small ingredients the fewest steps are proved.
const PROVED: usize = 7;
/// So many splits are looked at before the search for the proved fewest gives up; and where something could not be kept anyway.
const EFFORT: u64 = 200_000;
const LITTLE_EFFORT: u64 = 4_000;
/// So many of what is apart are tried one by one where not all can be kept.
const MOST_TRIED: usize = 64;

/// The small ingredients on their way: what the spread takes, and whether no fewer steps would do.
pub(crate) struct Blended {
    pub(crate) sources: Vec<Source>,
    pub(crate) is_proved: bool,
}

/// Draws the steps up to the pre-blends into the draft, such that a pre-blend heavier by `margin` would keep the ratio too.
pub(crate) fn blend(
    case: &Case,
    draft: &mut Draft,
    small: Vec<Part>,
    preblend: &Preblend,
    margin: &Q,
) -> Blended {
    let mut small = small;
    small.sort_by(|a, b| {
        let names = case.name(a.ingredient).cmp(case.name(b.ingredient));
        names.then(a.ingredient.cmp(&b.ingredient))
    });
    let carried: Q = preblend.carriers.iter().map(|carrier| &carrier.mass).sum();
    let masses: Q = small.iter().map(|part| &part.mass).sum();
    let unit = Unit::of(case, &small, preblend, &(&masses + &carried));
    let mut question = ask(case, &small, preblend, &unit);
    question.output += unit.up(margin);
    let answer = settle(&question);
    let sources = small.into_iter().map(|part| draft.part(part)).collect();
    let mut writer = Writer {
        case,
        draft,
        small: sources,
        given: &preblend.carriers,
        left: preblend.carriers.clone(),
        unit,
    };
    let sources = answer
        .blends
        .iter()
        .enumerate()
        .map(|(rank, blend)| writer.blend(blend, &answer.blends[rank + 1..]))
        .collect();
    Blended {
        sources,
        is_proved: answer.is_proved && unit.is_exact && question.masses.len() <= PROVED,
    }
}

/// The mass that the search counts in.
#[derive(Clone, Copy, Debug)]
struct Unit {
    per_gram: i128,
    /// Whether every mass is a whole number of it.
    is_exact: bool,
}

impl Unit {
    /// The largest that measures everything; else one so fine that nothing is lost that a scale could show.
    fn of(case: &Case, small: &[Part], preblend: &Preblend, all: &Q) -> Unit {
        let divisions = case.order.scales.iter().map(|scale| &scale.division_g);
        let masses = small.iter().map(|part| &part.mass);
        let carriers = preblend.carriers.iter().map(|carrier| &carrier.mass);
        let common = divisions
            .chain(masses)
            .chain(carriers)
            .try_fold(1_i128, |common, mass| {
                let (_, under) = mass.parts()?;
                let (mut a, mut b) = (common, under);
                while b != 0 {
                    (a, b) = (b, a % b);
                }
                (common / a).checked_mul(under)
            });
        let fits = |per_gram: &i128| all * &Q::of_parts(*per_gram, 1) < Q::of_parts(LARGEST, 1);
        match common.filter(fits) {
            Some(per_gram) => Unit {
                per_gram,
                is_exact: true,
            },
            None => {
                let fitting = (0..15).map(|power| 10_i128.pow(15 - power)).find(fits);
                Unit {
                    per_gram: fitting.unwrap_or(1),
                    is_exact: false,
                }
            }
        }
    }

    /// A mass in this unit, down.
    fn down(&self, mass: &Q) -> i128 {
        let units = (mass * &Q::of_parts(self.per_gram, 1)).floor();
        units.parts().map_or(LARGEST, |(over, _)| over.min(LARGEST))
    }

    /// A mass in this unit, up.
    fn up(&self, mass: &Q) -> i128 {
        let units = (mass * &Q::of_parts(self.per_gram, 1)).ceil();
        units.parts().map_or(LARGEST, |(over, _)| over.min(LARGEST))
    }

    fn mass(&self, units: i128) -> Q {
        Q::of_parts(units, self.per_gram)
    }
}

/// The ratio of one step as whole numbers; rounded down where it has too many digits.
fn bound(dilutes: &Q) -> Bound {
    let exact = dilutes
        .parts()
        .filter(|(over, under)| *over > 0 && *over < 1 << 40 && *under < 1 << 40);
    let rounded = || {
        let parts = (dilutes * &Q::int(1 << 20)).floor().parts();
        parts.map(|(over, _)| (over.clamp(1, 1 << 40), 1 << 20))
    };
    Bound {
        ratio: exact.or_else(rounded).unwrap_or((1, 1)),
        is_strict: false,
    }
}

/// The question the search answers, in whole units.
fn ask(case: &Case, small: &[Part], preblend: &Preblend, unit: &Unit) -> Question {
    let masses: Vec<i128> = small
        .iter()
        .map(|part| unit.down(&part.mass).max(1))
        .collect();
    let grid = if unit.is_exact {
        Grid::new(case, unit.per_gram)
    } else {
        Grid::default()
    };
    let carriers = preblend.carriers.iter();
    let carried: i128 = carriers.map(|carrier| unit.up(&carrier.most)).sum();
    let first = preblend.carriers.first();
    let first = first.map_or(0, |carrier| unit.down(&carrier.mass));
    let kept_back = scales::least_weighable(case).map_or(LARGEST, |least| unit.up(&least));
    let output = masses.iter().sum::<i128>() + carried;
    let rank_of = |ingredient: usize| small.iter().position(|part| part.ingredient == ingredient);
    let reached = |rank: usize, times: &Q| unit.up(&(times * &small[rank].mass));
    let mut apart = Vec::new();
    let mut reach = vec![0; small.len()];
    for pair in &case.pairs {
        match (rank_of(pair.first), rank_of(pair.second)) {
            (Some(one), Some(other)) => apart.push(Apart {
                one,
                other,
                one_in: reached(one, &pair.times),
                other_in: reached(other, &pair.times),
            }),
            (Some(rank), None) | (None, Some(rank)) if is_asked(case, small[rank].ingredient) => {
                let least = reached(rank, &pair.times);
                // What even all of the pre-blend does not reach is said of the plan, not sought here.
                if least <= output {
                    reach[rank] = reach[rank].max(least);
                }
            }
            _ => {}
        }
    }
    let in_one_step = |mass: &Q| mass.over(&case.order.method.dilutes).unwrap_or_default();
    let total = unit.up(&case.total);
    // Where the pre-blend is the batch there is nothing to spread it on, and so there is only one.
    let spreadable = if preblend.wanted >= case.total {
        LARGEST
    } else {
        unit.up(&in_one_step(&case.total))
    };
    Question {
        masses,
        output,
        early: (first - kept_back).max(0),
        bound: bound(&case.order.method.dilutes),
        apart,
        reach,
        spreadable,
        spread: (total.max(1), output.max(1)),
        grid,
    }
}

/// An answer in any case: where the ratio or what is apart cannot be kept, as much of it as can.
fn settle(question: &Question) -> Answer {
    if let Some(answer) = find(question, EFFORT) {
        return answer;
    }
    // Something cannot be kept: then in one pre-blend, so that what is said of it is one thing.
    let mut eased = Question {
        apart: Vec::new(),
        spreadable: LARGEST,
        ..question.clone()
    };
    let mut answer = find(&eased, LITTLE_EFFORT);
    for _ in 0..LARGEST.ilog2() {
        if answer.is_some() {
            break;
        }
        eased.bound.ratio.0 = (eased.bound.ratio.0 * 3 / 2 + 1).min(LARGEST);
        answer = find(&eased, LITTLE_EFFORT);
    }
    for apart in question.apart.iter().take(MOST_TRIED) {
        eased.apart.push(*apart);
        match find(&eased, LITTLE_EFFORT) {
            Some(better) => answer = Some(better),
            None => {
                eased.apart.pop();
            }
        }
    }
    let mut answer = answer.unwrap_or_else(|| Answer {
        blends: vec![Blend {
            parts: (0..question.masses.len()).map(Mix::Alone).collect(),
            output: question.output,
        }],
        is_proved: false,
    });
    answer.is_proved = false;
    answer
}

/// The fewest steps, proved where there are few small ingredients; else the fewest found.
fn find(question: &Question, effort: u64) -> Option<Answer> {
    let found = greedy::search(question);
    if question.masses.len() > PROVED {
        return found.map(|found| found.answer(false));
    }
    let proved = exhaustive::search(question, found.as_ref(), effort);
    proved.or_else(|| {
        // No step dilutes further than the ratio, so the lightest needs so many at least.
        let found = found?;
        let lightest = question.masses.iter().copied().min()?;
        let need = question.bound.least(question.output);
        let fewest = exhaustive::fewest(&question.bound, lightest, need);
        let steps = u32::try_from(found.steps()).ok();
        let is_proved = question.apart.is_empty() && steps == Some(fewest);
        Some(found.answer(is_proved))
    })
}

/// Writes an answer into the draft.
struct Writer<'a, 'b> {
    case: &'a Case<'a>,
    draft: &'b mut Draft,
    /// The parts of the small ingredients, in the order of their names.
    small: Vec<Source>,
    given: &'b [Carrier],
    /// What of each carrier has not entered yet.
    left: Vec<Carrier>,
    unit: Unit,
}

impl Writer<'_, '_> {
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

    fn reading(&self, snap: impl Fn(&crate::order::Scale) -> Q) -> Option<Reading> {
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
            let reading = self.reading(|scale| mass.floor_to(&scale.division_g));
            let given = reading.map_or(mass, |reading| reading.mass);
            wanted -= &given;
            sources.push(self.carrier(rank, given));
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

/// The small ingredients of the case, weighed.
pub(crate) fn small(case: &Case) -> Vec<Part> {
    case.of_class(Class::Small)
        .into_iter()
        .map(|rank| scales::whole(case, rank))
        .collect()
}
