//! How even a mix can be at best: particles of a product in one animal's daily portion.
//!
//! The only place beside the assay where numbers are floating point: this is statistics, nothing is weighed by it.

use std::f64::consts::PI;

use trug_findings::Finding;
use trug_model::Q;

use crate::amounts::Case;
use crate::draft::Draft;
use crate::findings::mix;
use crate::order::Particle;
use crate::plan::Class;

/// Particles in a gram of uniform spheres: N = 6 / (π ρ d³).
#[must_use]
pub fn particles_per_gram(particle: Particle) -> f64 {
    let centimetres = particle.millimetres / 10.0;
    6.0 / (PI * particle.g_per_millilitre * centimetres.powi(3))
}

/// The coefficient of variation of a random mix, in percent, with so many particles in a sample: 100 / √n.
///
/// R. A. Zinn, *A Guide to Feed Mixing*, UC Davis.
#[must_use]
pub fn random_limit(particles: f64) -> f64 {
    100.0 / particles.sqrt()
}

/// The evenness to expect of one ingredient in one animal's daily portion.
#[derive(Clone, Copy, Debug)]
pub struct Expected {
    /// Particles of the product in the portion.
    pub particles: f64,
    /// The coefficient of variation that a random mix has, in percent.
    pub cv_percent: f64,
}

/// What to expect of `mass` of a product in `total` of feed, fed `portion` a day; none where nothing can be told.
#[must_use]
pub fn expected(particle: Particle, mass: &Q, total: &Q, portion: &Q) -> Option<Expected> {
    let per_portion = (mass * portion).over(total)?.to_f64();
    let particles = per_portion * particles_per_gram(particle);
    let is_known = particles.is_finite() && particles > 0.0;
    is_known.then(|| Expected {
        particles,
        cv_percent: random_limit(particles),
    })
}

/// Small ingredients that no mixing can spread as evenly as is wanted.
pub(crate) fn judge(case: &Case, draft: &Draft) -> Vec<Finding> {
    let (Some(portion), Some(wanted)) = (&case.order.portion_g, &case.order.method.even) else {
        return Vec::new();
    };
    let wanted = wanted.to_f64() * 100.0;
    let total = draft.total();
    case.of_class(Class::Small)
        .into_iter()
        .filter_map(|rank| {
            let particle = case.ingredient(rank).particle?;
            let found = expected(particle, &draft.mass_of(rank), &total, portion)?;
            let is_too_coarse = wanted > 0.0 && found.cv_percent > wanted;
            is_too_coarse.then(|| mix::evenness(case, rank, particle, found, wanted))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(left: f64, right: f64) {
        assert!((left - right).abs() <= 1e-9 * right.abs(), "{left} {right}");
    }

    /// C06: R. A. Zinn, A Guide to Feed Mixing, UC Davis; 400 particles for 5 % is the published anchor, the others are computed from it.
    #[test]
    fn random_mix_limit() {
        for (particles, percent) in [
            (100.0, 10.0),
            (400.0, 5.0),
            (1000.0, 3.162_277_660_168_379_5),
            (10_000.0, 1.0),
        ] {
            close(random_limit(particles), percent);
        }
    }

    /// C06b: geometry of uniform spheres (computed).
    #[test]
    fn particles_in_a_gram() {
        for (micrometres, density, particles) in [
            (100.0, 1.0, 1_909_859.317_102_743_8),
            (250.0, 1.5, 81_487.330_863_050_4),
            (500.0, 1.3, 11_752.980_412_939_96),
            (850.0, 1.3, 2_392.220_723_171_170_4),
        ] {
            let particle = Particle {
                millimetres: micrometres / 1000.0,
                g_per_millilitre: density,
            };
            close(particles_per_gram(particle), particles);
        }
    }
}
