//! A farm that is read again after an edit is the farm that would be read afresh.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_model::{Farm, InMemory, Settings};

const NAMES: [&str; 5] = ["a.trug", "b.trug", "c.trug", "farm/d.trug", "prices.csv"];

/// Lines of which texts are put together: names, uses in circles and to what is not there, mistakes.
const PIECES: [&str; 14] = [
    "use \"a.trug\"\n",
    "use \"b.trug\"\n",
    "use \"c.trug\"\n",
    "use \"farm/d.trug\"\n",
    "use \"../a.trug\"\n",
    "use \"prices.csv\"\n",
    "use \"nowhere.trug\"\n",
    "use book poultry\n",
    "ingredient maize\n  protein 8 %\n",
    "ingredient bran \"Bran\"\n  protein 15 %\n  price 1,5 EUR/kg\n",
    "animal hen\n",
    "ration mash\n  for hen\n  batch 10 kg\n  maize 60 %\n  bran rest\n",
    "ration mash\n  maize 60 %\n  bran 50 %\n",
    "  this is no line\n",
];

/// One edit: a text becomes another, or goes.
#[derive(Clone, Debug)]
struct Edit {
    name: usize,
    text: Option<Vec<usize>>,
}

fn edit() -> impl Strategy<Value = Edit> {
    let text = prop::collection::vec(0..PIECES.len(), 0..6);
    let text = prop_oneof![9 => text.prop_map(Some), 1 => Just(None)];
    (0..NAMES.len(), text).prop_map(|(name, text)| Edit { name, text })
}

fn written(name: &str, pieces: &[usize]) -> Arc<str> {
    if name.ends_with(".csv") {
        let rows = pieces.iter().map(|piece| format!("bran,{piece}\n"));
        return Arc::from(format!(
            "ingredient,price EUR/kg\n{}",
            rows.collect::<String>()
        ));
    }
    let text: String = pieces.iter().map(|piece| PIECES[*piece]).collect();
    Arc::from(text)
}

fn asked(texts: &BTreeMap<String, Arc<str>>) -> Vec<String> {
    let names = texts.keys().filter(|name| name.ends_with(".trug"));
    names.cloned().collect()
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 500,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    })]

    #[test]
    fn an_edit_gives_the_farm_read_afresh(edits in prop::collection::vec(edit(), 1..12)) {
        let mut texts = BTreeMap::new();
        let mut farm = Farm::read(&[], &InMemory::default(), Settings::default());
        for edit in edits {
            let name = NAMES[edit.name].to_owned();
            match &edit.text {
                Some(pieces) => texts.insert(name.clone(), written(&name, pieces)),
                None => texts.remove(&name),
            };
            let held = InMemory(texts.clone());
            let names = asked(&texts);
            farm = farm.reread(&names, &held, &BTreeSet::from([name]));
            let fresh = Farm::read(&names, &held, Settings::default());
            prop_assert_eq!(farm.check(), fresh.check());
            let named = |farm: &Farm| -> Vec<String> {
                farm.sources().iter().map(|source| source.name().to_owned()).collect()
            };
            prop_assert_eq!(named(&farm), named(&fresh));
        }
    }
}

#[test]
fn what_did_not_change_is_shared() {
    let store = "ingredient maize\n  protein 8 %\n";
    let ration = "use \"store.trug\"\nration mash\n  maize rest\n";
    let names = ["ration.trug".to_owned(), "store.trug".to_owned()];
    let before = InMemory::new([("ration.trug", ration), ("store.trug", store)]);
    let farm = Farm::read(&names, &before, Settings::default());
    let after = format!("{ration}  # a word\n");
    let held = InMemory::new([("ration.trug", after.as_str()), ("store.trug", store)]);
    let changed = BTreeSet::from(["ration.trug".to_owned()]);
    let next = farm.reread(&names, &held, &changed);
    let id = |name: &str| next.file(name).unwrap_or_default();
    assert!(next.is_same_text(id("store.trug"), &farm));
    assert!(!next.is_same_text(id("ration.trug"), &farm));
    assert_eq!(
        next.readers_of(id("store.trug")),
        [id("store.trug"), id("ration.trug")]
    );
}
