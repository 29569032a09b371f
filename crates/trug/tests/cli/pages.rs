//! `trug why` and `trug schema`: what is known by name, and what is not.

use serde_json::Value;

use crate::farm::Farm;

/// The codes that other programs already rely on.
const RELIED_ON: &str = "syntax/line syntax/item syntax/range syntax/text use/missing use/outside use/cycle name/unknown \
    name/twice name/reserved unit/missing unit/unknown unit/mismatch unit/comma basis/mixed basis/unknown sum/short \
    sum/over amount/open amount/batch dose/under dose/over harm/ceiling harm/animal harm/together harm/unjudged \
    harm/undecided law/over law/withdrawal target/under target/over target/undecided target/animal limit/over \
    limit/under data/unknown mix/apart mix/carrier mix/evenness weigh/coarse vessel/full cost/unknown accept/unused \
    accept/refused";

#[test]
fn every_code_that_is_listed_has_a_page() {
    let farm = Farm::new(&[]);
    let list = farm.run(&["why", "--list"]).ends(0).out;
    let codes: Vec<&str> = list
        .split_whitespace()
        .filter(|word| RELIED_ON.split_whitespace().any(|code| code == *word))
        .collect();
    for code in RELIED_ON.split_whitespace() {
        assert!(codes.contains(&code), "{code} is not listed");
        let page = farm.run(&["why", code]).ends(0);
        assert!(page.out.contains(code) && page.err.is_empty(), "{code}");
    }
}

#[test]
fn a_code_that_is_not_known_gets_near_ones() {
    let farm = Farm::new(&[]);
    farm.run(&["why", "sum/ovre"]).fails("try sum/over");
    farm.run(&["why", "horse"]).fails("trug why --list");
    farm.run(&["why", "sum/over", "--list"])
        .fails("do not go together");
}

#[test]
fn every_document_has_a_schema() {
    let farm = Farm::new(&[]);
    let list = farm.run(&["schema", "--list"]).ends(0).out;
    for name in ["plan", "analysis", "findings"] {
        assert!(
            list.lines().any(|line| line == name),
            "{name} is not listed"
        );
    }
    for name in list.lines() {
        let schema: Value = serde_json::from_str(&farm.run(&["schema", name]).ends(0).out).unwrap();
        assert!(schema["properties"]["format"].is_object(), "{name}");
    }
    farm.run(&["schema", "sheet"]).fails("name one of");
}
