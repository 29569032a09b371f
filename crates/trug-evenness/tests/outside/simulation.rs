//! Verdicts against batches whose true evenness is known: wrong in at most 5 % of cases, and a little for chance.

use trug_evenness::spread::Spread;
use trug_evenness::statistics::Summary;
use trug_evenness::verdict::{Verdict, enough, reach};
use trug_model::Q;

/// Batches of each kind.
const BATCHES: u32 = 4_000;
/// 5 %, and three standard deviations of a count of 4,000 at 5 %.
const MOST_WRONG: f64 = 0.05 + 3.0 * 0.003_45;

/// A generator of random numbers with a seed (SplitMix64 of Steele, Lea and Flood, 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Between 0 and 1, never 0.
    fn share(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// Normal, with mean 0 and standard deviation 1 (Box and Muller).
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(self.share())).sqrt();
        radius * libm::cos(2.0 * std::f64::consts::PI * self.share())
    }
}

/// How often each verdict is given: even, uneven, undecided.
fn verdicts(samples: usize, cv: f64, assay: f64, wanted: f64, seed: u64) -> [f64; 3] {
    let mut chance = Chance(seed);
    let mut counts = [0_u32; 3];
    for _ in 0..BATCHES {
        let mut one = || {
            let batch = 1_000_000.0 * (1.0 + cv / 100.0 * chance.normal());
            let found = batch + 10_000.0 * assay * chance.normal();
            Q::int(found.round().max(0.0) as i64)
        };
        let found: Vec<Q> = (0..samples).map(|_| one()).collect();
        let own = Q::int((10_000.0 * assay).round() as i64);
        let spread = Spread::of(&Summary::of(&found).unwrap(), Some(&own)).unwrap();
        let rank = match Verdict::of(&spread, wanted) {
            Verdict::Even => 0,
            Verdict::Uneven => 1,
            Verdict::Undecided => 2,
        };
        counts[rank] += 1;
    }
    counts.map(|count| f64::from(count) / f64::from(BATCHES))
}

#[test]
fn a_batch_just_as_even_as_wanted_is_rarely_judged() {
    for (rank, samples) in [3, 6, 10, 20, 40].into_iter().enumerate() {
        for (step, assay) in [0.0, 3.0, 10.0].into_iter().enumerate() {
            // Just uneven enough that `even` is wrong, and just even enough that `uneven` is.
            let seed = 2026 + 100 * rank as u64 + step as u64;
            let [even, uneven, _] = verdicts(samples, 10.0, assay, 10.0, seed);
            assert!(even <= MOST_WRONG, "{samples} {assay}: even {even}");
            assert!(uneven <= MOST_WRONG, "{samples} {assay}: uneven {uneven}");
        }
    }
}

#[test]
fn a_worse_batch_is_called_even_more_rarely_and_a_better_one_uneven() {
    for (cv, wrong) in [(12.0, 0), (20.0, 0), (8.0, 1), (5.0, 1)] {
        let found = verdicts(10, cv, 2.0, 10.0, 7);
        assert!(found[wrong] <= 0.05, "{cv}: {found:?}");
    }
}

#[test]
fn what_is_plain_is_told() {
    let [even, ..] = verdicts(10, 4.0, 0.0, 10.0, 11);
    assert!(even > 0.9, "{even}");
    let [_, uneven, _] = verdicts(10, 25.0, 0.0, 10.0, 13);
    assert!(uneven > 0.9, "{uneven}");
}

/// To take the assay's share away before the limits are reckoned would pass uneven batches.
#[test]
fn a_poor_assay_does_not_make_an_even_mix() {
    let [even, ..] = verdicts(6, 12.0, 20.0, 10.0, 17);
    assert!(even <= 0.05, "{even}");
}

#[test]
fn more_samples_tell_more() {
    let mut before = (0.0, f64::INFINITY);
    for samples in [2, 3, 5, 10, 30, 100, 1000] {
        let reach = reach(samples, 10.0).unwrap();
        assert!(before.0 < reach.even_up_to && reach.uneven_above < before.1);
        assert!(reach.even_up_to < 10.0 && 10.0 < reach.uneven_above);
        before = (reach.even_up_to, reach.uneven_above);
    }
    assert_eq!(reach(1, 10.0), None);
}

#[test]
fn the_samples_that_are_enough_are_the_fewest() {
    let spread = |cv: f64| Spread {
        cv,
        low: 0.0,
        high: 0.0,
        least: 0.0,
        limit: 0.0,
    };
    for cv in [4.0, 7.0, 9.0, 11.5, 16.0] {
        let samples = enough(&spread(cv), 0.0, 10.0).unwrap();
        let tells = |samples: usize| {
            let reach = reach(samples, 10.0).unwrap();
            cv <= reach.even_up_to || reach.uneven_above < cv
        };
        assert!(tells(samples), "{cv}: {samples}");
        assert!(samples == 2 || !tells(samples - 1), "{cv}: {samples}");
    }
    assert_eq!(enough(&spread(9.99), 0.0, 10.0), None);
}
