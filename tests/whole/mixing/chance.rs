//! Random numbers with a seed, the same on every machine.

/// SplitMix64 of Steele, Lea and Flood (2014).
pub(super) struct Chance(u64);

/// Up to so many particles each is asked for itself; of more, the count is drawn from the normal distribution near to the
/// binomial one.
const ONE_BY_ONE: u64 = 40;

impl Chance {
    pub(super) fn new(seed: u64) -> Chance {
        Chance(seed)
    }

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

    /// Below `end`.
    pub(super) fn below(&mut self, end: usize) -> usize {
        // Multiplied, not divided: the bias is below one in 2^40 for the ends asked for here.
        ((u128::from(self.next()) * end as u128) >> 64) as usize
    }

    /// Normal, with mean 0 and standard deviation 1 (Box and Muller).
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(self.share())).sqrt();
        radius * libm::cos(2.0 * std::f64::consts::PI * self.share())
    }

    /// How many of so many particles go, where each goes with this probability.
    pub(super) fn of(&mut self, particles: u64, probability: f64) -> u64 {
        if probability >= 1.0 {
            return particles;
        }
        if particles <= ONE_BY_ONE {
            return (0..particles)
                .map(|_| u64::from(self.share() < probability))
                .sum();
        }
        let mean = particles as f64 * probability;
        let deviation = (mean * (1.0 - probability)).sqrt();
        let drawn = (mean + deviation * self.normal()).round();
        drawn.clamp(0.0, particles as f64) as u64
    }
}
