//! Arithmetic and order of rationals, on values and on references.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use super::Q;

impl Default for Q {
    fn default() -> Q {
        Q::ZERO
    }
}

impl Ord for Q {
    fn cmp(&self, other: &Q) -> Ordering {
        self.0.compare(&other.0)
    }
}

impl PartialOrd for Q {
    fn partial_cmp(&self, other: &Q) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $of:expr) => {
        impl $trait for Q {
            type Output = Q;
            fn $method(self, other: Q) -> Q {
                $of(&self, &other)
            }
        }
        impl $trait<&Q> for Q {
            type Output = Q;
            fn $method(self, other: &Q) -> Q {
                $of(&self, other)
            }
        }
        impl $trait<Q> for &Q {
            type Output = Q;
            fn $method(self, other: Q) -> Q {
                $of(self, &other)
            }
        }
        impl $trait<&Q> for &Q {
            type Output = Q;
            fn $method(self, other: &Q) -> Q {
                $of(self, other)
            }
        }
    };
}

operator!(Add, add, |a: &Q, b: &Q| Q(a.0.plus(&b.0)));
operator!(Sub, sub, |a: &Q, b: &Q| Q(a.0.plus(&b.0.negated())));
operator!(Mul, mul, |a: &Q, b: &Q| Q(a.0.times(&b.0)));
// Division by zero panics like an integer's: divide by what can be zero with `Q::over`.
operator!(Div, div, |a: &Q, b: &Q| Q(a.0.over(&b.0)));

impl Neg for Q {
    type Output = Q;
    fn neg(self) -> Q {
        Q(self.0.negated())
    }
}

impl Neg for &Q {
    type Output = Q;
    fn neg(self) -> Q {
        Q(self.0.negated())
    }
}

impl AddAssign<&Q> for Q {
    fn add_assign(&mut self, other: &Q) {
        self.0 = self.0.plus(&other.0);
    }
}

impl AddAssign for Q {
    fn add_assign(&mut self, other: Q) {
        *self += &other;
    }
}

impl SubAssign<&Q> for Q {
    fn sub_assign(&mut self, other: &Q) {
        self.0 = self.0.plus(&other.0.negated());
    }
}

impl SubAssign for Q {
    fn sub_assign(&mut self, other: Q) {
        *self -= &other;
    }
}

impl Sum for Q {
    fn sum<I: Iterator<Item = Q>>(terms: I) -> Q {
        let mut total = Q::ZERO;
        for term in terms {
            total += term;
        }
        total
    }
}

impl<'a> Sum<&'a Q> for Q {
    fn sum<I: Iterator<Item = &'a Q>>(terms: I) -> Q {
        let mut total = Q::ZERO;
        for term in terms {
            total += term;
        }
        total
    }
}
