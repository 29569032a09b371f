//! What can be said about names.

use trug_findings::{Code, Finding, Place};

use crate::farm::Namespace;
use crate::view::LONGEST;

pub static UNKNOWN: Code = Code::error("name/unknown", include_str!("pages/name-unknown.md"));
pub static TWICE: Code = Code::error("name/twice", include_str!("pages/name-twice.md"));
pub static CIRCLE: Code = Code::error("name/circle", include_str!("pages/name-circle.md"));
pub static KIND: Code = Code::error("name/kind", include_str!("pages/name-kind.md"));

pub static ALL: &[&Code] = &[&UNKNOWN, &TWICE, &CIRCLE, &KIND];

pub(crate) fn unknown(
    namespace: Namespace,
    written: &str,
    place: Place,
    near: Option<&str>,
) -> Finding {
    let finding = UNKNOWN
        .at(place)
        .says(format!("no {} is called {written} here", namespace.noun()));
    match near {
        Some(near) => finding
            .help(format!(
                "write `{near}` if that is meant, or declare {written}"
            ))
            .offer(format!("write {near}"), place, near),
        None => finding.help(format!(
            "declare it in this file, or `use` the file that declares {written}"
        )),
    }
}

pub(crate) fn twice(place: Place, name: &str, first_name: &str, first: Place) -> Finding {
    let says = if name == first_name {
        format!("{name} is declared twice")
    } else {
        format!("{name} and {first_name} differ only in case")
    };
    TWICE
        .at(place)
        .says(says)
        .also(first, format!("{first_name} is declared here too"))
        .help("give one of the two another name")
}

pub(crate) fn twice_among_used(place: Place, name: &str, first: Place, second: Place) -> Finding {
    TWICE
        .at(place)
        .says(format!("two of the files used here both declare {name}"))
        .also(first, "once here")
        .also(second, "and here")
        .help("use only one of the two files, or give one of the items another name")
}

pub(crate) fn unit_twice(place: Place, name: &str) -> Finding {
    TWICE
        .at(place)
        .says(format!("{name} is a unit already"))
        .help("give the farm's own measure another name, such as `basket` or `scoop`")
}

/// What a name is made of leads back to it, through `members`, itself the last.
pub(crate) fn circle(place: Place, name: &str, members: &[&str]) -> Finding {
    let others = members.split_last().map_or(&[][..], |(_, others)| others);
    let through = match others {
        [] => String::new(),
        others => format!(" through {}", super::listed(others)),
    };
    CIRCLE
        .at(place)
        .says(format!("{name} leads back to itself{through}"))
        .help("break the circle: write out what one of its members is made of")
}

/// What a name is made of goes on for too long to follow.
pub(crate) fn too_long(place: Place, name: &str) -> Finding {
    CIRCLE
        .at(place)
        .says(format!(
            "{name} goes on through over {LONGEST} others, one behind the other"
        ))
        .help("shorten the chain: write out what one of its members is made of")
}

pub(crate) fn no_ration(place: Place, name: &str) -> Finding {
    KIND.at(place)
        .says(format!("{name} is an ingredient; a ration is wanted here"))
        .help("name a ration")
}
