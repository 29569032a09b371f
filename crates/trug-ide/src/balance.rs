//! Least cost while one types: the same answer as the command line's, with less work spent on the rare question that takes long.

use trug_balance::{Balance, Outcome, Watch, balance_ration};
use trug_model::View;
use trug_model::prices::Prices;
use trug_model::ration::Ration;
use trug_report::words::money;

/// Steps that are spent while somebody waits: a blend of forty ingredients takes a hundredth of them.
const PIVOTS: u64 = 200_000;
/// Patterns of used ingredients that are looked at meanwhile.
const NODES: u64 = 200;

/// A ration balanced; none where it has nothing to choose, or what stands in the way is said by the check.
pub(crate) fn balanced(view: &View<'_>, ration: &Ration) -> Option<Balance> {
    if !ration.has_choice() {
        return None;
    }
    let watch = Watch::new(PIVOTS, NODES, &|| false);
    balance_ration(view, ration, &Prices::default(), &watch).ok()
}

/// What came of it, in a few words: `least cost 97.68 LKR a kg`.
pub(crate) fn in_words(balance: &Balance) -> String {
    match &balance.outcome {
        Outcome::Balanced(balanced) => {
            let cost = money(&balanced.cost_per_kg, &balance.currency);
            let what = if balanced.unproved.is_some() {
                "cheapest found"
            } else {
                "least cost"
            };
            format!("{what} {cost} a kg")
        }
        Outcome::Infeasible(_) => "no amounts keep everything".to_owned(),
        Outcome::Unanswered(_) => String::new(),
    }
}
