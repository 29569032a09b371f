//! What groups eat a day, and what that costs.

use std::collections::BTreeMap;

use trug_findings::FileId;
use trug_model::{Q, View};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use crate::change::{Eaten, EatenChange, GroupChange, Pair};
use crate::matching;
use crate::side::{Digests, Side};

/// A group, where a text declares it.
#[derive(Clone)]
struct Declared<'a> {
    text: FileId,
    group: &'a tree::Group,
    file: String,
}

/// The groups that eat something else, or more or less, or at another cost.
pub(crate) fn compare(before: &Side<'_>, after: &Side<'_>, digests: &Digests) -> Vec<GroupChange> {
    let key = |one: &Declared<'_>| (one.file.clone(), one.group.name.text.to_string());
    let pairs = matching::pairs(&declared(before), &declared(after), key);
    let mut changes = Vec::new();
    for pair in pairs {
        if !digests.may_differ(&pair.map(|one| one.text)) {
            continue;
        }
        let eats = |side: &Side<'_>, one: &Option<Declared<'_>>| {
            let one = one.as_ref();
            one.map_or_else(BTreeMap::new, |one| {
                eats(&side.farm.open(one.text), one.group)
            })
        };
        let mut rations: BTreeMap<String, Pair<Eaten>> = BTreeMap::new();
        for (ration, eaten) in eats(before, &pair.before) {
            rations.entry(ration).or_default().before = Some(eaten);
        }
        for (ration, eaten) in eats(after, &pair.after) {
            rations.entry(ration).or_default().after = Some(eaten);
        }
        let eats = rations.into_iter().filter(|(_, eaten)| eaten.differs());
        let change = GroupChange {
            name: pair
                .any()
                .map_or_else(String::new, |one| one.group.name.text.to_string()),
            file: pair.map(|one| one.file.clone()),
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

fn declared<'a>(side: &Side<'a>) -> Vec<Declared<'a>> {
    let farm = side.farm;
    let mut declared = Vec::new();
    for text in side.own_texts() {
        for item in &farm.tree(text).items {
            if let ItemBody::Group(group) = &item.body {
                declared.push(Declared {
                    text,
                    group,
                    file: side.name(text),
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
