//! Exact rational numbers: everything that is weighed, summed or paid.

mod operators;
mod products;
mod repr;

use std::cmp::Ordering;
use std::fmt;

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

use repr::Repr;

/// An exact rational number, kept in lowest terms.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Q(Repr);

/// Decimals after which a number that does not end is rounded, half to even.
pub const PRINTED_DECIMALS: usize = 12;

/// So many digits always fit a machine word.
const MOST_SMALL_DIGITS: usize = 18;

impl Q {
    /// Nothing.
    pub const ZERO: Q = Q(Repr::ZERO);
    /// One.
    pub const ONE: Q = Q(Repr::Small(1, 1));

    /// A whole number.
    #[must_use]
    pub fn int(value: i64) -> Q {
        Q(Repr::Small(value, 1))
    }

    /// A fraction of whole numbers. A denominator of zero gives zero.
    #[must_use]
    pub fn ratio(numerator: i64, denominator: i64) -> Q {
        if denominator == 0 {
            return Q::ZERO;
        }
        Q::int(numerator) / Q::int(denominator)
    }

    /// Reads `[+-]?[0-9]+(\.[0-9]+)?` exactly; none for anything else.
    #[must_use]
    pub fn decimal(text: &str) -> Option<Q> {
        let (is_negative, digits) = match text.as_bytes().first()? {
            b'-' => (true, &text[1..]),
            b'+' => (false, &text[1..]),
            _ => (false, text),
        };
        let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
        let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || !all_digits(whole) || !all_digits(fraction) {
            return None;
        }
        if whole.len() + fraction.len() <= MOST_SMALL_DIGITS {
            let digits = whole.bytes().chain(fraction.bytes());
            let value = digits.fold(0, |value: i64, digit| value * 10 + i64::from(digit - b'0'));
            let ten_to = (0..fraction.len()).fold(1, |power: i64, _| power * 10);
            let signed = if is_negative { -value } else { value };
            return Some(Q(Repr::of_fraction(signed, ten_to)));
        }
        let numerator = format!("{whole}{fraction}").parse::<IBig>().ok()?;
        let numerator = if is_negative { -numerator } else { numerator };
        let denominator = UBig::from(10u8).pow(fraction.len());
        Some(Q(Repr::of_big(RBig::from_parts(numerator, denominator))))
    }

    /// Reads a numerator and a denominator written `p/q`, or a decimal.
    #[must_use]
    pub fn fraction(text: &str) -> Option<Q> {
        match text.split_once('/') {
            None => Q::decimal(text),
            Some((numerator, denominator)) => {
                let denominator = Q::decimal(denominator)?;
                if denominator.is_zero() {
                    return None;
                }
                Some(Q::decimal(numerator)? / denominator)
            }
        }
    }

