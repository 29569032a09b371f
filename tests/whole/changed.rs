//! The texts of the corpus, the suite and the examples with a few changes as hands make them: the targets of the fuzzer stand
//! these too. From one seed, so that what passes here passes everywhere; `TRUG_SEED=7 TRUG_CHANGES=100000 cargo test -p
//! trug-tests --test whole changed` tries others, and more.

use trug_tests::hostile::{change_table, change_text};

use crate::corpus::{Input, inputs, stands};

/// A number that the environment may set.
fn set(name: &str, otherwise: u64) -> u64 {
    let set = std::env::var(name).ok();
    set.and_then(|number| number.parse().ok())
        .unwrap_or(otherwise)
}

/// Changed inputs of a target, each named by what it was made from.
fn changed(target: &str, count: u64, change: fn(&[u8], u64) -> Vec<u8>) -> Vec<Input> {
    let inputs = inputs(target);
    let mut choices = fastrand::Rng::with_seed(set("TRUG_SEED", 2026));
    let one = |_| {
        let (name, bytes) = choices.choice(&inputs).unwrap();
        let seed = choices.u64(..);
        (format!("{name}, changed by {seed}"), change(bytes, seed))
    };
    (0..set("TRUG_CHANGES", count)).map(one).collect()
}

#[test]
fn the_reader_stands_changed_texts() {
    stands("reader", changed("reader", 1_000, change_text));
}

#[test]
fn tidy_stands_changed_texts() {
    stands("tidy", changed("tidy", 400, change_text));
}

#[test]
fn the_check_stands_changed_texts() {
    stands("check", changed("check", 400, change_text));
}

#[test]
fn plans_stand_changed_texts() {
    stands("plan", changed("plan", 300, change_text));
}

#[test]
fn balances_stand_changed_texts() {
    stands("balance", changed("balance", 400, change_text));
}

#[test]
fn what_is_kept_stands_changed_texts() {
    stands("keeping", changed("keeping", 300, change_text));
}

#[test]
fn questions_stand_changed_texts() {
    stands("questions", changed("questions", 100, change_text));
}

#[test]
fn tables_stand_changed_tables() {
    stands("table", changed("table", 1_000, change_table));
}
