//! A conflict in the user's words and at its lines.

use trug_model::Q;
use trug_model::choice::{Choice, ChoiceBound, ChoiceEnd, Rule};
use trug_model::ration::Ration;

use super::{ConflictPart, Infeasible, Relax, SUM};
use crate::conflict::relative_change;
use crate::programme::{Conflict, Part, Programme, Relaxation};

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
            unknown: Vec::new(),
            place: ration.place,
        }),
        Part::Bound(rank) => choice.bounds.get(*rank).map(|bound| ConflictPart {
            rule: Some(bound.rule),
            what: bound.what.clone(),
            says: says(bound),
            unknown: unknown(choice, bound),
            place: bound.place,
        }),
        Part::Exclusion(rank) => choice.exclusions.get(*rank).map(|exclusion| ConflictPart {
            rule: None,
            what: exclusion.what.clone(),
            says: format!("never {}", exclusion.what),
            unknown: Vec::new(),
            place: exclusion.place,
        }),
    };
    let parts: Vec<ConflictPart> = conflict.parts.iter().filter_map(part).collect();
    let relaxations = conflict.relaxations.iter();
    let relax = relaxations
        .filter(|_| is_a_way_out(&parts, conflict, programme))
        .filter_map(|relaxation| {
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
        relax: relax.collect(),
        is_together: conflict.is_together,
        conflict: parts,
    }
}

/// Whether the bounds loosened are a change that anyone would make: several that make up for what no one has stated, or of which
/// one gives up all it asks for, are none.
fn is_a_way_out(parts: &[ConflictPart], conflict: &Conflict, programme: &Programme) -> bool {
    let is_given_up = |relaxation: &Relaxation| {
        let from = programme.bounds.get(relaxation.bound);
        from.is_some_and(|from| relative_change(&from.limit, &relaxation.to) >= Q::ONE)
    };
    let lacks_data = parts.iter().any(|part| !part.unknown.is_empty());
    !conflict.is_together || !(lacks_data || conflict.relaxations.iter().any(is_given_up))
}

/// The ingredients for which a bound on what can harm may bind though they do not say what they hold of it: what is unknown counts
/// as the most there can be.
fn unknown(choice: &Choice, bound: &ChoiceBound) -> Vec<String> {
    let counts_most = matches!(bound.rule, Rule::Law | Rule::Harm | Rule::Ceiling);
    if !counts_most || bound.end == ChoiceEnd::AtLeast {
        return Vec::new();
    }
    let above = &bound.counted.above;
    let shares = choice.shares.iter().zip(&above.unknown);
    let mut names: Vec<String> = shares
        .filter(|(_, is_unknown)| **is_unknown)
        .map(|(share, _)| share.name.to_string())
        .collect();
    if above.constant_is_unknown {
        names.push("what is fixed".to_owned());
    }
    names
}

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
