//! The reasons: ingredients, animals, targets and the like whose own values changed, each told once.

mod books;
mod facts;
mod ingredients;
mod items;

use std::collections::{BTreeMap, BTreeSet};

use smol_str::SmolStr;
use trug_findings::FileId;
use trug_model::View;
use trug_syntax::tree::{Item, ItemBody};

use crate::change::{Cause, CauseKind, FactChange, Pair};
use crate::matching;
use crate::side::{Digests, Side};
use crate::state::{Opened, State};
use facts::Facts;

/// An item that a ration can rest on, where a text declares it.
#[derive(Clone)]
struct Declared<'a> {
    text: FileId,
    item: &'a Item,
    kind: CauseKind,
    name: SmolStr,
    file: String,
}

/// What changed in the items that texts declare.
pub(crate) fn of_texts(before: &Side<'_>, after: &Side<'_>, digests: &Digests) -> Vec<Cause> {
    let key = |one: &Declared<'_>| {
        (
            one.file.clone(),
            format!("{} {}", one.kind.word(), one.name),
        )
    };
    let paired = matching::pairs(&declared(before), &declared(after), key);
    let (mut then, mut now) = (LastOpened::new(before), LastOpened::new(after));
    let mut causes = Vec::new();
    for pair in paired {
        if !digests.may_differ(&pair.map(|one| one.text)) {
            continue;
        }
        let changes = match (&pair.before, &pair.after) {
            (Some(one), Some(other)) => {
                let facts = (then.facts(one), now.facts(other));
                let changes = facts::changes(&facts.0, &facts.1);
                if changes.is_empty() {
                    continue;
                }
                changes
            }
            _ => Vec::new(),
        };
        causes.extend(cause(&pair, changes));
    }
    causes.extend(books::editions(before, after));
    causes.extend(books::values(&mut then, &mut now));
    causes
}

fn cause(pair: &Pair<Declared<'_>>, changes: Vec<FactChange>) -> Option<Cause> {
    pair.any().map(|one| Cause {
        kind: one.kind,
        name: one.name.to_string(),
        file: pair.map(|one| one.file.clone()),
        changes,
    })
}

fn declared<'a>(side: &Side<'a>) -> Vec<Declared<'a>> {
    let farm = side.farm;
    let texts = side.own_texts().filter(|text| !farm.is_table(*text));
    texts.flat_map(|text| declared_in(side, text)).collect()
}

fn declared_in<'a>(side: &Side<'a>, text: FileId) -> Vec<Declared<'a>> {
    let farm = side.farm;
    let file = side.name(text);
    let items = farm.tree(text).items.iter();
    let declared = items.filter_map(|item| {
        let kind = kind(&item.body)?;
        let name = match item.body.name() {
            Some(name) => name.text.clone(),
            None => items::rate_name(farm, text, item),
        };
        Some(Declared {
            text,
            item,
            kind,
            name,
            file: file.clone(),
        })
    });
    declared.collect()
}

fn kind(body: &ItemBody) -> Option<CauseKind> {
    Some(match body {
        ItemBody::Ingredient(_) => CauseKind::Ingredient,
        ItemBody::Lot(_) => CauseKind::Lot,
        ItemBody::Animal(_) => CauseKind::Animal,
        ItemBody::Targets(_) => CauseKind::Targets,
        ItemBody::Nutrient(_) => CauseKind::Nutrient,
        ItemBody::Unit(_) => CauseKind::Unit,
        ItemBody::Rate(_) => CauseKind::Rate,
        ItemBody::Method(_) => CauseKind::Method,
        ItemBody::Scale(_) => CauseKind::Scale,
        ItemBody::Vessel(_) => CauseKind::Vessel,
        ItemBody::Use(_)
        | ItemBody::Ration(_)
        | ItemBody::Group(_)
        | ItemBody::Record(_)
        | ItemBody::Unread(_) => return None,
    })
}

/// The text that was opened last: items of one text stand together.
struct LastOpened<'a> {
    side: &'a Side<'a>,
    view: Option<(FileId, View<'a>)>,
}

impl<'a> LastOpened<'a> {
    fn new(side: &'a Side<'a>) -> LastOpened<'a> {
        LastOpened { side, view: None }
    }

    fn facts(&mut self, one: &Declared<'_>) -> Facts {
        if self.view.as_ref().is_none_or(|(text, _)| *text != one.text) {
            self.view = Some((one.text, self.side.farm.open(one.text)));
        }
        let Some((_, view)) = &self.view else {
            return Facts::default();
        };
        match one.kind {
            CauseKind::Ingredient => ingredients::of_ingredient(view, &one.name),
            CauseKind::Lot => ingredients::of_lot(view, one.item, &one.name),
            CauseKind::Scale => items::of_scale(view, &one.name),
            CauseKind::Vessel => items::of_vessel(view, &one.name),
            CauseKind::Method => items::of_method(view, &one.name),
            CauseKind::Animal => items::of_animal(view, one.text, one.item),
            CauseKind::Targets => items::of_targets(view, one.text, one.item),
            CauseKind::Nutrient | CauseKind::Unit | CauseKind::Rate => {
                items::of_header(view, one.text, one.item)
            }
            // Told by its year, and its values by themselves.
            CauseKind::Book => Facts::default(),
        }
    }
}

