//! The least costs of made-up blends against those a general-purpose solver found: HiGHS 1.16, recorded in
//! `benches/recorded/highs.txt` by the script beside it.

#![expect(clippy::unwrap_used, reason = "a test gives up where it must")]

use trug_balance::{Watch, least_cost};

#[path = "../benches/made/blends.rs"]
mod blends;

use blends::{blend, or_none};

const RECORDED: &str = include_str!("../benches/recorded/highs.txt");

/// Costs are recorded in floating point, kept to about nine digits.
const APART: f64 = 1e-9;

#[test]
fn every_cost_is_the_one_recorded() {
    let mut compared = [0, 0];
    for line in RECORDED.lines().filter(|line| !line.starts_with('#')) {
        let words: Vec<&str> = line.split(' ').collect();
        let [kind, seed, recorded] = words[..] else {
            panic!("{line}");
        };
        let programme = blend(seed.parse().unwrap());
        let (programme, count) = match kind {
            "linear" => (programme, &mut compared[0]),
            "ten-or-none" => (or_none(programme, 10), &mut compared[1]),
            other => panic!("{other}"),
        };
        let (cost, bound) = least_cost(&programme, &Watch::usual(&|| false)).unwrap();
        assert_eq!(cost, bound, "{line}");
        let recorded: f64 = recorded.parse().unwrap();
        let off = (cost.to_f64() - recorded).abs() / recorded;
        assert!(off < APART, "{line}: {cost}, {off:e} off");
        *count += 1;
    }
    assert_eq!(compared, [100, 20]);
}
