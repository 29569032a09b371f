//! A ration balanced with a certainty keeps its targets that often, when analyses scatter as they say.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]

use trug_balance::{Outcome, Watch, balance_ration};
use trug_model::prices::Prices;
use trug_model::{Farm, InMemory, Settings};

const MASH: &str = "\
animal duck
nutrient protein in share
nutrient calcium in share
ingredient maize
  protein        8 ± 0.5 %
  calcium        0.03 ± 0.01 %
  price          80 LKR/kg
ingredient soya-meal
  protein        44 ± 1.5 %
  calcium        0.30 ± 0.05 %
  price          200 LKR/kg
ingredient shell
  protein        0 %
  calcium        36 ± 1.2 %
  price          120 LKR/kg
targets growth for duck
  protein        at least 16 %
  calcium        at least 3 %
ration mash
  for            duck
  meets          growth
  certainty      90 %
  maize          40 .. 80 %
  soya-meal      0 .. 40 %
  shell          0 .. 20 %
";

/// Mean and standard deviation of protein and calcium, in the order of the ration's lines, in percent.
const ANALYSES: [[(f64, f64); 2]; 3] = [
    [(8.0, 0.5), (0.03, 0.01)],
    [(44.0, 1.5), (0.30, 0.05)],
    [(0.0, 0.0), (36.0, 1.2)],
];
const LEAST: [f64; 2] = [16.0, 3.0];
const DRAWS: u32 = 40_000;
/// Three standard deviations of nine tenths among so many draws, sqrt(0.09 / 40000) = 0.0015 each, and what the rounding of the
/// amounts may add.
const TOLERANCE: f64 = 0.0065;

/// Normal numbers from a seed (Box and Muller 1958, over a linear congruence with Knuth's constants).
struct Normal(u64);

impl Normal {
    fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn draw(&mut self) -> f64 {
        let (radius, turn) = (self.even(), self.even());
        (-2.0 * radius.ln()).sqrt() * (std::f64::consts::TAU * turn).cos()
    }
}

fn shares() -> Vec<f64> {
    let texts = InMemory::new([("mash.trug", MASH)]);
    let farm = Farm::read(&["mash.trug".to_owned()], &texts, Settings::default());
    let view = farm.open(farm.asked()[0]);
    let ration = view.made_out("mash").unwrap();
    let watch = Watch::usual(&|| false);
    let balance = balance_ration(&view, &ration, &Prices::default(), &watch).unwrap();
    let Outcome::Balanced(balanced) = balance.outcome else {
        return Vec::new();
    };
    let amounts = balanced.amounts.iter();
    amounts.map(|amount| amount.share.to_f64()).collect()
}

#[test]
fn targets_hold_as_often_as_was_asked_for() {
    let shares = shares();
    assert_eq!(shares.len(), ANALYSES.len(), "{shares:?}");
    let mut normal = Normal(20_261_125);
    let mut kept = [0_u32; 2];
    for _ in 0..DRAWS {
        let mut contents = [0.0; 2];
        for (share, analyses) in shares.iter().zip(ANALYSES) {
            for (content, (mean, deviation)) in contents.iter_mut().zip(analyses) {
                *content += share * (mean + deviation * normal.draw());
            }
        }
        for ((kept, content), least) in kept.iter_mut().zip(contents).zip(LEAST) {
            *kept += u32::from(content >= least);
        }
    }
    // Both targets bind, so that neither is kept more often than was asked for.
    for kept in kept {
        let often = f64::from(kept) / f64::from(DRAWS);
        assert!((often - 0.9).abs() < TOLERANCE, "{often}");
    }
}
