//! Lots: an ingredient as one delivery of it was analysed.

mod delivered;

pub use delivered::Delivered;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{Finding, Place};
use trug_syntax::tree::{ItemBody, LotStatement};

use super::{Ingredient, Lot, lines};
use crate::farm::{ItemRef, Namespace};
use crate::view::{View, Wants, day};

impl Lot {
    /// Whether its best before lies before this day; on the day itself it is still good.
    #[must_use]
    pub fn is_past(&self, today: Date) -> bool {
        self.best_before.is_some_and(|day| day < today)
    }
}

impl View<'_> {
    /// The lot of that name.
    pub(crate) fn lot(&self, name: &str) -> Option<Lot> {
        self.lot_at(self.find(Namespace::Lot, name).any()?)
    }

    /// All lots that can be seen, in the order of their names; of two of one name, which is an error, the first.
    #[must_use]
    pub fn all_lots(&self) -> Vec<Lot> {
        let declared = self.scope.all(self.farm, Namespace::Lot);
        let lots = declared.filter_map(|(file, declared)| {
            self.lot_at(ItemRef {
                file,
                rank: declared.rank,
            })
        });
        let mut lots: Vec<Lot> = lots.collect();
        lots.sort_by(|a, b| a.name.cmp(&b.name));
        lots.dedup_by(|later, lot| later.name == lot.name);
        lots
    }

    fn lot_at(&self, item_ref: ItemRef) -> Option<Lot> {
        let ItemBody::Lot(written) = &self.item(item_ref).body else {
            return None;
        };
        let mut lot = Lot {
            name: written.name.text.clone(),
            of: written.of.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            place: Place::new(item_ref.file, written.name.span),
            received: None,
            came: None,
            best_before: None,
            on_hand: None,
        };
        for line in &written.lines {
            match &line.statement {
                LotStatement::Received { mass, date } => {
                    lot.received = day(date);
                    lot.came = mass.as_ref().and_then(|mass| {
                        let reader = self.reader_of(item_ref.file, &lot.of);
                        let measure = reader.quantity(mass, &Wants::MASS, &mut Vec::new())?;
                        measure.value.is_positive().then_some(measure.value)
                    });
                }
                LotStatement::BestBefore(date) => lot.best_before = day(date),
                LotStatement::OnHand(mass) => {
                    let reader = self.reader_of(item_ref.file, &lot.of);
                    let measure = reader.quantity(mass, &Wants::MASS, &mut Vec::new());
                    lot.on_hand = measure
                        .map(|measure| measure.value)
                        .filter(|mass| !mass.is_negative());
                }
                _ => {}
            }
        }
        Some(lot)
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
        delivered.delivery = Some(SmolStr::new(lot));
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
