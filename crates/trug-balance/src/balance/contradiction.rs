//! A conflict in the user's words and at its lines.

use trug_model::choice::{Choice, ChoiceBound, ChoiceEnd, Rule};
use trug_model::ration::Ration;

use super::{ConflictPart, Infeasible, Relax, SUM};
use crate::programme::{Conflict, Part, Programme};

/// Why no amounts keep every bound, and what would help.
pub(super) fn infeasible(
    ration: &Ration,
    choice: &Choice,
    programme: &Programme,
    conflict: &Conflict,
) -> Infeasible {
    let part = |part: &Part| match part {
        Part::Total => Some(ConflictPart {
            rule: None,
            what: SUM.to_owned(),
            says: "the amounts make 100 %".to_owned(),
            place: ration.place,
        }),
        Part::Bound(rank) => choice.bounds.get(*rank).map(|bound| ConflictPart {
            rule: Some(bound.rule),
            what: bound.what.clone(),
            says: format!("{}{}", says(bound), unknown(choice, bound)),
            place: bound.place,
        }),
        Part::Exclusion(rank) => choice.exclusions.get(*rank).map(|exclusion| ConflictPart {
            rule: None,
            what: exclusion.what.clone(),
            says: format!("never {}", exclusion.what),
            place: exclusion.place,
        }),
    };
    let relax = conflict.relaxations.iter().filter_map(|relaxation| {
        let bound = choice.bounds.get(relaxation.bound)?;
        let from = programme.bounds.get(relaxation.bound)?;
        Some(Relax {
            what: bound.what.clone(),
            end: bound.end,
            unit: bound.unit.text.clone(),
            from: bound.unit.of(&from.limit),
            to: bound.unit.of(&relaxation.to),
            cost_per_kg: relaxation
                .cost
                .as_ref()
                .map(|cost| cost + &choice.fixed_cost),
            place: bound.place,
        })
    });
    Infeasible {
        conflict: conflict.parts.iter().filter_map(part).collect(),
        relax: relax.collect(),
        is_together: conflict.is_together,
    }
}

/// Why a bound on what can harm may bind though little is known: what is unknown counts as the most there can be.
fn unknown(choice: &Choice, bound: &ChoiceBound) -> String {
    let counts_most = matches!(bound.rule, Rule::Law | Rule::Harm | Rule::Ceiling);
    let above = &bound.counted.above;
    let shares = choice.shares.iter().zip(&above.unknown);
    let mut names: Vec<&str> = shares
        .filter(|(_, is_unknown)| **is_unknown)
        .map(|(share, _)| share.name.as_str())
        .collect();
    if above.constant_is_unknown {
        names.push("what is fixed");
    }
    if !counts_most || bound.end == ChoiceEnd::AtLeast || names.is_empty() {
        return String::new();
    }
    let more = names.len().saturating_sub(MOST_NAMES);
    names.truncate(MOST_NAMES);
    let more = match more {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    format!(
        "; unknown in {}{more}, where it counts as the most there can be",
        names.join(", ")
    )
}

/// Names that a sentence lists before it counts.
const MOST_NAMES: usize = 4;

/// A bound in words, with its number.
fn says(bound: &ChoiceBound) -> String {
    if bound.rule == Rule::Never {
        return bound.what.clone();
    }
    let side = match bound.end {
        ChoiceEnd::AtLeast => "at least",
        ChoiceEnd::AtMost => "at most",
    };
    let limit = bound.unit.say_exactly(&bound.limit);
    format!("{} {side} {limit}", bound.what)
}
