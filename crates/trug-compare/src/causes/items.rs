//! What animals, targets, methods, scales and vessels say, line by line; of the rest, their one line.

use smol_str::SmolStr;
use trug_findings::{FileId, Span};
use trug_model::view::MixesIn;
use trug_model::{Farm, Q, View};
use trug_syntax::tree::{AnimalStatement, Item, ItemBody, Strength};

use super::facts::Facts;
use crate::said::Said;

/// What a rate is of: its line up to the sign of equality.
pub(super) fn rate_name(farm: &Farm, text: FileId, item: &Item) -> SmolStr {
    let words = words(farm, text, item.header);
    let of = words.split('=').next().unwrap_or_default().trim();
    SmolStr::new(of.strip_prefix("rate ").unwrap_or(of))
}

/// A piece of a text, its blanks made alike.
fn words(farm: &Farm, text: FileId, span: Span) -> String {
    let source = farm.sources().get(text.index());
    let piece = source.map_or("", |source| span.of(source.text()));
    piece.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The header of an item that has no lines.
pub(super) fn of_header(view: &View<'_>, text: FileId, item: &Item) -> Facts {
    let mut facts = Facts::default();
    let words = words(view.farm(), text, item.header);
    // What stands behind the sign of equality is the value; a nutrient may have only a kind.
    let (_, value) = words.split_once('=').unwrap_or(("", &words));
    facts.add("is", Said::default().word(value.trim()));
    facts
}

/// Whose kind an animal is, what it gives, what law and harm bound.
pub(super) fn of_animal(view: &View<'_>, text: FileId, item: &Item) -> Facts {
    let mut facts = Facts::default();
    let ItemBody::Animal(animal) = &item.body else {
        return facts;
    };
    if let Some(is) = &animal.is {
        facts.add("is", Said::default().word(is.text.as_str()));
    }
    for line in &animal.lines {
        match &line.statement {
            AnimalStatement::Gives(product) => {
                facts.add("gives", Said::default().word(product.text.as_str()));
            }
            AnimalStatement::Bound {
                of,
                bound,
                strength,
                ..
            } => {
                let strength = match strength {
                    Strength::Law => "law",
                    Strength::Harm => "harm",
                };
                let what = format!("{} by {strength}", words(view.farm(), text, of.span));
                match view.bounded(bound, text, None) {
                    Some(range) => facts.range(what, &range, ""),
                    None => facts.add(what, unread(view, text, bound.span)),
                }
            }
            AnimalStatement::Accept(_) | AnimalStatement::Unread => {}
        }
    }
    facts
}

/// A value that could not be made out, as it is written.
fn unread(view: &View<'_>, text: FileId, span: Span) -> Said {
    Said::default().word(words(view.farm(), text, span))
}

/// The bounds of targets.
pub(super) fn of_targets(view: &View<'_>, text: FileId, item: &Item) -> Facts {
    let mut facts = Facts::default();
    let ItemBody::Targets(targets) = &item.body else {
        return facts;
    };
    if let Some(animal) = &targets.for_animal {
        facts.add("for", Said::default().word(animal.text.as_str()));
    }
    if let Some(phase) = view.phase_of_targets(&targets.name.text) {
        facts.add("for ages", Said::default().word(phase.words()));
    }
    for target in targets.lines.iter().filter_map(|line| line.target.as_ref()) {
        let what = words(view.farm(), text, target.of.span);
        match view.bounded(&target.bound, text, None) {
            Some(range) => facts.range(what, &range, ""),
            None => facts.add(what, unread(view, text, target.bound.span)),
        }
    }
    facts
}

pub(super) fn of_scale(view: &View<'_>, name: &str) -> Facts {
    let mut facts = Facts::default();
    let scales = view.all_scales();
    let Some(scale) = scales.iter().find(|scale| scale.name == name) else {
        return facts;
    };
    facts.add("weighs up to", Said::quantity(&scale.capacity, "kg"));
    let grams = |value: &Q| Said::quantity(&(value * &Q::int(1000)), "g");
    facts.add("steps", grams(&scale.division));
    facts.add("weighs from", grams(&scale.minimum));
    if let Some(class) = scale.class {
        facts.add("class", Said::default().word(format!("{class:?}")));
    }
    facts
}

pub(super) fn of_vessel(view: &View<'_>, name: &str) -> Facts {
    let mut facts = Facts::default();
    let vessels = view.all_vessels();
    let Some(vessel) = vessels.iter().find(|vessel| vessel.name == name) else {
        return facts;
    };
    let says = Said::default().number(&Q::int(i64::from(vessel.count)));
    let says = says.word("of").number(&vessel.litres).word("L");
    facts.add("there are", says);
    facts
}

pub(super) fn of_method(view: &View<'_>, name: &str) -> Facts {
    let mut facts = Facts::default();
    let Some(method) = view.method_called(name) else {
        return facts;
    };
    let percent = |value: &Q| Said::quantity(&(value * &Q::int(100)), "%");
    facts.add("small below", percent(&method.small));
    facts.add("pre-blend", percent(&method.preblend));
    facts.add("step at most 1 in", Said::default().number(&method.step));
    facts.add("weigh within", percent(&method.weigh));
    if let Some(even) = &method.even {
        facts.add("even within", percent(even));
    }
    match &method.mixes_in {
        MixesIn::Floor(Some(kg)) => facts.add("floor", Said::quantity(kg, "kg")),
        MixesIn::Floor(None) => {}
        MixesIn::Vessel(name) => facts.add("in", Said::default().word(name.as_str())),
    }
    if let Some(lift) = &method.lift {
        facts.add("lift", Said::quantity(lift, "kg"));
    }
    let counts = [("turn", method.turns), ("portions", method.portions)];
    for (what, count) in counts {
        if let Some(count) = count {
            facts.add(what, Said::default().number(&Q::int(i64::from(count))));
        }
    }
    facts
}
