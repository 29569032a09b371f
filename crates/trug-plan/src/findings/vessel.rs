//! What can be said about vessels: what none of them holds, and what nobody can tell.

use trug_findings::{Code, Finding};
use trug_model::Q;

use crate::amounts::Case;
use crate::batches::fullest;
use crate::words::{names, steps};

/// A step that should be done in a vessel finds none.
pub static FULL: Code = Code::warning("vessel/full", include_str!("pages/vessel-full.md"));
/// The volume of a step is not known.
pub static DENSITY: Code = Code::note("vessel/density", include_str!("pages/vessel-density.md"));

/// The family, in the order of the reference.
pub static ALL: &[&Code] = &[&FULL, &DENSITY];

/// Steps by their rank, with their volumes.
pub(crate) fn full(case: &Case, lacking: &[(usize, Q)]) -> Finding {
    let largest = lacking
        .iter()
        .map(|(_, litres)| litres)
        .max()
        .cloned()
        .unwrap_or_default();
    let needed = largest.over(&fullest()).unwrap_or_default();
    let word = if lacking.len() == 1 { "step" } else { "steps" };
    FULL.at(case.order.place)
        .says(format!(
            "{}: no free vessel holds {} L for {word} {}",
            case.order.ration,
            largest.readable(2),
            steps(lacking.iter().map(|(act, _)| *act))
        ))
        .label("this is mixed on the floor")
        .help(format!(
            "use a vessel of {} L or more, 70 % full, or write one more of those there are",
            needed.ceil()
        ))
}

/// Which densities are missing.
pub(crate) fn density(case: &Case) -> Finding {
    let unknown: Vec<&str> = (0..case.amounts.len())
        .filter(|rank| case.amount(*rank).is_positive())
        .filter(|rank| case.ingredient(*rank).g_per_litre.is_none())
        .map(|rank| case.name(rank))
        .collect();
    let words = if unknown.len() == 1 {
        "density is"
    } else {
        "densities are"
    };
    DENSITY
        .at(case.order.place)
        .says(format!(
            "{}: no vessel is chosen where the bulk {words} not known",
            case.order.ration
        ))
        .label(format!("not known for {}", names(&unknown)))
        .help("write `bulk-density` in the ingredient: weigh one full litre of it")
}
