//! Numbers, units and bounds of a tree in the words of the language: the number for the cell, the rest for the heading.

use trug_syntax::tree::{Basis, BasisKind, Bound, Quantity, Text, UnitText};

/// `8.0 ± 0.4`.
pub(super) fn number(quantity: &Quantity) -> String {
    let number = &quantity.number.digits;
    match &quantity.scatter {
        Some(scatter) => format!("{number} \u{b1} {}", scatter.number.digits),
        None => number.to_string(),
    }
}

/// `% of dry-matter`; none where the quantity has no unit.
pub(super) fn unit(quantity: &Quantity) -> Option<String> {
    Some(with_basis(quantity.unit.as_ref()?, quantity.basis.as_ref()))
}

/// `16 .. 18` and its unit; none where the bound has no unit.
pub(super) fn bound(bound: &Bound) -> Option<(String, String)> {
    let cell = match (&bound.low, &bound.high) {
        (Some(low), Some(high)) => format!("{} .. {}", low.digits, high.digits),
        (Some(low), None) => format!("at least {}", low.digits),
        (None, Some(high)) => format!("at most {}", high.digits),
        (None, None) => return None,
    };
    Some((cell, with_basis(bound.unit.as_ref()?, bound.basis.as_ref())))
}

/// A text in the quotes of the language.
pub(super) fn quoted(text: &Text) -> String {
    format!("\"{}\"", text.text.replace('"', "\"\""))
}

fn with_basis(unit: &UnitText, basis: Option<&Basis>) -> String {
    let counted = &unit.unit.text;
    let unit = match &unit.per {
        Some((None, per)) => format!("{counted}/{}", per.text),
        Some((Some(count), per)) => format!("{counted} per {} {}", count.digits, per.text),
        None => counted.to_string(),
    };
    match basis.map(|basis| &basis.kind) {
        None => unit,
        Some(BasisKind::AsFed) => format!("{unit} as fed"),
        Some(BasisKind::OfDryMatter) => format!("{unit} of dry-matter"),
        Some(BasisKind::AtDryMatter(at)) => format!("{unit} at {} % dry-matter", at.digits),
    }
}
