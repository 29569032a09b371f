//! Two states of a farm to what changed between them: amounts, nutrients, doses, cost and work.
//!
//! Pure: it is given two farms that have been read, and knows no disk and no revision. All values are exact; what is only
//! written differently has not changed. `compare(a, b)` and `compare(b, a)` say the same with before and after exchanged.

mod causes;
mod change;
mod found;
mod groups;
mod matching;
mod rations;
mod said;
mod side;
mod standing;
mod state;
mod work;

use std::collections::BTreeSet;

use rayon::prelude::*;
use trug_findings::FileId;

pub use change::{
    Amount, AmountChange, Bounded, Cause, CauseKind, Comparison, CostAt, Eaten, EatenChange,
    FactChange, FoundChange, GroupChange, Hindrance, NutrientAt, NutrientChange, Pair,
    RationChange, Standing, StandingChange, StepAt, Turn, Work,
};
pub use found::Found;
pub use said::Said;
pub use side::Side;

use rations::Named;
use side::{Digest, Digests};

/// What changed from `before` to `after`; of one ration and what it rests on, where one is named.
#[must_use]
pub fn compare(before: &Side<'_>, after: &Side<'_>, ration: Option<&str>) -> Comparison {
    let digests = Digests::of(before, after);
    let named = rations::named(before, after, ration);
    let same = |one: &Named, other: &Named| {
        let (one, other) = (
            digests.before.get(&one.text),
            digests.after.get(&other.text),
        );
        one.is_some() && one == other
    };
    // Rations of one text stand together, so that the text is opened once.
    let worked: Vec<Option<rations::Outcome>> = rations::by_text(&named)
        .par_iter()
        .map(|pairs| {
            let is_alike = |pair: &Pair<Named>| {
                matches!((&pair.before, &pair.after), (Some(one), Some(other)) if same(one, other))
            };
            let mut alike = 0;
            let mut open = Vec::new();
            for pair in *pairs {
                if is_alike(pair) {
                    alike += 1;
                } else {
                    open.push(pair);
                }
            }
            rations::outcome(before, after, &open, alike)
        })
        .collect();
    let mut comparison = Comparison {
        texts_differ: digests.differ,
        ..Comparison::default()
    };
    let mut causes = Vec::new();
    let mut told: Pair<BTreeSet<Found>> = Pair::default();
    let mut rests_on = BTreeSet::new();
    for outcome in worked.into_iter().flatten() {
        comparison.alike += outcome.alike;
        comparison.rations.extend(outcome.rations);
        causes.extend(outcome.causes);
        rests_on.extend(outcome.rests_on);
        told.before
            .get_or_insert_default()
            .extend(outcome.told.before.into_iter().flatten());
        told.after
            .get_or_insert_default()
            .extend(outcome.told.after.into_iter().flatten());
    }
    comparison
        .rations
        .sort_by(|one, other| one.rank().cmp(&other.rank()));
    let is_judged = |digest: (Option<&Digest>, Option<&Digest>)| digest.0 != digest.1;
    causes.extend(causes::of_texts(
        before,
        after,
        &|one: Option<FileId>, other: Option<FileId>| {
            is_judged((
                one.and_then(|file| digests.before.get(&file)),
                other.and_then(|file| digests.after.get(&file)),
            ))
        },
    ));
    if ration.is_some() {
        causes.retain(|cause| rests_on.contains(&(cause.kind, cause.name.clone())));
    } else {
        comparison.groups = groups::compare(before, after);
        comparison.elsewhere = found::elsewhere(before, after, &told);
    }
    comparison.causes = causes::merged(causes);
    comparison
}