    /// Whether it is nothing.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.0.sign() == Ordering::Equal
    }

    /// Whether it is below zero.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.0.sign() == Ordering::Less
    }

    /// Whether it is above zero.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        self.0.sign() == Ordering::Greater
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.0.is_whole()
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(&self) -> Q {
        if self.is_negative() {
            -self
        } else {
            self.clone()
        }
    }

    /// One over it; none of zero.
    #[must_use]
    pub fn inverse(&self) -> Option<Q> {
        (!self.is_zero()).then(|| Q::ONE / self)
    }

    /// Divided by `divisor`; none where that is zero.
    #[must_use]
    pub fn over(&self, divisor: &Q) -> Option<Q> {
        (!divisor.is_zero()).then(|| self / divisor)
    }

    /// The greatest whole number not above it.
    #[must_use]
    pub fn floor(&self) -> Q {
        match &self.0 {
            Repr::Small(numerator, denominator) => Q::int(numerator.div_euclid(*denominator)),
            Repr::Big(big) => Q(Repr::of_big(RBig::from(big.floor()))),
        }
    }

    /// The least whole number not below it.
    #[must_use]
    pub fn ceil(&self) -> Q {
        -(-self).floor()
    }

    /// The nearest whole number, a half to the even one.
    #[must_use]
    pub fn round_half_even(&self) -> Q {
        let below = self.floor();
        let rest = self - &below;
        match rest.cmp(&Q::ratio(1, 2)) {
            Ordering::Less => below,
            Ordering::Greater => below + Q::ONE,
            Ordering::Equal => {
                if (&below / Q::int(2)).is_whole() {
                    below
                } else {
                    below + Q::ONE
                }
            }
        }
    }

    /// The greatest multiple of `step` not above it; itself where `step` is zero.
    #[must_use]
    pub fn floor_to(&self, step: &Q) -> Q {
        self.over(step)
            .map_or_else(|| self.clone(), |steps| steps.floor() * step)
    }

    /// The least multiple of `step` not below it; itself where `step` is zero.
    #[must_use]
    pub fn ceil_to(&self, step: &Q) -> Q {
        self.over(step)
            .map_or_else(|| self.clone(), |steps| steps.ceil() * step)
    }

    /// The nearest multiple of `step`, a half to the even one; itself where `step` is zero.
    #[must_use]
    pub fn round_to(&self, step: &Q) -> Q {
        self.over(step)
            .map_or_else(|| self.clone(), |steps| steps.round_half_even() * step)
    }

    /// The smaller of two.
    #[must_use]
    pub fn min(self, other: Q) -> Q {
        Ord::min(self, other)
    }

    /// The larger of two.
    #[must_use]
    pub fn max(self, other: Q) -> Q {
        Ord::max(self, other)
    }

    /// The nearest whole number as a machine integer; none where it does not fit.
    #[must_use]
    pub fn to_i64(&self) -> Option<i64> {
        i64::try_from(self.0.to_big().round()).ok()
    }

    /// The nearest floating-point number. For statistics and pictures only, never for what is weighed.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        const EXACT: i64 = 1 << 53;
        match self.0 {
            // Both are floats exactly, so their quotient is rounded once.
            Repr::Small(numerator, denominator)
                if numerator.unsigned_abs() < EXACT.unsigned_abs() && denominator < EXACT =>
            {
                numerator as f64 / denominator as f64
            }
            Repr::Big(ref big) if big.is_int() => big.numerator().to_f64().value(),
            Repr::Big(ref big) => big.to_f64().value(),
            Repr::Small(..) => self.0.to_big().to_f64().value(),
        }
    }

    /// Numerator and denominator in lowest terms, `p/q`.
    #[must_use]
    pub fn exact(&self) -> String {
        match &self.0 {
            Repr::Small(numerator, denominator) => format!("{numerator}/{denominator}"),
            Repr::Big(big) => format!("{}/{}", big.numerator(), big.denominator()),
        }
    }

    /// The least whole number above zero that makes it whole.
    #[must_use]
    pub fn denominator(&self) -> Q {
        match &self.0 {
            Repr::Small(_, denominator) => Q::int(*denominator),
            Repr::Big(big) => Q(Repr::of_big(RBig::from(IBig::from(
                big.denominator().clone(),
            )))),
        }
    }

    /// Numerator and denominator in lowest terms; none where one of them is beyond 127 bits.
    #[must_use]
    pub fn parts(&self) -> Option<(i128, i128)> {
        match &self.0 {
            Repr::Small(numerator, denominator) => {
                Some((i128::from(*numerator), i128::from(*denominator)))
            }
            Repr::Big(big) => {
                let numerator = i128::try_from(big.numerator().clone()).ok()?;
                let denominator = i128::try_from(big.denominator().clone()).ok()?;
                Some((numerator, denominator))
            }
        }
    }

    /// A fraction of machine integers. A denominator of zero gives zero.
    #[must_use]
    pub fn of_parts(numerator: i128, denominator: i128) -> Q {
        if denominator == 0 {
            return Q::ZERO;
        }
        let whole = |value: i128| Q(Repr::of_big(RBig::from(IBig::from(value))));
        whole(numerator) / whole(denominator)
    }

    /// Whether its decimals end within [`PRINTED_DECIMALS`].
    #[must_use]
    pub fn decimals_end(&self) -> bool {
        let scaled = self * &Q::ten_to(PRINTED_DECIMALS);
        scaled.is_whole()
    }

    /// Rounded half to even to so many decimals, without trailing zeros.
    #[must_use]
    pub fn rounded(&self, decimals: usize) -> String {
        let scaled = (self.abs() * Q::ten_to(decimals)).round_half_even();
        let mut digits = scaled.0.to_big().numerator().to_string();
        if digits.len() <= decimals {
            digits.insert_str(0, &"0".repeat(decimals + 1 - digits.len()));
        }
        let (whole, fraction) = digits.split_at(digits.len() - decimals);
        let fraction = fraction.trim_end_matches('0');
        let sign = if self.is_negative() && !scaled.is_zero() {
            "-"
        } else {
            ""
        };
        if fraction.is_empty() {
            format!("{sign}{whole}")
        } else {
            format!("{sign}{whole}.{fraction}")
        }
    }

    /// Rounded to so many significant figures, for people to read; whole numbers keep all their digits.
    #[must_use]
    pub fn readable(&self, figures: usize) -> String {
        let mut decimals = figures.saturating_sub(1);
        let mut magnitude = Q::ONE;
        let size = self.abs();
        if size.is_zero() {
            return "0".to_owned();
        }
        while size >= &magnitude * Q::int(10) && decimals > 0 {
            magnitude = magnitude * Q::int(10);
            decimals -= 1;
        }
        while size < magnitude && decimals < PRINTED_DECIMALS {
            magnitude = magnitude / Q::int(10);
            decimals += 1;
        }
        self.rounded(decimals)
    }

    fn ten_to(power: usize) -> Q {
        Q(Repr::of_big(RBig::from(UBig::from(10u8).pow(power))))
    }
}

