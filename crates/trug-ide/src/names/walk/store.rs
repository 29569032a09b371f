//! The names in the lines of ingredients and lots.

use trug_model::Namespace;
use trug_syntax::tree::{IngredientStatement, LotStatement};

use super::Walk;

impl Walk<'_> {
    pub(super) fn ingredient_line(&mut self, statement: &IngredientStatement) {
        use IngredientStatement as S;
        match statement {
            S::Content { nutrient, value } => {
                self.uses(Namespace::Nutrient, nutrient);
                self.quantity(value);
            }
            S::Limit { bound, for_animal } => {
                self.bound(bound);
                self.animals(for_animal);
            }
            S::Dose {
                bound,
                active,
                for_animal,
            } => {
                self.bound(bound);
                self.actives(active);
                self.animals(for_animal);
            }
            S::Ceiling {
                value,
                active,
                for_animal,
                ..
            } => {
                self.quantity(value);
                self.actives(active);
                self.animals(for_animal);
            }
            S::ApartFrom { other, .. } | S::NeverWith { other, .. } => {
                self.uses(Namespace::Feed, other);
            }
            S::NeverFor { animal, .. } => self.uses(Namespace::Animal, animal),
            S::DryMatter(value)
            | S::Price { value, .. }
            | S::BulkDensity(value)
            | S::SoldIn(value)
            | S::ParticleSize(value)
            | S::ParticleDensity(value)
            | S::Withdrawal { time: value, .. } => self.quantity(value),
            S::Label { .. }
            | S::NothingElse
            | S::Form(_)
            | S::Caution(_)
            | S::Accept(_)
            | S::Unread => {}
        }
    }

    pub(super) fn lot_line(&mut self, statement: &LotStatement) {
        match statement {
            LotStatement::Content { nutrient, value } => {
                self.uses(Namespace::Nutrient, nutrient);
                self.quantity(value);
            }
            LotStatement::OnHand(value)
            | LotStatement::DryMatter(value)
            | LotStatement::Price { value, .. }
            | LotStatement::BulkDensity(value) => self.quantity(value),
            LotStatement::Received { mass, .. } => {
                mass.iter().for_each(|it| self.quantity(it));
            }
            LotStatement::BestBefore(_) | LotStatement::Accept(_) | LotStatement::Unread => {}
        }
    }
}
