//! Amounts of a ration written otherwise: as the rest, as what the rest is, as what a scale can show.

use trug_model::Q;
use trug_model::ration::{Line, Ration};
use trug_model::view::Scale;
use trug_report::words::mass;
use trug_syntax::tree::{Amount, AmountForm, ItemBody, Quantity, RationStatement};

use super::{Action, Asked};
use crate::parts::touches;

/// Decimals a written amount may have.
const MOST_DECIMALS: usize = 8;

impl Asked<'_> {
    pub(super) fn amounts(&self, actions: &mut Vec<Action>) {
        let Some(ItemBody::Ration(written)) = self.item.map(|item| &item.body) else {
            return;
        };
        let amount = written.lines.iter().find_map(|line| match &line.statement {
            RationStatement::Amount(amount) if touches(line.span, self.range) => Some(amount),
            _ => None,
        });
        let (Some(amount), Some(made)) = (amount, self.view.made_out(&written.name.text)) else {
            return;
        };
        let is_here =
            |line: &&Line| line.named.span == amount.name.span && line.named.file == self.file;
        let Some(line) = made.lines.iter().find(is_here).filter(|_| made.is_sound) else {
            return;
        };
        if amount.form == AmountForm::Rest {
            actions.extend(self.written_out(&made, line, amount));
        }
        if !self.view.may_be_changed(&made, line) {
            return;
        }
        actions.extend(self.as_rest(&made, line, amount));
        actions.extend(self.snapped(&made, line, amount));
    }

    /// The line takes up what the others leave.
    fn as_rest(&self, ration: &Ration, line: &Line, amount: &Amount) -> Option<Action> {
        let is_plain = matches!(amount.form, AmountForm::Fixed(_) | AmountForm::Open(_));
        let others = || {
            ration
                .lines
                .iter()
                .filter(|other| !other.on_top && !std::ptr::eq(*other, line))
        };
        let has_other_form = others().any(|other| other.is_rest) || ration.is_per_day;
        let is_all_masses = ration.lines.iter().all(|line| !line.is_share);
        let least: Q = others()
            .map(|other| {
                if other.or_none {
                    Q::ZERO
                } else {
                    other.low.clone()
                }
            })
            .sum();
        let is_possible = is_plain
            && !has_other_form
            && !self.has_parts()
            && (!is_all_masses || self.names_batch())
            && !line.on_top
            && amount.clauses.within.is_none()
            && amount.clauses.or_none.is_none()
            && least < Q::ONE;
        is_possible.then(|| {
            let title = format!(
                "make {} the rest: it takes up what the others leave",
                line.name
            );
            self.rewrite(title, vec![self.edit(amount.span, "rest")])
        })
    }

    fn has_parts(&self) -> bool {
        self.ration_says(&|statement| {
            matches!(statement, RationStatement::Amount(amount) if matches!(amount.form, AmountForm::Parts(_)))
        })
    }

    fn names_batch(&self) -> bool {
        self.ration_says(&|statement| matches!(statement, RationStatement::Batch(_)))
    }

    fn ration_says(&self, is: &dyn Fn(&RationStatement) -> bool) -> bool {
        match self.item.map(|item| &item.body) {
            Some(ItemBody::Ration(ration)) => ration.lines.iter().any(|line| is(&line.statement)),
            _ => false,
        }
    }

    /// The rest as the share it is.
    fn written_out(&self, ration: &Ration, line: &Line, amount: &Amount) -> Option<Action> {
        if !ration.adds_up || !line.is_fixed() || !line.low.is_positive() {
            return None;
        }
        let typed = written(&(&line.low * &Q::int(100)), "%")?;
        let title = format!("write the rest as {typed}");
        Some(self.rewrite(title, vec![self.edit(amount.span, typed)]))
    }

    /// The amount that the scale for it can show, where another line takes the difference.
    fn snapped(&self, ration: &Ration, line: &Line, amount: &Amount) -> Option<Action> {
        let AmountForm::Fixed(quantity) = &amount.form else {
            return None;
        };
        let batch = ration.batch.as_ref()?;
        let has_rest = ration.lines.iter().any(|other| other.is_rest);
        if !has_rest && !line.on_top || !line.is_fixed() {
            return None;
        }
        let kilograms = &line.low * batch;
        let scales = self.view.all_scales();
        let scale = scale_for(&scales, &kilograms)?;
        let shown = kilograms.round_to(&scale.division);
        if shown == kilograms || !shown.is_positive() {
            return None;
        }
        let typed = self.in_written_unit(quantity, line, &shown, batch)?;
        let title = format!(
            "make {} {typed}: {} on {}, which shows steps of {}",
            line.name,
            mass(&(&shown * &Q::int(1000))),
            scale.name,
            mass(&(&scale.division * &Q::int(1000)))
        );
        Some(self.rewrite(title, vec![self.edit(quantity.span, typed)]))
    }

    /// So many kg of the batch in the unit the line is written in.
    fn in_written_unit(
        &self,
        quantity: &Quantity,
        line: &Line,
        kilograms: &Q,
        batch: &Q,
    ) -> Option<String> {
        if quantity.scatter.is_some() || quantity.basis.is_some() || line.is_by_measure {
            return None;
        }
        let measure = self.view.measured(quantity, self.file, Some(&line.name))?;
        let value = if line.is_share {
            kilograms.over(batch)?
        } else {
            kilograms.clone()
        };
        written(&measure.unit.of(&value), &measure.unit.text)
    }
}

/// A number that ends, with its unit.
pub(super) fn written(value: &Q, unit: &str) -> Option<String> {
    let digits = value.to_string();
    let decimals = digits
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let ends = value.decimals_end() && decimals <= MOST_DECIMALS;
    ends.then(|| format!("{digits} {unit}"))
}

/// The finest scale that takes a mass in one load; the largest where none does.
fn scale_for<'s>(scales: &'s [Scale], kilograms: &Q) -> Option<&'s Scale> {
    let takes = |scale: &&Scale| scale.minimum <= *kilograms && *kilograms <= scale.capacity;
    let finest = scales
        .iter()
        .filter(takes)
        .min_by(|a, b| a.division.cmp(&b.division));
    let largest = || {
        let large = scales.iter().max_by(|a, b| a.capacity.cmp(&b.capacity));
        large.filter(|scale| scale.capacity < *kilograms)
    };
    finest.or_else(largest)
}
