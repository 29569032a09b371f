//! A programme as rows and ranges, for each pattern of shares that are used and left out.
//!
//! A bound on one share alone narrows its range; every other is a row. All patterns have the same rows: one that does not hold asks
//! for no more than the ranges give anyway.

use trug_model::Q;

use super::cuts::{Cone, Tangent};
use super::linear::{Basis, Linear, Place, Row};
use super::rows::{Choice, row_of, scatter_of};
use crate::programme::{Bound, Programme};

/// What a pattern says of each share.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pattern {
    /// It is left out.
    pub(super) out: Vec<bool>,
    /// What holds where it is used holds.
    pub(super) used: Vec<bool>,
}

/// Where a bound went.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Form {
    /// Into the lower end of a share's range.
    Low(usize, Q),
    /// Into the upper end.
    High(usize, Q),
    /// Into a row; where it has a margin, its tangents are further rows.
    Row(usize),
}

/// A programme, ready to be solved at any pattern.
#[derive(Clone, Debug)]
pub(super) struct Question<'a> {
    pub(super) programme: &'a Programme,
    pub(super) costs: Vec<Q>,
    /// Of each bound.
    pub(super) forms: Vec<Form>,
    /// The total, then the bounds that are rows, then the tangents.
    pub(super) rows: Vec<Row>,
    /// Which bound each row is of; none of the total.
    pub(super) row_bounds: Vec<Option<usize>>,
    pub(super) cones: Vec<Cone>,
    /// Of the last rows, in their order.
    pub(super) tangents: Vec<Tangent>,
    /// What every row asks for where its bound does not hold.
    idle: Vec<Q>,
}

