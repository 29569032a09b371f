//! The chi-square distribution, from the incomplete gamma function.
//!
//! With the mathematics of `libm`, which is software on every machine: the same text gives the same bits everywhere.
//! The series and the continued fraction of the incomplete gamma function are those of Abramowitz and Stegun, *Handbook
//! of Mathematical Functions*, 6.5.29 and 6.5.31, the latter by Lentz's method.

/// More terms than are ever needed: the series of the largest text converges within some thousand.
const MOST_TERMS: usize = 1_000_000;
/// Halvings that exhaust the digits of any number.
const MOST_STEPS: usize = 2_200;

/// The value that a chi-square variable stays below with this probability; none where there is no such value.
///
/// `probability` lies between 0 and 1, both excluded.
#[must_use]
pub fn quantile(probability: f64, freedom: f64) -> Option<f64> {
    let is_open = 0.0 < probability && probability < 1.0;
    let has_freedom = freedom.is_finite() && freedom > 0.0;
    if !(is_open && has_freedom) {
        return None;
    }
    let shape = freedom / 2.0;
    // The smaller of both tails is the one that has digits to spare.
    let is_below = probability <= 0.5;
    let wanted = if is_below {
        probability
    } else {
        1.0 - probability
    };
    // Rises with x, whichever tail is asked for.
    let excess = |x: f64| {
        let (below, above) = tails(shape, x);
        if is_below {
            below - wanted
        } else {
            wanted - above
        }
    };
    let (mut low, mut high) = (0.0, shape.max(1.0));
    while excess(high) < 0.0 {
        (low, high) = (high, high * 2.0);
        if !high.is_finite() {
            return None;
        }
    }
    let mut x = (low + high) / 2.0;
    for _ in 0..MOST_STEPS {
        let off = excess(x);
        if off < 0.0 {
            low = x;
        } else {
            high = x;
        }
        // Newton's step where it stays inside; else the middle.
        let step = x - off / density(shape, x);
        let next = if low <= step && step <= high {
            step
        } else {
            (low + high) / 2.0
        };
        let is_settled = (next - x).abs() <= 2.0 * f64::EPSILON * x;
        x = next;
        if is_settled || high - low <= f64::EPSILON * low {
            break;
        }
    }
    Some(2.0 * x)
}

/// The probability that a chi-square variable stays below `value`.
#[must_use]
pub fn probability_below(value: f64, freedom: f64) -> f64 {
    if value <= 0.0 {
        return 0.0;
    }
    tails(freedom / 2.0, value / 2.0).0
}

/// x^(a − 1) e^(−x) / Γ(a).
fn density(shape: f64, x: f64) -> f64 {
    libm::exp((shape - 1.0) * libm::log(x) - x - libm::lgamma(shape))
}

/// The incomplete gamma function, regularised: its part below x, and its part above.
fn tails(shape: f64, x: f64) -> (f64, f64) {
    if x <= 0.0 {
        return (0.0, 1.0);
    }
    // x^a e^(−x) / Γ(a)
    let scale = density(shape, x) * x;
    if x < shape + 1.0 {
        let below = (scale * series(shape, x)).clamp(0.0, 1.0);
        (below, 1.0 - below)
    } else {
        let above = (scale * fraction(shape, x)).clamp(0.0, 1.0);
        (1.0 - above, above)
    }
}

/// Σ xⁿ / (a (a + 1) … (a + n)).
fn series(shape: f64, x: f64) -> f64 {
    let mut over = shape;
    let mut term = 1.0 / shape;
    let mut sum = term;
    for _ in 0..MOST_TERMS {
        over += 1.0;
        term *= x / over;
        sum += term;
        if term <= sum * f64::EPSILON / 4.0 {
            break;
        }
    }
    sum
}

/// 1 / (x + 1 − a − 1 (1 − a) / (x + 3 − a − 2 (2 − a) / …)).
fn fraction(shape: f64, x: f64) -> f64 {
    const NEXT_TO_NOTHING: f64 = f64::MIN_POSITIVE / f64::EPSILON;
    let kept_from_zero = |value: f64| {
        if value.abs() < NEXT_TO_NOTHING {
            NEXT_TO_NOTHING
        } else {
            value
        }
    };
    let mut below = x + 1.0 - shape;
    let mut c = 1.0 / NEXT_TO_NOTHING;
    let mut d = 1.0 / kept_from_zero(below);
    let mut value = d;
    let mut rank = 0.0;
    for _ in 0..MOST_TERMS {
        rank += 1.0;
        let above = -rank * (rank - shape);
        below += 2.0;
        d = 1.0 / kept_from_zero(above * d + below);
        c = kept_from_zero(below + above / c);
        let change = c * d;
        value *= change;
        if (change - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    value
}

#[cfg(test)]
mod tests;
