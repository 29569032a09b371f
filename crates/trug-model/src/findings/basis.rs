//! What can be said about bases: as fed, of dry matter, at a dry matter.

use smol_str::SmolStr;
use trug_findings::{Code, Finding, Place, Severity};

use super::listed;

pub static MIXED: Code = Code::error("basis/mixed", include_str!("pages/basis-mixed.md"));
pub static UNKNOWN: Code = Code::error("basis/unknown", include_str!("pages/basis-unknown.md"));
pub static INCLUSION: Code =
    Code::error("basis/inclusion", include_str!("pages/basis-inclusion.md"));

pub static ALL: &[&Code] = &[&MIXED, &UNKNOWN, &INCLUSION];

pub(crate) fn mixed(
    place: Place,
    one: (&str, &str),
    other: (&str, &str, Place),
    ration: &str,
) -> Finding {
    MIXED
        .at(place)
        .says(format!(
            "{} is {}, {} is {}: the two never add up",
            one.0, one.1, other.0, other.1
        ))
        .also(other.2, format!("{} is {}", other.0, other.1))
        .help(format!("write all shares of {ration} on one basis"))
}

pub(crate) fn no_dry_matter(place: Place, what: &str, ingredient: &str) -> Finding {
    UNKNOWN
        .at(place)
        .says(format!(
            "{what} is not as fed, and the dry matter of {ingredient} is unknown"
        ))
        .help(format!(
            "write a line `dry-matter … %` in {ingredient}, or give the value as fed"
        ))
}

/// Targets on another basis, where some dry matter is unknown.
pub(crate) fn targets_unknown(
    place: Place,
    ration: &str,
    names: &[SmolStr],
    bounds: &[Place],
) -> Finding {
    let finding = UNKNOWN
        .at(place)
        .says(format!(
            "{ration}: the dry matter of {} is unknown",
            listed(names)
        ))
        .help("write their `dry-matter … %`: these targets cannot be judged without it");
    bounds.iter().fold(finding, |finding, bound| {
        finding.also(*bound, "bounded on dry matter here")
    })
}

/// Law and harm count at 88 % dry matter; without dry matter they are counted as fed, and this says so.
pub(crate) fn counted_as_fed(
    place: Place,
    ration: &str,
    names: &[SmolStr],
    bounds: &[Place],
) -> Finding {
    let finding = UNKNOWN
        .at(place)
        .weighing(Severity::Warning)
        .says(format!(
            "{ration}: law and harm are counted as fed, not at 88 % dry matter"
        ))
        .label(format!("the dry matter of {} is unknown", listed(names)))
        .help(format!(
            "write a line `dry-matter … %` for {}",
            listed(names)
        ));
    bounds.iter().take(3).fold(finding, |finding, bound| {
        finding.also(*bound, "bounded here")
    })
}

pub(crate) fn inclusion(place: Place, basis: &str) -> Finding {
    INCLUSION
        .at(place)
        .says(format!("a bound on an ingredient is as fed, not {basis}"))
        .help("write the share of the mix as it is weighed")
}

/// An amount by what it gives of its active: how much dry matter the whole has is not known before it is.
pub(crate) fn given(place: Place, name: &str, basis: &str) -> Finding {
    INCLUSION
        .at(place)
        .says(format!("what {name} gives is as fed, not {basis}"))
        .help("write what a kg of the mix is to hold, as it is weighed")
}

pub(crate) fn only_fixed(place: Place, name: &str) -> Finding {
    INCLUSION
        .at(place)
        .says(format!("{name}: an open amount, and one on top, is as fed"))
        .help("write the share of the mix as it is weighed")
}
