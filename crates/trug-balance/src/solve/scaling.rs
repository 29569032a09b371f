//! Powers of two by which rows and shares are scaled, so that what is large and what is small can be told apart in machine numbers.

/// Rounds over rows and shares; more change little.
const ROUNDS: usize = 4;

/// What each row, and each share's column, is multiplied with.
#[derive(Clone, Debug)]
pub(super) struct Scaling {
    pub(super) rows: Vec<f64>,
    pub(super) shares: Vec<f64>,
}

impl Scaling {
    /// Between the smallest and the largest weight of every row, then of every share (geometric scaling).
    pub(super) fn of(lines: &[Vec<f64>], count: usize) -> Scaling {
        let mut scaling = Scaling {
            rows: vec![1.0; lines.len()],
            shares: vec![1.0; count],
        };
        for _ in 0..ROUNDS {
            for (scale, line) in scaling.rows.iter_mut().zip(lines) {
                *scale = middle(
                    line.iter()
                        .zip(&scaling.shares)
                        .map(|(weight, by)| weight * by),
                );
            }
            for (share, scale) in scaling.shares.iter_mut().enumerate() {
                *scale = middle(
                    lines
                        .iter()
                        .zip(&scaling.rows)
                        .map(|(line, by)| line[share] * by),
                );
            }
        }
        scaling
    }
}

/// One over the geometric middle of the smallest and the largest, as a power of two: multiplying with it rounds nothing.
fn middle(weights: impl Iterator<Item = f64>) -> f64 {
    let sizes = weights
        .map(f64::abs)
        .filter(|size| *size > 0.0 && size.is_finite());
    let ends = sizes.fold(None, |ends: Option<(f64, f64)>, size| {
        Some(ends.map_or((size, size), |(least, most)| {
            (least.min(size), most.max(size))
        }))
    });
    let Some((least, most)) = ends else {
        return 1.0;
    };
    let middle = least.sqrt() * most.sqrt();
    // The exponent alone: 2^floor(log2 middle).
    let power = f64::from_bits(middle.to_bits() & 0x7ff0_0000_0000_0000);
    if power.is_normal() { 1.0 / power } else { 1.0 }
}
