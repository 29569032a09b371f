//! The simplex method with ranges (Dantzig 1955) in exact arithmetic, on the kernel of the basis.
//!
//! Shares come first, then one slack a row: what the row gives beyond what it asks for. While a basic one is outside its range the
//! sum of what they are outside is made least; then the cost. Blocked steps are taken by least rank (Bland 1977), so it ends.

use trug_model::Q;

use super::kernel::Kernel;
use super::linear::{Basis, Linear, Place, Solved, Vertex, Whole, dot, worth};
use super::watch::Watch;

/// Blocked steps in a row before the choice of pivots is by rank alone.
const PATIENCE: usize = 4;

/// A basis with all that follows from it.
pub(super) struct Pivoting<'a> {
    linear: &'a Linear,
    places: Vec<Place>,
    /// Basic shares: the columns of the kernel.
    basic: Vec<usize>,
    /// Rows whose slack is not basic: the rows of the kernel.
    active: Vec<usize>,
    kernel: Kernel,
    values: Vec<Q>,
}

/// What a step changes, for each unit that the entering one moves up.
struct Direction {
    entering: usize,
    is_up: bool,
    /// The basic ones that move, and how fast.
    rates: Vec<(usize, Q)>,
}

/// Where a step ends.
struct Block {
    length: Q,
    /// Who leaves, and to which end; none where the entering one reaches its own other end.
    leaving: Option<(usize, Place)>,
}

