//! The simplex method on a dictionary.

use trug_model::Q;

use super::{End, Limits, Sketch, Sketched};
use crate::solve::linear::{Basis, Place};
use crate::solve::scaling::Scaling;
use crate::solve::watch::Watch;

/// What counts as nothing, after scaling.
const NEAR: f64 = 1e-9;

/// The smallest pivot that is divided by.
const LEAST_PIVOT: f64 = 1e-8;

/// Blocked steps in a row before the choice of pivots is by rank alone.
const PATIENCE: usize = 30;

/// Pivots in a row that machine numbers are trusted with.
const MOST_PIVOTS: usize = 200;

/// Every basic one as a sum over the others and a constant; the cost in the same way, in the last line.
#[derive(Clone, Debug)]
pub(in super::super) struct Dictionary {
    /// Line after line: a weight for each of the others, then the constant.
    weights: Vec<f64>,
    /// Who is basic, a line each.
    basic: Vec<usize>,
    /// Who is not, a column each.
    others: Vec<usize>,
    lows: Vec<f64>,
    highs: Vec<f64>,
    is_high: Vec<bool>,
    values: Vec<f64>,
    /// The prices by which nothing keeps all rows.
    witness: Vec<f64>,
    /// Every one leaves a little error behind.
    pivots: usize,
}

impl Dictionary {
    pub(super) fn of(sketch: &Sketch, at: &Limits) -> Dictionary {
        let ranges = at.ranges;
        let shares = ranges.len();
        let rows = sketch.lines.len();
        let pairs = sketch.lines.iter().zip(at.at_least);
        let mut weights = Vec::with_capacity((rows + 1) * (shares + 1));
        for ((of_row, at_least), scale) in pairs.zip(&sketch.scaling.rows) {
            weights.extend_from_slice(of_row);
            weights.push(-at_least.to_f64() * scale);
        }
        weights.extend(sketch.costs.iter().copied().chain([0.0]));
        let scaled = ranges.iter().zip(&sketch.scaling.shares);
        let mut lows: Vec<f64> = scaled
            .clone()
            .map(|((low, _), scale)| low.to_f64() / scale)
            .collect();
        let mut highs: Vec<f64> = scaled
            .map(|((_, high), scale)| high.to_f64() / scale)
            .collect();
        lows.extend((0..rows).map(|_| 0.0));
        highs.extend(
            sketch
                .is_equal
                .iter()
                .map(|is_equal| if *is_equal { 0.0 } else { f64::INFINITY }),
        );
        Dictionary {
            weights,
            basic: (shares..shares + rows).collect(),
            others: (0..shares).collect(),
            is_high: vec![false; shares + rows],
            values: vec![0.0; shares + rows],
            witness: Vec::new(),
            pivots: 0,
            lows,
            highs,
        }
    }

    /// Other ranges of the shares; what is basic stays so.
    pub(super) fn set_ranges(&mut self, sketch: &Sketch, ranges: &[(Q, Q)]) {
        for (rank, ((low, high), scale)) in ranges.iter().zip(&sketch.scaling.shares).enumerate() {
            self.lows[rank] = low.to_f64() / scale;
            self.highs[rank] = high.to_f64() / scale;
        }
    }

    /// A line: of a basic one, and after those of the cost.
    fn line(&self, line: usize) -> &[f64] {
        let width = self.others.len() + 1;
        &self.weights[line * width..(line + 1) * width]
    }

    fn lines(&self) -> impl Iterator<Item = &[f64]> {
        self.weights.chunks_exact(self.others.len() + 1)
    }

    /// Of how many rows it is.
    pub(in super::super) fn rows(&self) -> usize {
        self.basic.len()
    }

    pub(super) fn is_trusted(&self) -> bool {
        self.pivots <= MOST_PIVOTS
    }

