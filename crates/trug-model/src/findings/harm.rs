//! What can be said about harm. None of it can be accepted, and none has a fix.

use smol_str::SmolStr;
use trug_findings::{Code, Finding, Place};

use super::dose::Dosed;
use super::listed;
use super::target::Told;

pub static CEILING: Code = Code::error("harm/ceiling", include_str!("pages/harm-ceiling.md"));
pub static ANIMAL: Code = Code::error("harm/animal", include_str!("pages/harm-animal.md"));
pub static TOGETHER: Code = Code::error("harm/together", include_str!("pages/harm-together.md"));
pub static UNJUDGED: Code = Code::warning("harm/unjudged", include_str!("pages/harm-unjudged.md"));
pub static UNDECIDED: Code =
    Code::warning("harm/undecided", include_str!("pages/harm-undecided.md"));
pub static LOOSENED: Code = Code::warning("harm/loosened", include_str!("pages/harm-loosened.md"));

pub static ALL: &[&Code] = &[
    &CEILING, &ANIMAL, &TOGETHER, &UNJUDGED, &UNDECIDED, &LOOSENED,
];

const DEFER: &str = "the product label and a veterinarian decide; trug does not change this amount";

pub(crate) fn ceiling(
    place: Place,
    dosed: &Dosed,
    ceiling: &str,
    reason: Option<&str>,
    written: Place,
) -> Finding {
    let mut finding = CEILING
        .at(place)
        .says(format!("{}; its ceiling is {ceiling}", dosed.says()))
        .also(written, reason.unwrap_or("the ceiling is set here"));
    if dosed.window.is_some() {
        finding = finding.help(format!("{}; {DEFER}", dosed.keep_to()));
    } else {
        finding = finding.help(format!("stay well below the ceiling; {DEFER}"));
    }
    finding
}

pub(crate) fn animal(place: Place, told: &Told<'_>) -> Finding {
    ANIMAL
        .at(place)
        .says(format!(
            "{}; {} it can harm {}",
            told.value_says(),
            told.beyond,
            told.whose
        ))
        .also(told.written, told.reason.unwrap_or("the bound is set here"))
        .help(format!(
            "{} what brings {} in, all sources together{}; {DEFER}",
            if told.beyond.starts_with("below") {
                "raise"
            } else {
                "lower"
            },
            told.what,
            told.basis_says()
        ))
}

pub(crate) fn never_for(
    place: Place,
    ingredient: &str,
    animal: &str,
    kind: &str,
    reason: Option<&str>,
    written: Place,
) -> Finding {
    let is = if animal == kind {
        String::new()
    } else {
        format!(", a kind of {kind}")
    };
    ANIMAL
        .at(place)
        .says(format!(
            "{ingredient} is never for {kind}; this is fed to {animal}{is}"
        ))
        .also(written, reason.unwrap_or("written here"))
        .help(format!("take {ingredient} out; {DEFER}"))
}

pub(crate) fn together(
    place: Place,
    ingredient: &str,
    other: (&str, Place),
    reason: Option<&str>,
    written: Place,
) -> Finding {
    TOGETHER
        .at(place)
        .says(format!(
            "{ingredient} and {} are never to be in one feed",
            other.0
        ))
        .also(other.1, format!("{} is here", other.0))
        .also(written, reason.unwrap_or("written here"))
        .help(format!("take one of the two out; {DEFER}"))
}

pub(crate) fn unjudged(place: Place, ration: &str) -> Finding {
    UNJUDGED
        .at(place)
        .says(format!("{ration} is for no animal: harm and law are not judged"))
        .help("write which animal eats it: `for laying-duck`; or `for mixing` where it is not fed as it is")
}

/// A group is fed a mix that is judged only inside other rations.
pub(crate) fn fed_unmixed(place: Place, ration: &str, declared: Place) -> Finding {
    UNJUDGED
        .at(place)
        .says(format!(
            "{ration} is for mixing: as it is, harm and law are not judged"
        ))
        .also(declared, "for mixing, not for an animal")
        .help("feed a ration that is for an animal and holds this mix")
}

/// One warning for all bounds of law and harm that the data cannot decide.
pub(crate) fn undecided(
    place: Place,
    ration: &str,
    bounds: &[(String, Vec<SmolStr>, Place)],
) -> Finding {
    let mut whats: Vec<&str> = Vec::new();
    for (what, ..) in bounds {
        if !whats.contains(&what.as_str()) {
            whats.push(what);
        }
    }
    let wants_intake = bounds.iter().any(|(_, blame, _)| blame.is_empty());
    let help = if wants_intake {
        "write how much an animal eats of it, `intake 165 g/day`: without that nothing a day is known"
    } else {
        "give the contents of the ingredients named, from an analysis or a label"
    };
    let finding = UNDECIDED
        .at(place)
        .says(format!(
            "{ration}: harm or law cannot be ruled out for {}",
            listed(&whats)
        ))
        .help(help);
    bounds
        .iter()
        .fold(finding, |finding, (what, blame, written)| {
            let why = if blame.is_empty() {
                format!("{what}: not known how much is eaten")
            } else {
                format!("{what}: not known enough in {}", listed(blame))
            };
            finding.also(*written, why)
        })
}
