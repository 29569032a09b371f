//! What of each ingredient goes into a batch: a column that adds up.

use trug_model::Q;
use trug_plan::plan::{Amount, Batch};

use super::masses::column_of_kilograms;
use super::writing::Writing;
use super::{Fact, Totals};
use crate::speech::Part;

impl Writing<'_> {
    pub(super) fn totals(&self, batch: &Batch) -> Totals {
        let masses: Vec<&Q> = batch
            .amounts
            .iter()
            .map(|amount| &amount.weighed_g)
            .chain([&batch.total_g])
            .collect();
        let mut cells = column_of_kilograms(&masses)
            .into_iter()
            .map(|digits| self.speech.quantity(&digits, "kg"));
        let rows = batch
            .amounts
            .iter()
            .zip(&mut cells)
            .map(|(amount, value)| Fact {
                what: self.name_in_total(amount),
                value,
            })
            .collect();
        Totals {
            heading: self.speech.say("totals"),
            rows,
            together: Fact {
                what: self.speech.say("together"),
                value: cells.next().unwrap_or_default(),
            },
            in_parts: batch
                .amounts
                .iter()
                .filter_map(|amount| self.in_parts(batch, amount))
                .collect(),
        }
    }

    fn name_in_total(&self, amount: &Amount) -> String {
        let name = self.name_of(amount.ingredient);
        let ingredient = self.plan.order.ingredients.get(amount.ingredient);
        if ingredient.is_some_and(|it| it.on_top) {
            self.speech.say_one("on-top", "ingredient", name)
        } else {
            name.to_owned()
        }
    }

    /// What is weighed in parts, and that the parts are the whole.
    fn in_parts(&self, batch: &Batch, amount: &Amount) -> Option<String> {
        let parts: Vec<String> = batch
            .weighings
            .iter()
            .filter(|weighing| weighing.ingredient == amount.ingredient)
            .map(|weighing| self.mass(&weighing.mass_g))
            .collect();
        (parts.len() > 1).then(|| {
            let parts = parts.join(" + ");
            let parts = [
                ("ingredient", Part::Words(self.name_of(amount.ingredient))),
                ("parts", Part::Words(&parts)),
                ("whole", Part::Words(&self.mass(&amount.weighed_g))),
            ];
            self.speech.say_of("in-parts", &parts)
        })
    }
}
