//! What stands below a shopping list: what else there is to know, and how it is counted.

use trug_store::Buying;

use super::ShoppingList;
use super::told::{at, kilograms, why_left_out, why_uncounted};

/// What the tool says of itself; it never calls a feed safe.
const CHECKED: &str = "This counts what the texts say is eaten and on hand, and nothing else of it. Product label, \
    veterinarian and local feed law decide what is bought and fed.";

/// All remarks, in sentences.
pub(super) fn remarks(list: &ShoppingList<'_>) -> Vec<String> {
    let buying = list.buying;
    let mut remarks = Vec::new();
    for beside in &buying.beside {
        let name = beside.label.as_deref().unwrap_or(&beside.name);
        remarks.push(format!(
            "Eaten beside and not on this list: {} of {name}.",
            kilograms(&beside.mass)
        ));
    }
    for mixed in &buying.mixed {
        let name = mixed.label.as_deref().unwrap_or(&mixed.name);
        remarks.push(format!(
            "{} of {name} is there mixed ahead; {} of it is used before more is mixed.",
            kilograms(&mixed.on_hand),
            kilograms(&mixed.used)
        ));
    }
    for one in &buying.left_out {
        let mass = one.on_hand.as_ref().map_or_else(String::new, |mass| {
            format!(" ({} of {})", kilograms(mass), one.of)
        });
        remarks.push(format!(
            "Lot {}{mass} is not counted ({}): {}.",
            one.lot,
            at(one.place, list),
            why_left_out(one)
        ));
    }
    for fed in buying.fed.iter().filter(|fed| fed.days == 0) {
        let from = fed.from.map_or_else(String::new, |day| day.to_string());
        let name = fed.label.as_deref().unwrap_or(&fed.group);
        remarks.push(format!(
            "{name} eats {} only from {from}: not on this list, but counted in how long things last.",
            fed.ration
        ));
    }
    for one in buying.uncounted.iter().filter(|one| one.is_later) {
        remarks.push(format!(
            "What {} eats of {} later ({}) is not counted in how long things last: {}.",
            one.group.as_deref().unwrap_or("a group"),
            one.ration.as_deref().unwrap_or("a ration"),
            at(one.place, list),
            why_uncounted(one)
        ));
    }
    remarks.push(rules(buying));
    remarks.push(CHECKED.to_owned());
    remarks
}

/// By which rules it is counted; only those that matter here.
fn rules(buying: &Buying) -> String {
    let now = || buying.fed.iter().filter(|fed| 0 < fed.days);
    let mut rules = Vec::new();
    if now().any(|fed| fed.mix_days.is_some()) {
        rules.push(
            "A mix takes all it needs on its first day, so that day decides by when something must be there; the first mix is made \
             on the first day, the last one is for the days that are left.",
        );
    }
    if now().any(|fed| fed.mix_days.is_none()) {
        rules.push(
            "Where neither group nor ration says how long a mix lasts, it is mixed day by day.",
        );
    }
    rules.push(
        "The lot that expires first is used first, and none after its last good day. What is bought is taken to keep. Feed already \
         mixed counts where a lot of it is written.",
    );
    rules.join(" ")
}
