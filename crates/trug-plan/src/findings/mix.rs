//! What can be said about mixing: what meets too early, what dilutes too much, what cannot get even.

use trug_findings::{Code, Finding};
use trug_model::Q;

use crate::amounts::Case;
use crate::apart::Pair;
use crate::draft::Draft;
use crate::evenness::Expected;
use crate::order::Particle;
use crate::plan::StepKind;
use crate::words::{mass, steps};

/// Two ingredients that are apart meet before each is diluted enough.
pub static APART: Code = Code::error("mix/apart", include_str!("pages/mix-apart.md"));
/// The bulk that may carry is too little for the pre-blend.
pub static CARRIER: Code = Code::warning("mix/carrier", include_str!("pages/mix-carrier.md"));
/// A step dilutes more than the method allows.
pub static STEP: Code = Code::error("mix/step", include_str!("pages/mix-step.md"));
/// A liquid does not find five times its mass to be worked into.
pub static LIQUID: Code = Code::warning("mix/liquid", include_str!("pages/mix-liquid.md"));
/// A product is too coarse to be spread as evenly as is wanted.
pub static EVENNESS: Code = Code::warning("mix/evenness", include_str!("pages/mix-evenness.md"));

/// The family, in the order of the reference.
pub static ALL: &[&Code] = &[&APART, &CARRIER, &STEP, &LIQUID, &EVENNESS];

pub(crate) fn apart(case: &Case, pair: &Pair, rank: usize, other: usize, reached: &Q) -> Finding {
    let (name, other_name) = (case.name(rank), case.name(other));
    let times = pair.times.readable(3);
    let reached = reached.readable(3);
    APART
        .at(case.ingredient(rank).place)
        .says(format!(
            "{name} meets {other_name} in {reached} times its mass; {times} times is asked"
        ))
        .also(pair.place, format!("{name} and {other_name} are to be kept apart"))
        .also(
            case.ingredient(other).place,
            format!("{} of {other_name} in a batch", mass(&case.amount(other))),
        )
        .help(format!(
            "buy {name} as a weaker premix, or leave one of the two out of this mix; ask the label or a veterinarian whether they may meet earlier"
        ))
}

pub(crate) fn carrier(case: &Case, wanted: &Q, missing: &Q) -> Finding {
    CARRIER
        .at(case.order.place)
        .says(format!(
            "{}: the pre-blend of {} lacks {} of carrier",
            case.order.ration,
            mass(wanted),
            mass(missing)
        ))
        .help("let more of the bulk carry: take `not carrier` off a dry, free-flowing ingredient, or write `bulk` on one")
}

pub(crate) fn step(case: &Case, draft: &Draft, broken: &[(usize, Q)]) -> Finding {
    let most = case.order.method.dilutes.readable(3);
    let worst = broken.iter().max_by(|a, b| a.1.cmp(&b.1));
    let (act, ratio) = worst.map_or((0, Q::ZERO), |(act, ratio)| (*act, ratio.clone()));
    let kind = draft
        .acts
        .get(act)
        .map_or(StepKind::PreBlend, |act| act.kind);
    let what = match kind {
        StepKind::Together | StepKind::Dilute => "a mix of small ingredients",
        StepKind::PreBlend => "the pre-blend",
        StepKind::Liquid => "working in a liquid",
        StepKind::Heap => "the heap with its liquids",
        StepKind::Final => "spreading the pre-blend",
    };
    STEP.at(case.order.place)
        .says(format!(
            "{}: {what} dilutes 1 in {}; at most 1 in {most} is wanted",
            case.order.ration,
            ratio.readable(3)
        ))
        .label(format!("step {}", steps(broken.iter().map(|(act, _)| *act))))
        .also(case.order.method.place, format!("1 in {most} by this method"))
        .help("let more of the bulk carry, use a scale that weighs smaller parts of carrier, or buy the smallest ingredient as a weaker premix")
}

pub(crate) fn liquid(case: &Case, rank: usize, times: &Q) -> Finding {
    let name = case.name(rank);
    LIQUID
        .at(case.ingredient(rank).place)
        .says(format!(
            "{name} is worked into {} times its mass; 5 times is wanted",
            times.readable(3)
        ))
        .help(format!(
            "keep more dry bulk for the heap, or less of {name}: wet lumps do not mix and mould soon"
        ))
}

pub(crate) fn evenness(
    case: &Case,
    rank: usize,
    particle: Particle,
    found: Expected,
    wanted: f64,
) -> Finding {
    let name = case.name(rank);
    let needed = (100.0 / wanted).powi(2);
    let times = needed / found.particles;
    let finer = particle.millimetres / times.cbrt();
    EVENNESS
        .at(case.ingredient(rank).place)
        .says(format!(
            "{name} can be even within {:.0} % at best; {wanted:.0} % is wanted",
            found.cv_percent.ceil()
        ))
        .label(format!(
            "some {:.0} particles in one animal's day, {needed:.0} are needed",
            found.particles
        ))
        .also(
            case.order.method.place,
            format!("within {wanted:.0} % by this method"),
        )
        .help(format!(
            "use a grind of {finer:.2} mm or finer, or a premix that holds {name} 1 in {:.0} or weaker",
            times.ceil()
        ))
}
