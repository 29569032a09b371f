//! The cheapest shares, in exact arithmetic, with the proof that nothing is cheaper.
//!
//! From a question in numbers to rows and ranges (`question`), to the cheapest pattern of used shares (`branch`), to one of the equally
//! cheap choices (`ties`) and its reasons (`standing`, `ranging`). Below stands the linear programme: found in machine arithmetic
//! (`sketch`), proved in exact (`exact`).

mod branch;
mod cuts;
mod exact;
mod kernel;
pub(crate) mod linear;
mod question;
pub(crate) mod quick;
mod ranging;
pub(crate) mod rows;
mod scaling;
mod sketch;
mod standing;
mod tied;
mod ties;
mod tightening;
mod watch;

use trug_model::Q;

use crate::programme::{CostRange, Programme, Standing};
use branch::{Best, Search, search};
use exact::Pivoting;
use linear::{Solved, dot, solve};
use question::Question;
use standing::Judged;
pub use watch::{Stopped, Watch};

/// What came of a programme.
#[derive(Clone, Debug)]
pub(crate) enum Cheapest<'p> {
    /// The cheapest choice, or the best found.
    Found(Box<Found<'p>>),
    /// It is proved that nothing keeps every bound.
    Nothing,
    /// Neither, and why.
    Unanswered(String),
}

/// A choice that keeps every bound exactly.
#[derive(Clone, Debug)]
pub(crate) struct Found<'p> {
    pub(crate) shares: Vec<Q>,
    pub(crate) cost: Q,
    /// No choice costs less.
    pub(crate) cost_bound: Q,
    /// Nothing else is as cheap.
    pub(crate) is_only: bool,
    best: Best<'p>,
}

/// Why it is this choice.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Reasons {
    /// How each bound stands.
    pub(crate) bounds: Vec<Standing>,
    /// Between which costs the choice stays.
    pub(crate) costs: Vec<CostRange>,
}

/// The cheapest choice with its proof.
pub(crate) fn cheapest<'p>(programme: &'p Programme, watch: &Watch) -> Cheapest<'p> {
    let mut question = Question::of(programme);
    let root = question.open_pattern();
    let Search {
        best,
        bound,
        is_complete,
        may_be_tied,
    } = search(&mut question, root, watch);
    if !watch.is_wanted() {
        return unanswered(watch);
    }
    match (best, bound) {
        (Some(best), Some(bound)) => {
            let found = found(best, bound, may_be_tied, watch);
            if watch.is_wanted() {
                Cheapest::Found(Box::new(found))
            } else {
                unanswered(watch)
            }
        }
        (None, None) if is_complete => Cheapest::Nothing,
        _ => unanswered(watch),
    }
}

/// What the cheapest choice costs, and what no choice costs less than, without the reasons; none where no choice was found.
#[must_use]
pub fn least_cost(programme: &Programme, watch: &Watch) -> Option<(Q, Q)> {
    let mut question = Question::of(programme);
    let root = question.open_pattern();
    let found = search(&mut question, root, watch);
    Some((found.best?.vertex.cost, found.bound?))
}

fn unanswered(watch: &Watch) -> Cheapest<'static> {
    Cheapest::Unanswered(match watch.stopped() {
        Some(Stopped::Cancelled) => "the work was cancelled".to_owned(),
        _ => "no choice was found in the work allowed, nor that there is none".to_owned(),
    })
}

/// The best, and which of those as cheap is to be taken.
fn found<'p>(best: Best<'p>, cost_bound: Q, may_be_tied: bool, watch: &Watch) -> Found<'p> {
    let now: Vec<Option<Q>> = best
        .question
        .programme
        .shares
        .iter()
        .map(|share| share.now.clone())
        .collect();
    let best = if may_be_tied {
        before_tied(best, &now, &watch.of_reasons())
    } else {
        best
    };
    let among_ties = ties::chosen(&best.linear, &best.vertex, &now, &watch.of_reasons());
    // The best was found to keep everything.
    let is_best = |shares: &Vec<Q>| *shares == best.vertex.shares;
    let kept = among_ties.filter(|shares| is_best(shares) || best.question.keeps_all(shares));
    let shares = kept.unwrap_or_else(|| best.vertex.shares.clone());
    let cost = dot(&best.question.costs, &shares);
    Found {
        is_only: !may_be_tied && ties::is_only(&best.linear, &best.vertex),
        cost_bound: cost_bound.min(cost.clone()),
        cost,
        shares,
        best,
    }
}

impl Found<'_> {
    /// Why it is this choice. Where the work allowed for it ends, they are cut short.
    pub(crate) fn reasons(&self, watch: &Watch) -> Reasons {
        let reasons = watch.of_reasons();
        let best = &self.best;
        let pivoting = Pivoting::from(&best.linear, &best.vertex.basis);
        let judged = Judged {
            pivoting: pivoting.as_ref(),
            question: &best.question,
            pattern: &best.pattern,
            linear: &best.linear,
            vertex: &best.vertex,
            shares: &self.shares,
        };
        Reasons {
            bounds: judged.standings(&reasons),
            costs: judged.cost_ranges(&reasons),
        }
    }
}

/// The one to be taken of the best and those as cheap that use other shares.
fn before_tied<'p>(best: Best<'p>, now: &[Option<Q>], reasons: &Watch) -> Best<'p> {
    let is_plain = best.question.is_mixed() && best.question.cones.is_empty();
    let tied = is_plain
        .then(|| tied::chosen(&best.question, &best.vertex.cost, now, reasons))
        .flatten();
    let Some(shares) = tied.filter(|shares| best.question.keeps_all(shares)) else {
        return best;
    };
    let pattern = best.question.pattern_of(&shares);
    let linear = best.question.linear(&pattern, &Q::ONE);
    match solve(&linear, None, reasons) {
        Solved::Vertex(vertex) if vertex.cost == best.vertex.cost => Best {
            vertex,
            pattern,
            linear,
            ..best
        },
        _ => best,
    }
}

#[cfg(test)]
mod tests;
