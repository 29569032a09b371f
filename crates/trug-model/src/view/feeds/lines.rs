//! The lines of an ingredient and of a lot, one at a time.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{IngredientStatement, LotStatement, Name, Quantity, Text};

use super::{ApartFrom, Ingredient, Never, Price, View, Wants, Withdrawal};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::data;
use crate::quantity::Basis;
use crate::view::animals::units_for;
use crate::view::measures::number;

/// The dilution from which two ingredients may meet where the text names none: 1 in 10.
const APART_UNTIL: i64 = 10;

const FORMS: [&str; 6] = ["crystal", "powder", "meal", "grain", "pellet", "liquid"];

/// Reads lines into an ingredient.
pub(super) struct Lines<'a, 'farm> {
    pub(super) view: &'a View<'farm>,
    pub(super) file: FileId,
    pub(super) ingredient: &'a mut Ingredient,
    /// Nutrients this item has given already.
    given: BTreeMap<SmolStr, Span>,
}

impl<'a, 'farm> Lines<'a, 'farm> {
    pub(super) fn new(
        view: &'a View<'farm>,
        file: FileId,
        ingredient: &'a mut Ingredient,
    ) -> Lines<'a, 'farm> {
        Lines {
            view,
            file,
            ingredient,
            given: BTreeMap::new(),
        }
    }

    pub(super) fn place(&self, span: Span) -> Place {
        Place::new(self.file, span)
    }

    fn measure(
        &mut self,
        written: &Quantity,
        wants: &Wants,
        findings: &mut Vec<Finding>,
    ) -> Option<Q> {
        let reader = self.view.reader_of(self.file, &self.ingredient.name);
        let measure = reader.quantity(written, wants, findings);
        self.ingredient.is_sound &= measure.is_some();
        let measure = measure?;
        if !measure.value.is_positive() {
            let place = self.place(written.span);
            findings.push(data::not_positive(
                place,
                &measure.unit.say_exactly(&measure.value),
            ));
            self.ingredient.is_sound = false;
            return None;
        }
        Some(measure.value)
    }

    pub(super) fn read(
        &mut self,
        statement: &IngredientStatement,
        span: Span,
        findings: &mut Vec<Finding>,
    ) {
        let place = self.place(span);
        match statement {
            IngredientStatement::Content { nutrient, value } => {
                self.content(nutrient, value, findings)
            }
            IngredientStatement::Price { value, .. } => self.price(value, findings),
            IngredientStatement::BulkDensity(written) => {
                self.ingredient.bulk_density = self.measure(written, &Wants::DENSITY, findings);
            }
            IngredientStatement::SoldIn(written) => {
                self.ingredient.sold_in = self.measure(written, &Wants::MASS, findings);
            }
            IngredientStatement::ParticleSize(written) => {
                self.ingredient.particle_size = self.measure(written, &Wants::LENGTH, findings);
            }
            IngredientStatement::ParticleDensity(written) => {
                self.ingredient.particle_density = self.measure(written, &Wants::DENSITY, findings);
            }
            IngredientStatement::Limit { bound, for_animal } => {
                self.limit(bound, for_animal.as_ref(), findings)
            }
            IngredientStatement::Dose {
                bound,
                active,
                for_animal,
            } => {
                self.dose(bound, active.as_ref(), for_animal.as_ref(), findings);
            }
            IngredientStatement::Ceiling {
                value,
                active,
                for_animal,
                reason,
            } => {
                self.ceiling(
                    value,
                    active.as_ref(),
                    for_animal.as_ref(),
                    reason.as_ref(),
                    findings,
                );
            }
            IngredientStatement::Withdrawal { time, product } => {
                if let Some(days) = self.measure(time, &Wants::TIME, findings) {
                    let product = product.text.clone();
                    self.ingredient.withdrawals.push(Withdrawal {
                        days,
                        product,
                        place,
                    });
                }
            }
            IngredientStatement::Form(word) => self.form(word, findings),
            IngredientStatement::NothingElse => self.ingredient.nothing_else = true,
            IngredientStatement::Label { language, text } => {
                self.ingredient
                    .labels
                    .insert(language.text.clone(), text.text.clone());
            }
            IngredientStatement::Caution(text) => {
                self.ingredient.cautions.push((text.text.clone(), place))
            }
            IngredientStatement::ApartFrom { .. }
            | IngredientStatement::NeverWith { .. }
            | IngredientStatement::NeverFor { .. } => self.enemy(statement, place, findings),
            IngredientStatement::DryMatter(_)
            | IngredientStatement::Accept(_)
            | IngredientStatement::Unread => {}
        }
    }

    pub(super) fn read_lot(
        &mut self,
        statement: &LotStatement,
        _span: Span,
        findings: &mut Vec<Finding>,
    ) {
        match statement {
            LotStatement::Content { nutrient, value } => self.content(nutrient, value, findings),
            LotStatement::Price { value, .. } => self.price(value, findings),
            LotStatement::BulkDensity(written) => {
                self.ingredient.bulk_density = self.measure(written, &Wants::DENSITY, findings);
            }
            LotStatement::Received { .. }
            | LotStatement::BestBefore(_)
            | LotStatement::OnHand(_)
            | LotStatement::DryMatter(_)
            | LotStatement::Accept(_)
            | LotStatement::Unread => {}
        }
    }

