//! The names in the lines of methods, groups and records.

use trug_model::Namespace;
use trug_syntax::tree::{GroupStatement, MethodRule, RecordStatement};

use super::Walk;

impl Walk<'_> {
    pub(super) fn method_line(&mut self, rule: &MethodRule) {
        match rule {
            MethodRule::In(vessel) => self.uses(Namespace::Vessel, vessel),
            MethodRule::Small(value)
            | MethodRule::PreBlend(value)
            | MethodRule::Weigh(value)
            | MethodRule::Even(value)
            | MethodRule::Floor(value)
            | MethodRule::Lift(value) => self.quantity(value),
            MethodRule::Step(_)
            | MethodRule::Turn(_)
            | MethodRule::Portions(_)
            | MethodRule::Accept(_) => {}
        }
    }

    pub(super) fn group_line(&mut self, statement: &GroupStatement) {
        match statement {
            GroupStatement::Animals { animal, .. } => self.uses(Namespace::Animal, animal),
            GroupStatement::Eats { ration, intake, .. } => {
                self.uses(Namespace::Feed, ration);
                intake.iter().for_each(|it| self.quantity(it));
            }
            GroupStatement::MixFor(time) => self.quantity(time),
            GroupStatement::Placed { .. } | GroupStatement::Accept(_) => {}
        }
    }

    pub(super) fn record_line(&mut self, statement: &RecordStatement) {
        match statement {
            RecordStatement::Batch(mass) => self.quantity(mass),
            RecordStatement::Weighed {
                ingredient,
                mass,
                lot,
            } => {
                self.uses(Namespace::Feed, ingredient);
                self.of(ingredient, |walk| walk.quantity(mass));
                lot.iter().for_each(|it| self.uses(Namespace::Lot, it));
            }
            RecordStatement::Sampled {
                nutrient,
                unit,
                assay,
                ..
            } => {
                self.uses(Namespace::Nutrient, nutrient);
                unit.iter().for_each(|it| self.unit(it));
                assay.iter().for_each(|it| self.quantity(it));
            }
            RecordStatement::FedTo { group, .. } => self.uses(Namespace::Group, group),
            RecordStatement::Made { .. } | RecordStatement::Accept(_) => {}
        }
    }
}
