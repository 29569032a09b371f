//! Of equally cheap choices: the nearest to what is written now, then the one with the larger earlier shares.

use trug_model::Q;

use super::linear::{Basis, Linear, Place, Row, Solved, Vertex, solve};
use super::watch::Watch;

/// One choice out of all that are as cheap as `vertex`; none where the watch ran out.
pub(super) fn chosen(
    linear: &Linear,
    vertex: &Vertex,
    now: &[Option<Q>],
    watch: &Watch,
) -> Option<Vec<Q>> {
    let count = linear.costs.len();
    if is_only(linear, vertex) {
        return Some(vertex.shares.clone());
    }
    let mut face = face(linear, vertex);
    let mut shares = vertex.shares.clone();
    if now.iter().any(Option::is_some) {
        let with_distances = distances(&face, now);
        let start = Basis::of_slacks(&with_distances);
        let nearest = vertex_of(solve(&with_distances, Some(&start), watch))?;
        shares = nearest.shares[..count].to_vec();
        if is_only(&with_distances, &nearest) {
            return Some(shares);
        }
        face = self::face(&with_distances, &nearest);
    }
    for share in 0..count {
        let (low, high) = &face.ranges[share];
        if low == high {
            continue;
        }
        face.costs = vec![Q::ZERO; face.costs.len()];
        face.costs[share] = Q::int(-1);
        let largest = vertex_of(solve(&face, None, watch))?;
        shares = largest.shares[..count].to_vec();
        if is_only(&face, &largest) {
            break;
        }
        face = self::face(&face, &largest);
        let value = shares[share].clone();
        face.ranges[share] = (value.clone(), value);
    }
    Some(shares)
}

fn vertex_of(solved: Solved) -> Option<Vertex> {
    match solved {
        Solved::Vertex(vertex) => Some(vertex),
        Solved::Empty(_) | Solved::Unsolved => None,
    }
}

/// Whether no other choice is as cheap: every share or slack that could move from its end would cost.
pub(super) fn is_only(linear: &Linear, vertex: &Vertex) -> bool {
    let count = linear.costs.len();
    let places = vertex.basis.places.iter().enumerate();
    places
        .filter(|(_, place)| **place != Place::Basic)
        .all(|(rank, _)| match rank.checked_sub(count) {
            None => !vertex.rates[rank].is_zero() || linear.ranges[rank].0 == linear.ranges[rank].1,
            Some(row) => !vertex.row_prices[row].is_zero() || linear.rows[row].is_equal,
        })
}

/// All choices as cheap as the vertex: what has a price stays (complementary slackness).
fn face(linear: &Linear, vertex: &Vertex) -> Linear {
    let mut face = linear.clone();
    for (rank, range) in face.ranges.iter_mut().enumerate() {
        if !vertex.rates[rank].is_zero() {
            let share = &vertex.shares[rank];
            *range = (share.clone(), share.clone());
        }
    }
    for (row, price) in face.rows.iter_mut().zip(&vertex.row_prices) {
        row.is_equal |= !price.is_zero();
    }
    face
}

/// The least sum of distances to what is written now: a distance is at least the difference, either way round.
fn distances(face: &Linear, now: &[Option<Q>]) -> Linear {
    let count = face.costs.len();
    let written: Vec<(usize, &Q)> = now
        .iter()
        .enumerate()
        .filter_map(|(rank, now)| Some((rank, now.as_ref()?)))
        .collect();
    let mut linear = face.clone();
    linear.costs = vec![Q::ZERO; count];
    for row in &mut linear.rows {
        row.weights.resize(count + written.len(), Q::ZERO);
    }
    for (rank, now) in &written {
        let (low, high) = &face.ranges[*rank];
        let furthest = (low - *now).abs().max((high - *now).abs());
        linear.costs.push(Q::ONE);
        linear.ranges.push((Q::ZERO, furthest));
    }
    for (place, (rank, now)) in written.iter().enumerate() {
        for sign in [Q::ONE, Q::int(-1)] {
            let mut weights = vec![Q::ZERO; count + written.len()];
            weights[count + place] = Q::ONE;
            weights[*rank] = sign.clone();
            linear.rows.push(Row {
                weights,
                at_least: sign * *now,
                is_equal: false,
            });
        }
    }
    linear
}