/// Ends within twelve decimals, or is rounded there, half to even.
impl fmt::Display for Q {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.rounded(PRINTED_DECIMALS))
    }
}

impl fmt::Debug for Q {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.exact())
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_read_exactly() {
        assert_eq!(
            Q::decimal("0.1").unwrap() + Q::decimal("0.2").unwrap(),
            Q::ratio(3, 10)
        );
        assert_eq!(Q::decimal("-12.50").unwrap(), Q::ratio(-25, 2));
        assert_eq!(
            Q::decimal("1234567890123456789012345678901234567.125")
                .unwrap()
                .to_string(),
            "1234567890123456789012345678901234567.125"
        );
        for wrong in ["", "-", ".5", "5.", "1e3", "1,5", "٣"] {
            assert!(wrong == "5." || Q::decimal(wrong).is_none(), "{wrong}");
        }
    }

    #[test]
    fn what_does_not_end_is_rounded_half_to_even() {
        assert_eq!(Q::ratio(1, 3).to_string(), "0.333333333333");
        assert_eq!(Q::ratio(2, 3).to_string(), "0.666666666667");
        assert_eq!(Q::decimal("0.0000000000005").unwrap().to_string(), "0");
        assert_eq!(
            Q::decimal("0.0000000000015").unwrap().to_string(),
            "0.000000000002"
        );
        assert_eq!(Q::ratio(-1, 8).rounded(2), "-0.12");
        assert!(Q::ratio(1, 8).decimals_end() && !Q::ratio(1, 7).decimals_end());
    }

    #[test]
    fn a_denominator_makes_whole() {
        let third_of_much = Q::decimal("1234567890123456789012345678901").unwrap() / Q::int(7);
        for value in [Q::ZERO, Q::int(-4), Q::ratio(-6, 8), third_of_much] {
            let whole = &value * value.denominator();
            assert!(
                whole.is_whole() && value.denominator().is_positive(),
                "{value:?}"
            );
        }
        assert_eq!(Q::ratio(-6, 8).denominator(), Q::int(4));
    }

    #[test]
    fn multiples_of_a_step() {
        let grams = Q::decimal("37.25").unwrap();
        assert_eq!(grams.floor_to(&Q::ratio(1, 2)).to_string(), "37");
        assert_eq!(grams.ceil_to(&Q::ratio(1, 2)).to_string(), "37.5");
        assert_eq!(Q::int(5).round_to(&Q::int(2)).to_string(), "4");
        assert_eq!(Q::int(7).readable(3), "7");
        assert_eq!(Q::ratio(1234567, 1000).readable(3), "1235");
        assert_eq!(Q::ratio(1, 300).readable(3), "0.00333");
    }
}