impl<'a> Question<'a> {
    pub(super) fn of(programme: &'a Programme) -> Question<'a> {
        let mut question = Question {
            programme,
            costs: programme
                .shares
                .iter()
                .map(|share| share.cost.clone())
                .collect(),
            forms: Vec::new(),
            rows: Vec::new(),
            row_bounds: Vec::new(),
            cones: Vec::new(),
            tangents: Vec::new(),
            idle: Vec::new(),
        };
        let total = Row {
            weights: vec![Q::ONE; programme.shares.len()],
            at_least: programme.total.clone(),
            is_equal: true,
        };
        question.add_row(total, None);
        for (rank, bound) in programme.bounds.iter().enumerate() {
            let form = question.form_of(rank, bound);
            question.forms.push(form);
        }
        question
    }

    fn form_of(&mut self, rank: usize, bound: &Bound) -> Form {
        let row = row_of(bound);
        if let Some(form) = single(bound, &row) {
            return form;
        }
        if let Some(reliance) = bound.reliance.clone().filter(Q::is_positive) {
            let (variances, constant_variance) = scatter_of(bound);
            if !constant_variance.is_zero() || variances.iter().any(|variance| !variance.is_zero())
            {
                self.cones.push(Cone {
                    bound: rank,
                    margin: row.clone(),
                    reliance,
                    variances,
                    constant_variance,
                });
            }
        }
        self.add_row(row, Some(rank));
        Form::Row(self.rows.len() - 1)
    }

    fn add_row(&mut self, row: Row, bound: Option<usize>) {
        let least = row
            .weights
            .iter()
            .filter(|weight| weight.is_negative())
            .min();
        // The shares make the total together: that much of the least weight is the least of all.
        let least = least.map_or(Q::ZERO, |weight| weight * &self.programme.total);
        self.idle.push(Ord::min(least, row.at_least.clone()));
        self.rows.push(row);
        self.row_bounds.push(bound);
    }

    /// A row more: so much at least, whatever is used. Tangents come last, so there may be none yet.
    pub(super) fn add_floor(&mut self, weights: Vec<Q>, at_least: Q) {
        let row = Row {
            weights,
            at_least,
            is_equal: false,
        };
        self.add_row(row, None);
    }

    /// Further shares that are at least as far from zero as those written now are from them, either way round.
    pub(super) fn add_distances(&mut self, now: &[Option<Q>]) {
        let count = self.costs.len();
        let nearest = |now: &Q| now.clone().max(Q::ZERO).min(self.programme.total.clone());
        let written: Vec<(usize, Q)> = now
            .iter()
            .enumerate()
            .filter_map(|(rank, now)| Some((rank, nearest(now.as_ref()?))))
            .collect();
        self.costs.resize(count + written.len(), Q::ZERO);
        for row in &mut self.rows {
            row.weights.resize(count + written.len(), Q::ZERO);
        }
        for (place, (rank, now)) in written.iter().enumerate() {
            for sign in [Q::ONE, Q::int(-1)] {
                let mut weights = vec![Q::ZERO; count + written.len()];
                weights[count + place] = Q::ONE;
                weights[*rank] = sign.clone();
                self.add_floor(weights, sign * now);
            }
        }
    }

    pub(super) fn add_tangent(&mut self, tangent: Tangent) {
        let Some(cone) = self.cones.get(tangent.cone) else {
            return;
        };
        let row = cone.row(&tangent, &cone.reliance);
        let bound = cone.bound;
        self.add_row(row, Some(bound));
        self.tangents.push(tangent);
    }

    /// Only with the tangents that a basis stands at, and the basis without the others.
    pub(super) fn lean(&self, basis: &Basis) -> (Question<'a>, Basis) {
        let mut lean = self.clone();
        let mut places = basis.places.clone();
        let first = self.rows.len() - self.tangents.len();
        for rank in (0..self.tangents.len()).rev() {
            let place = self.costs.len() + first + rank;
            if places.get(place).is_none_or(|place| *place == Place::Basic) {
                lean.tangents.remove(rank);
                lean.rows.remove(first + rank);
                lean.row_bounds.remove(first + rank);
                lean.idle.remove(first + rank);
                if place < places.len() {
                    places.remove(place);
                }
            }
        }
        (lean, Basis { places })
    }

    /// Whether there are patterns to choose from.
    pub(super) fn is_mixed(&self) -> bool {
        let programme = self.programme;
        programme.shares.iter().any(|share| share.or_none) || !programme.exclusions.is_empty()
    }

    /// Nothing decided.
    pub(super) fn open_pattern(&self) -> Pattern {
        let mut pattern = Pattern {
            out: vec![false; self.costs.len()],
            used: vec![false; self.costs.len()],
        };
        // What is fixed holds the other side already: the one is left out.
        for exclusion in &self.programme.exclusions {
            if exclusion.other.is_empty() {
                leave_out(&mut pattern, &exclusion.one);
            }
        }
        pattern
    }

    /// The pattern of a choice: what is zero is left out, where it may be or must.
    pub(super) fn pattern_of(&self, shares: &[Q]) -> Pattern {
        let mut pattern = self.open_pattern();
        for (rank, share) in self.programme.shares.iter().enumerate() {
            if share.or_none {
                pattern.used[rank] = shares[rank].is_positive();
                pattern.out[rank] |= !shares[rank].is_positive();
            }
        }
        for exclusion in &self.programme.exclusions {
            let is_zero = |side: &[usize]| {
                side.iter()
                    .all(|rank| shares.get(*rank).is_none_or(Q::is_zero))
            };
            if is_zero(&exclusion.other) {
                leave_out(&mut pattern, &exclusion.other);
            } else {
                leave_out(&mut pattern, &exclusion.one);
            }
        }
        pattern
    }

    /// Whether a bound holds at a pattern.
    pub(super) fn holds(&self, bound: usize, pattern: &Pattern) -> bool {
        let if_used = self.programme.bounds[bound].if_used;
        if_used.is_none_or(|share| pattern.used.get(share).copied().unwrap_or(true))
    }

    /// From where to where each share may go. A range of its own, while it is not decided, reaches down to zero.
    pub(super) fn ranges(&self, pattern: &Pattern) -> Vec<(Q, Q)> {
        let mut ranges = vec![(Q::ZERO, self.programme.total.clone()); self.costs.len()];
        for (rank, form) in self.forms.iter().enumerate() {
            let holds = self.holds(rank, pattern);
            match form {
                Form::Low(share, end) if holds => raise(&mut ranges[*share].0, end),
                Form::High(share, end) if holds => lower(&mut ranges[*share].1, end),
                Form::High(share, end) if self.programme.bounds[rank].if_used == Some(*share) => {
                    lower(&mut ranges[*share].1, &end.clone().max(Q::ZERO));
                }
                _ => {}
            }
        }
        for (range, is_out) in ranges.iter_mut().zip(&pattern.out) {
            if *is_out {
                lower(&mut range.1, &Q::ZERO);
            }
        }
        ranges
    }

    /// What each row asks for.
    pub(super) fn at_least(&self, pattern: &Pattern) -> Vec<Q> {
        let rows = self.rows.iter().zip(&self.row_bounds).zip(&self.idle);
        rows.map(|((row, bound), idle)| {
            let holds = bound.is_none_or(|bound| self.holds(bound, pattern));
            if holds {
                row.at_least.clone()
            } else {
                idle.clone()
            }
        })
        .collect()
    }

    /// The whole at a pattern. With `reliance` above one, tangents ask for so much more of a margin.
    pub(super) fn linear(&self, pattern: &Pattern, reliance: &Q) -> Linear {
        let mut rows = self.rows.clone();
        for (row, at_least) in rows.iter_mut().zip(self.at_least(pattern)) {
            row.at_least = at_least;
        }
        let first = rows.len() - self.tangents.len();
        for (row, tangent) in rows[first..].iter_mut().zip(&self.tangents) {
            let cone = &self.cones[tangent.cone];
            if self.holds(cone.bound, pattern) && *reliance != Q::ONE {
                *row = cone.row(tangent, &(&cone.reliance * reliance));
            }
        }
        Linear {
            costs: self.costs.clone(),
            ranges: self.ranges(pattern),
            rows,
        }
    }

    /// How far a bound is missed, against the size of its terms.
    pub(super) fn missing(&self, bound: usize, shares: &[f64]) -> f64 {
        let against = |missing: f64, size: f64| if size > 0.0 { missing / size } else { missing };
        let end = |end: &Q| end.to_f64();
        match &self.forms[bound] {
            Form::Low(share, low) => against(end(low) - shares[*share], end(low).abs()),
            Form::High(share, high) => against(shares[*share] - end(high), end(high).abs()),
            Form::Row(row) => {
                let row = &self.rows[*row];
                let terms = row
                    .weights
                    .iter()
                    .zip(shares)
                    .map(|(weight, share)| weight.to_f64() * share);
                let (sum, size) = terms
                    .fold((0.0, end(&row.at_least).abs()), |(sum, size), term| {
                        (sum + term, size + f64::abs(term))
                    });
                let cone = self.cones.iter().find(|cone| cone.bound == bound);
                let wanted = cone.map_or(0.0, |cone| cone.reliance.to_f64() * cone.at(shares).0);
                against(end(&row.at_least) + wanted - sum, size)
            }
        }
    }

    /// Whether shares keep all that holds for them, exactly.
    pub(super) fn keeps_all(&self, shares: &[Q]) -> bool {
        let shares = &shares[..self.programme.shares.len()];
        let total: Q = shares.iter().sum();
        let choice = Choice::of(shares);
        let is_used = |share: usize| shares.get(share).is_none_or(Q::is_positive);
        let is_excluded = |side: &[usize]| side.iter().all(|share| !is_used(*share));
        total == self.programme.total
            && shares.iter().all(|share| !share.is_negative())
            && self.programme.bounds.iter().all(|bound| {
                let holds = bound.if_used.is_none_or(is_used);
                !holds || choice.keeps(bound)
            })
            && self.programme.exclusions.iter().all(|exclusion| {
                is_excluded(&exclusion.one)
                    || (!exclusion.other.is_empty() && is_excluded(&exclusion.other))
            })
    }
}

/// The end of a range that a bound on one share alone is; none of any other.
fn single(bound: &Bound, row: &Row) -> Option<Form> {
    let mut weights = row
        .weights
        .iter()
        .enumerate()
        .filter(|(_, weight)| !weight.is_zero());
    let (share, weight) = weights.next()?;
    let is_alone = weights.next().is_none() && bound.if_used.is_none_or(|used| used == share);
    let scatters = bound.reliance.is_some() && {
        let (variances, constant) = scatter_of(bound);
        !constant.is_zero() || variances.iter().any(|variance| !variance.is_zero())
    };
    if !is_alone || scatters {
        return None;
    }
    let end = &row.at_least / weight;
    Some(if weight.is_positive() {
        Form::Low(share, end)
    } else {
        Form::High(share, end)
    })
}

fn leave_out(pattern: &mut Pattern, side: &[usize]) {
    for share in side {
        if let Some(out) = pattern.out.get_mut(*share) {
            *out = true;
        }
    }
}

fn raise(end: &mut Q, to: &Q) {
    if *end < *to {
        *end = to.clone();
    }
}

fn lower(end: &mut Q, to: &Q) {
    if *end > *to {
        *end = to.clone();
    }
}
