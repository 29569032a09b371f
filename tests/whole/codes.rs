//! The catalogue of codes against the language and against the suite.

use std::collections::{BTreeMap, BTreeSet};

use trug_report::catalogue;
use trug_tests::marked::Suite;
use trug_tests::repository;

/// Codes other programs rely on, with their usual severity where the language names it.
const PINNED: [&str; 44] = [
    "syntax/line",
    "syntax/item",
    "syntax/range",
    "syntax/text",
    "use/missing",
    "use/outside",
    "use/cycle",
    "name/unknown",
    "name/twice",
    "name/reserved",
    "unit/missing",
    "unit/unknown",
    "unit/mismatch",
    "unit/comma",
    "basis/mixed",
    "basis/unknown",
    "sum/short",
    "sum/over",
    "amount/open",
    "amount/batch",
    "dose/under",
    "dose/over",
    "harm/ceiling",
    "harm/animal",
    "harm/together",
    "harm/unjudged",
    "harm/undecided",
    "law/over",
    "law/withdrawal",
    "target/under",
    "target/over",
    "target/undecided",
    "target/animal",
    "limit/over",
    "limit/under",
    "data/unknown",
    "mix/apart",
    "mix/carrier",
    "mix/evenness",
    "weigh/coarse",
    "vessel/full",
    "store/short",
    "store/expired",
    "cost/unknown",
];

/// The rest of them.
const PINNED_OF_ACCEPTING: [&str; 2] = ["accept/unused", "accept/refused"];

/// The families of the language.
const FAMILIES: [&str; 19] = [
    "syntax", "use", "name", "unit", "basis", "sum", "amount", "dose", "target", "limit", "law",
    "harm", "data", "mix", "weigh", "vessel", "store", "cost", "record",
];

/// Codes that a text in the suite cannot raise, and where they are tested instead.
const RAISED_ELSEWHERE: [(&str, &str); 3] = [
    ("amount/many", "whole/texts.rs"),
    ("syntax/text", "whole/texts.rs"),
    ("use/deep", "whole/texts.rs"),
];

/// Where the suite raises each code.
fn raised() -> BTreeMap<String, Vec<String>> {
    let mut raised: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for path in repository::files("tests/suite", ".txt") {
        let suite = Suite::read(&repository::read(&path)).expect("the suite is of its format");
        for section in &suite.sections {
            let notes = section.texts.iter().flat_map(|marked| &marked.notes);
            for code in notes.filter_map(|note| note.code()) {
                let by = format!("{path}: {}", section.name);
                raised.entry(code.to_owned()).or_default().push(by);
            }
        }
    }
    raised
}

#[test]
fn codes_are_named_once_and_belong_to_a_family() {
    let codes = catalogue::codes();
    let names: BTreeSet<_> = codes.iter().map(|code| code.name).collect();
    assert_eq!(names.len(), codes.len(), "a code is declared twice");
    for code in codes {
        let is_known = FAMILIES.contains(&code.family()) || code.family() == "accept";
        assert!(is_known, "{} is of no family of the language", code.name);
    }
}

#[test]
fn every_pinned_code_is_declared() {
    let names: BTreeSet<_> = catalogue::codes().iter().map(|code| code.name).collect();
    let pinned = PINNED.iter().chain(&PINNED_OF_ACCEPTING);
    let missing: Vec<_> = pinned.filter(|name| !names.contains(**name)).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn every_code_is_raised_in_the_suite() {
    let raised = raised();
    let elsewhere = |name: &str| RAISED_ELSEWHERE.iter().any(|(code, _)| *code == name);
    let codes = catalogue::codes();
    let silent = codes
        .iter()
        .map(|code| code.name)
        .filter(|name| !elsewhere(name));
    let silent: Vec<_> = silent.filter(|name| !raised.contains_key(*name)).collect();
    assert!(
        silent.is_empty(),
        "raised nowhere in tests/suite: {silent:?}"
    );
}

#[test]
fn the_suite_raises_no_code_that_is_not_declared() {
    let names: BTreeSet<_> = catalogue::codes().iter().map(|code| code.name).collect();
    for (code, places) in raised() {
        assert!(names.contains(code.as_str()), "{code} in {places:?}");
    }
}
