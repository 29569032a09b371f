//! How a rational is kept: as two machine words while it fits, else as big integers.
//!
//! Nearly every number of a farm fits. The form is unique (lowest terms, the denominator above zero, small wherever
//! it fits), so equal numbers are equal in form.

use std::cmp::Ordering;

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

/// A rational in lowest terms.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) enum Repr {
    /// Numerator and denominator, the latter above zero.
    Small(i64, i64),
    /// What does not fit.
    Big(Box<RBig>),
}

impl Repr {
    pub(super) const ZERO: Repr = Repr::Small(0, 1);

    pub(super) fn of_big(big: RBig) -> Repr {
        let numerator = i64::try_from(big.numerator());
        let denominator = i64::try_from(big.denominator());
        match (numerator, denominator) {
            (Ok(numerator), Ok(denominator)) => Repr::Small(numerator, denominator),
            _ => Repr::Big(Box::new(big)),
        }
    }

    pub(super) fn to_big(&self) -> RBig {
        match self {
            Repr::Small(numerator, denominator) => {
                let denominator = UBig::from(denominator.unsigned_abs());
                RBig::from_parts(IBig::from(*numerator), denominator)
            }
            Repr::Big(big) => (**big).clone(),
        }
    }

    pub(super) fn numerator(&self) -> IBig {
        match self {
            Repr::Small(numerator, _) => IBig::from(*numerator),
            Repr::Big(big) => big.numerator().clone(),
        }
    }

    pub(super) fn denominator(&self) -> UBig {
        match self {
            Repr::Small(_, denominator) => UBig::from(denominator.unsigned_abs()),
            Repr::Big(big) => big.denominator().clone(),
        }
    }

    /// Both as big integers, where both are whole.
    fn wholes(&self, other: &Repr) -> Option<(IBig, IBig)> {
        (self.is_whole() && other.is_whole()).then(|| (self.numerator(), other.numerator()))
    }

    /// Of a fraction whose denominator is above zero.
    pub(super) fn of_fraction(numerator: i64, denominator: i64) -> Repr {
        let common = gcd(numerator.unsigned_abs(), denominator.unsigned_abs());
        match i64::try_from(common) {
            Ok(common) if common > 1 => Repr::Small(numerator / common, denominator / common),
            _ => Repr::Small(numerator, denominator),
        }
    }

    /// Not in lowest terms; the denominator is above zero.
    pub(super) fn of_unreduced(numerator: i128, denominator: i64) -> Repr {
        // By the rest, which fits a word: the common divisor is the same.
        let rest = numerator % wide(denominator);
        let rest = u64::try_from(rest.unsigned_abs()).unwrap_or_default();
        let common = gcd(rest, denominator.unsigned_abs()).cast_signed();
        Repr::of_wide(numerator / wide(common), wide(denominator / common))
    }

    /// Lowest terms already, but perhaps too large.
    fn of_wide(numerator: i128, denominator: i128) -> Repr {
        match (i64::try_from(numerator), i64::try_from(denominator)) {
            (Ok(numerator), Ok(denominator)) => Repr::Small(numerator, denominator),
            _ => Repr::Big(Box::new(RBig::from_parts(
                IBig::from(numerator),
                UBig::from(denominator.unsigned_abs()),
            ))),
        }
    }

    pub(super) fn sign(&self) -> Ordering {
        match self {
            Repr::Small(numerator, _) => numerator.cmp(&0),
            Repr::Big(big) => big.numerator().cmp(&IBig::ZERO),
        }
    }

    pub(super) fn is_whole(&self) -> bool {
        match self {
            Repr::Small(_, denominator) => *denominator == 1,
            Repr::Big(big) => big.is_int(),
        }
    }

    pub(super) fn negated(&self) -> Repr {
        match self {
            Repr::Small(numerator, denominator) => match numerator.checked_neg() {
                Some(negative) => Repr::Small(negative, *denominator),
                None => Repr::of_big(-self.to_big()),
            },
            Repr::Big(big) => Repr::of_big(-(**big).clone()),
        }
    }

    /// One over it, which is not zero.
    fn inverted(&self) -> Repr {
        match self {
            Repr::Small(numerator, denominator) if *numerator > 0 => {
                Repr::Small(*denominator, *numerator)
            }
            _ => Repr::of_big(RBig::ONE / self.to_big()),
        }
    }

