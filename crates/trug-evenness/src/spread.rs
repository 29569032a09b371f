//! How much samples differ, in percent of what they hold, and between which limits that lies.
//!
//! The assay differs from itself too. What was measured is both, and variances add: the share of the assay is taken away
//! from the variance measured and from each of its limits, and what is below nothing is nothing. To take it away first and
//! to reckon limits of the rest would make a poor assay look like an even mix.

use trug_model::Q;

use crate::chi_square::quantile;
use crate::statistics::{Summary, freedom};

/// How sure the one-sided limits are; the interval leaves half of the rest to either side.
pub const CONFIDENCE: f64 = 0.95;

/// Coefficients of variation in percent, the assay's own share taken away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// As estimated.
    pub cv: f64,
    /// The lower end of the interval that holds it with 95 % confidence.
    pub low: f64,
    /// The upper end of that interval.
    pub high: f64,
    /// It is above this with 95 % confidence.
    pub least: f64,
    /// It is at most this with 95 % confidence.
    pub limit: f64,
}

impl Spread {
    /// Of samples measured with an assay of this standard deviation; none where the mean is not above zero.
    #[must_use]
    pub fn of(summary: &Summary, assay: Option<&Q>) -> Option<Spread> {
        if !summary.mean.is_positive() {
            return None;
        }
        // In squares of the mean, where even huge numbers and tiny ones can be taken apart.
        let squared_mean = &summary.mean * &summary.mean;
        let measured = summary.variance.over(&squared_mean)?;
        let own = assay.map_or(Q::ZERO, |assay| assay * assay);
        let own = own.over(&squared_mean)?;
        let cv = percent((&measured - &own).to_f64());
        let (measured, own) = (measured.to_f64(), own.to_f64());
        let samples = summary.samples;
        let at = |probability| Some(percent(measured * factor(probability, samples)? - own));
        let tail = 1.0 - CONFIDENCE;
        let spread = Spread {
            cv,
            low: at(1.0 - tail / 2.0)?,
            high: at(tail / 2.0)?,
            least: at(CONFIDENCE)?,
            limit: at(tail)?,
        };
        let all = [spread.cv, spread.high, spread.limit];
        all.iter().all(|one| one.is_finite()).then_some(spread)
    }
}

/// By how much the variance of so many samples is multiplied to get the limit that belongs to a part of chi-square.
pub(crate) fn factor(probability: f64, samples: usize) -> Option<f64> {
    let freedom = freedom(samples);
    Some(freedom / quantile(probability, freedom)?)
}

/// The limits of a standard deviation at this confidence, two-sided.
#[must_use]
pub fn limits_of_sd(sd: f64, samples: usize, confidence: f64) -> Option<(f64, f64)> {
    let tail = (1.0 - confidence) / 2.0;
    let low = factor(1.0 - tail, samples)?;
    let high = factor(tail, samples)?;
    Some((sd * low.sqrt(), sd * high.sqrt()))
}

/// A squared coefficient of variation in percent; nothing where it is below nothing.
fn percent(squared: f64) -> f64 {
    squared.max(0.0).sqrt() * 100.0
}
