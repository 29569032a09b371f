//! Rations of two sides: which is which, and what changed in each.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::FileId;
use trug_model::analysis::Analysis;
use trug_model::{RationName, composed};

use crate::causes;
use crate::change::{
    Amount, AmountChange, Cause, CauseKind, CostAt, FactChange, NutrientAt, NutrientChange, Pair,
    RationChange,
};
use crate::found::{self, Found};
use crate::matching;
use crate::side::{Digests, Side};
use crate::standing::{self, Known};
use crate::state::{Opened, State};

/// A ration and the text it is seen from.
#[derive(Clone, Debug)]
pub(crate) struct Named {
    pub(crate) text: FileId,
    pub(crate) ration: RationName,
    key: (String, String),
}

/// Findings of either side.
#[derive(Default)]
pub(crate) struct Told {
    pub(crate) before: BTreeSet<Found>,
    pub(crate) after: BTreeSet<Found>,
}

/// What the rations of one text come to.
#[derive(Default)]
pub(crate) struct Outcome {
    pub(crate) rations: Vec<RationChange>,
    pub(crate) causes: Vec<Cause>,
    /// Findings that were told with a ration, or stayed.
    pub(crate) told: Told,
    /// The items the rations rest on.
    pub(crate) rests_on: BTreeSet<(CauseKind, String)>,
    pub(crate) alike: usize,
}

/// The rations of both sides, paired, those of one text together.
pub(crate) fn named(before: &Side<'_>, after: &Side<'_>, ration: Option<&str>) -> Vec<Pair<Named>> {
    let own = |side: &Side<'_>| rations_of(side, side.farm.asked().iter().copied(), ration);
    let (mut these, mut others) = (own(before), own(after));
    if ration.is_some() && these.is_empty() && others.is_empty() {
        // A ration that is named may stand in a text that is used.
        these = rations_of(before, before.own_texts(), ration);
        others = rations_of(after, after.own_texts(), ration);
    }
    let mut paired = matching::pairs(&these, &others, |one| one.key.clone());
    paired.sort_by_key(texts);
    paired
}

fn rations_of(
    side: &Side<'_>,
    texts: impl Iterator<Item = FileId>,
    ration: Option<&str>,
) -> Vec<Named> {
    let mut named = Vec::new();
    let mut seen = BTreeSet::new();
    for text in texts {
        for ration in side.farm.rations(text) {
            let key = (side.name(text), ration.name.to_string());
            // A name declared twice means its first ration.
            if seen.insert(key.clone()) {
                named.push(Named { text, ration, key });
            }
        }
    }
    let wanted = ration.map(composed);
    named.retain(|one| {
        wanted
            .as_ref()
            .is_none_or(|wanted| one.ration.name == **wanted)
    });
    named
}

fn texts(pair: &Pair<Named>) -> (Option<FileId>, Option<FileId>) {
    let texts = pair.map(|named| named.text);
    (texts.before, texts.after)
}

/// The rations of each pair of texts.
pub(crate) fn by_text(named: &[Pair<Named>]) -> Vec<&[Pair<Named>]> {
    named
        .chunk_by(|one, other| texts(one) == texts(other))
        .collect()
}

impl Outcome {
    pub(crate) fn add(&mut self, other: Outcome) {
        self.rations.extend(other.rations);
        self.causes.extend(other.causes);
        self.told.before.extend(other.told.before);
        self.told.after.extend(other.told.after);
        self.rests_on.extend(other.rests_on);
        self.alike += other.alike;
    }
}

/// Compares rations that stand in the same texts.
pub(crate) fn outcome(
    before: &Side<'_>,
    after: &Side<'_>,
    pairs: &[Pair<Named>],
    digests: &Digests,
) -> Outcome {
    let mut outcome = Outcome::default();
    let texts = pairs.first().map(|pair| pair.map(|named| named.text));
    let Some(texts) = texts.filter(|texts| digests.may_differ(texts)) else {
        outcome.alike = pairs.len();
        return outcome;
    };
    let opened = Pair {
        before: texts.before.map(|text| Opened::new(before, text)),
        after: texts.after.map(|text| Opened::new(after, text)),
    };
    for pair in pairs {
        let state = |opened: &Option<Opened<'_>>, named: &Option<Named>| {
            let (opened, named) = (opened.as_ref()?, named.as_ref()?);
            Some(opened.state(&named.ration))
        };
        let states = Pair {
            before: state(&opened.before, &pair.before),
            after: state(&opened.after, &pair.after),
        };
        let change = change(pair, &states);
        if change.is_empty() && !change.is_added() && !change.is_removed() {
            outcome.alike += 1;
        } else {
            outcome.rations.push(change);
        }
        outcome.causes.extend(causes::of_ration(&opened, &states));
        outcome.rests_on.extend(causes::rests_on(&opened, &states));
        let found = |state: Option<State>| state.map(|state| state.found).unwrap_or_default();
        outcome.told.before.extend(found(states.before));
        outcome.told.after.extend(found(states.after));
    }
    outcome
}

