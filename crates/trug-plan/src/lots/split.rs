//! How much of a weighing a lot can give, so that both what it gives and what is left to weigh keep the rules.

use trug_model::Q;

use super::takings::Taking;
use crate::amounts::Case;
use crate::plan::{Batch, Class, StepKind, Weighing};
use crate::scales::{self, Reading, is_within};

/// So many readings below what a lot has are tried: beyond, a lot has nothing that can be weighed.
const MOST_TRIED: usize = 1000;

/// The rules that the parts of one ingredient keep.
pub(super) struct Rules<'a> {
    case: &'a Case<'a>,
    batch: &'a Batch,
    class: Class,
    /// The possible error of all its weighings, as they are shared now.
    error: Q,
    /// What that may be: within `weigh` and every bound, or no more than it was without lots.
    most_error: Q,
    /// How far the amount was snapped: the divisions of what is weighed only once explain it.
    snapped: Q,
    may_share: bool,
}

impl<'a> Rules<'a> {
    pub(super) fn of(
        case: &'a Case<'a>,
        batch: &'a Batch,
        rank: usize,
        may_share: bool,
    ) -> Rules<'a> {
        let own = batch.weighings.iter().filter(|it| it.ingredient == rank);
        let (mut weighed, mut error) = (Q::ZERO, Q::ZERO);
        for weighing in own {
            weighed += &weighing.mass_g;
            error += &weighing.error_g;
        }
        let is_of_batch = |rank: usize| !case.ingredient(rank).on_top;
        let amounts = batch.amounts.iter();
        let amounts = amounts.filter(|amount| is_of_batch(amount.ingredient));
        let whole: Q = amounts.map(|amount| &amount.weighed_g).sum();
        let allowed = scales::allowed(case, rank, &weighed, &whole);
        Rules {
            case,
            batch,
            class: case.class(rank),
            most_error: allowed.max(error.clone()),
            error,
            snapped: (&weighed - &case.amount(rank)).abs(),
            may_share,
        }
    }

    /// The most of what is `left` of a weighing, after what was `taken`, that a lot with so much `there` can give.
    ///
    /// All of it, or as much as leaves a part that can be weighed as well: both on divisions of the weighing's scale, read within
    /// a tenth, with no more possible error in all than is allowed, no thinner than a step may dilute.
    pub(super) fn most(
        &self,
        weighing: &Weighing,
        taken: &[Taking],
        left: &Q,
        there: &Q,
    ) -> Option<Q> {
        if left <= there {
            let is_fit = taken.is_empty() || self.is_allowed(weighing, taken, &[left]);
            return is_fit.then(|| left.clone());
        }
        if !self.may_share {
            return None;
        }
        let least = self.least(weighing);
        if self.case.order.scales.is_empty() {
            // Without a scale that is said once, and anything can be planned.
            let most = there.clone().min(left - &least);
            let is_able = most >= least && most.is_positive() && !self.is_early(weighing);
            return is_able.then_some(most);
        }
        let scale = self.case.order.scales.get(weighing.scale?)?;
        let least = least.max(scales::least_weighable(self.case)?);
        let least = least.ceil_to(&scale.division_g);
        let most = there.clone().min(left - &least);
        let mut mass = most.floor_to(&scale.division_g);
        for _ in 0..MOST_TRIED {
            if mass < least || !mass.is_positive() {
                return None;
            }
            if self.is_allowed(weighing, taken, &[&mass, &(left - &mass)]) {
                return Some(mass);
            }
            mass -= &scale.division_g;
        }
        None
    }

    /// Whether a weighing may be shared in these parts beside what was taken already.
    fn is_allowed(&self, weighing: &Weighing, taken: &[Taking], parts: &[&Q]) -> bool {
        if self.case.order.scales.is_empty() {
            return true;
        }
        if self.is_early(weighing) && !parts.iter().all(|part| has_two_figures(part)) {
            return false;
        }
        let readings = parts.iter().map(|part| self.reading(part));
        let Some(readings) = readings.collect::<Option<Vec<Reading>>>() else {
            return false;
        };
        let all = taken.iter().filter_map(|taking| taking.reading.as_ref());
        let (mut error, mut divisions) = (&self.error - &weighing.error_g, Q::ZERO);
        for reading in all.chain(&readings) {
            error += &reading.error;
            divisions += &self.case.order.scales[reading.scale].division_g;
        }
        error <= self.most_error && (self.class == Class::Bulk || divisions >= self.snapped)
    }

    /// What goes into a step is no smaller than the step may dilute, or than what it dilutes already.
    fn least(&self, weighing: &Weighing) -> Q {
        let step = self
            .batch
            .steps
            .iter()
            .find(|step| step.id == weighing.step);
        let Some(step) = step.filter(|_| self.class != Class::Bulk) else {
            return Q::ZERO;
        };
        let dilutes = self.case.order.method.dilutes.clone();
        let ratio = step.ratio.clone().unwrap_or_default().max(dilutes);
        step.output_g.over(&ratio).unwrap_or_default()
    }

    /// Carrier that enters early does so in round amounts.
    fn is_early(&self, weighing: &Weighing) -> bool {
        let mut steps = self.batch.steps.iter();
        let step = steps.find(|step| step.id == weighing.step);
        self.class == Class::Bulk && step.is_some_and(|step| step.kind == StepKind::Dilute)
    }

    /// A part on its scale: of those that read it within `weigh` the one of fewest loads, then the finest; else within a tenth.
    fn reading(&self, mass: &Q) -> Option<Reading> {
        let tenth = scales::carrier_error();
        let weigh = self.case.order.method.weigh.clone().min(tenth.clone());
        let within = |share: &Q| {
            let is_good = |reading: &Reading| is_within(reading, share);
            let chosen = scales::choose(self.case, |_| mass.clone(), is_good);
            chosen.and_then(|(reading, is_good)| is_good.then_some(reading))
        };
        within(&weigh).or_else(|| within(&tenth))
    }

    /// What is taken of a lot, read as a part of its own.
    pub(super) fn taking(&self, lot: Option<&String>, mass: Q) -> Taking {
        Taking {
            lot: lot.cloned(),
            reading: self.reading(&mass),
            mass,
        }
    }

    /// Counts how far the parts of a weighing may be off together.
    pub(super) fn settle(&mut self, weighing: &Weighing, taken: &[Taking]) {
        if taken.len() > 1 {
            self.error -= &weighing.error_g;
            self.error += taken.iter().map(error_of).sum::<Q>();
        }
    }
}

fn error_of(taking: &Taking) -> Q {
    match &taking.reading {
        Some(reading) => reading.error.clone(),
        None => taking.mass.clone(),
    }
}

/// Whether a mass in grams has at most two figures.
fn has_two_figures(mass: &Q) -> bool {
    let digits = mass.to_string().replace('.', "");
    digits.trim_matches('0').len() <= 2
}
