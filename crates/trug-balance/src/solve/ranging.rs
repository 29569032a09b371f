//! Between which costs of one share the choice stays the cheapest.
//!
//! Where the vertex has one basis only, by ratio tests on it. Else, and over patterns, by Newton's way along the cost: the choice that
//! is cheaper at one cost names the cost at which both are as cheap, until none is cheaper (Dinkelbach 1967); every step is exact. With
//! margins of certainty the choice moves with every cost, so its range is only that of the tangents it stands at.

use trug_model::Q;

use super::branch::search;
use super::exact::Pivoting;
use super::linear::{Linear, Place, Solved, Vertex, dot, solve, worth};
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

/// The programme and the rates at its vertex in machine numbers.
struct Nearly {
    /// Of each share, what it gives to each row.
    weights: Vec<Vec<f64>>,
    /// Of shares, then of the slacks of rows.
    rates: Vec<f64>,
}

impl Nearly {
    fn of(linear: &Linear, vertex: &Vertex) -> Nearly {
        let of_share = |share: usize| {
            let rows = linear.rows.iter();
            rows.map(|row| row.weights[share].to_f64()).collect()
        };
        let rates = vertex.rates.iter().chain(&vertex.row_prices);
        Nearly {
            weights: (0..linear.costs.len()).map(of_share).collect(),
            rates: rates.map(Q::to_f64).collect(),
        }
    }

    /// How a rate changes with the prices, and how far they can go until it is zero; none where machine numbers do not tell.
    fn room(&self, rank: usize, prices: &[f64]) -> Option<(f64, f64)> {
        let (change, size) = match rank.checked_sub(self.weights.len()) {
            Some(row) => (prices[row], prices[row].abs()),
            None => {
                let terms = self.weights[rank].iter().zip(prices);
                terms.fold((0.0, 0.0), |(sum, size), (weight, price)| {
                    let term = weight * price;
                    (sum - term, size + f64::abs(term))
                })
            }
        };
        // Sums of this many terms are wrong by far less than this part of their size.
        let is_told = change.is_normal() && size.is_finite() && change.abs() > 1e-5 * size;
        let room = (self.rates[rank] / change).abs();
        (is_told && room.is_normal()).then_some((change, room))
    }
}

/// Whether of two rooms known nearly one is plainly further.
fn is_further(room: f64, least: f64) -> bool {
    room > least * (1.0 + 1e-6)
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
        let is_plain = self.vertex.shares == self.shares && is_only(self.linear, self.vertex);
        let is_of_one_basis = |pivoting: &&Pivoting| is_plain && !pivoting.is_degenerate();
        if let Some(pivoting) = self.pivoting.filter(is_of_one_basis) {
            let nearly = Nearly::of(self.linear, self.vertex);
            return (0..self.shares.len())
                .map(|share| self.by_ratios(pivoting, &nearly, share))
                .collect();
        }
        let by_steps = |share: usize| CostRange {
            low: self.by_steps(share, Side::Down, watch),
            high: self.by_steps(share, Side::Up, watch),
            enters_below: None,
        };
        (0..self.shares.len()).map(by_steps).collect()
    }

    fn by_ratios(&self, pivoting: &Pivoting, nearly: &Nearly, share: usize) -> CostRange {
        let cost = &self.linear.costs[share];
        let rate = &self.vertex.rates[share];
        let (low, high) = &self.linear.ranges[share];
        let (down, up) = match self.vertex.basis.places[share] {
            _ if low == high => (None, None),
            Place::Low => (Some(rate.clone()), None),
            Place::High => (None, Some(-rate)),
            Place::Basic => self.room(pivoting, nearly, share),
        };
        CostRange {
            low: down.map(|down| cost - down),
            high: up.map(|up| cost + up),
            enters_below: None,
        }
    }

    /// How far the cost of a basic share can fall and rise until another rate changes its sign.
    ///
    /// Machine numbers pass over what is plainly further; what is taken is exact.
    fn room(&self, pivoting: &Pivoting, nearly: &Nearly, share: usize) -> (Option<Q>, Option<Q>) {
        let (prices, times) = pivoting.price_changes(share);
        let (mut down, mut up): (Option<Q>, Option<Q>) = (None, None);
        for rank in self.perhaps_first(nearly, &prices) {
            let (rate, change) = self.changing(rank, &prices);
            if change.is_zero() {
                continue;
            }
            let side = if self.ends_up(rank, change.is_negative()) {
                &mut up
            } else {
                &mut down
            };
            let room = (rate / change).abs();
            if side.as_ref().is_none_or(|side| room < *side) {
                *side = Some(room);
            }
        }
        let scaled = |side: Option<Q>| side.map(|room| room * &times);
        (scaled(down), scaled(up))
    }

    /// The shares and slacks at an end of theirs whose rates may change their signs first, as far as machine numbers tell.
    fn perhaps_first(&self, nearly: &Nearly, prices: &[Q]) -> Vec<usize> {
        let prices: Vec<f64> = prices.iter().map(Q::to_f64).collect();
        let places = self.vertex.basis.places.iter().enumerate();
        let at_ends =
            places.filter(|(rank, place)| **place != Place::Basic && !self.is_fixed(*rank));
        let told: Vec<(usize, Option<(bool, f64)>)> = at_ends
            .map(|(rank, _)| {
                let room = nearly.room(rank, &prices);
                let room = room.map(|(change, room)| (self.ends_up(rank, change < 0.0), room));
                (rank, room)
            })
            .collect();
        let least = |is_up: bool| {
            let rooms = told.iter().filter_map(|(_, room)| *room);
            let rooms = rooms.filter(|(ends_up, _)| *ends_up == is_up);
            rooms.fold(f64::INFINITY, |least, (_, room)| least.min(room))
        };
        let ends = [least(false), least(true)];
        let may_be_first = |(rank, room): (usize, Option<(bool, f64)>)| {
            let is_further =
                |(is_up, room): (bool, f64)| is_further(room, ends[usize::from(is_up)]);
            (!room.is_some_and(is_further)).then_some(rank)
        };
        told.into_iter().filter_map(may_be_first).collect()
    }

    /// Whether a rate ends the rise of the cost, and not its fall: at its lower end it must stay at least zero, at its upper end at most.
    fn ends_up(&self, rank: usize, is_falling: bool) -> bool {
        is_falling == (self.vertex.basis.places[rank] == Place::Low)
    }

    fn is_fixed(&self, rank: usize) -> bool {
        match rank.checked_sub(self.linear.costs.len()) {
            None => self.linear.ranges[rank].0 == self.linear.ranges[rank].1,
            Some(row) => self.linear.rows[row].is_equal,
        }
    }

    /// The rate of a share or a slack, and how it changes with the prices.
    fn changing(&self, rank: usize, prices: &[Q]) -> (&Q, Q) {
        match rank.checked_sub(self.linear.costs.len()) {
            None => (&self.vertex.rates[rank], -worth(self.linear, prices, rank)),
            Some(row) => (&self.vertex.row_prices[row], prices[row].clone()),
        }
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
