//! Quantities: a number in base units, its dimension, its scatter and its basis.

mod currencies;
mod dimension;
mod units;

pub use currencies::is_currency;
pub use dimension::{Activity, Base, Dimension};
pub use units::{Factor, unit_words, word};

use trug_findings::Span;

use crate::Q;

/// A quantity read from a text, in base units (kg, L, mm, MJ, eq, day, money, activity units).
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// How many base units.
    pub value: Q,
    /// Of what.
    pub dimension: Dimension,
    /// One standard deviation, in base units.
    pub deviation: Option<Q>,
    /// What a share is a share of; none where the text does not say.
    pub basis: Option<Basis>,
    /// The unit as written, and base units in one of it.
    pub unit: Shown,
    /// Where.
    pub span: Span,
}

/// A unit as the text shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// As written.
    pub text: String,
    /// Base units in one of it.
    pub factor: Q,
}

impl Shown {
    /// A unit of this text.
    pub fn new(text: impl Into<String>, factor: Q) -> Shown {
        Shown {
            text: text.into(),
            factor,
        }
    }

    /// A value in base units as so many of this unit.
    #[must_use]
    pub fn of(&self, value: &Q) -> Q {
        value.over(&self.factor).unwrap_or_default()
    }

    /// A value in base units in words: at most four significant figures.
    #[must_use]
    pub fn say(&self, value: &Q) -> String {
        self.with(self.of(value).readable(4))
    }

    /// A value in words, with as many figures as tell it from another.
    #[must_use]
    pub fn say_apart(&self, value: &Q, from: &Q) -> String {
        let (value, from) = (self.of(value), self.of(from));
        let figures = (4..=12).find(|figures| value.readable(*figures) != from.readable(*figures));
        match figures {
            Some(figures) => self.with(value.readable(figures)),
            None => self.with(value.to_string()),
        }
    }

    /// A value in base units in words, to the last digit.
    #[must_use]
    pub fn say_exactly(&self, value: &Q) -> String {
        self.with(self.of(value).to_string())
    }

    /// The unit people say so little in, of a value in base units: a trace of a share in mg/kg, all else in this unit.
    #[must_use]
    pub fn fit_for(&self, value: &Q) -> Shown {
        let least_percent = Q::ratio(1, 10_000);
        if self.text == "%" && !value.is_zero() && value.abs() < least_percent {
            Shown::new("mg/kg", Q::ratio(1, 1_000_000))
        } else {
            self.clone()
        }
    }

    fn with(&self, number: String) -> String {
        if self.text.is_empty() {
            number
        } else {
            format!("{number} {}", self.text)
        }
    }
}

/// What a share is a share of.
#[derive(Clone, Debug, PartialEq)]
pub enum Basis {
    /// The feed as it is.
    AsFed,
    /// Its dry matter.
    OfDryMatter,
    /// The feed brought to this dry matter, a fraction.
    AtDryMatter(Q),
}

impl Basis {
    /// In the words of the language.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Basis::AsFed => "as fed".to_owned(),
            Basis::OfDryMatter => "of dry-matter".to_owned(),
            Basis::AtDryMatter(fraction) => {
                format!("at {} % dry-matter", fraction * Q::int(100))
            }
        }
    }
}

/// Two ends, in base units of one dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct Range {
    /// The lower end.
    pub low: Option<Q>,
    /// The upper end.
    pub high: Option<Q>,
    /// Of what.
    pub dimension: Dimension,
    /// What a share is a share of; none where the text does not say.
    pub basis: Option<Basis>,
    /// The unit as written.
    pub unit: Shown,
    /// Where.
    pub span: Span,
}

impl Range {
    /// In the words of the language.
    #[must_use]
    pub fn words(&self) -> String {
        let shown = |value: &Q| self.unit.of(value).to_string();
        let unit = if self.unit.text.is_empty() {
            String::new()
        } else {
            format!(" {}", self.unit.text)
        };
        match (&self.low, &self.high) {
            (Some(low), Some(high)) => format!("{} .. {}{unit}", shown(low), shown(high)),
            (Some(low), None) => format!("at least {}{unit}", shown(low)),
            (None, Some(high)) => format!("at most {}{unit}", shown(high)),
            (None, None) => "anything".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_told_apart_from_its_bound() {
        let percent = Shown::new("%", Q::ratio(1, 100));
        let says = |value: &str, bound: &str| {
            let share = |digits| Q::decimal(digits).unwrap_or_default() / Q::int(100);
            percent.say_apart(&share(value), &share(bound))
        };
        assert_eq!(says("14.2345", "16"), "14.23 %");
        assert_eq!(says("50.00001", "50"), "50.00001 %");
        assert_eq!(says("0.50004", "0.5"), "0.50004 %");
        assert_eq!(says("50", "50"), "50 %");
    }
}
