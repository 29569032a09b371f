//! Whether planned steps mix more evenly than throwing all in at once: particles, handfuls, shovelfuls and chance.
//!
//! `examples/EVENNESS.md` tells what comes of it, with a picture; `TRUG_UPDATE=1` writes both anew.

mod chance;
mod farm;
mod figures;
mod heap;
mod picture;
mod work;

use chance::Chance;
use figures::Figures;
use heap::{Hand, Heap};
use trug_tests::repository;

const PAGE: &str = "examples/EVENNESS.md";
const PICTURE: &str = "examples/evenness.svg";

/// The best hand there is: half of what meets changes places, anywhere in the heap.
const PERFECT: Hand = Hand {
    exchange: 0.5,
    reach: 0.5,
};

/// A heap of so many cells whose first ones hold all particles, as many each.
fn unmixed(cells: usize, first: usize, each: u64) -> Heap {
    let held = Heap::weighed(first as f64, each * first as u64);
    let rest = Heap::weighed((cells - first) as f64, 0);
    Heap::in_a_row(&[held, rest], cells, &mut Chance::new(1))
}

/// C06 of the published checks (Zinn, A Guide to Feed Mixing): samples of n particles vary by 100/√n % however well they are mixed.
#[test]
fn a_perfect_mixer_comes_to_the_random_mix_and_no_further() {
    for (particles, published) in [
        (100, 10.0),
        (400, 5.0),
        (1_000, 3.162_277_66),
        (10_000, 1.0),
    ] {
        let mut heap = unmixed(2_000, 1, particles * 2_000);
        heap.shovel(600, PERFECT, &mut Chance::new(particles));
        let cv = work::cv(heap.unevenness());
        // A CV of 2,000 samples has itself a standard deviation of 1.6 % of it.
        assert!(
            (cv / published - 1.0).abs() < 0.05,
            "{particles}: {cv} beside {published}"
        );
    }
}

/// Lacey, Developments in the theory of particle mixing, Journal of Applied Chemistry 4 (1954), from memory: unmixed the
/// variance of a share p is p(1 − p), and mixed at random, in samples of n particles, p(1 − p)/n.
#[test]
fn unmixed_and_mixed_are_the_two_ends_that_lacey_gives() {
    let share = 0.02;
    let in_sample = 20_000.0;
    let mut heap = unmixed(2_000, 40, 20_000);
    let variance = |heap: &Heap| heap.unevenness() * share * share;
    assert!((variance(&heap) / (share * (1.0 - share)) - 1.0).abs() < 1e-3);
    heap.shovel(600, PERFECT, &mut Chance::new(4));
    let least = share * (1.0 - share) / in_sample;
    assert!(
        (variance(&heap) / least - 1.0).abs() < 0.1,
        "{}",
        variance(&heap) / least
    );
}

/// Two that meet and change places by a part f keep (1 − f)² + f² of the variance; a cell meets another by chance, twice a turn in
/// the mean, so that what is left fades as e to the power of −2(1 − kept) a turn: mixing of the first order, as of batch mixers.
#[test]
fn what_is_uneven_fades_by_the_same_part_each_turn() {
    for exchange in [0.1, 1.0 / 3.0, 0.5] {
        let kept: f64 = (1.0_f64 - exchange).powi(2) + exchange * exchange;
        let hand = Hand {
            exchange,
            reach: 0.5,
        };
        let mut fades = 0.0;
        for seed in 0..40 {
            // Half of the heap holds all of it. A shovelful is a tenth of the heap: thirty are three turns.
            let mut heap = unmixed(1_000, 500, 1_000_000);
            let before = heap.unevenness();
            heap.shovel(30, hand, &mut Chance::new(seed));
            fades += libm::log(heap.unevenness() / before) / 40.0;
        }
        let expected = -6.0 * (1.0 - kept);
        assert!(
            (fades / expected - 1.0).abs() < 0.1,
            "{exchange}: {fades} beside {expected}"
        );
    }
}

#[test]
fn particles_are_neither_lost_nor_made() {
    let plan = farm::work(farm::COMMON);
    let once = plan.mixed(&farm::SELENIUM, &work::Turns::each(2.0), PERFECT, 3);
    // 0.2 g/kg of 240 kg.
    let expected = (48.0 / farm::SELENIUM.particle_g).round() as u64;
    assert_eq!(once.particles(), expected);
    assert_eq!(plan.at_once().steps.len(), 1);
}

#[test]
fn the_page_says_what_the_mixing_gives() {
    let figures = Figures::found();
    figures.hold();
    let page = figures.put_into(&repository::read(PAGE));
    let picture = figures.picture();
    if std::env::var_os("TRUG_UPDATE").is_some() {
        std::fs::write(repository::root().join(PAGE), &page).unwrap();
        std::fs::write(repository::root().join(PICTURE), &picture).unwrap();
    }
    assert_eq!(repository::read(PAGE), page, "TRUG_UPDATE=1 writes it anew");
    assert!(
        repository::read(PICTURE) == picture,
        "TRUG_UPDATE=1 draws it anew"
    );
}
