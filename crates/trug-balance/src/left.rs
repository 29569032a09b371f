//! A ration balanced in the light of what was found about it, and what is still to be said once its amounts are chosen.

use std::sync::Arc;

use trug_findings::{Family, Finding};
use trug_model::prices::Prices;
use trug_model::ration::Ration;
use trug_model::{Q, View, refuses};

use crate::balance::{Balance, Outcome, Refusal, balance_ration};
use crate::solve::Watch;

/// Families whose findings speak of the amounts as they are written, which balancing changes.
const OF_AMOUNTS: [Family; 7] = ["sum", "amount", "dose", "target", "limit", "law", "harm"];

/// A ration with what came of balancing it.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The ration as it is written.
    pub ration: Arc<Ration>,
    /// What came of it.
    pub balance: Balance,
    /// What is still found about it with the amounts that were chosen.
    pub found: Vec<Finding>,
}

/// Balances the ration of that name, about which this was `found` as it is written.
///
/// # Errors
///
/// What stands in the way: errors that other amounts cannot mend, or a price that is unknown. Without an error among them, a ration
/// in it has open amounts.
pub fn balance_found(
    view: &View<'_>,
    name: &str,
    found: &[Finding],
    prices: &Prices,
    watch: &Watch<'_>,
) -> Result<Settled, Vec<Finding>> {
    let ration = view.made_out(name).filter(|_| !found.iter().any(forbids));
    let ration = ration.ok_or_else(|| found.to_vec())?;
    let balance =
        balance_ration(view, &ration, prices, watch).map_err(|refusal| match refusal {
            Refusal::Unsound => found.to_vec(),
            Refusal::Unpriced(finding) => vec![*finding],
        })?;
    let found = match &balance.outcome {
        Outcome::Balanced(balanced) => {
            let amounts = balanced.amounts.iter();
            let shares: Vec<Q> = amounts.map(|amount| amount.share.clone()).collect();
            still_found(view, &ration, &shares, found)
        }
        Outcome::Infeasible(_) | Outcome::Unanswered(_) => Vec::new(),
    };
    Ok(Settled {
        ration,
        balance,
        found,
    })
}

/// Whether an error stands in the way of balancing: one that other amounts cannot mend.
fn forbids(finding: &Finding) -> bool {
    refuses(finding) && !OF_AMOUNTS.contains(&finding.code.family())
}

/// What is still found where a ration has these amounts, one share a line of the 100 %: of all that is `found` as it is written,
/// what does not speak of its amounts, and what its new amounts give rise to.
fn still_found(view: &View<'_>, ration: &Ration, shares: &[Q], found: &[Finding]) -> Vec<Finding> {
    let new = view.judge(&ration.with_inclusions(shares));
    // What is judged again is said once: of the basis, it may be of other lines than before.
    let is_judged = |finding: &Finding| {
        let family = finding.code.family();
        let mut new = new.iter();
        family == "basis" || new.any(|new| new.code == finding.code && new.place == finding.place)
    };
    let stays =
        |finding: &&Finding| !OF_AMOUNTS.contains(&finding.code.family()) && !is_judged(finding);
    let mut still: Vec<Finding> = found.iter().filter(stays).cloned().collect();
    let is_accepted = |new: &Finding| {
        let mut accepted = found.iter().filter(|known| known.accepted.is_some());
        accepted.any(|known| known.code == new.code && known.place == new.place)
    };
    still.extend(new.into_iter().filter(|finding| !is_accepted(finding)));
    trug_findings::sort(&mut still);
    still
}