/// What changed in the ingredients of a ration as its own text sees them, with the tables it uses.
pub(crate) fn of_ration(opened: &Pair<Opened<'_>>, states: &Pair<State>) -> Vec<Cause> {
    let (Some(then), Some(now)) = (&opened.before, &opened.after) else {
        return Vec::new();
    };
    let mut causes = Vec::new();
    for name in ingredients_of(&states.before).intersection(&ingredients_of(&states.after)) {
        let one = then.view.ingredient_called(name);
        let other = now.view.ingredient_called(name);
        let (Some(one), Some(other)) = (one, other) else {
            continue;
        };
        let changes = facts::changes(
            &ingredients::of_ingredient(&then.view, name),
            &ingredients::of_ingredient(&now.view, name),
        );
        if !changes.is_empty() {
            causes.push(Cause {
                kind: CauseKind::Ingredient,
                name: name.to_string(),
                file: Pair::both(
                    then.side.name(one.place.file),
                    now.side.name(other.place.file),
                ),
                changes,
            });
        }
    }
    causes
}

fn ingredients_of(state: &Option<State>) -> BTreeSet<SmolStr> {
    let ration = state.as_ref().and_then(|state| state.ration.as_ref());
    let ingredients = ration.iter().flat_map(|ration| ration.ingredients());
    ingredients
        .map(|ingredient| ingredient.name.clone())
        .collect()
}

/// The items that a ration rests on, on either side. Whatever there is to weigh and mix with counts.
pub(crate) fn rests_on(
    opened: &Pair<Opened<'_>>,
    states: &Pair<State>,
) -> BTreeSet<(CauseKind, String)> {
    use trug_model::Namespace;
    let mut rests_on = BTreeSet::new();
    let sides = [
        (&opened.before, &states.before),
        (&opened.after, &states.after),
    ];
    for (opened, state) in sides {
        let ration = state.as_ref().and_then(|state| state.ration.as_ref());
        let (Some(opened), Some(ration)) = (opened, ration) else {
            continue;
        };
        let mut add = |kind, name: &str| {
            rests_on.insert((kind, name.to_owned()));
        };
        for name in ingredients_of(state) {
            add(CauseKind::Ingredient, &name);
        }
        for lot in ration.lines.iter().filter_map(|line| line.lot.as_ref()) {
            add(CauseKind::Lot, lot);
        }
        for kind in ration
            .animal
            .iter()
            .flat_map(|animal| opened.view.kinds(animal))
        {
            add(CauseKind::Animal, &kind);
        }
        for (targets, _) in &ration.meets {
            add(CauseKind::Targets, targets);
        }
        if let Some((method, _)) = &ration.method {
            add(CauseKind::Method, method);
        }
        let common = [
            (Namespace::Scale, CauseKind::Scale),
            (Namespace::Vessel, CauseKind::Vessel),
            (Namespace::Nutrient, CauseKind::Nutrient),
            (Namespace::Unit, CauseKind::Unit),
        ];
        for (namespace, kind) in common {
            for known in opened.view.names(namespace) {
                add(kind, &known.name);
            }
        }
        for &text in opened.view.sees() {
            let farm = opened.side.farm;
            let rates = farm.tree(text).items.iter();
            for item in rates.filter(|item| matches!(item.body, ItemBody::Rate(_))) {
                add(CauseKind::Rate, &items::rate_name(farm, text, item));
            }
        }
    }
    rests_on
}

/// Each cause once: one that says less than another of the same item is left out.
pub(crate) fn merged(causes: Vec<Cause>) -> Vec<Cause> {
    let mut by_item: BTreeMap<(CauseKind, String, Pair<String>), Vec<Vec<FactChange>>> =
        BTreeMap::new();
    for cause in causes {
        let told = by_item
            .entry((cause.kind, cause.name, cause.file))
            .or_default();
        let says_less = |one: &[FactChange], other: &[FactChange]| {
            one.iter().all(|change| other.contains(change))
        };
        if told.iter().any(|known| says_less(&cause.changes, known)) {
            continue;
        }
        told.retain(|known| !says_less(known, &cause.changes));
        told.push(cause.changes);
    }
    let mut merged = Vec::new();
    for ((kind, name, file), mut told) in by_item {
        told.sort();
        merged.extend(told.into_iter().map(|changes| Cause {
            kind,
            name: name.clone(),
            file: file.clone(),
            changes,
        }));
    }
    merged
}
