//! Which values a ration rests on that were not read in their source.

use std::collections::BTreeSet;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{Finding, Place};

use super::bounds::Bounded;
use crate::findings::data;
use crate::ration::Ration;
use crate::view::{Ingredient, Nutrient, View};

/// What was found while bounds were judged: the nutrients that are bounded, and bounds nobody looked up.
pub(super) struct Unverified<'v> {
    view: &'v View<'v>,
    nutrients: BTreeSet<SmolStr>,
    needs_dry_matter: bool,
    /// What, in words, and where.
    values: Vec<(String, Place)>,
    /// Where these stand.
    places: BTreeSet<Place>,
}

impl<'v> Unverified<'v> {
    pub(super) fn new(view: &'v View<'v>) -> Unverified<'v> {
        Unverified {
            view,
            nutrients: BTreeSet::new(),
            needs_dry_matter: false,
            values: Vec::new(),
            places: BTreeSet::new(),
        }
    }

    /// A bound the ration is judged by.
    pub(super) fn bound(&mut self, bounded: &Bounded) {
        self.needs_dry_matter |= bounded.basis != "as fed";
        for word in bounded.what.split(|sign: char| !is_of_name(sign)) {
            if let Some(nutrient) = self.view.nutrient(word) {
                self.nutrient(&nutrient);
            }
        }
        let told = format!("the bound on {} of {}", bounded.what, bounded.whose);
        self.value(told, bounded.written);
    }

    fn nutrient(&mut self, nutrient: &Arc<Nutrient>) {
        self.nutrients.insert(nutrient.name.clone());
        for (_, part) in nutrient.formula.iter().flat_map(|it| &it.terms) {
            self.nutrients.insert(part.name.clone());
        }
    }

    fn value(&mut self, told: String, place: Place) {
        let origin = self.view.farm.origin(place);
        let is_unverified = origin.is_some_and(|origin| origin.unverified.is_some());
        if is_unverified && self.places.insert(place) {
            self.values.push((told, place));
        }
    }

    fn ingredient(&mut self, ingredient: &Ingredient) {
        let name = &ingredient.name;
        if self.needs_dry_matter
            && let Some(content) = &ingredient.dry_matter
        {
            self.value(format!("dry matter of {name}"), content.place);
        }
        for nutrient in self.nutrients.clone() {
            if let Some(content) = ingredient.contents.get(&nutrient) {
                self.value(format!("{nutrient} of {name}"), content.place);
            }
        }
        for dose in &ingredient.doses {
            self.value(format!("the dose of {name}"), dose.place);
        }
        for ceiling in &ingredient.ceilings {
            self.value(format!("the ceiling of {name}"), ceiling.place);
        }
    }

    /// One note for the whole ration.
    pub(super) fn say(mut self, ration: &Ration, findings: &mut Vec<Finding>) {
        for line in &ration.lines {
            for leaf in line.feed.leaves() {
                self.ingredient(&leaf.ingredient);
            }
        }
        if !self.values.is_empty() {
            findings.push(data::unverified(ration.place, &ration.name, &self.values));
        }
    }
}

fn is_of_name(sign: char) -> bool {
    !sign.is_whitespace() && !matches!(sign, '(' | ')' | '*' | '/' | '+')
}
