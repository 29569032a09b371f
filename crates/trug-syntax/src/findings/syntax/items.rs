//! What can be said about the header of an item.

use trug_findings::{Finding, Place, Span};

use super::{ITEM, MARGIN, shortened};
use crate::words::ItemWord;

/// An item's header stands indented; it opens an item all the same.
#[must_use]
pub fn margin(place: Place, header: &str, indentation: Place) -> Finding {
    MARGIN
        .at(place)
        .says(format!(
            "`{}` opens an item but is indented",
            shortened(header)
        ))
        .help("start it at the margin; the lines below it then belong to it")
        .fix("move it to the margin", indentation, "")
}

/// A header that cannot be read, or does not say enough.
#[must_use]
pub fn header(place: Place, at_fault: &str, item: &ItemWord) -> Finding {
    let said = if at_fault.is_empty() {
        format!("this `{}` stops too early", item.word)
    } else {
        format!(
            "`{}` does not fit after `{}`",
            shortened(at_fault),
            item.word
        )
    };
    ITEM.at(place).says(said).help(format!(
        "`{}` wants {}: `{}`",
        item.word, item.wants, item.example
    ))
}

/// A header that lacks a part.
#[must_use]
pub fn header_lacks(place: Place, missing: &str, item: &ItemWord) -> Finding {
    ITEM.at(place)
        .says(format!("this `{}` lacks {missing}", item.word))
        .help(format!(
            "`{}` wants {}: `{}`",
            item.word, item.wants, item.example
        ))
}

/// A line at the margin that opens with no item word, and the nearest there is.
#[must_use]
pub fn no_such_item(place: Place, word: &str, near: Option<&str>) -> Finding {
    let finding = ITEM
        .at(place)
        .says(format!("`{}` opens no item", shortened(word)));
    match near {
        Some(near) => finding
            .help(format!("write `{near}`; its lines are not read until then"))
            .offer(format!("write `{near}`"), place, near),
        None => finding.help("begin with one of: use, unit, rate, animal, nutrient, ingredient, lot, targets, ration, scale, vessel, method, group, record"),
    }
}

/// A line at the margin that reads as one of the item above.
#[must_use]
pub fn belongs_above(place: Place, word: &str, item: &ItemWord) -> Finding {
    let at = Place::new(place.file, Span::at(place.span.start as usize));
    ITEM.at(place)
        .says(format!(
            "`{}` opens no item; as a line it must be indented",
            shortened(word)
        ))
        .help(format!(
            "indent it if it belongs to the {} above",
            item.word
        ))
        .offer("indent it", at, "  ")
}

/// Ages in weeks: people count them differently, so the days are offered and said.
#[must_use]
pub fn ages_in_weeks(place: Place, written: &str, usual: &str) -> Finding {
    ITEM.at(place)
        .says(format!(
            "`{}` counts in weeks; an age is counted in days",
            shortened(written)
        ))
        .help(format!(
            "write `{usual}` if the first week ends with day 6: day 0 is the day of hatching or birth"
        ))
        .offer(format!("write `{usual}`"), place, usual)
}
