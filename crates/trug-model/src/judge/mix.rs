//! The mix a ration can become: sums over its lines, for every choice of its open amounts.

use crate::Q;
use crate::ration::Ration;
use crate::view::{Feed, Interval};

/// What each line adds per unit of its share, and what is fixed.
#[derive(Clone, Debug)]
pub(crate) struct Spread {
    pub(crate) lines: Vec<Interval>,
    pub(crate) fixed: Interval,
}

impl Spread {
    pub(crate) fn times(&self, factor: &Q) -> Spread {
        Spread {
            lines: self.lines.iter().map(|line| line.times(factor)).collect(),
            fixed: self.fixed.times(factor),
        }
    }

    pub(crate) fn plus(&self, other: &Spread) -> Spread {
        let lines = self.lines.iter().zip(&other.lines);
        Spread {
            lines: lines.map(|(a, b)| a.plus(b)).collect(),
            fixed: self.fixed.plus(&other.fixed),
        }
    }

    /// Every part of it is one value.
    pub(super) fn is_exact(&self) -> bool {
        self.fixed.is_exact() && self.lines.iter().all(Interval::is_exact)
    }

    /// Nothing of it is unknown.
    pub(crate) fn is_complete(&self, mix: &Mix<'_>) -> bool {
        let counts = |(line, (_, high)): (&Interval, &(Q, Q))| line.is_complete || high.is_zero();
        self.fixed.is_complete && self.lines.iter().zip(&mix.ranges).all(counts)
    }
}

/// A ration's lines as ranges of shares. What is on top is fixed.
pub(crate) struct Mix<'ration> {
    pub(crate) ration: &'ration Ration,
    /// Least and greatest share of each line of the 100 %; nothing for what is on top.
    pub(crate) ranges: Vec<(Q, Q)>,
    /// The finished feed over the 100 %.
    pub(crate) whole: Q,
    pub(super) asks: Asks,
}

/// What is asked about a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Asks {
    /// What each line holds of it, not how the ration stands.
    Rows,
    /// How the ration stands to it.
    Verdicts,
    /// That, the value, and what each line adds to it.
    Everything,
}

impl<'ration> Mix<'ration> {
    pub(crate) fn of(ration: &'ration Ration) -> Mix<'ration> {
        let range = |line: &crate::ration::Line| {
            if line.on_top {
                (Q::ZERO, Q::ZERO)
            } else if line.or_none && !line.is_fixed() {
                (Q::ZERO, line.high.clone())
            } else {
                (line.low.clone(), line.high.clone())
            }
        };
        Mix {
            ration,
            ranges: ration.lines.iter().map(range).collect(),
            whole: Q::ONE + ration.tops(),
            asks: Asks::Everything,
        }
    }

    /// The same ration seen as other lines than its own.
    pub(super) fn with_ranges(&self, ranges: Vec<(Q, Q)>) -> Mix<'ration> {
        Mix {
            ration: self.ration,
            ranges,
            whole: self.whole.clone(),
            asks: self.asks,
        }
    }

