//! Two states of a farm to what changed between them: amounts, nutrients, doses, cost and work.
//!
//! Pure: it is given two farms that have been read, and knows no disk and no revision. All values are exact; what is only
//! written differently has not changed. `compare(a, b)` and `compare(b, a)` say the same with before and after exchanged.

mod bounded;
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

use rayon::prelude::*;

pub use bounded::{Bounded, Standing, StandingChange, Turn};
pub use change::{
    Amount, AmountChange, Cause, CauseKind, Comparison, CostAt, Eaten, EatenChange, FactChange,
    FoundChange, GroupChange, Hindrance, NutrientAt, NutrientChange, Pair, RationChange, StepAt,
    Work,
};
pub use found::Found;
pub use said::Said;
pub use side::Side;

use side::Digests;

/// What changed from `before` to `after`; of one ration and what it rests on, where one is named.
#[must_use]
pub fn compare(before: &Side<'_>, after: &Side<'_>, ration: Option<&str>) -> Comparison {
    let digests = Digests::of(before, after);
    let named = rations::named(before, after, ration);
    // Rations of one text stand together, so that the text is opened once.
    let by_text = rations::by_text(&named);
    let outcomes = by_text
        .par_iter()
        .map(|pairs| rations::outcome(before, after, pairs, &digests));
    let outcomes: Vec<rations::Outcome> = outcomes.collect();
    let mut all = rations::Outcome::default();
    for outcome in outcomes {
        all.add(outcome);
    }
    all.rations
        .sort_by(|one, other| one.rank().cmp(&other.rank()));
    let mut causes = all.causes;
    causes.extend(causes::of_texts(before, after, &digests));
    let mut comparison = Comparison {
        rations: all.rations,
        alike: all.alike,
        texts_differ: digests.differ,
        ..Comparison::default()
    };
    if ration.is_some() {
        causes.retain(|cause| {
            let is_book = cause.kind == CauseKind::Book;
            is_book || all.rests_on.contains(&(cause.kind, cause.name.clone()))
        });
    } else {
        comparison.groups = groups::compare(before, after, &digests);
        comparison.elsewhere = found::elsewhere(before, after, &all.told);
    }
    comparison.causes = causes::merged(causes);
    comparison
}
