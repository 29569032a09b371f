//! A delivery: what is left of it, how long it keeps, and what it holds other than its ingredient.

use jiff::civil::Date;
use trug_model::view::{Content, Ingredient, Lot};
use trug_model::{Q, View};
use trug_report::words::{count, mass, percent};

use super::ingredient::{card, with_scatter};
use super::went;
use crate::markdown::{heading, typed};

pub(super) fn lot(view: &View<'_>, name: &str) -> Option<String> {
    let (lot, delivered) = view.delivery(name)?;
    let kind = format!("lot of {}", typed(&lot.of));
    let head = heading(lot.label.as_deref(), name, &kind);
    let today = view.farm().settings().today;
    let mut told: Vec<String> = Vec::new();
    told.extend(on_hand(&lot));
    if let Some(day) = lot.received {
        let ago = today.map_or(0, |today| days(day, today));
        let ago = match ago {
            1.. => format!(", {} ago", in_days(ago)),
            _ => String::new(),
        };
        let came = lot.came.as_ref();
        let came = came.map_or_else(String::new, |came| format!("{} on ", in_kg(came)));
        told.push(format!("received {came}{day}{ago}"));
    }
    if let Some(says) = keeps(&lot, today) {
        told.push(match today {
            Some(today) if lot.is_past(today) => format!("**{says}**"),
            _ => says,
        });
    }
    told.extend(went::of_lot(view, name));
    told.extend(differs(view, &lot, &delivered));
    Some(card(view, &delivered, head, told))
}

/// `400 kg on hand`.
pub(crate) fn on_hand(lot: &Lot) -> Option<String> {
    let left = lot.on_hand.as_ref()?;
    Some(format!("{} on hand", in_kg(left)))
}

fn in_kg(kg: &Q) -> String {
    mass(&(kg * &Q::int(1000)))
}

/// `best before 2027-01-15 (51 days)`.
pub(crate) fn keeps(lot: &Lot, today: Option<Date>) -> Option<String> {
    let day = lot.best_before?;
    let Some(today) = today else {
        return Some(format!("best before {day}"));
    };
    Some(match days(today, day) {
        left @ 1.. => format!("best before {day} ({})", in_days(left)),
        0 => format!("best before {day} (today)"),
        past => format!("was best before {day} ({} ago)", in_days(-past)),
    })
}

fn days(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

fn in_days(days: i32) -> String {
    count(usize::try_from(days).unwrap_or(0), "day", "days")
}

/// What its own analysis says, and what its ingredient's lines say of the same.
fn differs(view: &View<'_>, lot: &Lot, delivered: &Ingredient) -> Vec<String> {
    let Some(ingredient) = view.ingredient_called(&lot.of) else {
        return Vec::new();
    };
    let mut told = Vec::new();
    let mut tell =
        |what: String, own: &Content, other: Option<&Content>, say: &dyn Fn(&Q) -> String| {
            if other == Some(own) {
                return;
            }
            let of = typed(&lot.of);
            let other = other.map_or_else(
                || format!("of {of} it is unknown"),
                |other| format!("of {of} it is {}", with_scatter(other, say)),
            );
            told.push(format!("{what} {}; {other}", with_scatter(own, say)));
        };
    if let Some(own) = &delivered.dry_matter {
        let other = ingredient.dry_matter.as_ref();
        tell("dry matter".to_owned(), own, other, &percent);
    }
    for (nutrient, own) in &delivered.contents {
        if let Some(counted) = view.counted(nutrient) {
            let other = ingredient.contents.get(nutrient);
            let unit = counted.unit.fit_for(&own.value);
            tell(typed(nutrient), own, other, &|value| unit.say(value));
        }
    }
    told
}