    /// Brings the basic shares of `basis` in, each for the slack of an active row with the largest pivot.
    pub(super) fn enter_all(&mut self, basis: &Basis) {
        let shares = self.others.len();
        let place = |rank: usize| basis.places.get(rank).copied().unwrap_or(Place::Basic);
        for rank in 0..shares {
            self.is_high[rank] = place(rank) == Place::High;
        }
        for rank in (0..shares).filter(|rank| place(*rank) == Place::Basic) {
            let Some(column) = self.others.iter().position(|other| *other == rank) else {
                continue;
            };
            let may_leave = |line: &usize| {
                self.basic[*line] >= shares && place(self.basic[*line]) != Place::Basic
            };
            let size = |line: usize| self.line(line)[column].abs();
            let largest = (0..self.basic.len())
                .filter(may_leave)
                .reduce(|best, next| if size(next) > size(best) { next } else { best });
            if let Some(line) = largest.filter(|line| size(*line) > LEAST_PIVOT) {
                self.pivot(line, column);
            }
        }
    }

    pub(super) fn run(&mut self, watch: &Watch) -> End {
        let mut blocked = 0;
        for _ in 0..200 + 50 * self.values.len() {
            if !watch.pivot() {
                return End::Lost;
            }
            self.set_values();
            let (rates, is_feasible) = self.rates();
            let Some(column) = self.entering(&rates, blocked > PATIENCE) else {
                if is_feasible {
                    return End::Cheapest;
                }
                self.witness = rates;
                return End::Empty;
            };
            let Some((length, line)) = self.block(column, blocked > PATIENCE) else {
                return End::Lost;
            };
            blocked = if length <= NEAR { blocked + 1 } else { 0 };
            let entering = self.others[column];
            match line {
                None => self.is_high[entering] = !self.is_high[entering],
                Some((line, is_high)) => {
                    let leaving = self.basic[line];
                    self.is_high[leaving] = is_high;
                    self.pivot(line, column);
                }
            }
        }
        End::Lost
    }

    fn set_values(&mut self) {
        // Most stand at zero and add nothing.
        let mut adding: Vec<(usize, f64)> = Vec::new();
        for (column, other) in self.others.iter().enumerate() {
            let is_high = self.is_high[*other] && self.highs[*other].is_finite();
            let value = if is_high {
                self.highs[*other]
            } else {
                self.lows[*other]
            };
            self.values[*other] = value;
            if value != 0.0 {
                adding.push((column, value));
            }
        }
        let lines = self.weights.chunks_exact(self.others.len() + 1);
        for (line, basic) in lines.zip(&self.basic) {
            let constant = line.last().copied().unwrap_or(0.0);
            let terms = adding.iter();
            self.values[*basic] =
                terms.fold(constant, |sum, (column, value)| sum + line[*column] * value);
        }
    }

    /// How far one is below its range (less than nothing) or above.
    fn outside(&self, rank: usize) -> f64 {
        let value = self.values[rank];
        let near = NEAR * (1.0 + value.abs());
        if value < self.lows[rank] - near {
            value - self.lows[rank]
        } else if value > self.highs[rank] + near {
            value - self.highs[rank]
        } else {
            0.0
        }
    }

    /// How what is to be made least rises with each of the others: what is outside, or where nothing is, the cost.
    fn rates(&self) -> (Vec<f64>, bool) {
        let mut rates = vec![0.0; self.others.len()];
        let mut is_feasible = true;
        for (line, basic) in self.lines().zip(&self.basic) {
            let outside = self.outside(*basic);
            if outside != 0.0 {
                is_feasible = false;
                let sign = outside.signum();
                rates
                    .iter_mut()
                    .zip(line)
                    .for_each(|(rate, weight)| *rate += sign * weight);
            }
        }
        if is_feasible {
            rates.copy_from_slice(&self.line(self.basic.len())[..self.others.len()]);
        }
        (rates, is_feasible)
    }

    fn entering(&self, rates: &[f64], is_first: bool) -> Option<usize> {
        let largest = rates
            .iter()
            .fold(0.0, |largest: f64, rate| largest.max(rate.abs()));
        let near = NEAR * largest.clamp(1e-6, 1.0);
        let gain = |column: usize| {
            let other = self.others[column];
            let is_fixed = self.lows[other] == self.highs[other];
            let gain = if self.is_high[other] {
                rates[column]
            } else {
                -rates[column]
            };
            (gain > near && !is_fixed).then_some(gain)
        };
        let candidates = (0..rates.len()).filter_map(|column| Some((column, gain(column)?)));
        let chosen = if is_first {
            candidates.min_by_key(|(column, _)| self.others[*column])
        } else {
            candidates.reduce(|best, next| if next.1 > best.1 { next } else { best })
        };
        chosen.map(|(column, _)| column)
    }

