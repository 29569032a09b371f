//! What can be said about `use`: other texts, books, tables.

use trug_findings::{Code, Finding, Place};

use crate::farm::table::{CellKind, Heading};
use crate::library::Library;
use crate::texts::Absent;

pub static MISSING: Code = Code::error("use/missing", include_str!("pages/use-missing.md"));
pub static OUTSIDE: Code = Code::error("use/outside", include_str!("pages/use-outside.md"));
pub static CYCLE: Code = Code::error("use/cycle", include_str!("pages/use-cycle.md"));
pub static DEEP: Code = Code::error("use/deep", include_str!("pages/use-deep.md"));
pub static EDITIONS: Code = Code::error("use/editions", include_str!("pages/use-editions.md"));
pub static TABLE: Code = Code::warning("use/table", include_str!("pages/use-table.md"));

pub static ALL: &[&Code] = &[&MISSING, &OUTSIDE, &CYCLE, &DEEP, &EDITIONS, &TABLE];

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
pub(crate) fn no_text(place: Place, why: &Absent, is_table: bool) -> Finding {
    match why {
        Absent::NotText(_) if is_table => trug_syntax::findings::syntax::not_text(place)
            .help("save it from the spreadsheet as CSV UTF-8; none of it is read until then"),
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

pub(crate) fn no_book(place: Place, book: &str, library: &Library) -> Finding {
    let years = library.years(book);
    let finding = MISSING.at(place);
    if years.is_empty() {
        let books = library.names().join(", ");
        let help = format!("the bundled books are: {books}");
        return finding.says("there is no book of that name").help(help);
    }
    let years: Vec<String> = years.iter().map(u16::to_string).collect();
    finding
        .says(format!("the book {book} has no edition of that year"))
        .help(format!("its editions are: {}", years.join(", ")))
}

/// Books of two years meet in one text.
pub(crate) fn editions(place: Place, here: &str, other: Place, there: &str) -> Finding {
    EDITIONS
        .at(place)
        .says(format!("{here} meets {there}: one text, two editions"))
        .also(other, "the other edition comes from here")
        .help("write the same year in each `use book …`; values of two editions are not one table")
}

/// A table whose first line is not one of headings.
pub(crate) fn no_headings(place: Place) -> Finding {
    TABLE
        .at(place)
        .says("the first heading of a table is `ingredient`; none of this is read")
        .help("name each column in the first line: `ingredient`, `price LKR/kg`, `protein %`")
}

pub(crate) fn heading(place: Place, heading: &str) -> Finding {
    TABLE
        .at(place)
        .says(format!(
            "{} has no unit, so this column is not read",
            short(heading)
        ))
        .help("write a line's word and its unit: `price LKR/kg`, `protein % of dry-matter`")
}

pub(crate) fn no_row_name(place: Place) -> Finding {
    TABLE
        .at(place)
        .says("this row names no ingredient, so it is not read")
        .help("write the name or the label of the ingredient in the first column")
}

pub(crate) fn no_heading_above(place: Place, cell: &str) -> Finding {
    TABLE
        .at(place)
        .says(format!(
            "{} stands under no heading, so it is not read",
            short(cell)
        ))
        .help("write a heading above it, or take it out")
}

/// A cell that can be no part of the line its heading opens.
pub(crate) fn cell(place: Place, heading: &Heading) -> Finding {
    let help = match heading.cell {
        CellKind::Yes => "write `yes` where it holds, and nothing where it does not",
        CellKind::Whole | CellKind::Text | CellKind::Label => "write it on one line, and shorter",
        CellKind::Number => "write the number alone; its unit stands in the heading",
    };
    TABLE
        .at(place)
        .says(format!(
            "this cell is no {}, so it is not read",
            short(&heading.word)
        ))
        .help(help)
}

/// What a cell says, at most forty letters of it.
fn short(text: &str) -> String {
    let line = text.lines().next().unwrap_or_default();
    match line.char_indices().nth(40) {
        Some((cut, _)) => format!("{}…", line.get(..cut).unwrap_or_default()),
        None => line.to_owned(),
    }
}

pub(crate) fn open_quote(place: Place) -> Finding {
    TABLE
        .at(place)
        .says("this quote is not closed; what follows is not read")
        .help("close it, or save the table again")
}

/// Letters between a closing quote and the end of its cell.
pub(crate) fn after_quote(place: Place) -> Finding {
    TABLE
        .at(place)
        .says("this stands after the closing quote of its cell")
        .help("double a quote that belongs to the cell, or save the table again")
}

/// A row whose first cell is neither a name nor a label that is known, nor can be a name.
pub(crate) fn no_ingredient(place: Place, cell: &str, near: Option<&str>) -> Finding {
    let finding = TABLE.at(place).says(format!(
        "no ingredient has the name or label {}",
        short(cell)
    ));
    match near {
        Some(near) => finding.help(format!(
            "write `{}` if that is meant; this row is not read",
            short(near)
        )),
        None => finding.help(
            "write the ingredient in a text of the farm, or correct the cell; its row is not read",
        ),
    }
}

/// A row that nothing but the table names, while an ingredient of nearly that name has no row.
pub(crate) fn nearly(place: Place, cell: &str, near: &str) -> Finding {
    TABLE
        .at(place)
        .says(format!(
            "{cell} stands in this table alone; {near} has no row"
        ))
        .help(format!(
            "write `{near}` if that is meant, or declare {cell} in a text of the farm"
        ))
}

pub(crate) fn cycle(place: Place, names: &[String]) -> Finding {
    CYCLE
        .at(place)
        .says(format!(
            "these files use each other in a circle: {}",
            super::listed(names)
        ))
        .help("move what both need into a third file that uses neither")
}

pub(crate) fn deep(place: Place) -> Finding {
    DEEP.at(place)
        .says("the chain of files behind this one is over 64 long")
        .help("use the files that declare what is needed directly")
}
