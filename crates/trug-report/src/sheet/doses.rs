//! What each dose and bound can be, and how far it can be off.

use super::writing::Writing;
use super::{DoseColumns, DoseRow, Doses};
use crate::plan::{Bounded, DoseInterval};
use crate::speech::Part;

/// Figures of a dose: more than a laboratory can tell apart.
const FIGURES: usize = 4;

impl Writing<'_> {
    /// The doses, and the bounds that can hurt; then the targets.
    pub(super) fn doses(&self) -> Option<Doses> {
        let mut rows: Vec<DoseRow> = self.about.doses.iter().map(|it| self.dose(it)).collect();
        rows.sort_by_key(|row| !row.can_hurt);
        let say = |phrase: &str| self.speech.say(phrase);
        (!rows.is_empty()).then(|| Doses {
            heading: say("doses"),
            columns: DoseColumns {
                what: say("column-dose"),
                value: say("column-value"),
                bound: say("column-bound"),
                batch: say("column-batch"),
                portion: say("column-portion"),
            },
            rows,
        })
    }

    fn dose(&self, dose: &DoseInterval) -> DoseRow {
        let interval = |ends: Option<(f64, f64)>| {
            ends.map_or_else(String::new, |ends| self.speech.interval(ends, &dose.unit))
        };
        let value = dose.value.readable(FIGURES);
        let bound = (dose.min.as_ref(), dose.max.as_ref());
        DoseRow {
            what: self.bounded(dose),
            can_hurt: !matches!(dose.what, Bounded::Target(_)),
            value: self.speech.quantity(&value, &dose.unit),
            bound: self.speech.bound(bound.0, bound.1, &dose.unit),
            batch: interval(dose.interval.batch),
            portion: interval(dose.interval.portion),
            sentence: String::new(),
        }
        .told(self)
    }

    fn bounded(&self, dose: &DoseInterval) -> String {
        let name = dose.ingredient.as_deref().unwrap_or_default();
        let ingredient = self.rank_of(name).map_or(name, |rank| self.name_of(rank));
        let speech = self.speech;
        match &dose.what {
            Bounded::Dose { active: None } => {
                speech.say_one("dose-of-product", "ingredient", ingredient)
            }
            Bounded::Dose {
                active: Some(active),
            } => {
                let parts = [
                    ("ingredient", Part::Words(ingredient)),
                    ("active", Part::Words(active)),
                ];
                speech.say_of("dose-of-active", &parts)
            }
            Bounded::Target(what) => what.clone(),
            Bounded::Law(what) => speech.say_one("bound-by-law", "what", what),
            Bounded::Harm(what) => speech.say_one("bound-by-harm", "what", what),
        }
    }
}

impl DoseRow {
    /// The row as it is said over the telephone.
    fn told(mut self, writing: &Writing<'_>) -> DoseRow {
        let speech = writing.speech;
        let parts = [
            ("dose-allowed", "bound", &self.bound),
            ("dose-batch", "range", &self.batch),
            ("dose-portion", "range", &self.portion),
        ];
        let known = parts.into_iter().filter(|(_, _, words)| !words.is_empty());
        let said = known.map(|(phrase, name, words)| speech.say_one(phrase, name, words));
        let all: Vec<String> = [format!("{}: {}", self.what, self.value)]
            .into_iter()
            .chain(said)
            .collect();
        self.sentence = all.join("; ");
        self
    }
}
