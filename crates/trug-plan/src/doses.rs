//! What a dose can be: nominal, in the batch, and in one animal's portion.
//!
//! Standard deviations add as squares: the possible error of each weighing over √3 (as even over its
//! range), the scatter of analyses, and for a portion the wanted coefficient of variation of each
//! ingredient. Shown are two standard deviations either way.

use trug_model::Q;
use trug_model::analysis::Analysis;
use trug_model::ration::Ration;

use crate::from_ration::merged;
use crate::plan::{Batch, Plan};

/// Between which values two standard deviations lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expected {
    /// In the whole batch.
    pub batch: Option<(f64, f64)>,
    /// In one animal's daily portion.
    pub portion: Option<(f64, f64)>,
}

/// What is expected of each bound and each dose of an analysis, in their order and units.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Expectations {
    /// Of the bounds.
    pub bounds: Vec<Expected>,
    /// Of the doses.
    pub doses: Vec<Expected>,
}

/// Works out what to expect, with the weighing errors of a plan where there is one.
#[must_use]
pub fn expectations(
    ration: &Ration,
    analysis: &Analysis,
    even: Option<&Q>,
    plan: Option<&Plan>,
) -> Expectations {
    let errors = plan.map_or_else(
        || vec![0.0; ration.lines.len()],
        |plan| inclusion_errors(ration, plan),
    );
    let even = even.map(Q::to_f64);
    let lines: Vec<f64> = ration.lines.iter().map(|line| line.low.to_f64()).collect();
    let expected =
        |value: &Option<Q>, rises: &mut dyn Iterator<Item = (usize, &Q)>, deviation: f64| {
            let Some(value) = value else {
                return Expected {
                    batch: None,
                    portion: None,
                };
            };
            let mut weighed = deviation * deviation;
            let mut uneven = 0.0;
            for (line, rise) in rises {
                let rise = rise.to_f64();
                let (Some(share), Some(error)) = (lines.get(line), errors.get(line)) else {
                    continue;
                };
                weighed += (rise * error).powi(2);
                uneven += (rise * even.unwrap_or_default() * share).powi(2);
            }
            let around = |variance: f64| {
                let spread = 2.0 * variance.sqrt();
                let nominal = value.to_f64();
                (variance > 0.0).then(|| ((nominal - spread).max(0.0), nominal + spread))
            };
            Expected {
                batch: around(weighed),
                portion: even.and_then(|_| around(weighed + uneven)),
            }
        };
    Expectations {
        bounds: analysis
            .bounds
            .iter()
            .map(|bound| {
                let mut rises = bound.rises.iter().enumerate();
                expected(&bound.value, &mut rises, bound.deviation)
            })
            .collect(),
        doses: analysis
            .doses
            .iter()
            .map(|dose| {
                let mut rises = dose.rises.iter().map(|(line, rise)| (*line, rise));
                expected(&dose.value, &mut rises, dose.deviation)
            })
            .collect(),
    }
}

/// One standard deviation of each line's inclusion, from the possible errors of its weighings in one batch.
fn inclusion_errors(ration: &Ration, plan: &Plan) -> Vec<f64> {
    let mut errors = vec![0.0; ration.lines.len()];
    let Some(batch) = plan.batches.first() else {
        return errors;
    };
    let tops: Q = plan
        .order
        .ingredients
        .iter()
        .filter(|ingredient| ingredient.on_top)
        .map(|ingredient| &ingredient.share)
        .sum();
    let whole_g = batch.total_g.to_f64() / (1.0 + tops.to_f64());
    for (ingredient, ranks) in merged(ration).into_iter().enumerate() {
        // Errors of several weighings of one ingredient on one scale go the same way: they add up. Where batches are taken from
        // different lots, the one weighed in most parts counts.
        let error_in = |batch: &Batch| -> f64 {
            let weighings = batch.weighings.iter();
            let own = weighings.filter(|weighing| weighing.ingredient == ingredient);
            own.map(|weighing| weighing.error_g.to_f64()).sum()
        };
        let error_g = plan.batches.iter().map(error_in).fold(0.0, f64::max);
        if let Some(&rank) = ranks.first()
            && whole_g > 0.0
        {
            errors[rank] = error_g / 3.0_f64.sqrt() / whole_g;
        }
    }
    errors
}
