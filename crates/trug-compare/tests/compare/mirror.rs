//! Properties: a farm is as itself, and looking from the other side says the same the other way round.

use proptest::prelude::*;
use trug_compare::{Comparison, FoundChange, Pair, RationChange};

use crate::farm::{Texts, between, changed, farm};

/// Pieces of the texts, and what may stand in their place.
const EDITS: [(&str, &str, &[&str]); 14] = [
    (
        "rations.trug",
        "soya-meal      24 %",
        &[
            "soya-meal 22 %",
            "soya-meal 20 .. 26 %",
            "soya-meal 14.4 kg",
            "moon 24 %",
        ],
    ),
    (
        "rations.trug",
        "broken-rice    rest\n  soya-meal      20 %",
        &[
            "broken-rice 60 %\n  soya-meal 20 %",
            "soya-meal 20 %\n  broken-rice rest",
        ],
    ),
    (
        "rations.trug",
        "premix         5 g/kg",
        &["premix 9 g/kg", "premix 5 g/kg on top", ""],
    ),
    ("rations.trug", "batch          60 kg", &["batch 90 kg", ""]),
    (
        "rations.trug",
        "ration grower\n",
        &["ration starter\n", "ration grower like layer\n"],
    ),
    (
        "rations.trug",
        "for            pond-duck\n  meets          duck-lay",
        &["for pond-duck", "meets duck-lay"],
    ),
    ("rations.trug", "320 pond-duck", &["300 pond-duck"]),
    (
        "store.trug",
        "protein        8 %",
        &["protein 7.4 ± 0.3 %", "protein 8.0 %", ""],
    ),
    (
        "store.trug",
        "price          230 LKR/kg",
        &["price 250 LKR/kg", "price 0.7 EUR/kg", ""],
    ),
    (
        "store.trug",
        "dose           4 .. 6 g/kg",
        &["dose 4.5 .. 6 g/kg", "dose 5.5 .. 7 g/kg", ""],
    ),
    (
        "store.trug",
        "at most 0.5 mg/kg law",
        &["at most 0.2 mg/kg law", "at most 0.5 mg/kg as fed law"],
    ),
    (
        "store.trug",
        "protein        16 .. 18 %",
        &["protein 17 .. 19 %", "protein at least 160 g/kg"],
    ),
    (
        "yard.trug",
        "vessel basin     3 of 30 L",
        &["vessel basin 1 of 10 L", ""],
    ),
    (
        "yard.trug",
        "scale bench      5 kg by 1 g",
        &["scale bench 2 kg by 10 g"],
    ),
];

fn a_farm() -> impl Strategy<Value = Texts> {
    proptest::collection::vec(0_usize..6, EDITS.len()).prop_map(|choices| {
        let mut texts = farm();
        for ((name, from, tos), choice) in EDITS.iter().zip(choices) {
            if let Some(to) = tos.get(choice) {
                texts = changed(texts, name, from, to);
            }
        }
        texts
    })
}

fn swap<T: Clone>(pair: &Pair<T>) -> Pair<T> {
    Pair {
        before: pair.after.clone(),
        after: pair.before.clone(),
    }
}

fn turned(found: &[FoundChange]) -> Vec<String> {
    let turned = found
        .iter()
        .map(|change| format!("{} {:?}", !change.is_new, change.found));
    turned.collect()
}

/// A ration's change in words that do not depend on its order; with before and after exchanged where `is_turned`.
fn words(ration: &RationChange, is_turned: bool) -> Vec<String> {
    fn said<T: Clone + std::fmt::Debug>(
        what: impl std::fmt::Debug,
        pair: &Pair<T>,
        is_turned: bool,
    ) -> String {
        let pair = if is_turned { swap(pair) } else { pair.clone() };
        format!("{what:?} {pair:?}")
    }
    let mut words = vec![said(&ration.name, &ration.file, is_turned)];
    words.push(said("hindrances", &ration.hindrances, is_turned));
    words.extend(
        ration
            .facts
            .iter()
            .map(|one| said(&one.what, &one.says, is_turned)),
    );
    words.extend(
        ration
            .amounts
            .iter()
            .map(|one| said((&one.ingredient, one.on_top), &one.amount, is_turned)),
    );
    words.extend(
        ration
            .standings
            .iter()
            .map(|one| said(&one.of, &one.at, is_turned)),
    );
    words.extend(
        ration
            .nutrients
            .iter()
            .map(|one| said(&one.name, &one.at, is_turned)),
    );
    words.extend(ration.cost.iter().map(|one| said("cost", one, is_turned)));
    words.extend(ration.work.iter().map(|one| said("work", one, is_turned)));
    let found = ration
        .found
        .iter()
        .map(|change| format!("{} {:?}", change.is_new != is_turned, change.found));
    words.extend(found);
    words.sort();
    words
}

fn all_words(comparison: &Comparison, is_turned: bool) -> Vec<Vec<String>> {
    let mut all: Vec<Vec<String>> = comparison
        .rations
        .iter()
        .map(|one| words(one, is_turned))
        .collect();
    all.sort();
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_farm_never_differs_from_itself(texts in a_farm()) {
        let comparison = between(&texts, &texts);
        prop_assert!(comparison.is_empty(), "{comparison:#?}");
        prop_assert!(!comparison.texts_differ);
        prop_assert_eq!(comparison.alike, 2);
    }

    #[test]
    fn the_other_way_round_it_says_the_same(before in a_farm(), after in a_farm()) {
        let (there, back) = (between(&before, &after), between(&after, &before));
        prop_assert_eq!(all_words(&there, false), all_words(&back, true));
        let mut causes: Vec<_> = back
            .causes
            .iter()
            .map(|cause| {
                let mut cause = cause.clone();
                cause.file = swap(&cause.file);
                for change in &mut cause.changes {
                    change.says = swap(&change.says);
                }
                cause.changes.sort();
                cause
            })
            .collect();
        causes.sort();
        let mut own = there.causes.clone();
        for cause in &mut own {
            cause.changes.sort();
        }
        own.sort();
        prop_assert_eq!(own, causes);
        let (mut one, mut other) = (turned(&there.elsewhere), Vec::new());
        other.extend(back.elsewhere.iter().map(|change| format!("{} {:?}", change.is_new, change.found)));
        one.sort();
        other.sort();
        prop_assert_eq!(one, other);
        prop_assert_eq!((there.alike, there.is_empty()), (back.alike, back.is_empty()));
    }
}
