//! `trug why` and `trug schema`: what is known by name, and what is not.

use serde_json::Value;

use crate::farm::Farm;

#[test]
fn every_code_that_is_listed_has_a_page() {
    let farm = Farm::new(&[]);
    let list = farm.run(&["why", "--list"]).ends(0).out;
    let codes: Vec<&str> = list
        .lines()
        .filter_map(|line| line.split_whitespace().next())
        .filter(|word| word.contains('/'))
        .collect();
    for code in [
        "syntax/text",
        "use/outside",
        "sum/over",
        "harm/ceiling",
        "weigh/coarse",
        "mix/apart",
    ] {
        assert!(codes.contains(&code), "{code} is not listed");
    }
    for code in codes {
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
