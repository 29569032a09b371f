//! Sums of products, reduced once at the end: of large numbers that is most of the work.

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

use super::Q;
use super::repr::{Repr, gcd};

impl Q {
    /// The sum of the products of all pairs.
    #[must_use]
    pub fn sum_of_products<'a>(pairs: impl IntoIterator<Item = (&'a Q, &'a Q)>) -> Q {
        let mut small = Words::ZERO;
        let mut large: Option<Unreduced> = None;
        for (one, other) in pairs {
            if one.is_zero() || other.is_zero() {
                continue;
            }
            match (&one.0, &other.0) {
                (Repr::Small(a, b), Repr::Small(c, d)) => small.add((*a, *b), (*c, *d)),
                (one, other) => large.get_or_insert_with(Unreduced::zero).add(one, other),
            }
        }
        let small = small.sum();
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

/// A sum that is kept over one denominator while it fits words: decimals soon agree on one.
struct Words {
    numerator: i128,
    /// Above zero.
    denominator: i64,
    /// What did not fit any more.
    rest: Q,
}

impl Words {
    const ZERO: Words = Words {
        numerator: 0,
        denominator: 1,
        rest: Q::ZERO,
    };

    fn add(&mut self, (a, b): (i64, i64), (c, d): (i64, i64)) {
        let product = i128::from(a) * i128::from(c);
        if self.add_over(product, b, d).is_none() {
            self.rest += Q(Repr::Small(a, b)) * Q(Repr::Small(c, d));
        }
    }

    /// Adds a product over the product of two denominators; none where that does not fit.
    fn add_over(&mut self, product: i128, b: i64, d: i64) -> Option<()> {
        let below = b.checked_mul(d)?;
        if below == self.denominator {
            self.numerator = self.numerator.checked_add(product)?;
            return Some(());
        }
        if self.denominator % below == 0 {
            let times = i128::from(self.denominator / below);
            self.numerator = self.numerator.checked_add(product.checked_mul(times)?)?;
            return Some(());
        }
        let common = gcd(self.denominator.unsigned_abs(), below.unsigned_abs()).cast_signed();
        let wider = self.denominator.checked_mul(below / common)?;
        let before = self.numerator.checked_mul(i128::from(below / common))?;
        let more = product.checked_mul(i128::from(self.denominator / common))?;
        self.numerator = before.checked_add(more)?;
        self.denominator = wider;
        Some(())
    }

    fn sum(self) -> Q {
        Q(Repr::of_unreduced(self.numerator, self.denominator)) + self.rest
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
        if let Some(term) = self.in_parts(one, other) {
            self.numerator += term;
            return;
        }
        let product = product_of(one, other);
        if one.is_whole() && other.is_whole() {
            self.numerator += if self.denominator.is_one() {
                product
            } else {
                product * IBig::from(self.denominator.clone())
            };
            return;
        }
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
        let (left, right) = (below / &common, &self.denominator / &common);
        self.numerator = &self.numerator * IBig::from(left.clone()) + product * IBig::from(right);
        self.denominator = &self.denominator * left;
    }

    /// A small number times a large whole one, where the denominator of the sum suffices for it: the usual case, in words.
    fn in_parts(&self, one: &Repr, other: &Repr) -> Option<IBig> {
        let (small, below, big) = small_and_whole(one, other)?;
        let denominator = i64::try_from(&self.denominator).ok()?;
        let is_enough = denominator % below == 0;
        let times = small
            .checked_mul(denominator / below)
            .filter(|_| is_enough)?;
        Some(big.numerator() * times)
    }
}

/// A small number times a large whole one.
fn small_and_whole<'r>(one: &'r Repr, other: &'r Repr) -> Option<(i64, i64, &'r RBig)> {
    match (one, other) {
        (Repr::Small(small, below), Repr::Big(big))
        | (Repr::Big(big), Repr::Small(small, below)) => {
            big.is_int().then_some((*small, *below, &**big))
        }
        _ => None,
    }
}

/// Of the numerators.
fn product_of(one: &Repr, other: &Repr) -> IBig {
    match (one, other) {
        (Repr::Big(one), Repr::Big(other)) => one.numerator() * other.numerator(),
        (Repr::Big(big), Repr::Small(small, _)) | (Repr::Small(small, _), Repr::Big(big)) => {
            big.numerator() * IBig::from(*small)
        }
        (Repr::Small(one, _), Repr::Small(other, _)) => IBig::from(*one) * IBig::from(*other),
    }
}

#[cfg(test)]
mod tests {
    use super::Q;

    #[test]
    fn they_are_the_same_as_one_by_one() {
        let large = |seed: i64| {
            let wide = Q::int(i64::MAX - seed) * Q::int(i64::MAX - 7 * seed);
            if seed % 3 == 0 {
                wide
            } else {
                wide / Q::int(1 + seed % 11)
            }
        };
        let mut pairs: Vec<(Q, Q)> = Vec::new();
        for seed in 0..60_i64 {
            let sign = if seed % 2 == 0 { 1 } else { -1 };
            let small = Q::ratio(sign * (seed * 37 % 101), 1 + seed * 13 % 1000);
            let other = if seed % 5 == 0 {
                Q::ratio(seed, 8)
            } else {
                large(seed)
            };
            pairs.push(if seed % 7 == 0 {
                (large(seed + 1), other)
            } else {
                (small, other)
            });
            let mut total = Q::ZERO;
            for (one, other) in &pairs {
                total += one * other;
            }
            let pairs = pairs.iter().map(|(one, other)| (one, other));
            assert_eq!(Q::sum_of_products(pairs), total, "{seed}");
        }
    }
}