fn change(pair: &Pair<Named>, states: &Pair<State>) -> RationChange {
    let (before, after) = (states.before.as_ref(), states.after.as_ref());
    let (then, now) = (before.and_then(known), after.and_then(known));
    // Where one side has no contents at all, they did not change: they are not known, and that is said.
    let is_comparable = then.is_some() && now.is_some() || before.is_none() || after.is_none();
    let (then, now) = if is_comparable {
        (then, now)
    } else {
        (None, None)
    };
    let found = |state: Option<&State>| state.map(|state| state.found.clone()).unwrap_or_default();
    let work = states.map(|state| state.work.clone());
    let work = Pair {
        before: work.before.flatten(),
        after: work.after.flatten(),
    };
    let cost = Pair {
        before: then.as_ref().and_then(|known| cost(known.analysis)),
        after: now.as_ref().and_then(|known| cost(known.analysis)),
    };
    RationChange {
        name: pair
            .any()
            .map_or_else(String::new, |named| named.key.1.clone()),
        file: pair.map(|named| named.key.0.clone()),
        hindrances: states.map(|state| state.hindrances.iter().copied().collect()),
        facts: facts(before, after),
        amounts: amounts(before, after),
        standings: standing::changes(then.as_ref(), now.as_ref()),
        nutrients: nutrients(
            then.as_ref().map(|known| known.analysis),
            now.as_ref().map(|known| known.analysis),
        ),
        cost: cost.differs().then_some(cost),
        work: work.differs().then_some(work),
        found: found::changes(&found(before), &found(after)),
    }
}

fn known(state: &State) -> Option<Known<'_>> {
    Some(Known {
        analysis: state.analysis.as_ref()?,
        whose: &state.whose,
    })
}

fn facts(before: Option<&State>, after: Option<&State>) -> Vec<FactChange> {
    let of = |state: Option<&State>| state.map(State::facts).unwrap_or_default();
    let (before, after) = (of(before), of(after));
    let all: BTreeSet<&str> = before.keys().chain(after.keys()).copied().collect();
    let changes = all.into_iter().map(|what| FactChange {
        what: what.to_owned(),
        says: Pair {
            before: before.get(what).cloned(),
            after: after.get(what).cloned(),
        },
    });
    changes.filter(|change| change.says.differs()).collect()
}

/// Shares, lots and what may be left out count; the kg follow the batch, which is told by itself.
fn has_changed(change: &AmountChange) -> bool {
    let of = |amount: &Amount| Amount {
        kg: None,
        ..amount.clone()
    };
    change.amount.map(of).differs()
}

/// The amounts that changed, in the order of the later text; then those that are gone.
fn amounts(before: Option<&State>, after: Option<&State>) -> Vec<AmountChange> {
    let of = |state: Option<&State>| state.map(State::amounts).unwrap_or_default();
    let (before, after) = (of(before), of(after));
    let mut keys: Vec<&(String, bool)> = after.iter().map(|(key, _)| key).collect();
    let is_gone = |key: &&(String, bool)| !after.iter().any(|(known, _)| known == *key);
    keys.extend(before.iter().map(|(key, _)| key).filter(is_gone));
    let find = |amounts: &[((String, bool), Amount)], key: &(String, bool)| {
        let found = amounts.iter().find(|(known, _)| known == key);
        found.map(|(_, amount)| amount.clone())
    };
    let changes = keys.into_iter().map(|key| AmountChange {
        ingredient: key.0.clone(),
        on_top: key.1,
        amount: Pair {
            before: find(&before, key),
            after: find(&after, key),
        },
    });
    changes.filter(has_changed).collect()
}

fn nutrients(before: Option<&Analysis>, after: Option<&Analysis>) -> Vec<NutrientChange> {
    let mut by_name: BTreeMap<&str, (Pair<NutrientAt>, Option<&String>)> = BTreeMap::new();
    let at = |nutrient: &trug_model::analysis::NutrientValue| NutrientAt {
        value: nutrient.value.clone(),
        unit: nutrient.unit.clone(),
        complete: nutrient.complete,
    };
    for nutrient in before.iter().flat_map(|analysis| &analysis.nutrients) {
        let entry = by_name.entry(&nutrient.name).or_default();
        entry.0.before = Some(at(nutrient));
        entry.1 = nutrient.label.as_ref();
    }
    for nutrient in after.iter().flat_map(|analysis| &analysis.nutrients) {
        let entry = by_name.entry(&nutrient.name).or_default();
        entry.0.after = Some(at(nutrient));
        entry.1 = nutrient.label.as_ref().or(entry.1);
    }
    let changes = by_name
        .into_iter()
        .map(|(name, (at, label))| NutrientChange {
            name: name.to_owned(),
            label: label.cloned(),
            at,
        });
    // What is unknown in part on every side says nothing, unless it is bounded: then its standing does.
    let is_known = |change: &NutrientChange| {
        let sides = [&change.at.before, &change.at.after].into_iter().flatten();
        sides.into_iter().any(|at| at.complete)
    };
    let changes = changes.filter(|change| change.at.differs() && is_known(change));
    changes.collect()
}

fn cost(analysis: &Analysis) -> Option<CostAt> {
    let cost = analysis.cost.as_ref()?;
    Some(CostAt {
        currency: cost.currency.clone(),
        per_kg: cost.per_kg.clone(),
        complete: cost.complete,
    })
}
