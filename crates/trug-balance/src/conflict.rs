//! Why there is no choice, and the least changes that make one.

use std::collections::BTreeSet;

use crate::programme::{Conflict, Part, Programme};
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;
use trug_model::Q;

mod alone;
mod together;

pub(crate) use alone::relative_change;

/// The reasons why `programme` has no choice; none where they were not found in the work allowed, or it has one.
///
/// What would make a choice possible has a budget of its own: what is not found in that is left out.
pub(crate) fn conflict(programme: &Programme, watch: &Watch<'_>) -> Option<Conflict> {
    let parts = parts(programme, watch)?;
    let watch = watch.of_reasons();
    let (mut relaxations, are_all) = alone::relaxations(programme, &parts, &watch);
    let mut is_together = false;
    if relaxations.is_empty() && are_all {
        relaxations = together::relaxations(programme, &watch).unwrap_or_default();
        is_together = !relaxations.is_empty();
    }
    Some(Conflict {
        parts,
        relaxations,
        is_together,
    })
}

/// Parts that cannot all be kept, none of which is dispensable: each is left out in turn, the last first, and stays out where there
/// is still no choice (the deletion filter, Chinneck and Dravnieks 1991).
///
/// What a proof of this does not need could be left out without a further look: the proof stands without it.
fn parts(programme: &Programme, watch: &Watch<'_>) -> Option<Vec<Part>> {
    let costs = vec![Q::ZERO; programme.shares.len()];
    let mut kept = Kept::all(programme);
    let mut needed = without_choice(programme, &costs, &kept, watch)??;
    for part in in_text_order(programme).into_iter().rev() {
        kept.set(part, false);
        if !needed.contains(&part) {
            continue;
        }
        match without_choice(programme, &costs, &kept, watch)? {
            Some(reasons) => needed = reasons,
            None => kept.set(part, true),
        }
    }
    let is_kept = |part: &Part| match part {
        Part::Total => kept.total,
        Part::Bound(rank) => kept.bounds.get(*rank) == Some(&true),
        Part::Exclusion(rank) => kept.exclusions.get(*rank) == Some(&true),
    };
    Some(
        in_text_order(programme)
            .into_iter()
            .filter(is_kept)
            .collect(),
    )
}

/// The total stands at the ration's name, what may never meet after all else.
fn in_text_order(programme: &Programme) -> Vec<Part> {
    let bounds = (0..programme.bounds.len()).map(Part::Bound);
    let exclusions = (0..programme.exclusions.len()).map(Part::Exclusion);
    std::iter::once(Part::Total)
        .chain(bounds)
        .chain(exclusions)
        .collect()
}

/// What together leaves no choice; an inner none where there is one, an outer where that was not found.
fn without_choice(
    programme: &Programme,
    costs: &[Q],
    kept: &Kept,
    watch: &Watch<'_>,
) -> Option<Option<BTreeSet<Part>>> {
    match least(programme, costs, kept, watch) {
        Least::Nothing(reasons) => Some(Some(reasons)),
        Least::Choice(..) => Some(None),
        Least::Unsolved => None,
    }
}

#[cfg(test)]
mod tests;
