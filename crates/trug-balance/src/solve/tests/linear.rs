//! Linear programmes: known answers, and microlp on hundreds of blends.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use trug_model::Q;

use super::blends::blend;
use crate::solve::linear::{Linear, Row, Solved, is_proved, proves_empty, solve};
use crate::solve::watch::Watch;

fn solved(linear: &Linear) -> Solved {
    solve(linear, None, &Watch::usual(&|| false))
}

/// The cost that microlp finds; none where it finds nothing.
pub(super) fn by_microlp(linear: &Linear) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let costs = linear.costs.iter().zip(&linear.ranges);
    let shares: Vec<_> = costs
        .map(|(cost, (low, high))| problem.add_var(cost.to_f64(), (low.to_f64(), high.to_f64())))
        .collect();
    for row in &linear.rows {
        let terms: Vec<_> = shares
            .iter()
            .copied()
            .zip(row.weights.iter().map(Q::to_f64))
            .collect();
        let side = if row.is_equal {
            ComparisonOp::Eq
        } else {
            ComparisonOp::Ge
        };
        problem.add_constraint(terms, side, row.at_least.to_f64());
    }
    match problem.solve() {
        Ok(SolveOutcome::Solution(solution)) => Some(solution.objective()),
        _ => None,
    }
}

fn row(weights: &[i64], at_least: i64) -> Row {
    Row {
        weights: weights.iter().map(|weight| Q::int(*weight)).collect(),
        at_least: Q::int(at_least),
        is_equal: false,
    }
}

#[test]
fn blends_cost_what_another_solver_says() {
    let (mut vertices, mut empties) = (0, 0);
    for seed in 0..500 {
        let linear = blend(seed, 3 + (seed as usize % 11), 1 + (seed as usize % 9));
        let other = by_microlp(&linear);
        match solved(&linear) {
            Solved::Vertex(vertex) => {
                assert!(is_proved(&linear, &vertex), "seed {seed}");
                let cost = vertex.cost.to_f64();
                assert!(
                    (cost - other.unwrap()).abs() <= 1e-9 * cost.abs(),
                    "seed {seed}: {cost} {other:?}"
                );
                vertices += 1;
            }
            Solved::Empty(multipliers) => {
                assert!(proves_empty(&linear, &multipliers), "seed {seed}");
                assert_eq!(other, None, "seed {seed}");
                empties += 1;
            }
            Solved::Unsolved => panic!("seed {seed}"),
        }
    }
    assert!(vertices > 100 && empties > 20, "{vertices} {empties}");
}

#[test]
fn cycling_ends() {
    // Beale's example, on which the plain simplex method goes round for ever (Dantzig 1963), scaled to whole numbers.
    let mut linear = Linear {
        costs: vec![Q::ratio(-3, 4), Q::int(20), Q::ratio(-1, 2), Q::int(6)],
        ranges: vec![(Q::ZERO, Q::int(1000)); 4],
        rows: vec![
            row(&[-1, 32, 4, -36], 0),
            row(&[-1, 24, 1, -6], 0),
            row(&[0, 0, -1, 0], -1),
        ],
    };
    linear.rows[0].weights[0] = Q::int(-1);
    let Solved::Vertex(vertex) = solved(&linear) else {
        panic!("there is a cheapest vertex")
    };
    assert!(is_proved(&linear, &vertex));
    let other = by_microlp(&linear).unwrap();
    assert!(
        (vertex.cost.to_f64() - other).abs() < 1e-9,
        "{:?} {other}",
        vertex.cost
    );
}

#[test]
fn nothing_to_choose_and_nothing_asked() {
    let none = Linear {
        costs: Vec::new(),
        ranges: Vec::new(),
        rows: Vec::new(),
    };
    assert!(matches!(solved(&none), Solved::Vertex(vertex) if vertex.cost.is_zero()));
    let asked = Linear {
        rows: vec![row(&[], 1)],
        ..none
    };
    assert!(
        matches!(solved(&asked), Solved::Empty(multipliers) if proves_empty(&asked, &multipliers))
    );
}

#[test]
fn one_equation_said_twice() {
    let mut twice = row(&[1, 1], 1);
    twice.is_equal = true;
    let linear = Linear {
        costs: vec![Q::int(2), Q::int(3)],
        ranges: vec![(Q::ZERO, Q::ONE); 2],
        rows: vec![twice.clone(), twice, row(&[0, 2], 1)],
    };
    let Solved::Vertex(vertex) = solved(&linear) else {
        panic!("half of each")
    };
    assert!(is_proved(&linear, &vertex));
    assert_eq!(vertex.shares, [Q::ratio(1, 2), Q::ratio(1, 2)]);
    assert_eq!(vertex.row_prices[2], Q::ratio(1, 2));
}

#[test]
fn a_range_that_is_none() {
    let linear = Linear {
        costs: vec![Q::ONE],
        ranges: vec![(Q::ONE, Q::ZERO)],
        rows: vec![row(&[1], 0)],
    };
    assert!(
        matches!(solved(&linear), Solved::Empty(multipliers) if proves_empty(&linear, &multipliers))
    );
}

#[test]
fn work_ends_where_it_must() {
    let linear = blend(1, 12, 8);
    let cancelled = Watch::usual(&|| true);
    assert_eq!(solve(&linear, None, &cancelled), Solved::Unsolved);
    assert_eq!(cancelled.stopped(), Some(crate::Stopped::Cancelled));
    let spent = Watch::new(1, 1, &|| false);
    assert_eq!(solve(&linear, None, &spent), Solved::Unsolved);
    assert_eq!(spent.stopped(), Some(crate::Stopped::Spent));
}
