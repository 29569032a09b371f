//! Blends made harder.

use trug_balance::programme::{End, Programme};
use trug_model::Q;

/// The first so many bounds a fifth tighter.
pub(crate) fn strained(mut programme: Programme, count: usize) -> Programme {
    for bound in programme.bounds.iter_mut().take(count) {
        let times = match bound.end {
            End::AtLeast => Q::ratio(12, 10),
            End::AtMost => Q::ratio(8, 10),
        };
        bound.limit = &bound.limit * times;
    }
    programme
}

/// The first so many bounds kept in nine cases of ten, with a tenth of each content as its standard deviation.
pub(crate) fn certain(mut programme: Programme, count: usize) -> Programme {
    for bound in programme.bounds.iter_mut().take(count) {
        bound.reliance = Some(Q::ratio(12816, 10000));
        let deviations = bound
            .above
            .weights
            .iter()
            .map(|weight| weight * Q::ratio(1, 50));
        bound.above.variances = deviations
            .map(|deviation| &deviation * &deviation)
            .collect();
    }
    programme
}
