//! Analyses a ration of a farm: what it holds, and what its doses and bounds can be as it would be weighed.

use trug_model::analysis::{Analysis, Sourced};
use trug_model::ration::Ration;
use trug_model::{Q, View};

use crate::doses::{Expectations, expectations};
use crate::from_ration::Request;
use crate::planned::plan_ration;

/// What a ration holds, and what that can be.
#[derive(Clone, Debug)]
pub struct Analysed {
    /// The ration, with the batch that was asked for.
    pub ration: Ration,
    /// What it holds.
    pub analysis: Analysis,
    /// Where its values were read, as their lines say.
    pub sources: Vec<Sourced>,
    /// What its doses and bounds can be.
    pub expectations: Expectations,
}

/// Analyses a ration, with another `batch` (in kg) where one is asked for; none where its amounts are not known, so that every
/// sum would be wrong.
///
/// The share of the scales in what a dose can be is known only where the batch can be planned: not of a ration that has
/// errors.
#[must_use]
pub fn analyse_ration(
    view: &View<'_>,
    ration: &Ration,
    batch: Option<&Q>,
    has_errors: bool,
) -> Option<Analysed> {
    if !ration.is_sound || !ration.adds_up {
        return None;
    }
    let mut ration = ration.clone();
    if let Some(batch) = batch {
        ration.batch = Some(batch.clone());
    }
    let analysis = view.analyse(&ration);
    let planned = (!has_errors)
        .then(|| plan_ration(view, &ration, &Request::default()).ok())
        .flatten();
    let expectations = match planned {
        Some(planned) => planned.expectations,
        None => expectations(
            &ration,
            &analysis,
            view.method_of(&ration).even.as_ref(),
            None,
        ),
    };
    Some(Analysed {
        sources: view.sources(&ration, &analysis),
        ration,
        analysis,
        expectations,
    })
}
