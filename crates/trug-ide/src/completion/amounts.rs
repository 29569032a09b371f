//! Amounts behind an ingredient's name: the label's dose, a share, a mass, the rest.

use trug_model::Q;
use trug_model::quantity::Range;
use trug_syntax::tree::{AmountForm, ItemBody, RationStatement};

use super::{CandidateKind, Offer, Offers};

impl Offers<'_> {
    /// What an amount of this ingredient can be.
    pub(super) fn amounts(&mut self, group: usize, of: &str) {
        let ingredient = self.view.ingredient_called(of);
        if let Some(ingredient) = &ingredient {
            let doses: Vec<Range> = ingredient
                .doses
                .iter()
                .filter(|dose| dose.active.is_none())
                .map(|dose| dose.range.clone())
                .collect();
            for dose in &doses {
                self.dose(group, dose);
            }
        }
        if !self.has_rest() {
            let rest =
                Offer::new("rest", CandidateKind::Amount).detail("what the other lines leave");
            self.push(group + 1, rest.about("word", "rest"));
        }
        let can_harm = ingredient
            .as_ref()
            .is_some_and(|ingredient| ingredient.can_harm());
        let forms: &[(&str, &str)] = if can_harm {
            &[
                ("$1 g/kg", "grams in a kilogram"),
                ("$1 kg/t", "kilograms in a tonne"),
                ("$1 g", "a mass in the batch"),
            ]
        } else {
            &[
                ("$1 %", "a share of the 100 %"),
                ("$1 kg", "a mass in the batch"),
                ("$1 .. $2 %", "open: chosen at least cost"),
                ("$1 g/kg", "grams in a kilogram"),
                ("$1 parts", "parts of what the others leave"),
            ]
        };
        for (form, detail) in forms {
            let label = form.replace("$1", "…").replace("$2", "…");
            let offer = Offer::new(label, CandidateKind::Amount)
                .detail(*detail)
                .snippet(*form);
            self.push(group + 2, offer);
        }
        let has_contents = ingredient.is_some_and(|ingredient| !ingredient.contents.is_empty());
        if has_contents {
            let offer = Offer::new("giving", CandidateKind::Amount)
                .detail("as much as adds this of an active")
                .snippet("giving $1 g/kg $2")
                .about("word", "giving");
            self.push(group + 3, offer);
        }
    }

    /// The two ends of the label's window, and its middle.
    fn dose(&mut self, group: usize, dose: &Range) {
        let window = dose.words();
        let middle = match (&dose.low, &dose.high) {
            (Some(low), Some(high)) => Some((low + high) * Q::ratio(1, 2)),
            _ => None,
        };
        let ends = [
            (dose.low.clone(), "least"),
            (middle, "middle"),
            (dose.high.clone(), "most"),
        ];
        for (value, which) in ends {
            let Some(value) = value.filter(|value| dose.unit.of(value).decimals_end()) else {
                continue;
            };
            let typed = dose.unit.say_exactly(&value);
            let offer = Offer::new(typed, CandidateKind::Amount);
            self.push(
                group,
                offer.detail(format!("{which} of the label's dose, {window}")),
            );
        }
    }

    /// Whether another line of the ration takes the rest already.
    fn has_rest(&self) -> bool {
        let Some(ItemBody::Ration(ration)) = self.own_item().map(|item| &item.body) else {
            return false;
        };
        ration.lines.iter().any(|line| {
            let is_rest = matches!(&line.statement, RationStatement::Amount(amount) if amount.form == AmountForm::Rest);
            is_rest && !crate::parts::touches(line.span, self.place.word)
        })
    }
}
