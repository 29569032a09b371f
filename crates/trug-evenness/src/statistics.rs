//! Mean and standard deviation of what a laboratory wrote down.

use trug_model::Q;

/// The sums are exact, so that nothing cancels where samples are nearly alike; only the last step rounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// How many.
    pub samples: usize,
    /// Their mean.
    pub mean: Q,
    /// The square of their standard deviation, with n − 1.
    pub variance: Q,
}

impl Summary {
    /// Of two samples or more; none of fewer.
    #[must_use]
    pub fn of(samples: &[Q]) -> Option<Summary> {
        let count = i64::try_from(samples.len()).ok()?;
        let freedom = Q::int(count - 1);
        if count < 2 {
            return None;
        }
        let sum: Q = samples.iter().sum();
        let squares: Q = samples.iter().map(|sample| sample * sample).sum();
        let mean = &sum / &Q::int(count);
        let variance = (squares - &sum * &mean) / freedom;
        Some(Summary {
            samples: samples.len(),
            mean,
            variance,
        })
    }

    /// One less than there are samples.
    #[must_use]
    pub fn freedom(&self) -> f64 {
        freedom(self.samples)
    }

    /// The standard deviation.
    #[must_use]
    pub fn sd(&self) -> f64 {
        self.variance.to_f64().sqrt()
    }
}

/// Degrees of freedom of so many samples.
#[expect(
    clippy::cast_precision_loss,
    reason = "no text holds so many samples that this matters"
)]
pub(crate) fn freedom(samples: usize) -> f64 {
    samples.saturating_sub(1) as f64
}
