//! What may never be in one feed, as exclusions between shares.

use super::{ChoiceExclusion, OpenShare};
use crate::ration::{Inclusion, Ration};

/// Every pair of ingredients that may never meet, where a choice could bring both.
pub(super) fn all(ration: &Ration, shares: &[OpenShare]) -> Vec<ChoiceExclusion> {
    if ration.for_mixing {
        return Vec::new();
    }
    let inclusions = ration.inclusions();
    let mut exclusions: Vec<ChoiceExclusion> = Vec::new();
    for one in &inclusions {
        for never in &one.ingredient.never_with {
            if never.other == one.ingredient.name {
                continue;
            }
            let other = inclusions
                .iter()
                .find(|other| other.ingredient.name == never.other);
            let Some(other) = other else { continue };
            let mut names = [one.ingredient.name.as_str(), other.ingredient.name.as_str()];
            names.sort_unstable();
            let what = names.join(" with ");
            if exclusions.iter().any(|known| known.what == what) {
                continue;
            }
            let (first, second) = (open(ration, shares, one), open(ration, shares, other));
            let (one, other) = match (first, second) {
                (Some(first), Some(second)) => (first, second),
                (Some(first), None) => (first, Vec::new()),
                (None, Some(second)) => (second, Vec::new()),
                // Both are in fixed lines: the check says so, and no choice can mend it.
                (None, None) => continue,
            };
            exclusions.push(ChoiceExclusion {
                one,
                other,
                what,
                place: never.place,
            });
        }
    }
    exclusions
}

/// The shares that hold an ingredient; none where a line that is not chosen holds it already.
fn open(ration: &Ration, shares: &[OpenShare], inclusion: &Inclusion<'_>) -> Option<Vec<usize>> {
    let mut open = Vec::new();
    for (rank, line) in ration.lines.iter().enumerate() {
        let holds = line.feed.leaves().into_iter().any(|leaf| {
            leaf.ingredient.name == inclusion.ingredient.name && leaf.fraction.is_positive()
        });
        if !holds {
            continue;
        }
        match shares.iter().position(|share| share.line == rank) {
            Some(share) => open.push(share),
            None if line.low.is_positive() => return None,
            None => {}
        }
    }
    Some(open)
}
