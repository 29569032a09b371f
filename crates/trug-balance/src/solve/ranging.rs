//! Between which costs of one share the choice stays the cheapest.
//!
//! Where the vertex has one basis only, by ratio tests on it. Else, and over patterns, by Newton's way along the cost: the choice that
//! is cheaper at one cost names the cost at which both are as cheap, until none is cheaper (Dinkelbach 1967); every step is exact. With
//! margins of certainty the choice moves with every cost, so its range is only that of the tangents it stands at.

use trug_model::Q;

use super::branch::search;
use super::exact::Pivoting;
use super::linear::{Place, Solved, dot, solve};
use super::standing::Judged;
use super::ties::is_only;
use super::watch::Watch;
use crate::programme::CostRange;

/// Steps of Newton's way; each strictly shortens what is left, and few are ever needed.
const MOST_STEPS: usize = 60;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// A lower cost, at which more of it is used.
    Down,
    /// A higher cost, at which less of it is used.
    Up,
}

impl Judged<'_, '_> {
    /// Of every share, in their order.
    pub(super) fn cost_ranges(&self, watch: &Watch) -> Vec<CostRange> {
        let at_pattern = self.at_pattern(watch);
        let ranges = at_pattern.into_iter().enumerate();
        ranges
            .map(|(share, range)| self.over_patterns(share, range, watch))
            .collect()
    }

    /// With the pattern as it is.
    fn at_pattern(&self, watch: &Watch) -> Vec<CostRange> {
        let pivoting = Pivoting::from(self.linear, &self.vertex.basis);
        let is_plain = self.vertex.shares == self.shares && is_only(self.linear, self.vertex);
        if let Some(pivoting) = pivoting.filter(|pivoting| is_plain && !pivoting.is_degenerate()) {
            return (0..self.shares.len())
                .map(|share| self.by_ratios(&pivoting, share))
                .collect();
        }
        let by_steps = |share: usize| CostRange {
            low: self.by_steps(share, Side::Down, watch),
            high: self.by_steps(share, Side::Up, watch),
            enters_below: None,
        };
        (0..self.shares.len()).map(by_steps).collect()
    }

    fn by_ratios(&self, pivoting: &Pivoting, share: usize) -> CostRange {
        let cost = &self.linear.costs[share];
        let rate = &self.vertex.rates[share];
        let (low, high) = &self.linear.ranges[share];
        let (down, up) = match self.vertex.basis.places[share] {
            _ if low == high => (None, None),
            Place::Low => (Some(rate.clone()), None),
            Place::High => (None, Some(-rate)),
            Place::Basic => self.room(&pivoting.changes(share)),
        };
        CostRange {
            low: down.map(|down| cost - down),
            high: up.map(|up| cost + up),
            enters_below: None,
        }
    }

    /// How far the cost of a basic share can fall and rise until another rate changes its sign.
    fn room(&self, (changes, times): &(Vec<Q>, Q)) -> (Option<Q>, Option<Q>) {
        let count = self.linear.costs.len();
        // The least room, and nearly the same in machine numbers.
        let mut down: Option<(Q, f64)> = None;
        let mut up: Option<(Q, f64)> = None;
        for (rank, change) in changes
            .iter()
            .enumerate()
            .filter(|(_, change)| !change.is_zero())
        {
            let row = rank.checked_sub(count);
            let (rate, is_fixed) = match row {
                None => (
                    &self.vertex.rates[rank],
                    self.linear.ranges[rank].0 == self.linear.ranges[rank].1,
                ),
                Some(row) => (&self.vertex.row_prices[row], self.linear.rows[row].is_equal),
            };
            let place = self.vertex.basis.places[rank];
            if place == Place::Basic || is_fixed {
                continue;
            }
            // At its lower end a rate must stay at least zero, at its upper end at most.
            let ends_up = change.is_negative() == (place == Place::Low);
            let side = if ends_up { &mut up } else { &mut down };
            let nearly = (rate.to_f64() / change.to_f64()).abs();
            // Machine numbers pass over what is plainly further.
            let is_further = |(_, least): &(Q, f64)| {
                least.is_normal() && nearly.is_normal() && nearly > least * (1.0 + 1e-9)
            };
            if side.as_ref().is_some_and(is_further) {
                continue;
            }
            let room = (rate / change).abs();
            if side.as_ref().is_none_or(|(side, _)| room < *side) {
                *side = Some((room, nearly));
            }
        }
        let scaled = |side: Option<(Q, f64)>| side.map(|(room, _)| room * times);
        (scaled(down), scaled(up))
    }

