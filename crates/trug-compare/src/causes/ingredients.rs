//! What is known of an ingredient and of a lot, line by line.

use trug_model::Q;
use trug_model::View;
use trug_model::quantity::Shown;
use trug_model::view::{Content, Ingredient, Never};
use trug_syntax::tree::{Item, ItemBody, LotStatement};

use super::facts::Facts;
use crate::said::Said;

/// What a text sees of an ingredient.
pub(super) fn of_ingredient(view: &View<'_>, name: &str) -> Facts {
    let ingredient = view.ingredient_called(name);
    ingredient.map_or_else(Facts::default, |ingredient| of(view, &ingredient))
}

/// What a lot says that its ingredient does not.
pub(super) fn of_lot(view: &View<'_>, item: &Item, name: &str) -> Facts {
    let Some((lot, delivered)) = view.delivery(name) else {
        return Facts::default();
    };
    let mut facts = of(view, &delivered).without(&of_ingredient(view, &lot.of));
    facts.add("of", Said::default().word(lot.of.to_string()));
    let ItemBody::Lot(written) = &item.body else {
        return facts;
    };
    for line in &written.lines {
        let (what, day) = match &line.statement {
            LotStatement::Received { mass, date } => {
                let came = mass.as_ref();
                let came = came.and_then(|it| view.measured(it, view.file(), Some(&lot.of)));
                if let Some(measure) = came {
                    facts.add("came", Said::quantity(&measure.value, "kg"));
                }
                ("received", date)
            }
            LotStatement::BestBefore(day) => ("best before", day),
            LotStatement::OnHand(quantity) => {
                if let Some(measure) = view.measured(quantity, view.file(), Some(&lot.of)) {
                    facts.add("on hand", Said::quantity(&measure.value, "kg"));
                }
                continue;
            }
            _ => continue,
        };
        let day = format!("{:04}-{:02}-{:02}", day.year, day.month, day.day);
        facts.add(what, Said::default().word(day));
    }
    facts
}

fn of(view: &View<'_>, ingredient: &Ingredient) -> Facts {
    let mut facts = Facts::default();
    for (nutrient, content) in &ingredient.contents {
        if let Some(counted) = view.counted(nutrient) {
            facts.add(nutrient.as_str(), held(content, &counted.unit));
        }
    }
    let percent = Shown::new("%", Q::ratio(1, 100));
    if let Some(dry_matter) = &ingredient.dry_matter {
        facts.add("dry-matter", held(dry_matter, &percent));
    }
    if let Some(price) = &ingredient.price {
        let unit = format!("{}/kg", price.currency);
        facts.add("price", Said::quantity(&price.value, &unit));
    }
    let measures = [
        ("bulk-density", &ingredient.bulk_density, "kg/L"),
        ("sold in", &ingredient.sold_in, "kg"),
        ("particle-size", &ingredient.particle_size, "mm"),
        ("particle-density", &ingredient.particle_density, "g/mL"),
    ];
    for (what, value, unit) in measures {
        if let Some(value) = value {
            facts.add(what, Said::quantity(value, unit));
        }
    }
    if let Some(form) = &ingredient.form {
        facts.add("form", Said::default().word(form.as_str()));
    }
    if ingredient.nothing_else {
        facts.add("nothing else", Said::default().word("yes"));
    }
    bounds(ingredient, &mut facts);
    company(ingredient, &mut facts);
    facts
}

fn held(content: &Content, unit: &Shown) -> Said {
    let said = Said::default().number(&unit.of(&content.value));
    let said = match &content.deviation {
        Some(deviation) => said.word("±").number(&unit.of(deviation)),
        None => said,
    };
    said.word(unit.text.clone())
}

fn bounds(ingredient: &Ingredient, facts: &mut Facts) {
    let of = |word: &str, active: Option<&str>, animal: Option<&str>| {
        let active = active.map(|active| format!(" of {active}"));
        let animal = animal.map(|animal| format!(" for {animal}"));
        format!(
            "{word}{}{}",
            active.unwrap_or_default(),
            animal.unwrap_or_default()
        )
    };
    for limit in &ingredient.limits {
        facts.range(of("share", None, limit.animal.as_deref()), &limit.range, "");
    }
    for dose in &ingredient.doses {
        let what = of("dose", dose.active.as_deref(), dose.animal.as_deref());
        facts.range(what, &dose.range, "");
    }
    for ceiling in &ingredient.ceilings {
        let what = of(
            "ceiling",
            ceiling.active.as_deref(),
            ceiling.animal.as_deref(),
        );
        facts.quantity(what, &ceiling.value, &ceiling.unit);
    }
}

/// What it may not meet, whom it may not be fed to, and what to beware of.
fn company(ingredient: &Ingredient, facts: &mut Facts) {
    for apart in &ingredient.apart {
        let says = Said::default().word("until 1 in").number(&apart.times);
        facts.add(format!("apart from {}", apart.other), says);
    }
    let mut never = |word: &str, never: &Never| {
        let says = Said::default().word(never.reason.as_deref().unwrap_or("yes"));
        facts.add(format!("{word} {}", never.other), says);
    };
    for one in &ingredient.never_with {
        never("never with", one);
    }
    for one in &ingredient.never_for {
        never("never for", one);
    }
    for withdrawal in &ingredient.withdrawals {
        let says = Said::quantity(&withdrawal.days, "days");
        facts.add(format!("withdrawal for {}", withdrawal.product), says);
    }
    for (caution, _) in &ingredient.cautions {
        facts.add("caution", Said::default().word(format!("\"{caution}\"")));
    }
}
