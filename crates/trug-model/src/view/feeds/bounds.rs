//! What bounds an ingredient's inclusion: limits, doses, ceilings.

use trug_findings::Finding;
use trug_syntax::tree::{Bound, Name, Quantity, Text};

use super::lines::Lines;
use super::{Ceiling, Dose, FeedLimit};
use crate::farm::Namespace;
use crate::findings::{basis, unit};
use crate::quantity::{Basis, Range};
use crate::view::{Wants, units_for};

impl Lines<'_, '_> {
    pub(super) fn limit(
        &mut self,
        bound: &Bound,
        animal: Option<&Name>,
        findings: &mut Vec<Finding>,
    ) {
        let animal_is_known = self.animal_is_known(animal, findings);
        if let Some(range) = self.inclusion(bound, animal_is_known, findings) {
            self.ingredient.limits.push(FeedLimit {
                range,
                animal: animal.map(|animal| animal.text.clone()),
                place: self.place(bound.span),
            });
        }
    }

    pub(super) fn dose(
        &mut self,
        bound: &Bound,
        active: Option<&Name>,
        animal: Option<&Name>,
        findings: &mut Vec<Finding>,
    ) {
        let animal_is_known = self.animal_is_known(animal, findings);
        let range = match active {
            None => self.inclusion(bound, animal_is_known, findings),
            Some(active) => self
                .of_active(bound, active, findings)
                .filter(|_| animal_is_known),
        };
        let Some(range) = range else {
            self.ingredient.is_sound = false;
            return;
        };
        let dose = Dose {
            range,
            active: active.map(|active| active.text.clone()),
            animal: animal.map(|animal| animal.text.clone()),
            place: self.place(bound.span),
        };
        // The farm's label wins over the book's for the same active and animal.
        let (file, key) = (self.file, (dose.active.clone(), dose.animal.clone()));
        self.ingredient.doses.retain(|known| {
            known.place.file == file || (known.active.clone(), known.animal.clone()) != key
        });
        self.ingredient.doses.push(dose);
    }

    pub(super) fn ceiling(
        &mut self,
        value: &Quantity,
        active: Option<&Name>,
        animal: Option<&Name>,
        reason: Option<&Text>,
        findings: &mut Vec<Finding>,
    ) {
        let animal_is_known = self.animal_is_known(animal, findings);
        let as_bound = Bound {
            low: None,
            high: Some(value.number.clone()),
            unit: value.unit.clone(),
            basis: value.basis.clone(),
            span: value.span,
        };
        let range = match active {
            None => self.inclusion(&as_bound, animal_is_known, findings),
            Some(active) => self
                .of_active(&as_bound, active, findings)
                .filter(|_| animal_is_known),
        };
        let Some(Range {
            high: Some(most),
            unit,
            ..
        }) = range
        else {
            self.ingredient.is_sound = false;
            return;
        };
        self.ingredient.ceilings.push(Ceiling {
            value: most,
            unit,
            active: active.map(|active| active.text.clone()),
            animal: animal.map(|animal| animal.text.clone()),
            reason: reason.map(|reason| reason.text.clone()),
            place: self.place(value.span),
        });
    }

    /// A bound of an inclusion: a share, as fed.
    fn inclusion(
        &mut self,
        bound: &Bound,
        is_sound: bool,
        findings: &mut Vec<Finding>,
    ) -> Option<Range> {
        let reader = self.view.reader_of(self.file, &self.ingredient.name);
        let range = reader.range(bound, &Wants::SHARE, findings);
        let range = range.filter(|range| self.is_as_fed(range, findings));
        self.ingredient.is_sound &= range.is_some() && is_sound;
        range.filter(|_| is_sound)
    }

    fn is_as_fed(&self, range: &Range, findings: &mut Vec<Finding>) -> bool {
        match &range.basis {
            None | Some(Basis::AsFed) => true,
            Some(other) => {
                findings.push(basis::inclusion(self.place(range.span), &other.words()));
                false
            }
        }
    }

    fn of_active(
        &mut self,
        bound: &Bound,
        active: &Name,
        findings: &mut Vec<Finding>,
    ) -> Option<Range> {
        let place = self.place(active.span);
        if !self
            .view
            .knows(Namespace::Nutrient, active, place, findings)
        {
            return None;
        }
        let nutrient = self.view.nutrient(&active.text)?;
        let wants = Wants {
            noun: "another unit",
            units: units_for(&nutrient.dimension),
            fits: |_| true,
        };
        let reader = self.view.reader_of(self.file, &self.ingredient.name);
        let range = reader.range(bound, &wants, findings)?;
        if range.dimension != nutrient.dimension {
            let span = bound.unit.as_ref().map_or(bound.span, |unit| unit.span);
            findings.push(unit::unlike(
                self.place(span),
                (&range.unit.text, &range.dimension),
                (&active.text, &nutrient.dimension),
                wants.units,
            ));
            return None;
        }
        self.is_as_fed(&range, findings).then_some(range)
    }

    fn animal_is_known(&self, animal: Option<&Name>, findings: &mut Vec<Finding>) -> bool {
        animal.is_none_or(|animal| {
            self.view
                .knows(Namespace::Animal, animal, self.place(animal.span), findings)
        })
    }
}
