//! What a line of an item says, as exact numbers and words: equal where the values are, however they are written.

use trug_model::Q;
use trug_model::quantity::Range;

/// A value in words, its numbers exact.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Said(Vec<Part>);

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Number(Q),
    Word(String),
}

/// Figures of a number for people: as few as tell two values apart, but no more than are ever printed.
const FIGURES: std::ops::RangeInclusive<usize> = 4..=12;

impl Said {
    /// Adds a number.
    #[must_use]
    pub fn number(mut self, value: &Q) -> Said {
        self.0.push(Part::Number(value.clone()));
        self
    }

    /// Adds a word; nothing where it is empty.
    #[must_use]
    pub fn word(mut self, word: impl Into<String>) -> Said {
        let word = word.into();
        if !word.is_empty() {
            self.0.push(Part::Word(word));
        }
        self
    }

    /// A number in a unit.
    #[must_use]
    pub fn quantity(value: &Q, unit: &str) -> Said {
        Said::default().number(value).word(unit)
    }

    /// A bound, with its values in its own unit.
    pub(crate) fn range(range: &Range) -> Said {
        let of = |value: &Q| range.unit.of(value);
        let said = match (&range.low, &range.high) {
            (Some(low), Some(high)) => Said::default()
                .number(&of(low))
                .word("..")
                .number(&of(high)),
            (Some(low), None) => Said::default().word("at least").number(&of(low)),
            (None, Some(high)) => Said::default().word("at most").number(&of(high)),
            (None, None) => Said::default(),
        };
        let basis = range.basis.as_ref().map(trug_model::quantity::Basis::words);
        said.word(range.unit.text.clone())
            .word(basis.unwrap_or_default())
    }

    /// In words, with as many figures as tell it from `other`.
    #[must_use]
    pub fn apart(&self, other: Option<&Said>) -> String {
        let figures = FIGURES.into_iter().find(|figures| {
            other.is_none_or(|other| self == other || self.words(*figures) != other.words(*figures))
        });
        self.words(figures.unwrap_or(*FIGURES.end()))
    }

    fn words(&self, figures: usize) -> String {
        let words = self.0.iter().map(|part| match part {
            Part::Number(value) => value.readable(figures),
            Part::Word(word) => word.clone(),
        });
        words.collect::<Vec<_>>().join(" ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_told_apart_by_as_few_figures_as_it_takes() {
        let said = |digits: &str| Said::quantity(&Q::decimal(digits).unwrap_or_default(), "%");
        assert_eq!(said("16.000001").apart(Some(&said("16"))), "16.000001 %");
        assert_eq!(said("16.123456").apart(Some(&said("15"))), "16.12 %");
        assert_eq!(said("16.123456").apart(None), "16.12 %");
        assert_eq!(said("8.0"), said("8"));
    }
}
