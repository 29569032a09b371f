//! An ingredient or a lot on one card: contents with their sources, price, doses, cautions, deliveries.

use trug_model::view::{Content, Ingredient};
use trug_model::{Q, View};
use trug_report::words::{mass, percent};
use trug_syntax::tree::{IngredientStatement, ItemBody};

use super::{origin, text_at};
use crate::markdown::{DEFERS, heading, paragraphs, plain, points, table, typed};

/// A card shows so many contents; what more there is stands in the text.
const MOST_CONTENTS: usize = 40;
const MOST_LOTS: usize = 12;

pub(super) fn ingredient(view: &View<'_>, name: &str) -> Option<String> {
    let ingredient = view.ingredient_called(name)?;
    let head = heading(ingredient.label.as_deref(), name, "ingredient");
    let lots = lots(view, name);
    Some(card(view, &ingredient, head, lots))
}

pub(super) fn card(
    view: &View<'_>,
    ingredient: &Ingredient,
    head: String,
    last: Vec<String>,
) -> String {
    let unread = if ingredient.is_sound {
        String::new()
    } else {
        "A line of it could not be made out, so it is not summed.".to_owned()
    };
    let contents = contents(view, ingredient);
    let mut told = trade(view, ingredient);
    told.extend(bounds(ingredient));
    told.extend(hazards(ingredient));
    told.extend(last);
    let defers = if ingredient.can_harm() {
        DEFERS.to_owned()
    } else {
        String::new()
    };
    paragraphs([head, unread, contents, points(&told), defers])
}

fn contents(view: &View<'_>, ingredient: &Ingredient) -> String {
    let row = |name: String, value: String, content: &Content| {
        vec![name, value, plain(&origin(view.farm(), content.place))]
    };
    let mut rows = Vec::new();
    if let Some(content) = &ingredient.dry_matter {
        rows.push(row(
            "dry matter".to_owned(),
            with_scatter(content, &percent),
            content,
        ));
    }
    for (nutrient, content) in ingredient.contents.iter().take(MOST_CONTENTS) {
        let Some(counted) = view.counted(nutrient) else {
            continue;
        };
        let unit = counted.unit.fit_for(&content.value);
        let said = with_scatter(content, &|value: &Q| unit.say(value));
        rows.push(row(typed(nutrient), said, content));
    }
    let more = ingredient.contents.len().saturating_sub(MOST_CONTENTS);
    let rest = match (more, ingredient.nothing_else) {
        (0, true) => "What is not listed is zero.".to_owned(),
        (0, false) => "What is not listed is unknown.".to_owned(),
        (more, _) => format!("And {more} more."),
    };
    paragraphs([table(&["as fed", "holds", "written in"], &rows), rest])
}

pub(super) fn with_scatter(content: &Content, say: &dyn Fn(&Q) -> String) -> String {
    match &content.deviation {
        Some(deviation) => format!("{} ± {}", say(&content.value), say(deviation)),
        None => say(&content.value),
    }
}

/// What it costs and how it comes.
fn trade(view: &View<'_>, ingredient: &Ingredient) -> Vec<String> {
    let mut told = Vec::new();
    if let Some(price) = &ingredient.price {
        let amount = trug_report::words::money(&price.value, &price.currency);
        let day =
            price_day(view, price.place).map_or_else(String::new, |day| format!(" as of {day}"));
        let file = plain(&origin(view.farm(), price.place));
        told.push(format!("price: {amount} a kg{day}, written in {file}"));
    } else {
        told.push("price: unknown".to_owned());
    }
    if let Some(sack) = &ingredient.sold_in {
        told.push(format!("sold in: {}", mass(&(sack * &Q::int(1000)))));
    }
    if let Some(density) = &ingredient.bulk_density {
        told.push(format!("bulk density: {} kg/L", density.readable(4)));
    }
    if let Some(form) = &ingredient.form {
        told.push(format!("form: {}", plain(form)));
    }
    told
}

/// The day a price was asked, as it is written.
fn price_day(view: &View<'_>, place: trug_findings::Place) -> Option<String> {
    let items = &view.farm().tree(place.file).items;
    let item = crate::parts::item_at(items, place.span.start as usize)?;
    let ItemBody::Ingredient(written) = &item.body else {
        return None;
    };
    let date = written
        .lines
        .iter()
        .find_map(|line| match &line.statement {
            IngredientStatement::Price { value, as_of } if value.span == place.span => {
                as_of.as_ref()
            }
            _ => None,
        })?;
    Some(text_at(
        view.farm(),
        trug_findings::Place::new(place.file, date.span),
    ))
}

/// Bounds on how much of it a ration may hold.
fn bounds(ingredient: &Ingredient) -> Vec<String> {
    let mut told = Vec::new();
    for limit in &ingredient.limits {
        let whose = limit.animal.as_ref().map_or_else(
            || "of any ration".to_owned(),
            |animal| format!("of a ration for {}", typed(animal)),
        );
        told.push(format!("{} {whose}", limit.range.words()));
    }
    for dose in &ingredient.doses {
        let of = of_what(dose.active.as_deref(), dose.animal.as_deref());
        told.push(format!("**dose** on its label: {}{of}", dose.range.words()));
    }
    for ceiling in &ingredient.ceilings {
        let of = of_what(ceiling.active.as_deref(), ceiling.animal.as_deref());
        let why = why(ceiling.reason.as_deref());
        let value = ceiling.unit.say_exactly(&ceiling.value);
        told.push(format!(
            "**ceiling**, above which harm is possible: {value}{of}{why}"
        ));
    }
    told
}

fn of_what(active: Option<&str>, animal: Option<&str>) -> String {
    let active = active.map_or_else(String::new, |active| {
        format!(" of {} it adds", typed(active))
    });
    let animal = animal.map_or_else(String::new, |animal| format!(" for {}", typed(animal)));
    active + &animal
}

fn why(reason: Option<&str>) -> String {
    reason.map_or_else(String::new, |reason| format!(": {}", plain(reason)))
}

fn hazards(ingredient: &Ingredient) -> Vec<String> {
    let mut told = Vec::new();
    for apart in &ingredient.apart {
        told.push(format!(
            "**apart from** {} until each is diluted 1 in {}",
            typed(&apart.other),
            apart.times
        ));
    }
    for never in &ingredient.never_with {
        let why = why(never.reason.as_deref());
        told.push(format!(
            "**never with** {} in one feed{why}",
            typed(&never.other)
        ));
    }
    for never in &ingredient.never_for {
        let why = why(never.reason.as_deref());
        told.push(format!("**never for** {}{why}", typed(&never.other)));
    }
    for withdrawal in &ingredient.withdrawals {
        told.push(format!(
            "**withdrawal**: {} days without it before {} may be eaten",
            withdrawal.days,
            plain(&withdrawal.product)
        ));
    }
    for (caution, _) in &ingredient.cautions {
        told.push(format!("**caution**: {}", plain(caution)));
    }
    told
}

fn lots(view: &View<'_>, name: &str) -> Vec<String> {
    let lots = view.lots_of(name);
    if lots.is_empty() {
        return Vec::new();
    }
    let mut names: Vec<String> = lots
        .iter()
        .take(MOST_LOTS)
        .map(|lot| typed(&lot.name))
        .collect();
    let more = lots.len().saturating_sub(MOST_LOTS);
    if more > 0 {
        names.push(format!("and {more} more"));
    }
    vec![format!("lots: {}", names.join(", "))]
}
