//! What a fuzzer has found, and what it began with, run again: what once stopped a target stays mended.
//!
//! `tests/fuzz/corpus` has a folder for each target. A file that stops one is named by the failure; run it alone with
//! `TRUG_INPUT=tests/fuzz/corpus/reader/some-name cargo test -p trug-tests --test whole corpus`.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_tests::hostile::{self, OF_TEXTS, TARGETS};
use trug_tests::repository;

/// Where the corpus lies.
const CORPUS: &str = "tests/fuzz/corpus";
/// Letters of an input that are shown with a failure.
const SHOWN: usize = 2000;

/// A name, and the bytes.
pub(crate) type Input = (String, Vec<u8>);

/// What the folder of a target holds.
fn kept(target: &str) -> Vec<Input> {
    let paths = repository::files(&format!("{CORPUS}/{target}"), "");
    let read = |path: String| {
        let bytes = fs::read(repository::root().join(&path)).unwrap();
        (path, bytes)
    };
    paths.into_iter().map(read).collect()
}

/// All inputs of a target.
pub(crate) fn inputs(target: &str) -> Vec<Input> {
    if let Some(path) = std::env::var_os("TRUG_INPUT") {
        let path = repository::root().join(path);
        let is_of_target = path.parent().is_some_and(|folder| folder.ends_with(target));
        let bytes = fs::read(&path).unwrap();
        let input = (path.display().to_string(), bytes);
        return is_of_target.then_some(input).into_iter().collect();
    }
    let mut inputs: Vec<Input> = match target {
        "table" => hostile::seeds::tables(),
        target if OF_TEXTS.contains(&target) => hostile::seeds::farms(),
        _ => Vec::new(),
    };
    let of_others = OF_TEXTS
        .iter()
        .filter(|other| OF_TEXTS.contains(&target) && **other != target);
    for folder in of_others.copied().chain([target]) {
        inputs.extend(kept(folder));
    }
    assert!(!inputs.is_empty(), "there is no corpus of {target}");
    inputs
}

fn replay(name: &str) {
    stands(name, inputs(name));
}

/// Runs a target with each of these, and says which of them stopped it.
pub(crate) fn stands(name: &str, inputs: Vec<Input>) {
    let (_, target) = TARGETS.iter().find(|(known, _)| *known == name).unwrap();
    let mut stopped = Vec::new();
    for (input, bytes) in inputs {
        if catch_unwind(AssertUnwindSafe(|| target(&bytes))).is_err() {
            let letters: String = String::from_utf8_lossy(&bytes)
                .chars()
                .take(SHOWN)
                .collect();
            stopped.push(format!("{name} stops at {input}:\n{letters}"));
        }
    }
    assert!(stopped.is_empty(), "\n{}", stopped.join("\n\n"));
}

#[test]
fn the_reader_stands_its_corpus() {
    replay("reader");
}

#[test]
fn tidy_stands_its_corpus() {
    replay("tidy");
}

#[test]
fn the_check_stands_its_corpus() {
    replay("check");
}

#[test]
fn plans_stand_their_corpus() {
    replay("plan");
}

#[test]
fn balances_stand_their_corpus() {
    replay("balance");
}

#[test]
fn what_is_kept_stands_its_corpus() {
    replay("keeping");
}

#[test]
fn questions_stand_their_corpus() {
    replay("questions");
}

#[test]
fn tables_stand_their_corpus() {
    replay("table");
}

#[test]
fn edits_stand_their_corpus() {
    replay("edits");
}

#[test]
fn the_wire_stands_its_corpus() {
    replay("wire");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 120,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    })]

    /// Texts opened, edited in any encoding, closed, made and taken away: the server says what a fresh reading finds.
    #[test]
    fn edits_of_every_kind_leave_what_a_fresh_reading_finds(bytes in prop::collection::vec(any::<u8>(), 0..240)) {
        hostile::edits(&bytes);
    }
}

/// No target is without a test, and the fuzzer has each.
#[test]
fn every_target_is_run_again() {
    let own = repository::read("tests/whole/corpus.rs");
    let manifest = repository::read("tests/fuzz/Cargo.toml");
    for (name, _) in TARGETS {
        assert!(
            own.contains(&format!("replay(\"{name}\")")),
            "{name} is not run again"
        );
        assert!(
            manifest.contains(&format!("name = \"{name}\"\n")),
            "{name} is no target of the fuzzer"
        );
        let body = repository::read(&format!("tests/fuzz/fuzz_targets/{name}.rs"));
        assert!(
            body.contains(&format!("hostile::{name}(")),
            "{name}.rs runs another target"
        );
        assert!(!kept(name).is_empty(), "{name} has no corpus of its own");
    }
    let folders: Vec<_> = fs::read_dir(repository::root().join(CORPUS))
        .unwrap()
        .flatten()
        .collect();
    assert_eq!(folders.len(), TARGETS.len(), "{folders:?}");
}