    /// The last cost on one side at which nothing else is cheaper, with the pattern as it is; none where there is no end.
    fn by_steps(&self, share: usize, side: Side, watch: &Watch) -> Option<Q> {
        let mut linear = self.linear.clone();
        let mut minimum = |costs: Vec<Q>| {
            linear.costs = costs;
            match solve(&linear, Some(&self.vertex.basis), watch) {
                Solved::Vertex(vertex) => Some(vertex.shares),
                Solved::Empty(_) | Solved::Unsolved => None,
            }
        };
        self.last_cost(share, side, None, &mut minimum)
    }

    /// Whether other patterns are cheaper already within the range, and at which cost a share at zero is used. Where the work allowed
    /// ends, what holds at the pattern stands.
    fn over_patterns(&self, share: usize, range: CostRange, watch: &Watch) -> CostRange {
        let is_zero = !self.shares[share].is_positive();
        let mut range = range;
        let is_plain = self.question.cones.is_empty();
        if self.question.is_mixed() && (is_plain || is_zero) {
            let mut question = self.question.clone();
            let mut minimum = |costs: Vec<Q>| {
                question.costs = costs;
                let root = question.open_pattern();
                let found = search(&mut question, root, watch);
                found
                    .best
                    .filter(|_| found.is_complete)
                    .map(|best| best.vertex.shares)
            };
            range.low = self.last_cost(share, Side::Down, range.low, &mut minimum);
            if !is_zero {
                range.high = self.last_cost(share, Side::Up, range.high, &mut minimum);
            }
        }
        if is_zero {
            range.high = None;
            range.enters_below = range.low.clone();
        }
        range
    }

    /// Newton's way from a cost at which the choice may no longer be the cheapest; where none is given, from that at which the choice with
    /// the most (or the least) of the share is as cheap.
    fn last_cost(
        &self,
        share: usize,
        side: Side,
        from: Option<Q>,
        minimum: &mut dyn FnMut(Vec<Q>) -> Option<Vec<Q>>,
    ) -> Option<Q> {
        let mut cost = match from {
            Some(cost) => cost,
            None => {
                let mut costs = vec![Q::ZERO; self.shares.len()];
                costs[share] = if side == Side::Down {
                    Q::int(-1)
                } else {
                    Q::ONE
                };
                let furthest = minimum(costs)?;
                self.as_cheap(share, side, &furthest)?
            }
        };
        for _ in 0..MOST_STEPS {
            let mut costs = self.linear.costs.clone();
            costs[share] = cost.clone();
            let Some(cheapest) = minimum(costs.clone()) else {
                break;
            };
            let ours = dot(&costs, self.shares);
            if dot(&costs, &cheapest) + self.spare(&ours) >= ours {
                break;
            }
            match self.as_cheap(share, side, &cheapest) {
                Some(nearer) => cost = nearer,
                None => break,
            }
        }
        Some(cost)
    }

    /// What is no cheaper: nothing, but where margins of certainty are kept only nearly to the last digit.
    fn spare(&self, cost: &Q) -> Q {
        if self.question.cones.is_empty() {
            Q::ZERO
        } else {
            cost.abs() * Q::ratio(1, 10_000_000)
        }
    }

    /// At which cost of a share another choice is as cheap as this one; none where it uses no more (or no less) of it.
    fn as_cheap(&self, share: usize, side: Side, other: &[Q]) -> Option<Q> {
        let more = &other[share] - &self.shares[share];
        let is_ahead = match side {
            Side::Down => more.is_positive(),
            Side::Up => more.is_negative(),
        };
        let own = &self.linear.costs[share];
        let dearer = dot(&self.linear.costs, other) - dot(&self.linear.costs, self.shares);
        is_ahead.then(|| own - dearer / more)
    }
}
