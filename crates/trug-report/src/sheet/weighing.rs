//! What is weighed, in the order of work.

use std::collections::BTreeSet;

use trug_plan::plan::{Batch, Weighing};

use super::masses::{Unit, shown_loads};
use super::writing::Writing;
use super::{Fact, WeighingBlock, WeighingColumns, WeighingRow, WeighingTable};
use crate::speech::Part;

impl Writing<'_> {
    /// The table of one batch, a block for every step.
    pub(super) fn weighing_table(&self, batch: &Batch, heading: String) -> WeighingTable {
        let mut blocks: Vec<WeighingBlock> = Vec::new();
        let mut cautioned = BTreeSet::new();
        let mut last_step = None;
        for (rank, weighing) in batch.weighings.iter().enumerate() {
            let is_first = cautioned.insert(weighing.ingredient);
            let row = self.weighing_row(rank + 1, weighing, is_first);
            match blocks
                .last_mut()
                .filter(|_| last_step == Some(&weighing.step))
            {
                Some(block) => block.rows.push(row),
                None => blocks.push(WeighingBlock {
                    heading: self.block_heading(batch, &weighing.step),
                    rows: vec![row],
                }),
            }
            last_step = Some(&weighing.step);
        }
        let say = |phrase: &str| self.speech.say(phrase);
        WeighingTable {
            heading,
            columns: WeighingColumns {
                what: say("column-what"),
                lot: say("column-lot"),
                mass: say("column-mass"),
                scale: say("column-scale"),
                range: say("column-range"),
                done: say("column-done"),
                actual: say("column-actual"),
            },
            has_lots: blocks
                .iter()
                .any(|block| block.rows.iter().any(|row| row.lot.is_some())),
            blocks,
            together: Fact {
                what: say("together"),
                value: self.mass(&batch.total_g),
            },
        }
    }

    fn block_heading(&self, batch: &Batch, step: &str) -> String {
        let rank = batch.steps.iter().position(|it| it.id == *step);
        rank.map_or_else(String::new, |rank| {
            let parts = [("step", Part::Count(rank + 1))];
            self.speech.say_of("for-step", &parts)
        })
    }

    /// What to beware of stands where the ingredient is first handled.
    fn weighing_row(&self, number: usize, weighing: &Weighing, is_first: bool) -> WeighingRow {
        let order = &self.plan.order;
        let ingredient = order.ingredients.get(weighing.ingredient);
        let name = ingredient.map_or("?", |ingredient| ingredient.name.as_str());
        let scale = weighing.scale.and_then(|rank| order.scales.get(rank));
        let unit = Unit::of(&weighing.mass_g);
        let loads = weighing.loads_g.as_slice();
        WeighingRow {
            id: weighing.id.clone(),
            number,
            ingredient: name.to_owned(),
            what: self.name_of(weighing.ingredient).to_owned(),
            lot: weighing.lot.clone(),
            mass: self.mass(&weighing.mass_g),
            scale: scale.map_or_else(|| self.speech.say("no-scale"), |scale| scale.name.clone()),
            range: scale.map_or_else(String::new, |_| {
                self.mass_range(&weighing.from_g, &weighing.to_g, &weighing.mass_g)
            }),
            unit: unit.word,
            grams_per_unit: unit.grams,
            loads: (loads.len() > 1).then(|| {
                let all = shown_loads(loads, self.speech);
                let parts = [
                    ("count", Part::Count(loads.len())),
                    ("loads", Part::Words(&all)),
                ];
                self.speech.say_of("in-loads", &parts)
            }),
            cautions: if is_first {
                self.cautions_of(Some(name))
            } else {
                Vec::new()
            },
            mass_g: weighing.mass_g.to_string(),
            from_g: weighing.from_g.to_string(),
            to_g: weighing.to_g.to_string(),
        }
    }
}
