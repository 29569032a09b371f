//! Margins of certainty as rows: tangents of the cone, each of which holds for every choice (Kelley 1960).
//!
//! A standard deviation √(Σ v x² + v₀) is at least Σ r x + r₀ wherever Σ r²/v + r₀²/v₀ ≤ 1 (Cauchy and Schwarz), which is checked
//! exactly; so what is proved about the rows is proved about the cone.

use trug_model::Q;

use super::linear::Row;

/// A bound with a margin of so many standard deviations.
#[derive(Clone, Debug)]
pub(super) struct Cone {
    /// Its rank among the bounds.
    pub(super) bound: usize,
    /// `weights · x - at_least` is what it has on the safe side.
    pub(super) margin: Row,
    pub(super) reliance: Q,
    pub(super) variances: Vec<Q>,
    pub(super) constant_variance: Q,
}

/// A plane below the standard deviation, everywhere.
#[derive(Clone, Debug)]
pub(super) struct Tangent {
    /// Rank of the cone.
    pub(super) cone: usize,
    slopes: Vec<Q>,
    constant: Q,
}

/// Digits, in bits, of what is taken over from machine numbers.
const BITS: i32 = 40;

impl Cone {
    /// The standard deviation and the margin at a choice.
    pub(super) fn at(&self, shares: &[f64]) -> (f64, f64) {
        let parts = self.variances.iter().zip(shares);
        let variance = parts.fold(self.constant_variance.to_f64(), |sum, (variance, share)| {
            sum + variance.to_f64() * share * share
        });
        let weights = self.margin.weights.iter().zip(shares);
        let margin = weights.fold(-self.margin.at_least.to_f64(), |sum, (weight, share)| {
            sum + weight.to_f64() * share
        });
        (variance.sqrt(), margin)
    }

    /// The tangent at a choice, a little below where rounding wants it.
    pub(super) fn tangent(&self, cone: usize, shares: &[f64]) -> Tangent {
        let (deviation, _) = self.at(shares);
        let slope = |variance: &Q, share: f64| {
            if deviation > 0.0 {
                near(variance.to_f64() * share.max(0.0) / deviation)
            } else {
                near(variance.to_f64().sqrt() / (1.0 + self.variances.len() as f64).sqrt())
            }
        };
        let pairs = self.variances.iter().zip(shares);
        let mut tangent = Tangent {
            cone,
            slopes: pairs
                .map(|(variance, share)| slope(variance, *share))
                .collect(),
            constant: slope(&self.constant_variance, 1.0),
        };
        let length = self.length(&tangent);
        if length > Q::ONE {
            // √(1+a) < 1+a: so much smaller it holds.
            tangent
                .slopes
                .iter_mut()
                .for_each(|slope| *slope = &*slope / &length);
            tangent.constant = &tangent.constant / &length;
        }
        tangent
    }

    /// Σ r²/v: what must not be above one.
    fn length(&self, tangent: &Tangent) -> Q {
        let part = |slope: &Q, variance: &Q| (slope * slope).over(variance).unwrap_or(Q::ZERO);
        let pairs = tangent.slopes.iter().zip(&self.variances);
        pairs
            .map(|(slope, variance)| part(slope, variance))
            .sum::<Q>()
            + part(&tangent.constant, &self.constant_variance)
    }

    /// The row that a tangent makes of the bound: the margin is at least so many times the plane.
    pub(super) fn row(&self, tangent: &Tangent, reliance: &Q) -> Row {
        let weights = self.margin.weights.iter().zip(&tangent.slopes);
        Row {
            weights: weights
                .map(|(weight, slope)| weight - reliance * slope)
                .collect(),
            at_least: &self.margin.at_least + reliance * &tangent.constant,
            is_equal: false,
        }
    }
}

/// A machine number as a rational with [`BITS`] bits, towards zero; what is very small is zero.
pub(super) fn near(value: f64) -> Q {
    if !value.is_normal() {
        return Q::ZERO;
    }
    let exponent = i32::try_from((value.abs().to_bits() >> 52) & 0x7ff).unwrap_or(0) - 1023;
    let shift = BITS - exponent;
    // Between 2^40 and 2^41: exact as a machine integer.
    let mantissa =
        (value.abs().to_bits() & 0x000f_ffff_ffff_ffff | 0x0010_0000_0000_0000) >> (52 - BITS);
    let mantissa = i128::from(mantissa) * if value < 0.0 { -1 } else { 1 };
    match shift {
        0..=120 => Q::of_parts(mantissa, 1 << shift),
        -80..=-1 => Q::of_parts(mantissa << -shift, 1),
        _ => Q::ZERO,
    }
}
