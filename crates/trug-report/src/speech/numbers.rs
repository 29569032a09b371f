//! Numbers and days as a language writes them.
//!
//! Digits are never grouped: a comma or point between thousands is a decimal mark across the border, and a mass read a
//! thousand times too large or too small can kill.

use trug_model::Q;
use unic_langid::LanguageIdentifier;

use super::{Part, Speech};
use crate::words::{NO_BREAK, quantity, statistic};

/// Regions where Spanish is written with a decimal point (CLDR 44, `es_*`, `<decimal>`; from memory).
const SPANISH_WITH_POINT: [&str; 11] = [
    "419", "DO", "GT", "HN", "MX", "NI", "PA", "PE", "PR", "SV", "US",
];

/// The decimal mark of a language in its region.
pub(super) fn decimal_mark(language: &LanguageIdentifier, phrases: &str) -> &'static str {
    let region = language.region.as_ref().map(|region| region.as_str());
    match phrases {
        "es" if region.is_some_and(|region| SPANISH_WITH_POINT.contains(&region)) => ".",
        "es" | "fr" | "pt" => ",",
        _ => ".",
    }
}

impl Speech {
    /// Digits written with a point, as the language writes them.
    #[must_use]
    pub fn number(&self, digits: &str) -> String {
        digits.replacen('.', self.decimal_mark, 1)
    }

    /// A number with its unit.
    #[must_use]
    pub fn quantity(&self, digits: &str, unit: &str) -> String {
        quantity(&self.number(digits), unit)
    }

    /// `16 to 18 %`, with blanks at which no line breaks.
    #[must_use]
    pub fn range(&self, low: &str, high: &str, unit: &str) -> String {
        let (low, high) = (self.number(low), self.quantity(high, unit));
        let parts = [("low", Part::Words(&low)), ("high", Part::Words(&high))];
        self.say_of("range", &parts)
            .replace(' ', &NO_BREAK.to_string())
    }

    /// `16 to 18 %`, `at least 0.8 %`, `at most 5 %`; empty where there is no bound.
    #[must_use]
    pub fn bound(&self, min: Option<&Q>, max: Option<&Q>, unit: &str) -> String {
        match (min, max) {
            (Some(min), Some(max)) => self.range(&min.to_string(), &max.to_string(), unit),
            (Some(min), None) => {
                self.say_one("at-least", "value", &self.quantity(&min.to_string(), unit))
            }
            (None, Some(max)) => {
                self.say_one("at-most", "value", &self.quantity(&max.to_string(), unit))
            }
            (None, None) => String::new(),
        }
    }

    /// Between two numbers of statistics.
    #[must_use]
    pub fn interval(&self, (low, high): (f64, f64), unit: &str) -> String {
        self.range(&statistic(low), &statistic(high), unit)
    }

    /// `14 days`.
    #[must_use]
    pub fn days(&self, count: usize) -> String {
        self.say_count("days", count)
    }

    /// A day in words, so that no one takes the month for the day; as it is where it is none.
    #[must_use]
    pub fn date(&self, day: &str) -> String {
        let Ok(date) = day.parse::<jiff::civil::Date>() else {
            return day.to_owned();
        };
        let month = usize::from(date.month().unsigned_abs());
        let month = self.say_of("month", &[("month", Part::Count(month))]);
        let parts = [
            ("day", Part::Count(usize::from(date.day().unsigned_abs()))),
            ("month", Part::Words(&month)),
            ("year", Part::Words(&date.year().to_string())),
        ];
        self.say_of("date", &parts)
    }
}
