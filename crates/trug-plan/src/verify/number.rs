//! An exact number as it is printed in a document, and what it may have been before it was rounded.

use std::fmt;
use std::iter::Sum;

use serde::de::{Deserialize, Deserializer, Error};
use trug_model::Q;

/// Decimals at which the documents round what does not end.
const DECIMALS: usize = 12;
/// A number of fewer decimals was not rounded: that many noughts in a row would have had to follow by chance.
const CERTAIN_BELOW: usize = 6;
/// More digits than any text can bring about: its numbers have at most 40.
const LONGEST: usize = 200;

/// A number and how far rounding may have moved it: nothing, unless it has a tail of decimals.
///
/// The last of twelve decimals is not printed where it is nought, so a tail need not be twelve long.
#[derive(Clone, Debug)]
pub(super) struct Number {
    pub(super) value: Q,
    pub(super) slack: Q,
}

impl Number {
    /// A number that was not rounded.
    pub(super) fn exact(value: Q) -> Number {
        Number {
            value,
            slack: Q::ZERO,
        }
    }

    /// Reads the one way a number is printed: no sign but `-`, no needless zero, at most twelve decimals.
    pub(super) fn read(text: &str) -> Option<Number> {
        let size = text.strip_prefix('-').unwrap_or(text);
        let (whole, decimals) = size.split_once('.').unwrap_or((size, "0"));
        let is_plain = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        let needless = (whole.len() > 1 && whole.starts_with('0'))
            || (size.contains('.') && decimals.ends_with('0'))
            || text == "-0";
        if text.len() > LONGEST || !is_plain(whole) || !is_plain(decimals) || needless {
            return None;
        }
        if decimals.len() > DECIMALS {
            return None;
        }
        let value = Q::decimal(text)?;
        let slack = if decimals.len() >= CERTAIN_BELOW {
            Number::half_a_last_decimal()
        } else {
            Q::ZERO
        };
        Some(Number { value, slack })
    }

    /// How far rounding to twelve decimals moves a number at most.
    pub(super) fn half_a_last_decimal() -> Q {
        Q::ratio(1, 2_000_000_000_000)
    }

    /// Whether both can be the same number.
    pub(super) fn is(&self, other: &Number) -> bool {
        (&self.value - &other.value).abs() <= &self.slack + &other.slack
    }

    /// Whether this, as it stands in the document, is how `due` is printed.
    pub(super) fn prints(&self, due: &Number) -> bool {
        let rounding = if due.value.decimals_end() {
            Q::ZERO
        } else {
            Number::half_a_last_decimal()
        };
        (&self.value - &due.value).abs() <= &due.slack + rounding
    }

    /// Whether this is above `other`, however both were rounded.
    pub(super) fn is_over(&self, other: &Number) -> bool {
        &self.value - &self.slack > &other.value + &other.slack
    }

    /// Whether this is `bound` at most, as far as can be told.
    pub(super) fn fits(&self, bound: &Number) -> bool {
        !self.is_over(bound)
    }

    /// Whether it is above zero, however it was rounded.
    pub(super) fn is_positive(&self) -> bool {
        &self.value - &self.slack > Q::ZERO
    }

    /// So many times this.
    pub(super) fn times(&self, factor: &Q) -> Number {
        Number {
            value: &self.value * factor,
            slack: &self.slack * factor.abs(),
        }
    }

    /// Both together.
    pub(super) fn plus(&self, other: &Number) -> Number {
        Number {
            value: &self.value + &other.value,
            slack: &self.slack + &other.slack,
        }
    }

    /// What is left of this without `other`.
    pub(super) fn less(&self, other: &Number) -> Number {
        Number {
            value: &self.value - &other.value,
            slack: &self.slack + &other.slack,
        }
    }

    /// Whether it is a whole number of times `step`.
    pub(super) fn is_multiple_of(&self, step: &Number) -> bool {
        let Some(steps) = self.value.over(&step.value) else {
            return false;
        };
        step.times(&steps.round_half_even()).is(self)
    }
}

impl<'a> Sum<&'a Number> for Number {
    fn sum<I: Iterator<Item = &'a Number>>(terms: I) -> Number {
        let mut total = Number::exact(Q::ZERO);
        for term in terms {
            total.value += &term.value;
            total.slack += &term.slack;
        }
        total
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.value.fmt(f)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Number, D::Error> {
        let text = String::deserialize(from)?;
        Number::read(&text).ok_or_else(|| D::Error::custom("a number is not a printed decimal"))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_printed_is_read() {
        for right in ["0", "7", "-3", "55400", "37.5", "0.000000000001"] {
            assert!(Number::read(right).is_some(), "{right}");
        }
        for wrong in [
            "",
            "-",
            "+1",
            "-0",
            "00",
            "07",
            "1.",
            ".5",
            "1.50",
            "1e3",
            "1/3",
            " 1",
            "1,5",
            "٣",
            "0.0000000000001",
        ] {
            assert!(Number::read(wrong).is_none(), "{wrong}");
        }
        assert!(Number::read(&"9".repeat(300)).is_none());
    }

    #[test]
    fn a_rounded_number_is_its_origin() {
        let third = Number::read("33.333333333333").unwrap();
        assert!(third.is(&Number::exact(Q::ratio(100, 3))));
        let near = Number::read("33.333333333334").unwrap();
        assert!(!near.is(&Number::exact(Q::ratio(100, 3))));
        assert!(!Number::read("33.33333333333").unwrap().is(&third));
        let with_a_nought = Number::read("102.59265010352").unwrap();
        let sum = Number::read("102.592650103519").unwrap();
        assert!(with_a_nought.is(&sum.plus(&Number::exact(Q::ratio(1, 2_000_000_000_000)))));
    }
}
