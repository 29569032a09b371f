//! A ration as it was really mixed: what the scale showed in place of what is written.

use std::sync::{Arc, OnceLock};

use smol_str::SmolStr;
use trug_findings::Place;

use super::{Line, Ration};
use crate::Q;
use crate::view::{Feed, View};

/// Mixes in mixes in mixes: records that name each other in a circle have no end.
const MOST_MIXES: usize = 8;

/// What was weighed into a batch.
#[derive(Clone, Debug)]
pub struct Weight {
    /// The ingredient, or the ration mixed beforehand.
    pub name: SmolStr,
    /// How much, in kg.
    pub kg: Q,
    /// The delivery it was taken from.
    pub lot: Option<SmolStr>,
    /// Where that is written.
    pub place: Place,
}

impl View<'_> {
    /// The ration with these weights for its amounts, each as its lot was analysed, a mix as its record
    /// says that it was made. What was not weighed is not in it; what it does not hold as written is.
    ///
    /// None where a name means nothing, or nothing was weighed.
    #[must_use]
    pub fn as_mixed(&self, ration: &Ration, weights: &[Weight]) -> Option<Ration> {
        self.as_mixed_of(ration, weights, MOST_MIXES)
    }

    fn as_mixed_of(&self, ration: &Ration, weights: &[Weight], depth: usize) -> Option<Ration> {
        let mut lines: Vec<(Line, Q)> = Vec::new();
        for weight in weights {
            let own: Vec<&Line> = ration
                .lines
                .iter()
                .filter(|line| line.name == weight.name)
                .collect();
            let whole: Q = own.iter().map(|line| &line.low).sum();
            for line in &own {
                // Of two lines of one ingredient each takes its part: one may be on top.
                let part = line.low.over(&whole).unwrap_or(Q::ONE);
                let line = self.delivered((*line).clone(), weight, depth);
                lines.push((line, &weight.kg * &part));
            }
            if own.is_empty() {
                let line = added(self.feed(&weight.name)?, weight);
                lines.push((self.delivered(line, weight, depth), weight.kg.clone()));
            }
        }
        let main = lines.iter().filter(|(line, _)| !line.on_top);
        let main: Q = main.map(|(_, kg)| kg).sum();
        if !main.is_positive() {
            return None;
        }
        let mut mixed = ration.clone();
        mixed.lines = lines
            .into_iter()
            .filter_map(|(line, kg)| {
                let share = kg.over(&main)?;
                Some(Line {
                    low: share.clone(),
                    high: share,
                    is_open: false,
                    or_none: false,
                    ..line
                })
            })
            .collect();
        mixed.batch = Some(main);
        mixed.adds_up = true;
        mixed.leaves = OnceLock::new();
        Some(mixed)
    }

    /// The line with what is known of the delivery, or of the mix as it was made.
    fn delivered(&self, line: Line, weight: &Weight, depth: usize) -> Line {
        let Some(lot) = &weight.lot else {
            return line;
        };
        let feed = match (&line.feed, self.lot(lot)) {
            (Feed::Ingredient(_), Some(lot)) if lot.of == line.name => {
                self.ingredient(&line.name).map(|plain| {
                    let analysed = self.ingredient_of_lot(&plain, &lot.name, &mut Vec::new());
                    Feed::Ingredient(Arc::new(analysed))
                })
            }
            (Feed::Ration(mix), None) => {
                let made = self.made_beforehand(mix, lot, depth);
                made.map(|made| Feed::Ration(Arc::new(made)))
            }
            _ => None,
        };
        match feed {
            Some(feed) => Line {
                feed,
                lot: Some(lot.clone()),
                ..line
            },
            None => line,
        }
    }

    /// A mix as its record says that it was made; none where the record does not say all of it.
    fn made_beforehand(&self, mix: &Ration, record: &str, depth: usize) -> Option<Ration> {
        let depth = depth.checked_sub(1)?;
        let record = self.record_called(record).filter(|it| it.of == mix.name)?;
        let is_weighed = |line: &Line| record.weighed.iter().any(|it| it.name == line.name);
        let mut asked = mix.lines.iter().filter(|line| line.low.is_positive());
        if record.has_unread_line || !asked.all(is_weighed) {
            return None;
        }
        let weights = record.weighed.iter().map(|weighed| {
            Some(Weight {
                name: weighed.name.clone(),
                kg: weighed.kg.clone()?,
                lot: weighed.lot.as_ref().map(|(lot, _)| lot.clone()),
                place: weighed.written,
            })
        });
        let weights: Vec<Weight> = weights.collect::<Option<_>>()?;
        self.as_mixed_of(mix, &weights, depth)
    }
}

/// A line for what the ration does not hold as written.
fn added(feed: Feed, weight: &Weight) -> Line {
    Line {
        name: weight.name.clone(),
        feed,
        place: weight.place,
        named: weight.place,
        written: weight.place,
        low: Q::ZERO,
        high: Q::ZERO,
        is_open: false,
        or_none: false,
        on_top: false,
        is_rest: false,
        gives_active: false,
        is_share: false,
        is_by_measure: false,
        carry: None,
        lot: None,
        within: None,
        open: None,
        is_inherited: false,
    }
}