    /// With a common denominator `g·p·q`, a sum's numerator can share factors with `g` only.
    pub(super) fn plus(&self, other: &Repr) -> Repr {
        let (Repr::Small(a, b), Repr::Small(c, d)) = (self, other) else {
            return Repr::of_big(match (self, other, self.wholes(other)) {
                (_, _, Some((one, other))) => RBig::from(one + other),
                (Repr::Big(one), Repr::Big(other), None) => &**one + &**other,
                _ => self.to_big() + other.to_big(),
            });
        };
        if *a == 0 || *c == 0 {
            return if *a == 0 { other.clone() } else { self.clone() };
        }
        if b == d {
            return match a.checked_add(*c) {
                Some(sum) => Repr::of_fraction(sum, *b),
                None => Repr::of_big(self.to_big() + other.to_big()),
            };
        }
        let common = gcd(b.unsigned_abs(), d.unsigned_abs()).cast_signed();
        let (left, right) = (d / common, b / common);
        let sum = wide(*a) * wide(left) + wide(*c) * wide(right);
        if common == 1 {
            return Repr::of_wide(sum, wide(*b) * wide(*d));
        }
        if let Ok(sum) = i64::try_from(sum) {
            let shared = gcd(sum.unsigned_abs(), common.unsigned_abs()).cast_signed();
            return Repr::of_wide(wide(sum / shared), wide(right) * wide(d / shared));
        }
        // What is left of the sum by the common factor lies below that factor.
        let rest = u64::try_from((sum % wide(common)).unsigned_abs()).unwrap_or_default();
        let shared = gcd(rest, common.unsigned_abs()).cast_signed();
        Repr::of_wide(sum / wide(shared), wide(right) * wide(d / shared))
    }

    pub(super) fn times(&self, other: &Repr) -> Repr {
        let (Repr::Small(a, b), Repr::Small(c, d)) = (self, other) else {
            return Repr::of_big(match (self, other, self.wholes(other)) {
                (_, _, Some((one, other))) => RBig::from(one * other),
                (Repr::Big(one), Repr::Big(other), None) => &**one * &**other,
                _ => self.to_big() * other.to_big(),
            });
        };
        if *a == 0 || *c == 0 {
            return Repr::ZERO;
        }
        // No common divisor is above a denominator, so it fits; words are divided before they are widened.
        let across = gcd(a.unsigned_abs(), d.unsigned_abs()).cast_signed();
        let back = gcd(c.unsigned_abs(), b.unsigned_abs()).cast_signed();
        let numerator = wide(a / across) * wide(c / back);
        let denominator = wide(b / back) * wide(d / across);
        Repr::of_wide(numerator, denominator)
    }

    /// Divided by what is not zero; by zero it panics, like an integer.
    pub(super) fn over(&self, other: &Repr) -> Repr {
        if other.sign() == Ordering::Equal {
            return Repr::of_big(self.to_big() / other.to_big());
        }
        self.times(&other.inverted())
    }

    pub(super) fn compare(&self, other: &Repr) -> Ordering {
        let (Repr::Small(a, b), Repr::Small(c, d)) = (self, other) else {
            return match (self, other) {
                (Repr::Big(one), Repr::Big(other)) => one.cmp(other),
                _ => self.to_big().cmp(&other.to_big()),
            };
        };
        if b == d {
            return a.cmp(c);
        }
        (wide(*a) * wide(*d)).cmp(&(wide(*c) * wide(*b)))
    }
}

fn wide(value: i64) -> i128 {
    i128::from(value)
}

/// Greatest common divisor by shifts and subtractions; of zero and a number, the number. Never zero.
pub(super) fn gcd(mut a: u64, mut b: u64) -> u64 {
    if a == 0 || b == 0 {
        return (a | b).max(1);
    }
    // Whole numbers are the most usual ones.
    if a == 1 || b == 1 {
        return 1;
    }
    let shift = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    while b != 0 {
        b >>= b.trailing_zeros();
        if a > b {
            std::mem::swap(&mut a, &mut b);
        }
        b -= a;
    }
    a << shift
}
