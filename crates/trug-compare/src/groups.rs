//! What groups eat a day, and what that costs.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_model::{Q, View};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use crate::change::{Eaten, EatenChange, GroupChange, Pair};
use crate::matching;
use crate::side::Side;

/// A group, where a text declares it.
#[derive(Clone)]
struct Declared {
    name: SmolStr,
    file: String,
    eats: BTreeMap<String, Eaten>,
}

/// The groups that eat something else, or more or less, or at another cost.
pub(crate) fn compare(before: &Side<'_>, after: &Side<'_>) -> Vec<GroupChange> {
    let key = |group: &Declared| (group.file.clone(), group.name.to_string());
    let pairs = matching::pairs(&declared(before), &declared(after), key);
    let mut changes = Vec::new();
    for pair in pairs {
        let eats = |group: &Option<Declared>| {
            group
                .as_ref()
                .map(|group| group.eats.clone())
                .unwrap_or_default()
        };
        let mut rations: BTreeMap<String, Pair<Eaten>> = BTreeMap::new();
        for (ration, eaten) in eats(&pair.before) {
            rations.entry(ration).or_default().before = Some(eaten);
        }
        for (ration, eaten) in eats(&pair.after) {
            rations.entry(ration).or_default().after = Some(eaten);
        }
        let eats = rations.into_iter().filter(|(_, eaten)| eaten.differs());
        let change = GroupChange {
            name: pair
                .any()
                .map_or_else(String::new, |group| group.name.to_string()),
            file: pair.map(|group| group.file.clone()),
            eats: eats
                .map(|(ration, eaten)| EatenChange { ration, eaten })
                .collect(),
        };
        let is_on_one_side = change.file.before.is_none() || change.file.after.is_none();
        if !change.eats.is_empty() || is_on_one_side {
            changes.push(change);
        }
    }
    changes.sort_by(|one, other| (one.file.any(), &one.name).cmp(&(other.file.any(), &other.name)));
    changes
}

fn declared(side: &Side<'_>) -> Vec<Declared> {
    let mut declared = Vec::new();
    for text in side.own_texts() {
        let mut view = None;
        for item in &side.farm.tree(text).items {
            if let ItemBody::Group(group) = &item.body {
                let view = view.get_or_insert_with(|| side.farm.open(text));
                declared.push(Declared {
                    name: group.name.text.clone(),
                    file: side.name(text),
                    eats: eats(view, group),
                });
            }
        }
    }
    declared
}

fn eats(view: &View<'_>, group: &tree::Group) -> BTreeMap<String, Eaten> {
    let mut eats = BTreeMap::new();
    for line in &group.lines {
        let Some(GroupStatement::Eats { ration: named, .. }) = &line.statement else {
            continue;
        };
        let Some(ration) = view.made_out(&named.text) else {
            continue;
        };
        let Some(order) = view.order_of(&group.name.text, &ration) else {
            continue;
        };
        let kg = order.intake.as_ref().map(|intake| intake * &order.head);
        let may_be_counted = ration.is_sound && ration.adds_up;
        let cost = may_be_counted.then(|| view.cost(&ration)).flatten();
        let cost = cost.filter(|cost| cost.complete);
        let cost = cost
            .zip(kg.as_ref())
            .map(|(cost, kg)| (&cost.per_kg * kg, cost.currency));
        let head: Q = order.head;
        eats.insert(named.text.to_string(), Eaten { head, kg, cost });
    }
    eats
}