    pub(super) fn asking(self, asks: Asks) -> Mix<'ration> {
        Mix { asks, ..self }
    }

    /// What each line adds of something that one kg of its feed holds.
    pub(crate) fn spread(&self, of: &dyn Fn(&Feed) -> Interval) -> Spread {
        let contents: Vec<Interval> = self
            .ration
            .lines
            .iter()
            .map(|line| of(&line.feed))
            .collect();
        self.spread_of(contents.iter())
    }

    /// The same of what one kg of each line is known to hold.
    pub(super) fn spread_of<'a>(&self, contents: impl Iterator<Item = &'a Interval>) -> Spread {
        let mut fixed = Interval::ZERO;
        let mut lines = Vec::with_capacity(self.ranges.len());
        for (line, content) in self.ration.lines.iter().zip(contents) {
            if line.on_top {
                fixed = fixed.plus(&content.times(&line.low));
                lines.push(Interval::ZERO);
            } else {
                lines.push(content.clone());
            }
        }
        Spread { lines, fixed }
    }

    /// The same amount whatever is chosen.
    pub(crate) fn constant(&self, value: Interval) -> Spread {
        Spread {
            lines: vec![Interval::ZERO; self.ranges.len()],
            fixed: value,
        }
    }

    /// The shares that make the sum of `weights` greatest, with the sum of shares one.
    ///
    /// A linear sum over one equation and ranges: the lines of the greatest weight are filled first.
    /// A line without upper weight (none) comes before all.
    pub(crate) fn fill(&self, weights: &[Option<Q>]) -> Vec<Q> {
        let mut shares: Vec<Q> = self.ranges.iter().map(|(low, _)| low.clone()).collect();
        let mut left = Q::ONE - shares.iter().sum::<Q>();
        if !left.is_positive() {
            return shares;
        }
        let mut order: Vec<usize> = (0..shares.len()).collect();
        order.sort_by(|&a, &b| match (&weights[a], &weights[b]) {
            (None, None) => a.cmp(&b),
            (None, Some(_)) => std::cmp::Ordering::Less,
            (Some(_), None) => std::cmp::Ordering::Greater,
            (Some(first), Some(second)) => second.cmp(first).then(a.cmp(&b)),
        });
        for rank in order {
            if !left.is_positive() {
                break;
            }
            let more = (&self.ranges[rank].1 - &self.ranges[rank].0).min(left.clone());
            left -= &more;
            shares[rank] += more;
        }
        shares
    }

    /// The sum at these shares; none where it has no bound.
    pub(crate) fn total(
        &self,
        weights: &[Option<Q>],
        fixed: Option<&Q>,
        shares: &[Q],
    ) -> Option<Q> {
        let mut products = Vec::with_capacity(shares.len());
        for (weight, share) in weights.iter().zip(shares) {
            if !share.is_zero() {
                products.push((weight.as_ref()?, share));
            }
        }
        Some(fixed? + Q::sum_of_products(products))
    }

    /// What is known of a sum at these shares.
    pub(crate) fn known(&self, spread: &Spread, shares: &[Q]) -> Q {
        let lines = spread.lines.iter().zip(shares);
        &spread.fixed.known + Q::sum_of_products(lines.map(|(line, share)| (&line.known, share)))
    }

    /// The variance of a sum at these shares: independent analyses, squares of shares.
    pub(crate) fn variance(&self, spread: &Spread, shares: &[Q]) -> Q {
        let mut total = spread.fixed.variance.clone();
        for (line, share) in spread.lines.iter().zip(shares) {
            if !line.variance.is_zero() {
                total += &line.variance * &(share * share);
            }
        }
        total
    }

    /// Shares near the written ones: of open lines the middle, for what is shown.
    pub(crate) fn middle(&self) -> Vec<Q> {
        self.fill_from_middle()
    }

    fn fill_from_middle(&self) -> Vec<Q> {
        let half = Q::ratio(1, 2);
        let mut shares: Vec<Q> = self
            .ranges
            .iter()
            .map(|(low, high)| (low + high) * &half)
            .collect();
        let total: Q = shares.iter().sum();
        if total == Q::ONE || total.is_zero() {
            return shares;
        }
        // Move every line the same part of its way, so that the whole is kept and no range is left.
        let (mut low, mut high) = (Q::ZERO, Q::ZERO);
        for (range, share) in self.ranges.iter().zip(&shares) {
            low += share - &range.0;
            high += &range.1 - share;
        }
        let off = Q::ONE - total;
        let (room, is_up) = if off.is_positive() {
            (high, true)
        } else {
            (low, false)
        };
        let Some(part) = off.abs().over(&room) else {
            return shares;
        };
        for (share, range) in shares.iter_mut().zip(&self.ranges) {
            let way = if is_up {
                &range.1 - &*share
            } else {
                &range.0 - &*share
            };
            *share += way * part.clone();
        }
        shares
    }
}
