//! The same amount in another unit, where that ends exactly.

use trug_findings::Span;
use trug_model::Q;
use trug_syntax::tree::{Bound, ItemBody, Quantity, RationStatement};

use super::amounts::written;
use super::{Action, Asked};
use crate::parts::{self, LineRef, Part, holds};
use crate::units::{is_handy, others};

/// So many other units are offered.
const MOST: usize = 3;

impl Asked<'_> {
    pub(super) fn convert(&self, actions: &mut Vec<Action>) {
        let Some(item) = self.item else { return };
        let at = self.range.start as usize;
        let lines = parts::lines(&item.body);
        let line = lines.into_iter().find(|line| holds(line.span(), at));
        let parts = match line {
            Some(LineRef::Method(_)) => return,
            Some(LineRef::Ration(line))
                if matches!(line.statement, RationStatement::Certainty(_)) =>
            {
                return;
            }
            Some(line) => line.parts(),
            None => parts::header(&item.body),
        };
        let of = match (&item.body, line) {
            (_, Some(LineRef::Ration(line))) => match &line.statement {
                RationStatement::Amount(amount) => Some(amount.name.text.as_str()),
                _ => None,
            },
            (ItemBody::Ingredient(ingredient), _) => Some(ingredient.name.text.as_str()),
            _ => None,
        };
        let under = parts.into_iter().find(|part| holds(part.span(), at));
        match under {
            Some(Part::Quantity(quantity)) => self.quantity(quantity, of, actions),
            Some(Part::Bound(bound)) => self.bound(bound, of, actions),
            _ => {}
        }
    }

    fn quantity(&self, quantity: &Quantity, of: Option<&str>, actions: &mut Vec<Action>) {
        let (Some(unit), Some(measure)) =
            (&quantity.unit, self.view.measured(quantity, self.file, of))
        else {
            return;
        };
        let span = Span::new(quantity.number.span.start as usize, unit.span.end as usize);
        let mut offered = 0;
        for (unit, value) in others(&measure.value, &measure.dimension, &measure.unit.text) {
            let scatter = measure.deviation.as_ref().map(|deviation| {
                let all = others(deviation, &measure.dimension, &measure.unit.text);
                all.into_iter()
                    .find(|(other, _)| *other == unit)
                    .map(|(_, value)| value)
            });
            let typed = match scatter {
                None => typed(&value, &unit),
                Some(scatter) => scatter.and_then(|scatter| {
                    let number = written(&value, "")?;
                    Some(format!("{number}± {}", typed(&scatter, &unit)?))
                }),
            };
            if let Some(typed) = typed.filter(|_| offered < MOST && is_handy(&value)) {
                offered += 1;
                let title = format!("write it as {typed}, which is the same");
                actions.push(self.rewrite(title, vec![self.edit(span, typed)]));
            }
        }
    }

    fn bound(&self, bound: &Bound, of: Option<&str>, actions: &mut Vec<Action>) {
        let (Some(unit), Some(range)) = (&bound.unit, self.view.bounded(bound, self.file, of))
        else {
            return;
        };
        let span = Span::new(bound.span.start as usize, unit.span.end as usize);
        let in_others = |end: &Option<Q>| {
            end.as_ref()
                .map(|end| others(end, &range.dimension, &range.unit.text))
        };
        let (low, high) = (in_others(&range.low), in_others(&range.high));
        let units: Vec<String> = low
            .iter()
            .chain(&high)
            .next()
            .map(|units| units.iter().map(|(unit, _)| unit.clone()).collect())
            .unwrap_or_default();
        let mut offered = 0;
        for unit in units {
            let value = |end: &Option<Vec<(String, Q)>>| {
                let end = end.as_ref()?;
                end.iter()
                    .find(|(other, _)| *other == unit)
                    .map(|(_, value)| value.clone())
            };
            let typed = match (value(&low), value(&high)) {
                (Some(low), Some(high)) => {
                    let is_fine = is_handy(&low) && is_handy(&high);
                    written(&low, "")
                        .zip(typed(&high, &unit))
                        .filter(|_| is_fine)
                        .map(|(low, high)| format!("{low}.. {high}"))
                }
                (Some(low), None) => typed(&low, &unit).map(|low| format!("at least {low}")),
                (None, Some(high)) => typed(&high, &unit).map(|high| format!("at most {high}")),
                (None, None) => None,
            };
            if let Some(typed) = typed.filter(|_| offered < MOST) {
                offered += 1;
                let title = format!("write it as {typed}, which is the same");
                actions.push(self.rewrite(title, vec![self.edit(span, typed)]));
            }
        }
    }
}

fn typed(value: &Q, unit: &str) -> Option<String> {
    written(value, unit).filter(|_| is_handy(value))
}
