//! The solver against answers known beforehand, against other solvers, and against its own proofs.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod blends;
mod certainty;
mod edges;
mod linear;
mod patterns;
mod properties;
mod reasons;

use trug_model::Q;

use super::{Reasons, Watch};
use crate::programme::{CostRange, Programme, Standing};

/// What came of a programme, with its reasons.
#[derive(Debug, PartialEq)]
enum Cheapest {
    Found(Found),
    Nothing,
    Unanswered(String),
}

/// The cheapest choice with its proof and its reasons.
#[derive(Debug, PartialEq)]
struct Found {
    shares: Vec<Q>,
    cost: Q,
    cost_bound: Q,
    bounds: Vec<Standing>,
    costs: Vec<CostRange>,
    /// Which shares are above zero.
    used: Vec<bool>,
}

fn cheapest(programme: &Programme, watch: &Watch<'_>) -> Cheapest {
    match super::cheapest(programme, watch) {
        super::Cheapest::Found(found) => {
            let Reasons { bounds, costs } = found.reasons(watch);
            Cheapest::Found(Found {
                bounds,
                costs,
                used: found.shares.iter().map(Q::is_positive).collect(),
                shares: found.shares,
                cost: found.cost,
                cost_bound: found.cost_bound,
            })
        }
        super::Cheapest::Nothing => Cheapest::Nothing,
        super::Cheapest::Unanswered(why) => Cheapest::Unanswered(why),
    }
}
