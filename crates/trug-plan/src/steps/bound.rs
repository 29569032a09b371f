//! The ratio of one step as a bound, and comparing ratios, in whole numbers only.

use std::cmp::Ordering;

/// An output over an input.
pub(crate) type Ratio = (i128, i128);

/// What a ratio may be at most, or must stay below.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bound {
    pub(crate) ratio: Ratio,
    pub(crate) is_strict: bool,
}

impl Bound {
    /// The largest output that an input of `mass` may go into.
    pub(crate) fn most(&self, mass: i128) -> i128 {
        let (over, under) = self.ratio;
        (over * mass - i128::from(self.is_strict)).div_euclid(under)
    }

    /// The smallest input that may go into an output of `mass`.
    pub(crate) fn least(&self, mass: i128) -> i128 {
        let (over, under) = self.ratio;
        if self.is_strict {
            (mass * under).div_euclid(over) + 1
        } else {
            -(-mass * under).div_euclid(over)
        }
    }
}

/// Compares two fractions of positive numbers without multiplying, so that nothing can overflow.
pub(crate) fn compare(mut one: Ratio, mut other: Ratio) -> Ordering {
    loop {
        let wholes = (one.0 / one.1).cmp(&(other.0 / other.1));
        if wholes != Ordering::Equal {
            return wholes;
        }
        match (one.0 % one.1, other.0 % other.1) {
            (0, 0) => return Ordering::Equal,
            (0, _) => return Ordering::Less,
            (_, 0) => return Ordering::Greater,
            (one_left, other_left) => {
                // a/b below c/d where b/a is above d/c.
                let turned = (other.1, other_left);
                other = (one.1, one_left);
                one = turned;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_are_exact() {
        let bound = Bound {
            ratio: (20, 1),
            is_strict: false,
        };
        assert_eq!(
            (bound.most(3), bound.least(60), bound.least(61)),
            (60, 3, 4)
        );
        let below = Bound {
            ratio: (5, 2),
            is_strict: true,
        };
        assert_eq!((below.most(4), below.least(10), below.least(9)), (9, 5, 4));
    }

    #[test]
    fn fractions_compare_as_their_cross_products() {
        for a in 1..12_i128 {
            for b in 1..12 {
                for c in 1..12 {
                    for d in 1..12 {
                        assert_eq!(compare((a, b), (c, d)), (a * d).cmp(&(c * b)));
                    }
                }
            }
        }
    }
}
