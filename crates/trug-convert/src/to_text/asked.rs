//! What a user says of headings: their units, and which hold the amounts of a ration.

use super::Maker;
use crate::layout::{Column, LONGEST_HEADING};
use crate::remarks::{Refusal, Remark, short};
use crate::units::{Parts, parts, unit, unit_and_basis};
use crate::words::plain;

/// What to do where a heading has no unit.
pub(super) fn ask(heading: &str, example: &str) -> String {
    let heading = short(heading);
    format!("write the unit in the heading, or say it: --unit \"{heading}={example}\"")
}

/// Whether a heading is the one a user named, with or without its unit.
pub(super) fn is_called(heading: &str, wish: &str) -> bool {
    let (heading, wish) = (heading.trim(), wish.trim());
    let plain_wish = plain(wish);
    let words = || {
        if heading.len() <= LONGEST_HEADING {
            plain(&parts(heading).words)
        } else {
            String::new()
        }
    };
    heading == wish
        || !plain_wish.is_empty() && (plain(heading) == plain_wish || words() == plain_wish)
}

/// The unit that a heading has not: from the cell beside it, or as the user said.
pub(super) fn asked_unit(
    parts: &mut Parts,
    text: &str,
    column: &Column<'_>,
    maker: &mut Maker<'_>,
) -> Result<(), Refusal> {
    if let (None, Some(cell)) = (&parts.unit, column.unit) {
        match unit_and_basis(&cell.text) {
            Some((unit, basis)) => {
                parts.unit = Some(unit);
                if parts.basis.is_empty() {
                    parts.basis = basis;
                }
            }
            None => {
                let says = format!("{} is no unit that is known here", short(&cell.text));
                maker
                    .remarks
                    .push(Remark::lost(cell.span, says, ask(text, "%")));
            }
        }
    }
    let wish = maker
        .wishes
        .units
        .iter()
        .find(|(heading, _)| is_called(text, heading));
    let Some((_, written)) = wish else {
        return Ok(());
    };
    let Some(said) = unit(written) else {
        return Err(Refusal::new(
            format!("{} is no unit that is known here", short(written)),
            "write it as in `%`, `g/kg`, `kcal/kg`, `LKR/kg`, `IU/kg`",
        ));
    };
    match &parts.unit {
        Some(own) if own.text != said.text => Err(Refusal::new(
            format!(
                "{} is in {} by its heading, not in {}",
                short(text),
                own.text,
                said.text
            ),
            "leave --unit out, or correct the heading",
        )),
        _ => {
            parts.unit = Some(said);
            Ok(())
        }
    }
}
