//! Every way of so many steps with the very amounts that the scales can give: for the rare question whose answer hangs on two significant figures.
//!
//! Steps are taken one after the other, each mixing some of the tubs that stand there, with every amount of carrier in turn. Two steps that
//! do not follow from one another are tried in one order only. A tub that needs all the steps that are left must be in the next one, and
//! must come out of it heavy enough for the rest: that keeps the number of ways small just where the answer hangs on little.

use super::bound::Bound;
use super::fill::{Filled, Root, Sketch, fill};
use super::question::Question;
use super::table::fewest;

/// What a search through every way came to.
pub(crate) enum Outcome {
    Found(Filled),
    /// There is none.
    Proved,
    /// It took too long to tell.
    GaveUp,
}

/// What stands on the bench: a small ingredient or a mix.
#[derive(Clone, Copy, Debug)]
struct Tub {
    id: usize,
    mass: i128,
    holds: u32,
}

/// A step that was taken: the tubs that went into it, and how much carrier.
#[derive(Clone, Debug)]
struct Taken {
    tubs: Vec<Tub>,
    carrier: i128,
}

struct Bench<'q> {
    question: &'q Question,
    bound: Bound,
    /// What a tub must weigh so that so many steps can still bring it to the pre-blend's need.
    needs: Vec<i128>,
    effort: u64,
    taken: Vec<Taken>,
    /// The groups of the pre-blends, once found.
    groups: Vec<Vec<Tub>>,
}

/// Looks for a plan of exactly so many steps, or of fewer.
pub(crate) fn search(question: &Question, steps: u32, effort: &mut u64) -> Outcome {
    let bound = question.bound;
    let mut needs = vec![bound.least(question.smallest_blend())];
    for step in 0..steps as usize {
        needs.push(bound.least(needs[step]));
    }
    let tubs = question.masses.iter().enumerate();
    let tubs: Vec<Tub> = tubs
        .map(|(id, mass)| Tub {
            id,
            mass: *mass,
            holds: 1 << id,
        })
        .collect();
    let mut bench = Bench {
        question,
        bound,
        needs,
        effort: *effort,
        taken: Vec::new(),
        groups: Vec::new(),
    };
    let is_found = bench.blend(&tubs, steps as usize, 0);
    *effort = bench.effort;
    if is_found {
        return match fill(question, &bench.sketch()) {
            Some(filled) => Outcome::Found(filled),
            None => Outcome::GaveUp,
        };
    }
    if bench.effort == 0 {
        Outcome::GaveUp
    } else {
        Outcome::Proved
    }
}

