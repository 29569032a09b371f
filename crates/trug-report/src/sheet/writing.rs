//! What a sheet is written from, and the names people give to what is in it.

use trug_model::Q;
use trug_plan::plan::Plan;

use super::masses::{shown, shown_range};
use crate::plan::{Labels, PlanAbout};
use crate::speech::Speech;

/// A plan, what is known beside it, and the language it is told in.
pub(super) struct Writing<'a> {
    pub(super) plan: &'a Plan,
    pub(super) about: &'a PlanAbout<'a>,
    pub(super) speech: &'a Speech,
    /// What people call the ingredients, by their rank in the order.
    names: Vec<String>,
}

impl<'a> Writing<'a> {
    pub(super) fn of(plan: &'a Plan, about: &'a PlanAbout<'a>, speech: &'a Speech) -> Writing<'a> {
        Writing {
            plan,
            about,
            speech,
            names: names(plan, about, speech),
        }
    }

    /// What people call an ingredient, by its rank in the order.
    pub(super) fn name_of(&self, rank: usize) -> &str {
        self.names.get(rank).map_or("?", String::as_str)
    }

    /// The rank in the order of the ingredient of that name.
    pub(super) fn rank_of(&self, name: &str) -> Option<usize> {
        let ingredients = &self.plan.order.ingredients;
        ingredients.iter().position(|one| one.name == name)
    }

    /// What people call the ration.
    pub(super) fn title(&self) -> &str {
        let label = self.about.label.as_deref();
        let label = label.filter(|label| !label.trim().is_empty());
        label.unwrap_or(&self.plan.order.ration)
    }

    pub(super) fn mass(&self, grams: &Q) -> String {
        shown(grams, self.speech)
    }

    pub(super) fn mass_range(&self, from: &Q, to: &Q, mass: &Q) -> String {
        shown_range(from, to, mass, self.speech)
    }
}

/// Labels where they say which ingredient is meant: one that is blank, or that two bear, does not.
fn names(plan: &Plan, about: &PlanAbout<'_>, speech: &Speech) -> Vec<String> {
    let called = |labels: &Labels| {
        let own = speech.label(&labels.by_language);
        own.or(labels.plain.as_ref()).cloned()
    };
    let labels: Vec<(&str, Option<String>)> = plan
        .order
        .ingredients
        .iter()
        .map(|one| {
            (
                one.name.as_str(),
                about.labels.get(&one.name).and_then(called),
            )
        })
        .collect();
    let is_telling = |name: &str, label: &str| {
        let is_same = |(other, its): &&(&str, Option<String>)| {
            *other != name && (its.as_deref() == Some(label) || *other == label)
        };
        !label.trim().is_empty() && !labels.iter().any(|it| is_same(&it))
    };
    labels
        .iter()
        .map(|(name, label)| match label {
            Some(label) if is_telling(name, label) => label.clone(),
            _ => (*name).to_owned(),
        })
        .collect()
}
