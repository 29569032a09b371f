//! What every record holds, mixes opened up: lots, and mixes made beforehand.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use smol_str::SmolStr;
use trug_model::Q;

use crate::ledger::{Ledger, Part, PartSource};

/// What a batch can hold.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Key {
    /// A lot, by its rank.
    Lot(usize),
    /// A lot of that name, which is not declared.
    Named(SmolStr),
    /// A mix made beforehand, by the rank of its record.
    Record(usize),
}

/// How much of it a batch holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Held {
    /// What it is of.
    pub(crate) ingredient: SmolStr,
    /// How much, in kg, as far as it is certain; none where that could not be reckoned.
    pub(crate) kg: Option<Q>,
    /// It is certain that the batch holds it.
    pub(crate) is_certain: bool,
    /// It may hold more, of a mix whose record is not named.
    pub(crate) may_be_more: bool,
    /// The records of the mixes it came by.
    pub(crate) through: BTreeSet<usize>,
}

/// What one record holds.
pub(crate) type Contents = BTreeMap<Key, Held>;

/// What each record holds, by rank.
pub(crate) fn contents(ledger: &Ledger) -> Vec<Contents> {
    let mut contents: Vec<Contents> = vec![Contents::new(); ledger.records.len()];
    let mut unions = Unions::default();
    for rank in in_order(ledger) {
        let Some(made) = ledger.records.get(rank) else {
            continue;
        };
        let mut own = Contents::new();
        for part in &made.parts {
            match &part.source {
                PartSource::Mix(mixes) => {
                    let may_be = unions.of(ledger, &contents, part, &mixes.records);
                    for (key, held) in may_be {
                        add(&mut own, key.clone(), held.clone());
                    }
                }
                _ => add_part(ledger, &contents, part, &mut own),
            }
        }
        if let Some(slot) = contents.get_mut(rank) {
            *slot = own;
        }
    }
    contents
}

fn mixes(part: &Part) -> &[usize] {
    match &part.source {
        PartSource::Record(mix) => std::slice::from_ref(mix),
        PartSource::Mix(mixes) => &mixes.records,
        _ => &[],
    }
}

/// The records, each after the mixes it may hold. Those of a circle, which no day can be right of, come last.
fn in_order(ledger: &Ledger) -> Vec<usize> {
    let count = ledger.records.len();
    let mut waits: Vec<usize> = vec![0; count];
    let mut used_by: Vec<Vec<usize>> = vec![Vec::new(); count];
    for (rank, made) in ledger.records.iter().enumerate() {
        for mix in made.parts.iter().flat_map(mixes) {
            if let (Some(users), Some(own)) = (used_by.get_mut(*mix), waits.get_mut(rank)) {
                users.push(rank);
                *own += 1;
            }
        }
    }
    let is_ready = |(_, waits): &(usize, &usize)| **waits == 0;
    let ready = waits.iter().enumerate().filter(is_ready);
    let mut ready: VecDeque<usize> = ready.map(|(rank, _)| rank).collect();
    let mut order = Vec::with_capacity(count);
    while let Some(rank) = ready.pop_front() {
        order.push(rank);
        for user in used_by.get(rank).into_iter().flatten() {
            if let Some(waits) = waits.get_mut(*user) {
                *waits -= 1;
                if *waits == 0 {
                    ready.push_back(*user);
                }
            }
        }
    }
    let waiting = waits.iter().enumerate().filter(|(_, waits)| **waits > 0);
    order.extend(waiting.map(|(rank, _)| rank));
    order
}

/// What a mix may hold whose record is not named: everything that any of its candidates holds. Worked out once for all
/// that share the candidates, which are a stretch of one row of records.
#[derive(Default)]
struct Unions(BTreeMap<(usize, usize, usize), Contents>);

impl Unions {
    fn of(
        &mut self,
        ledger: &Ledger,
        contents: &[Contents],
        part: &Part,
        mixes: &[usize],
    ) -> &Contents {
        let end = |rank: Option<&usize>| rank.copied().unwrap_or(ledger.records.len());
        let stretch = (end(mixes.first()), end(mixes.last()), mixes.len());
        self.0.entry(stretch).or_insert_with(|| {
            let mut may_be = Contents::new();
            for mix in mixes {
                add(&mut may_be, Key::Record(*mix), perhaps(&part.name, None));
                for (key, held) in contents.get(*mix).into_iter().flatten() {
                    let held = perhaps(&held.ingredient, Some(*mix));
                    add(&mut may_be, key.clone(), held);
                }
            }
            may_be
        })
    }
}

/// Some of it, perhaps.
fn perhaps(ingredient: &SmolStr, through: Option<usize>) -> Held {
    Held {
        ingredient: ingredient.clone(),
        kg: None,
        is_certain: false,
        may_be_more: true,
        through: through.into_iter().collect(),
    }
}

fn add_part(ledger: &Ledger, contents: &[Contents], part: &Part, own: &mut Contents) {
    let direct = Held {
        ingredient: part.name.clone(),
        kg: part.kg.clone(),
        is_certain: true,
        may_be_more: false,
        through: BTreeSet::new(),
    };
    match &part.source {
        PartSource::NotSaid | PartSource::Mix(_) => {}
        PartSource::Lot(lot) => add(own, Key::Lot(*lot), direct),
        PartSource::UnknownLot(name) => add(own, Key::Named(name.clone()), direct),
        PartSource::Record(mix) => {
            add(own, Key::Record(*mix), direct);
            let total = ledger.records.get(*mix).and_then(|it| it.total.as_ref());
            let share = part.kg.as_ref().zip(total);
            let share = share.and_then(|(kg, total)| kg.over(total));
            for (key, held) in contents.get(*mix).into_iter().flatten() {
                let kg = held.kg.as_ref().zip(share.as_ref());
                let held = Held {
                    kg: kg.map(|(kg, share)| kg * share),
                    through: BTreeSet::from([*mix]),
                    ..held.clone()
                };
                add(own, key.clone(), held);
            }
        }
    }
}

fn add(contents: &mut Contents, key: Key, more: Held) {
    let Some(held) = contents.get_mut(&key) else {
        contents.insert(key, more);
        return;
    };
    held.kg = match (held.is_certain, more.is_certain) {
        (true, true) => held.kg.take().zip(more.kg).map(|(one, other)| one + other),
        (true, false) => held.kg.take(),
        (false, _) => more.kg,
    };
    held.is_certain |= more.is_certain;
    held.may_be_more |= more.may_be_more;
    held.through.extend(more.through);
}
