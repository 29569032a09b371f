//! Lots: an ingredient as one delivery of it was analysed.

use trug_findings::{Finding, Place};
use trug_syntax::tree::{ItemBody, LotStatement};

use super::{Ingredient, Lot, lines};
use crate::farm::Namespace;
use crate::view::{View, Wants};

impl View<'_> {
    /// The lot of that name.
    pub(crate) fn lot(&self, name: &str) -> Option<Lot> {
        let item_ref = self.find(Namespace::Lot, name).any()?;
        let ItemBody::Lot(written) = &self.item(item_ref).body else {
            return None;
        };
        Some(Lot {
            name: written.name.text.clone(),
            of: written.of.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            place: Place::new(item_ref.file, written.name.span),
        })
    }

    /// The ingredient as that delivery was analysed. Says what is wrong with the lot's lines.
    pub(crate) fn ingredient_of_lot(
        &self,
        ingredient: &Ingredient,
        lot: &str,
        findings: &mut Vec<Finding>,
    ) -> Ingredient {
        let mut delivered = ingredient.clone();
        let Some(item_ref) = self.find(Namespace::Lot, lot).any() else {
            return delivered;
        };
        let item = self.item(item_ref);
        let ItemBody::Lot(written) = &item.body else {
            return delivered;
        };
        delivered.is_sound &= !item.has_unread_line;
        let statements = || {
            written
                .lines
                .iter()
                .map(|line| (&line.statement, line.span))
        };
        for (statement, _) in statements() {
            if let LotStatement::DryMatter(written) = statement {
                let reader = self.reader_of(item_ref.file, &ingredient.name);
                let measure = reader.quantity(written, &Wants::PERCENT, findings);
                delivered.set_dry_matter(measure, item_ref.file, findings);
            }
        }
        let mut lines = lines::Lines::new(self, item_ref.file, &mut delivered);
        for (statement, span) in statements() {
            lines.read_lot(statement, span, findings);
        }
        delivered
    }
}