impl<'a> Pivoting<'a> {
    /// None where the basis is none of this programme.
    pub(super) fn from(linear: &'a Linear, basis: &Basis) -> Option<Pivoting<'a>> {
        let mut places = basis.places.clone();
        for place in places.iter_mut().skip(linear.costs.len()) {
            if *place == Place::High {
                *place = Place::Low;
            }
        }
        let (basic, active, kernel) = factored(linear, &places)?;
        let mut pivoting = Pivoting {
            linear,
            places,
            basic,
            active,
            kernel,
            values: Vec::new(),
        };
        pivoting.set_values();
        Some(pivoting)
    }

    /// Pivots to the end.
    pub(super) fn finish(mut self, watch: &Watch) -> Solved {
        let mut blocked = 0;
        loop {
            if !watch.exact_pivot() {
                return Solved::Unsolved;
            }
            let outside = self.outside();
            let is_feasible = outside.iter().all(Q::is_zero);
            let prices = self.prices(&outside, is_feasible);
            let rates = self.rates(&prices, is_feasible);
            let Some(entering) = self.entering(&prices, &rates, blocked > PATIENCE) else {
                return if is_feasible {
                    Solved::Vertex(self.vertex(prices, rates))
                } else {
                    Solved::Empty(prices)
                };
            };
            let direction = self.direction(entering);
            let Some(block) = self.block(&direction) else {
                return Solved::Unsolved; // A sum over finite ranges falls for ever: the arithmetic is at fault.
            };
            blocked = if block.length.is_zero() {
                blocked + 1
            } else {
                0
            };
            if self.step(&direction, block).is_none() {
                return Solved::Unsolved;
            }
        }
    }

    /// How the prices of all rows change as the cost of one basic share rises, all of them times the same positive number.
    pub(super) fn price_changes(&self, share: usize) -> (Vec<Q>, Q) {
        let is_it = |rank: &usize| if *rank == share { Q::ONE } else { Q::ZERO };
        let right: Vec<Q> = self.basic.iter().map(is_it).collect();
        let solved = self.kernel.solve_left_whole(&right);
        let mut prices = vec![Q::ZERO; self.linear.rows.len()];
        for (row, price) in self.active.iter().zip(solved.values) {
            prices[*row] = price;
        }
        (prices, solved.times)
    }

    /// What a row gives beyond what it asks for.
    pub(super) fn slack(&self, row: usize) -> Option<&Q> {
        self.values.get(self.linear.costs.len() + row)
    }

    /// Whether a basic one stands at an end of its range: then this vertex has other bases too.
    pub(super) fn is_degenerate(&self) -> bool {
        let basics = (0..self.places.len()).filter(|rank| self.places[*rank] == Place::Basic);
        basics.into_iter().any(|rank| {
            let value = &self.values[rank];
            *value == self.low(rank) || self.high(rank).as_ref() == Some(value)
        })
    }

    fn vertex(self, row_prices: Vec<Q>, rates: Vec<Q>) -> Vertex {
        let mut shares = self.values;
        shares.truncate(self.linear.costs.len());
        Vertex {
            cost: dot(&self.linear.costs, &shares),
            shares,
            row_prices,
            rates,
            basis: Basis {
                places: self.places,
            },
        }
    }

    fn low(&self, rank: usize) -> Q {
        self.linear
            .ranges
            .get(rank)
            .map_or(Q::ZERO, |(low, _)| low.clone())
    }

    fn high(&self, rank: usize) -> Option<Q> {
        let of_slack = || self.linear.rows[rank - self.linear.costs.len()].is_equal;
        match self.linear.ranges.get(rank) {
            Some((_, high)) => Some(high.clone()),
            None => of_slack().then_some(Q::ZERO),
        }
    }

    /// The values at this basis, from the kernel.
    fn set_values(&mut self) {
        let shares = self.linear.costs.len();
        let mut values: Vec<Q> = (0..shares)
            .map(|rank| match self.places[rank] {
                Place::Basic => Q::ZERO,
                Place::Low => self.linear.ranges[rank].0.clone(),
                Place::High => self.linear.ranges[rank].1.clone(),
            })
            .collect();
        let rows = &self.linear.rows;
        let right: Vec<Q> = self
            .active
            .iter()
            .map(|row| -rows[*row].slack(&values))
            .collect();
        for (rank, value) in self.basic.iter().zip(self.kernel.solve(&right)) {
            values[*rank] = value;
        }
        let whole = Whole::of(&values);
        let slacks: Vec<Q> = rows
            .iter()
            .zip(&self.places[shares..])
            .map(|(row, place)| match place {
                Place::Basic => dot(&row.weights, &whole.values) / &whole.times - &row.at_least,
                Place::Low | Place::High => Q::ZERO,
            })
            .collect();
        values.extend(slacks);
        self.values = values;
    }

    /// Of each basic one: minus one where it is below its range, one where above, zero within.
    fn outside(&self) -> Vec<Q> {
        let side = |rank: usize| {
            if self.places[rank] != Place::Basic {
                return Q::ZERO;
            }
            let value = &self.values[rank];
            let is_above = || self.high(rank).is_some_and(|high| *value > high);
            if *value < self.low(rank) {
                Q::int(-1)
            } else if is_above() {
                Q::ONE
            } else {
                Q::ZERO
            }
        };
        (0..self.places.len()).map(side).collect()
    }

    /// The multipliers of the rows at which every basic one is worth just what it costs.
    fn prices(&self, outside: &[Q], is_feasible: bool) -> Vec<Q> {
        let shares = self.linear.costs.len();
        let costs = if is_feasible {
            &self.linear.costs
        } else {
            outside
        };
        let mut prices: Vec<Q> = outside[shares..].iter().map(|side| -side).collect();
        let right: Vec<Q> = self
            .basic
            .iter()
            .map(|rank| &costs[*rank] - worth(self.linear, &prices, *rank))
            .collect();
        for (row, price) in self.active.iter().zip(self.kernel.solve_left(&right)) {
            prices[*row] = price;
        }
        prices
    }

    /// What each share costs beyond its worth.
    fn rates(&self, prices: &[Q], is_feasible: bool) -> Vec<Q> {
        let whole = Whole::of(prices);
        let worth = |rank: usize| worth(self.linear, &whole.values, rank) / &whole.times;
        let rate = |rank: usize| match self.places[rank] {
            Place::Basic => Q::ZERO,
            _ if is_feasible => &self.linear.costs[rank] - worth(rank),
            _ => -worth(rank),
        };
        (0..self.linear.costs.len()).map(rate).collect()
    }

    /// One whose move makes things better: the fastest, or the first.
    fn entering(&self, prices: &[Q], rates: &[Q], is_first: bool) -> Option<usize> {
        let shares = rates.len();
        let better = |rank: usize| -> Option<Q> {
            let rate = if rank < shares {
                &rates[rank]
            } else {
                &prices[rank - shares]
            };
            let gain = match self.places[rank] {
                Place::Basic => return None,
                Place::Low => -rate,
                Place::High => rate.clone(),
            };
            let is_fixed = || self.high(rank) == Some(self.low(rank));
            (gain.is_positive() && !is_fixed()).then_some(gain)
        };
        let mut candidates = (0..self.places.len()).filter_map(|rank| Some((rank, better(rank)?)));
        if is_first {
            return candidates.next().map(|(rank, _)| rank);
        }
        let fastest = candidates.reduce(|best, next| if next.1 > best.1 { next } else { best });
        fastest.map(|(rank, _)| rank)
    }

    fn direction(&self, entering: usize) -> Direction {
        let shares = self.linear.costs.len();
        let rows = &self.linear.rows;
        let is_up = self.places[entering] == Place::Low;
        let right: Vec<Q> = self
            .active
            .iter()
            .map(|row| match entering.checked_sub(shares) {
                None => -&rows[*row].weights[entering],
                Some(slack) if slack == *row => Q::ONE,
                Some(_) => Q::ZERO,
            })
            .collect();
        let mut moves = vec![Q::ZERO; shares];
        for (rank, rate) in self.basic.iter().zip(self.kernel.solve(&right)) {
            moves[*rank] = rate;
        }
        let mut rates: Vec<(usize, Q)> = Vec::new();
        rates.extend(self.basic.iter().map(|rank| (*rank, moves[*rank].clone())));
        if entering < shares {
            moves[entering] = Q::ONE;
        }
        for (row, place) in self.places[shares..].iter().enumerate() {
            if *place == Place::Basic {
                rates.push((shares + row, dot(&rows[row].weights, &moves)));
            }
        }
        rates.retain(|(_, rate)| !rate.is_zero());
        if !is_up {
            rates.iter_mut().for_each(|(_, rate)| *rate = -&*rate);
        }
        Direction {
            entering,
            is_up,
            rates,
        }
    }

    /// The first end that is met; of several, that of the one of least rank.
    fn block(&self, direction: &Direction) -> Option<Block> {
        let entering = direction.entering;
        let mut first = self.high(entering).map(|high| Block {
            length: high - self.low(entering),
            leaving: None,
        });
        for (rank, rate) in &direction.rates {
            let Some((end, place)) = self.end_ahead(*rank, rate) else {
                continue;
            };
            let length = (end - &self.values[*rank]) / rate;
            let is_first = first.as_ref().is_none_or(|block| {
                let is_before = |(other, _): (usize, Place)| *rank < other;
                length < block.length
                    || (length == block.length && block.leaving.is_some_and(is_before))
            });
            if is_first {
                let leaving = Some((*rank, place));
                first = Some(Block { length, leaving });
            }
        }
        first
    }

    /// The next end that a basic one meets when it moves: its far end from within, its near one from outside.
    fn end_ahead(&self, rank: usize, rate: &Q) -> Option<(Q, Place)> {
        let value = &self.values[rank];
        let low = self.low(rank);
        let high = self.high(rank);
        if rate.is_positive() {
            if *value < low {
                return Some((low, Place::Low));
            }
            return high
                .filter(|high| value <= high)
                .map(|high| (high, Place::High));
        }
        match high {
            Some(high) if *value > high => Some((high, Place::High)),
            _ => (*value >= low).then_some((low, Place::Low)),
        }
    }

    fn step(&mut self, direction: &Direction, block: Block) -> Option<()> {
        let entering = direction.entering;
        for (rank, rate) in &direction.rates {
            self.values[*rank] += rate * &block.length;
        }
        if direction.is_up {
            self.values[entering] += &block.length;
        } else {
            self.values[entering] -= &block.length;
        }
        let Some((leaving, place)) = block.leaving else {
            let other = if direction.is_up {
                Place::High
            } else {
                Place::Low
            };
            self.places[entering] = other;
            return Some(());
        };
        let is_slack = leaving >= self.linear.costs.len();
        self.places[leaving] = if is_slack { Place::Low } else { place };
        self.places[entering] = Place::Basic;
        (self.basic, self.active, self.kernel) = factored(self.linear, &self.places)?;
        Some(())
    }
}

/// Basic shares, active rows and their kernel; none where it is not square or is singular.
fn factored(linear: &Linear, places: &[Place]) -> Option<(Vec<usize>, Vec<usize>, Kernel)> {
    let shares = linear.costs.len();
    let basic: Vec<usize> = (0..shares)
        .filter(|rank| places[*rank] == Place::Basic)
        .collect();
    let active: Vec<usize> = (0..linear.rows.len())
        .filter(|row| places[shares + row] != Place::Basic)
        .collect();
    if basic.len() != active.len() {
        return None;
    }
    let line = |row: &usize| {
        basic
            .iter()
            .map(|rank| linear.rows[*row].weights[*rank].clone())
            .collect()
    };
    let kernel = Kernel::of(active.iter().map(line).collect())?;
    Some((basic, active, kernel))
}
