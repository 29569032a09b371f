//! A ration as it was really mixed: what the scale showed in place of what is written.

use std::sync::{Arc, OnceLock};

use smol_str::SmolStr;
use trug_findings::Place;

use super::{Line, Ration};
use crate::Q;
use crate::view::{Feed, View};

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
    /// The ration with these weights for its amounts, each as its lot was analysed. What was not weighed is not in
    /// it; what it does not hold as written is.
    ///
    /// None where a name means nothing, or nothing was weighed.
    #[must_use]
    pub fn as_mixed(&self, ration: &Ration, weights: &[Weight]) -> Option<Ration> {
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
                let line = self.delivered((*line).clone(), weight);
                lines.push((line, &weight.kg * &part));
            }
            if own.is_empty() {
                let line = added(self.feed(&weight.name)?, weight);
                lines.push((self.delivered(line, weight), weight.kg.clone()));
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

    /// The line with what is known of the delivery.
    fn delivered(&self, line: Line, weight: &Weight) -> Line {
        let lot = weight.lot.as_ref().and_then(|lot| self.lot(lot));
        match (&line.feed, lot.filter(|lot| lot.of == line.name)) {
            (Feed::Ingredient(_), Some(lot)) => {
                let Some(plain) = self.ingredient(&line.name) else {
                    return line;
                };
                let analysed = self.ingredient_of_lot(&plain, &lot.name, &mut Vec::new());
                Line {
                    feed: Feed::Ingredient(Arc::new(analysed)),
                    lot: Some(lot.name),
                    ..line
                }
            }
            _ => line,
        }
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