impl Bench<'_> {
    /// Whether what stands on the bench can be blended in so many steps; keeps the steps that do it.
    fn blend(&mut self, tubs: &[Tub], steps: usize, entered: i128) -> bool {
        if self.is_ready(tubs, entered, steps) {
            return true;
        }
        let is_too_light = |tub: &Tub| tub.mass < self.needs[steps];
        if steps == 0 || tubs.iter().any(is_too_light) || !self.can_be_kept_apart(tubs, steps) {
            return false;
        }
        for chosen in 1..1_usize << tubs.len() {
            self.effort = self.effort.saturating_sub(1);
            if self.effort == 0 {
                return false;
            }
            if self.is_useful(tubs, chosen, steps) && self.mix(tubs, chosen, steps, entered) {
                return true;
            }
        }
        false
    }

    /// Whether so many steps can do for all that is apart and has not met: the two of a pair share no step before they meet.
    fn can_be_kept_apart(&self, tubs: &[Tub], steps: usize) -> bool {
        let question = self.question;
        let with = |rank: usize| tubs.iter().find(|tub| tub.holds >> rank & 1 == 1);
        question.apart.iter().all(|apart| {
            let (Some(one), Some(other)) = (with(apart.one), with(apart.other)) else {
                return true;
            };
            // With separate pre-blends one of the two dilutions is the pre-blend that every plan has.
            let blends = [apart.one_in, apart.other_in].map(|floor| floor.max(question.spreadable));
            let shared = usize::from(blends[0] + blends[1] <= question.output);
            let to_floor = [
                self.needed(tubs, one, apart.one_in),
                self.needed(tubs, other, apart.other_in),
            ];
            let to_need = |tub: &Tub, floor: usize| {
                let need = self.needs.iter().position(|need| tub.mass >= *need);
                need.unwrap_or(usize::MAX / 4).max(floor)
            };
            // They meet in a step on the way, or in the pre-blend, each brought to its need by itself.
            let on_the_way = to_floor[0] + to_floor[1] + 1;
            let at_the_end = to_need(one, to_floor[0]) + to_need(other, to_floor[1]);
            one.id == other.id || on_the_way.min(at_the_end) <= steps + shared
        })
    }

    /// How many steps a tub needs at least to reach a floor, by itself or in company.
    fn needed(&self, tubs: &[Tub], tub: &Tub, floor: i128) -> usize {
        let steps = fewest(&self.bound, tub.mass, floor) as usize;
        if steps != 1 {
            return steps;
        }
        let others: Vec<&Tub> = tubs.iter().filter(|other| other.id != tub.id).collect();
        let is_one_enough = (0..1_usize << others.len()).any(|chosen| {
            let company = (0..others.len()).filter(|rank| chosen >> rank & 1 == 1);
            let masses = company.map(|rank| others[rank].mass);
            let mass = tub.mass + masses.clone().sum::<i128>();
            let most = self.bound.most(masses.fold(tub.mass, i128::min));
            let lacks = (floor - mass).max(1);
            let carrier = self.question.grid.at_least(lacks);
            let is_enough_alone = chosen != 0 && mass >= floor && mass <= most;
            is_enough_alone || carrier.is_some_and(|carrier| mass + carrier <= most)
        });
        // Else it takes company that another step must make first, or a second dilution.
        if is_one_enough { 1 } else { 2 }
    }

    fn is_useful(&self, tubs: &[Tub], chosen: usize, steps: usize) -> bool {
        let must = |tub: &Tub| tub.mass < self.needs[steps - 1];
        let has_all = (0..tubs.len()).all(|rank| chosen >> rank & 1 == 1 || !must(&tubs[rank]));
        let ids = || {
            (0..tubs.len())
                .filter(|rank| chosen >> rank & 1 == 1)
                .map(|rank| tubs[rank].id)
        };
        let follows = match self.taken.last() {
            None => true,
            Some(last) => {
                let made = self.question.masses.len() + self.taken.len() - 1;
                let earlier = last.tubs.iter().map(|tub| tub.id).min();
                ids().any(|id| id == made) || ids().min() > earlier
            }
        };
        has_all && follows
    }

    /// Tries every amount of carrier for one group.
    fn mix(&mut self, tubs: &[Tub], chosen: usize, steps: usize, entered: i128) -> bool {
        let is_in = |rank: &usize| chosen >> rank & 1 == 1;
        let group: Vec<Tub> = (0..tubs.len())
            .filter(is_in)
            .map(|rank| tubs[rank])
            .collect();
        let mass: i128 = group.iter().map(|tub| tub.mass).sum();
        let lightest = group.iter().map(|tub| tub.mass).min().unwrap_or(0);
        let most = self.bound.most(lightest);
        if mass > most || !self.may_meet(&group) {
            return false;
        }
        let others: Vec<Tub> = (0..tubs.len())
            .filter(|rank| !is_in(rank))
            .map(|rank| tubs[rank])
            .collect();
        let most = (most - mass).min(self.question.early - entered);
        // Lighter than this, it could not be brought to the need any more.
        let least = (self.needs[steps - 1] - mass).max(0);
        let mut carrier = if least == 0 && group.len() > 1 {
            Some(0)
        } else {
            self.question.grid.at_least(least.max(1))
        };
        while let Some(amount) = carrier.filter(|amount| *amount == 0 || *amount <= most) {
            self.effort = self.effort.saturating_sub(1);
            if self.effort == 0 {
                return false;
            }
            let mut next = others.clone();
            next.push(Tub {
                id: self.question.masses.len() + self.taken.len(),
                mass: mass + amount,
                holds: group.iter().map(|tub| tub.holds).sum(),
            });
            self.taken.push(Taken {
                tubs: group.clone(),
                carrier: amount,
            });
            if self.blend(&next, steps - 1, entered + amount) {
                return true;
            }
            self.taken.pop();
            carrier = self.question.grid.at_least(amount + 1);
        }
        false
    }

    /// What of a tub is asked before it meets what another holds.
    fn floor(&self, tub: &Tub, holds: u32) -> i128 {
        let has = |sets: u32, rank: usize| sets >> rank & 1 == 1;
        let elsewhere = holds & !tub.holds;
        let mut floor = 0;
        for apart in &self.question.apart {
            if has(tub.holds, apart.one) && has(elsewhere, apart.other) {
                floor = floor.max(apart.one_in);
            }
            if has(tub.holds, apart.other) && has(elsewhere, apart.one) {
                floor = floor.max(apart.other_in);
            }
        }
        floor
    }

    fn may_meet(&self, group: &[Tub]) -> bool {
        let holds = group.iter().map(|tub| tub.holds).sum();
        group.iter().all(|tub| tub.mass >= self.floor(tub, holds))
    }

    /// Whether the tubs can go into one pre-blend, or into as many as there are steps left for.
    fn is_ready(&mut self, tubs: &[Tub], entered: i128, steps: usize) -> bool {
        if entered > self.question.early {
            return false;
        }
        let need = self.bound.least(self.question.output);
        if tubs.iter().all(|tub| tub.mass >= need) && self.may_meet(tubs) {
            self.groups = vec![tubs.to_vec()];
            return true;
        }
        let may_part = self.question.can_separate() && steps > 0;
        may_part && self.part(tubs, 0, steps + 1, &mut Vec::new())
    }

    /// Parts the tubs into at most so many pre-blends.
    fn part(&mut self, tubs: &[Tub], next: usize, most: usize, groups: &mut Vec<Vec<Tub>>) -> bool {
        let Some(tub) = tubs.get(next) else {
            let is_found = groups.len() > 1 && self.can_part(groups);
            if is_found {
                self.groups.clone_from(groups);
            }
            return is_found;
        };
        for rank in 0..groups.len() {
            groups[rank].push(*tub);
            if self.part(tubs, next + 1, most, groups) {
                return true;
            }
            groups[rank].pop();
        }
        if groups.len() < most {
            groups.push(vec![*tub]);
            if self.part(tubs, next + 1, most, groups) {
                return true;
            }
            groups.pop();
        }
        false
    }

    fn can_part(&self, groups: &[Vec<Tub>]) -> bool {
        let ranges: Option<Vec<(i128, i128)>> =
            groups.iter().map(|group| self.range(group)).collect();
        ranges.is_some_and(|ranges| {
            let lows: i128 = ranges.iter().map(|range| range.0).sum();
            let highs: i128 = ranges.iter().map(|range| range.1).sum();
            lows <= self.question.output && self.question.output <= highs
        })
    }

    /// Between what a pre-blend of these tubs may weigh.
    fn range(&self, group: &[Tub]) -> Option<(i128, i128)> {
        let question = self.question;
        let holds: u32 = group.iter().map(|tub| tub.holds).sum();
        let together = Tub {
            id: 0,
            mass: 0,
            holds,
        };
        let reach = (0..question.masses.len())
            .filter(|rank| holds >> rank & 1 == 1)
            .map(|rank| question.reach[rank])
            .max()?;
        let low = (group.iter().map(|tub| tub.mass).sum::<i128>() + 1)
            .max(self.floor(&together, u32::MAX))
            .max(question.spreadable)
            .max(reach);
        let lightest = group.iter().map(|tub| tub.mass).min()?;
        let high = self.bound.most(lightest);
        (self.may_meet(group) && low <= high).then_some((low, high))
    }

    /// The steps that were taken as a tree.
    fn sketch(&self) -> Sketch {
        let mut sketch = Sketch::default();
        let mut nodes = Vec::new();
        for (rank, mass) in self.question.masses.iter().enumerate() {
            nodes.push(sketch.leaf(rank, *mass, 0));
        }
        for taken in &self.taken {
            let holds = taken.tubs.iter().map(|tub| tub.holds).sum();
            for tub in &taken.tubs {
                sketch.raise_floor(nodes[tub.id], self.floor(tub, holds));
            }
            let parts = taken.tubs.iter().map(|tub| nodes[tub.id]).collect();
            let mass = taken.tubs.iter().map(|tub| tub.mass).sum::<i128>() + taken.carrier;
            nodes.push(sketch.mix(parts, taken.carrier > 0, mass, 0));
        }
        for group in &self.groups {
            let holds = group.iter().map(|tub| tub.holds).sum();
            for tub in group {
                sketch.raise_floor(nodes[tub.id], self.floor(tub, holds));
            }
            let (low, high) = if self.groups.len() == 1 {
                (self.question.output, self.question.output)
            } else {
                self.range(group).unwrap_or((0, self.question.output))
            };
            sketch.roots.push(Root {
                parts: group.iter().map(|tub| nodes[tub.id]).collect(),
                low,
                high,
            });
        }
        sketch
    }
}
