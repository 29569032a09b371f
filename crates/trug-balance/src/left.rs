//! What is still to be said of a ration once its amounts are chosen.

use trug_findings::{Family, Finding};
use trug_model::ration::Ration;
use trug_model::{Q, View, refuses};

/// Families whose findings speak of the amounts as they are written, which balancing changes.
const OF_AMOUNTS: [Family; 7] = ["sum", "amount", "dose", "target", "limit", "law", "harm"];

/// Whether an error stands in the way of balancing: one that other amounts cannot mend.
#[must_use]
pub fn forbids(finding: &Finding) -> bool {
    refuses(finding) && !OF_AMOUNTS.contains(&finding.code.family())
}

/// What is still found where a ration has these amounts, one share a line of the 100 %: of all that is `found` as it is written,
/// what does not speak of its amounts, and what its new amounts give rise to.
#[must_use]
pub fn still_found(
    view: &View<'_>,
    ration: &Ration,
    shares: &[Q],
    found: &[Finding],
) -> Vec<Finding> {
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
