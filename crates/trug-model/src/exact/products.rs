//! Sums of products, reduced once at the end: of large numbers that is most of the work.

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

use super::Q;
use super::repr::Repr;

impl Q {
    /// The sum of the products of all pairs.
    #[must_use]
    pub fn sum_of_products<'a>(pairs: impl IntoIterator<Item = (&'a Q, &'a Q)>) -> Q {
        let mut small = Q::ZERO;
        let mut large: Option<Unreduced> = None;
        for (one, other) in pairs {
            if one.is_zero() || other.is_zero() {
                continue;
            }
            match (&one.0, &other.0) {
                (Repr::Small(..), Repr::Small(..)) => small += one * other,
                (one, other) => large.get_or_insert_with(Unreduced::zero).add(one, other),
            }
        }
        match large {
            None => small,
            Some(mut large) => {
                large.add(&small.0, &Repr::Small(1, 1));
                Q(Repr::of_big(RBig::from_parts(
                    large.numerator,
                    large.denominator,
                )))
            }
        }
    }
}

/// A fraction that is not in lowest terms.
struct Unreduced {
    numerator: IBig,
    denominator: UBig,
}

impl Unreduced {
    fn zero() -> Unreduced {
        Unreduced {
            numerator: IBig::ZERO,
            denominator: UBig::ONE,
        }
    }

    fn add(&mut self, one: &Repr, other: &Repr) {
        let product = one.numerator() * other.numerator();
        let below = one.denominator() * other.denominator();
        if self.denominator == below {
            self.numerator += product;
            return;
        }
        let times = &self.denominator / &below;
        if &times * &below == self.denominator {
            self.numerator += product * IBig::from(times);
            return;
        }
        let common = dashu_int::ops::Gcd::gcd(&self.denominator, &below);
        let (left, right) = (&below / &common, &self.denominator / &common);
        self.numerator = &self.numerator * IBig::from(left.clone()) + product * IBig::from(right);
        self.denominator = &self.denominator * left;
    }
}
