//! What can be said about `use`: other texts, books, tables.

use trug_findings::{Code, Finding, Place};

use crate::farm::BOOKS;
use crate::texts::Absent;

pub static MISSING: Code = Code::error("use/missing", include_str!("pages/use-missing.md"));
pub static OUTSIDE: Code = Code::error("use/outside", include_str!("pages/use-outside.md"));
pub static CYCLE: Code = Code::error("use/cycle", include_str!("pages/use-cycle.md"));
pub static DEEP: Code = Code::error("use/deep", include_str!("pages/use-deep.md"));
pub static TABLE: Code = Code::warning("use/table", include_str!("pages/use-table.md"));

pub static ALL: &[&Code] = &[&MISSING, &OUTSIDE, &CYCLE, &DEEP, &TABLE];

/// A text that is used and cannot be had.
pub(crate) fn absent(place: Place, name: &str, why: &Absent) -> Finding {
    match why {
        Absent::Outside => outside(place),
        Absent::Unreadable(words) => MISSING
            .at(place)
            .says(format!("{name} cannot be read: {words}"))
            .help("name a plain text file; what it declares is not known until then"),
        _ => MISSING
            .at(place)
            .says(format!("there is no file {name}"))
            .help("paths are relative to this file, with `/`; what the file declares is not known until then"),
    }
}

/// A text that is there and is none.
pub(crate) fn no_text(place: Place, why: &Absent) -> Finding {
    match why {
        Absent::TooLarge => trug_syntax::findings::syntax::too_large(place),
        Absent::NotText(_) => trug_syntax::findings::syntax::not_text(place),
        Absent::Outside => outside(place),
        Absent::Missing => MISSING
            .at(place)
            .says("this file is not there")
            .help("check its name and folder"),
        Absent::Unreadable(words) => MISSING
            .at(place)
            .says(format!("this file cannot be read: {words}"))
            .help("check that it is a plain file and that you may read it"),
    }
}

pub(crate) fn outside(place: Place) -> Finding {
    OUTSIDE
        .at(place)
        .says("this file lies outside the farm's root folder")
        .help("keep what a farm uses below its root, or allow it with --allow-outside")
}

pub(crate) fn no_book(place: Place) -> Finding {
    let books: Vec<&str> = BOOKS.iter().map(|(name, _)| *name).collect();
    MISSING
        .at(place)
        .says("there is no book of that name")
        .help(format!("the bundled books are: {}", books.join(", ")))
}

pub(crate) fn table(place: Place) -> Finding {
    TABLE
        .at(place)
        .says("tables are not read by this version of trug")
        .help("write the values as lines of the ingredients; nothing in the table is counted")
}

pub(crate) fn cycle(place: Place, names: &[String]) -> Finding {
    CYCLE
        .at(place)
        .says(format!(
            "these files use each other in a circle: {}",
            names.join(", ")
        ))
        .help("move what both need into a third file that uses neither")
}

pub(crate) fn deep(place: Place) -> Finding {
    DEEP.at(place)
        .says("the chain of files behind this one is over 64 long")
        .help("use the files that declare what is needed directly")
}