    fn content(&mut self, written: &Name, value: &Quantity, findings: &mut Vec<Finding>) {
        let place = self.place(written.span);
        let is_known = self
            .view
            .knows(Namespace::Nutrient, written, place, findings);
        let nutrient = is_known
            .then(|| self.view.nutrient(&written.text))
            .flatten();
        let Some(nutrient) = nutrient else {
            self.ingredient.is_sound = false;
            return;
        };
        if let Some(first) = self.given.get(&written.text) {
            findings.push(data::twice(place, &written.text, self.place(*first)));
            self.ingredient.is_sound = false;
            return;
        }
        self.given.insert(written.text.clone(), written.span);
        let wants = Wants {
            noun: "another unit",
            units: units_for(&nutrient.dimension),
            fits: |_| true,
        };
        let reader = self.view.reader_of(self.file, &self.ingredient.name);
        let measure = reader.quantity(value, &wants, findings);
        let content = measure.and_then(|measure| {
            let unit_span = value.unit.as_ref().map_or(value.span, |unit| unit.span);
            if measure.dimension != nutrient.dimension {
                findings.push(crate::findings::unit::unlike(
                    self.place(unit_span),
                    (&measure.unit.text, &measure.dimension),
                    (&written.text, &nutrient.dimension),
                    wants.units,
                ));
                return None;
            }
            let place = self.place(value.span);
            let content = self
                .ingredient
                .as_fed(&measure, &written.text, place, findings)?;
            let is_signed = nutrient
                .dimension
                .is_per(crate::quantity::Base::Charge, crate::quantity::Base::Mass);
            let is_too_much = nutrient.greatest().is_some_and(|most| content.value > most);
            if (content.value.is_negative() && !is_signed) || is_too_much {
                let most = nutrient.greatest().map_or_else(
                    || "0 or more".to_owned(),
                    |most| format!("0 .. {}", nutrient.unit.say_exactly(&most)),
                );
                findings.push(data::outside(
                    place,
                    &written.text,
                    &nutrient.unit.say(&content.value),
                    &most,
                ));
                return None;
            }
            Some((content, measure))
        });
        match content {
            Some((content, measure)) => {
                let name = written.text.clone();
                if matches!(measure.basis, None | Some(Basis::AsFed)) {
                    self.ingredient.on_dry_basis.remove(&name);
                } else {
                    self.ingredient.on_dry_basis.insert(name.clone(), measure);
                }
                self.ingredient.contents.insert(name, content);
            }
            None => self.ingredient.is_sound = false,
        }
    }

    fn price(&mut self, value: &Quantity, findings: &mut Vec<Finding>) {
        let reader = self.view.reader_of(self.file, &self.ingredient.name);
        let Some(measure) = reader.quantity(value, &Wants::PRICE, findings) else {
            return;
        };
        if measure.value.is_negative() {
            findings.push(data::negative(
                self.place(value.span),
                &measure.unit.say_exactly(&measure.value),
            ));
            return;
        }
        self.ingredient.price = Some(Price {
            currency: SmolStr::new(measure.dimension.currency().unwrap_or_default()),
            value: measure.value,
            place: self.place(value.span),
        });
    }

    fn form(&mut self, word: &Name, findings: &mut Vec<Finding>) {
        if FORMS.contains(&word.text.as_str()) {
            self.ingredient.form = Some(word.text.clone());
        } else {
            findings.push(data::form(self.place(word.span), &word.text, &FORMS));
            self.ingredient.is_sound = false;
        }
    }

    fn enemy(
        &mut self,
        statement: &IngredientStatement,
        place: Place,
        findings: &mut Vec<Finding>,
    ) {
        let (namespace, other) = match statement {
            IngredientStatement::ApartFrom { other, .. }
            | IngredientStatement::NeverWith { other, .. } => (Namespace::Feed, other),
            IngredientStatement::NeverFor { animal, .. } => (Namespace::Animal, animal),
            _ => return,
        };
        if !self
            .view
            .knows(namespace, other, self.place(other.span), findings)
        {
            self.ingredient.is_sound = false;
            return;
        }
        if let IngredientStatement::ApartFrom {
            until: Some(until), ..
        } = statement
            && number(until) <= Q::ONE
        {
            let value = format!("1 in {}", until.digits);
            let place = self.place(until.span);
            findings.push(data::outside(
                place,
                "a dilution",
                &value,
                "1 in more than 1",
            ));
            self.ingredient.is_sound = false;
            return;
        }
        let never = |reason: &Option<Text>| Never {
            other: other.text.clone(),
            reason: reason.as_ref().map(|reason| reason.text.clone()),
            place,
        };
        match statement {
            IngredientStatement::NeverWith { reason, .. } => {
                self.ingredient.never_with.push(never(reason))
            }
            IngredientStatement::NeverFor { reason, .. } => {
                self.ingredient.never_for.push(never(reason))
            }
            IngredientStatement::ApartFrom { until, .. } => self.ingredient.apart.push(ApartFrom {
                other: other.text.clone(),
                times: until.as_ref().map_or(Q::int(APART_UNTIL), number),
                place,
            }),
            _ => {}
        }
    }
}
