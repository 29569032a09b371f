//! Lots: what each gives over all batches, in which order, and weighings that several of them share.

use std::collections::BTreeMap;

use trug_model::Q;

use super::document::LotPart;
use super::number::Number;
use super::resolve::is_day;
use super::sheet::{Batch, Ingredient, Input, InputSource, Lot, Sheet, Weighing};
use super::weighings::is_shared;
use super::{Breaches, Rule};

/// Reads the lots of an ingredient, which stand in the order of their best before.
pub(super) fn read(given: Vec<LotPart>, place: &str, found: &mut Breaches) -> Vec<Lot> {
    let key = |lot: &LotPart| (lot.best_before.is_none(), lot.best_before.clone());
    if !given.is_sorted_by_key(key) {
        found.add(
            Rule::Lot,
            place,
            "its lots are not in the order of best before",
        );
    }
    let mut lots: Vec<Lot> = Vec::new();
    for lot in given {
        if lot.name.is_empty() || lots.iter().any(|known| known.name == lot.name) {
            let says = format!("the name “{}” is empty or given twice", lot.name);
            found.add(Rule::Name, place, says);
        }
        if lot.best_before.as_deref().is_some_and(|day| !is_day(day)) {
            found.add(Rule::Form, place, "the best before of a lot is not a day");
        }
        let below =
            |number: &Option<Number>| number.as_ref().is_some_and(|it| it.value.is_negative());
        if below(&lot.on_hand_g) || below(&lot.named_percent) {
            found.add(Rule::Form, place, "of a lot there is less than nothing");
        }
        lots.push(Lot {
            name: lot.name,
            on_hand: lot.on_hand_g,
            is_named: lot.named_percent.is_some(),
            is_open: lot.open,
        });
    }
    lots
}

/// Follows the lots through all batches.
pub(super) fn check(sheet: &Sheet, found: &mut Breaches) {
    let mut given: BTreeMap<&str, Number> = BTreeMap::new();
    for batch in &sheet.batches {
        let times = Q::int(i64::from(batch.times));
        for weighing in &batch.weighings {
            let Some(ingredient) = sheet.ingredients.get(weighing.ingredient) else {
                continue;
            };
            check_known(ingredient, batch, weighing, found);
            if let Some(lot) = &weighing.lot {
                let so_far = given.entry(lot).or_insert(Number::exact(Q::ZERO));
                *so_far = so_far.plus(&weighing.mass.times(&times));
            }
        }
        for weighing in &batch.weighings {
            if let Some(ingredient) = sheet.ingredients.get(weighing.ingredient) {
                check_first(ingredient, batch, weighing, &given, found);
            }
        }
    }
    check_on_hand(sheet, &given, found);
}

/// A plan without lots of an ingredient may name any.
fn check_known(ingredient: &Ingredient, batch: &Batch, weighing: &Weighing, found: &mut Breaches) {
    let Some(name) = &weighing.lot else { return };
    let lots = &ingredient.lots;
    if lots.is_empty() {
        return;
    }
    match lots.iter().find(|lot| lot.name == *name) {
        None => {
            let says = format!("{name} is no lot of {}", ingredient.name);
            found.add(Rule::Reference, batch.at_weighing(weighing), says);
        }
        Some(lot) if !lot.is_open && !lot.is_named => {
            let says = format!("{name} is named by no line and open to none");
            found.add(Rule::Lot, batch.at_weighing(weighing), says);
        }
        Some(_) => {}
    }
}

/// What could have been weighed whole from an earlier lot is not taken from a later one, or from none. How what several share
/// is cut, the scales decide.
fn check_first(
    ingredient: &Ingredient,
    batch: &Batch,
    weighing: &Weighing,
    given: &BTreeMap<&str, Number>,
    found: &mut Breaches,
) {
    // What lines name is taken whatever its day.
    if ingredient.lots.iter().any(|lot| lot.is_named) || is_shared(batch, weighing) {
        return;
    }
    let earlier = ingredient
        .lots
        .iter()
        .take_while(|lot| weighing.lot.as_ref() != Some(&lot.name));
    for lot in earlier.filter(|lot| lot.is_open) {
        let Some(on_hand) = &lot.on_hand else {
            continue;
        };
        let none = Number::exact(Q::ZERO);
        let left = on_hand.less(given.get(lot.name.as_str()).unwrap_or(&none));
        if !weighing.mass.is_over(&left) {
            let says = format!(
                "{} g are not taken from {}, of which {left} g are left",
                weighing.mass, lot.name
            );
            found.add(Rule::Lot, batch.at_weighing(weighing), says);
        }
    }
}

fn check_on_hand(sheet: &Sheet, given: &BTreeMap<&str, Number>, found: &mut Breaches) {
    let lots = sheet.ingredients.iter().flat_map(|it| &it.lots);
    for lot in lots {
        if let (Some(on_hand), Some(given)) = (&lot.on_hand, given.get(lot.name.as_str()))
            && given.is_over(on_hand)
        {
            let says = format!("{} gives {given} g of {on_hand} g", lot.name);
            found.add(Rule::Lot, "the batches", says);
        }
    }
}

/// The batch with what several lots give to a step, one beside the other, as one weighing.
pub(super) fn joined(batch: &Batch) -> Batch {
    let mut joined = Batch {
        weighings: Vec::new(),
        ..batch.clone()
    };
    for step in &mut joined.steps {
        let mut inputs: Vec<Input> = Vec::new();
        let mut lots: Vec<Option<String>> = Vec::new();
        for input in &step.inputs {
            let weighing = match input.source {
                InputSource::Weighing(rank) => batch.weighings.get(rank),
                InputSource::Step(_) => None,
            };
            let Some(weighing) = weighing else {
                lots.clear();
                inputs.push(input.clone());
                continue;
            };
            let shares = |last: &&mut Weighing| {
                last.ingredient == weighing.ingredient && !lots.contains(&weighing.lot)
            };
            let last = joined.weighings.last_mut().filter(|_| !lots.is_empty());
            if let (Some(last), Some(whole)) = (last.filter(shares), inputs.last_mut()) {
                join(last, weighing);
                whole.mass = last.mass.clone();
            } else {
                lots.clear();
                inputs.push(Input {
                    source: InputSource::Weighing(joined.weighings.len()),
                    mass: weighing.mass.clone(),
                });
                joined.weighings.push(weighing.clone());
            }
            lots.push(weighing.lot.clone());
        }
        step.inputs = inputs;
    }
    joined
}

fn join(whole: &mut Weighing, part: &Weighing) {
    whole.mass = whole.mass.plus(&part.mass);
    whole.error = whole.error.plus(&part.error);
    whole.from = whole.from.plus(&part.from);
    whole.to = whole.to.plus(&part.to);
    whole.loads.extend(part.loads.iter().cloned());
}