    /// The first end that is met, and whose it is: none where the entering one's own. Of ends met together, that of the largest pivot.
    fn block(&self, column: usize, is_first: bool) -> Option<(f64, Option<(usize, bool)>)> {
        let entering = self.others[column];
        let sign = if self.is_high[entering] { -1.0 } else { 1.0 };
        let span = self.highs[entering] - self.lows[entering];
        let mut length = span;
        let mut chosen: Option<(usize, bool)> = None;
        for (line, basic) in self.basic.iter().enumerate() {
            let weight = self.line(line)[column];
            let rate = sign * weight;
            if rate.abs() <= LEAST_PIVOT {
                continue;
            }
            let outside = self.outside(*basic);
            let (end, is_high) = match (rate > 0.0, outside) {
                (true, outside) if outside < 0.0 => (self.lows[*basic], false),
                (true, outside) if outside > 0.0 => continue,
                (true, _) => (self.highs[*basic], true),
                (false, outside) if outside > 0.0 => (self.highs[*basic], true),
                (false, outside) if outside < 0.0 => continue,
                (false, _) => (self.lows[*basic], false),
            };
            if end.is_infinite() {
                continue;
            }
            let step = ((end - self.values[*basic]) / rate).max(0.0);
            let is_better = match chosen {
                _ if step < length - NEAR => true,
                Some((other, _)) if step <= length + NEAR => {
                    if is_first {
                        *basic < self.basic[other]
                    } else {
                        weight.abs() > self.line(other)[column].abs()
                    }
                }
                _ => false,
            };
            if is_better {
                length = step.min(length);
                chosen = Some((line, is_high));
            }
        }
        length.is_finite().then_some((length, chosen))
    }

    fn pivot(&mut self, line: usize, column: usize) {
        let inverse = 1.0 / self.line(line)[column];
        let mut pivot_line = self.line(line).to_vec();
        for weight in &mut pivot_line {
            *weight *= -inverse;
        }
        pivot_line[column] = inverse;
        let width = pivot_line.len();
        for (rank, other) in self.weights.chunks_exact_mut(width).enumerate() {
            if rank == line {
                other.copy_from_slice(&pivot_line);
                continue;
            }
            let factor = other[column];
            if factor == 0.0 {
                continue;
            }
            other[column] = 0.0;
            for (weight, pivot) in other.iter_mut().zip(&pivot_line) {
                *weight += factor * pivot;
            }
        }
        std::mem::swap(&mut self.basic[line], &mut self.others[column]);
        self.pivots += 1;
    }

    pub(super) fn ended(&self, scaling: &Scaling, end: End) -> Sketched {
        let shares = self.others.len();
        let mut places = vec![Place::Basic; self.values.len()];
        let mut prices = vec![0.0; self.basic.len()];
        let costs = self.line(self.basic.len());
        let rates = if end == End::Empty {
            &self.witness[..]
        } else {
            costs
        };
        for (other, rate) in self.others.iter().zip(rates) {
            let is_high = self.is_high[*other];
            places[*other] = if is_high && *other < shares {
                Place::High
            } else {
                Place::Low
            };
            if let Some(row) = other.checked_sub(shares) {
                prices[row] = rate * scaling.rows[row];
            }
        }
        if end == End::Empty {
            for basic in self.basic.iter().filter(|basic| **basic >= shares) {
                let outside = self.outside(*basic);
                if outside != 0.0 {
                    prices[basic - shares] = -outside.signum() * scaling.rows[basic - shares];
                }
            }
        }
        let constant = costs.last().copied().unwrap_or(0.0);
        let terms = costs.iter().zip(&self.others);
        let cost = terms.fold(constant, |sum, (rate, other)| {
            sum + rate * self.values[*other]
        });
        let unscaled = self.values.iter().zip(&scaling.shares);
        Sketched {
            basis: Basis { places },
            prices,
            shares: unscaled.map(|(value, scale)| value * scale).collect(),
            cost,
            end,
        }
    }
}
