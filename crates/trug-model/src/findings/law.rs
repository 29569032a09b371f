//! What can be said about the law: bounds a regulation sets, and withdrawal.

use trug_findings::{Code, Finding, Place};

use super::target::Told;
use crate::Q;

pub static OVER: Code = Code::error("law/over", include_str!("pages/law-over.md"));
pub static UNDER: Code = Code::error("law/under", include_str!("pages/law-under.md"));
pub static WITHDRAWAL: Code =
    Code::warning("law/withdrawal", include_str!("pages/law-withdrawal.md"));
pub static LOOSENED: Code = Code::warning("law/loosened", include_str!("pages/law-loosened.md"));

pub static ALL: &[&Code] = &[&OVER, &UNDER, &WITHDRAWAL, &LOOSENED];

const DEFER: &str = "check the law where you feed, the product's label, and ask a veterinarian";

fn finding(code: &'static Code, place: Place, told: &Told<'_>, help: &str) -> Finding {
    let written = told.reason.unwrap_or("the law is written here");
    code.at(place)
        .says(format!(
            "{}; the law for {} is {}",
            told.value_says(),
            told.whose,
            told.bound
        ))
        .also(told.written, written)
        .help(format!("{help}{}; {DEFER}", told.basis_says()))
}

pub(crate) fn over(place: Place, told: &Told<'_>) -> Finding {
    finding(
        &OVER,
        place,
        told,
        &format!("lower what brings {} into {}", told.what, told.ration),
    )
}

pub(crate) fn under(place: Place, told: &Told<'_>) -> Finding {
    finding(
        &UNDER,
        place,
        told,
        &format!("add {} to {}", told.what, told.ration),
    )
}

pub(crate) fn withdrawal(
    place: Place,
    ingredient: &str,
    animal: &str,
    product: &str,
    days: &Q,
    written: Place,
) -> Finding {
    WITHDRAWAL
        .at(place)
        .says(format!("{animal} gives {product}; after {ingredient} none for {days} days"))
        .also(written, "the withdrawal is written here")
        .help(format!("keep its {product} from people until {days} days after the last feed; the label, the veterinarian and local law decide"))
}

/// The farm writes a looser bound than the book; the book's still holds. `code` is that of law, or of harm.
pub(crate) fn loosened(
    code: &'static Code,
    place: Place,
    what: &str,
    farm: &str,
    book: &str,
    written: Place,
) -> Finding {
    code.at(place)
        .says(format!("{what} {farm} is looser than the book's {book}"))
        .also(written, "the book's bound, which still holds")
        .help(format!("leave it out, or tighten it; {DEFER}"))
}
