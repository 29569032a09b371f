//! The records of a ration one after the other: a chart of individual values.

/// Three standard deviations over the mean moving range of two: 3 / d₂ with d₂ = 1.128.
///
/// NIST/SEMATECH, *e-Handbook of Statistical Methods*, 6.3.2.2, individuals control charts.
pub const LIMITS_FACTOR: f64 = 3.0 / 1.128;

/// With fewer values the limits are still on the move: common practice asks for about twenty.
pub const SETTLED: usize = 20;

/// Where values are to be expected while nothing changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Their mean.
    pub centre: f64,
    /// Three standard deviations below; none where that is below zero.
    pub low: Option<f64>,
    /// Three standard deviations above.
    pub high: f64,
}

/// The limits of values in the order they came; none of fewer than two.
#[must_use]
pub fn limits(values: &[f64]) -> Option<Limits> {
    let count = |number: usize| u32::try_from(number).ok().map(f64::from);
    let pairs = values.windows(2);
    let moves: f64 = pairs.map(|pair| (pair[1] - pair[0]).abs()).sum();
    let steps = values.len().checked_sub(1).filter(|steps| *steps > 0)?;
    let centre = values.iter().sum::<f64>() / count(values.len())?;
    let reach = LIMITS_FACTOR * moves / count(steps)?;
    Some(Limits {
        centre,
        low: Some(centre - reach).filter(|low| *low > 0.0),
        high: centre + reach,
    })
}

impl Limits {
    /// Whether a value lies where it is to be expected.
    #[must_use]
    pub fn hold(&self, value: f64) -> bool {
        value <= self.high && self.low.is_none_or(|low| low <= value)
    }
}
