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
    farm.run(&["why", "motorcycle"]).fails("trug why --list");
    farm.run(&["why", "maise"]).fails("there is no name maise");
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

const STORE: &str = "\
use book poultry 2026

ingredient shell-meal \"Shell meal\"
  source         \"Label of the mill\"
  calcium        36 %
  selenium       0.1 mg/kg unverified source \"as the neighbour remembers it\"
";

#[test]
fn what_is_written_of_a_name_is_told_with_where_it_was_read() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    let told = farm.run(&["why", "shell-meal"]).ends(0).out;
    assert_eq!(
        told,
        "ingredient shell-meal \"Shell meal\" (store.trug:3)
  all read in: Label of the mill
  calcium 36 %
  selenium 0.1 mg/kg
      not verified: as the neighbour remembers it
"
    );
    assert_eq!(
        farm.run(&["why", "shell-meal", "store.trug"]).ends(0).out,
        told
    );
    let hen = farm.run(&["why", "laying-hen"]).ends(0).out;
    assert!(hen.contains("animal chicken is poultry"), "{hen}");
    // An empty folder still has the books.
    let empty = Farm::new(&[]);
    assert!(
        empty
            .run(&["why", "laying-hen"])
            .ends(0)
            .out
            .contains("gives eggs")
    );
    empty
        .run(&["why", "shell-meal"])
        .fails("there is no name shell-meal");
    empty
        .run(&["why", "laying-hen", "nowhere"])
        .fails("nowhere");
}

#[test]
fn a_name_of_several_meanings_is_told_under_the_texts_that_have_each() {
    let shell = |percent: u8| format!("ingredient shell\n  calcium        {percent} %\n");
    let farm = Farm::new(&[
        ("bank.trug", &shell(36)),
        ("coop.trug", &format!("use \"bank.trug\"\n\n{}", shell(38))),
        ("river.trug", "use \"bank.trug\"\n"),
    ]);
    assert_eq!(
        farm.run(&["why", "shell"]).ends(0).out,
        "in bank.trug, river.trug:

ingredient shell (bank.trug:1)
  calcium 36 %

in coop.trug:

ingredient shell (coop.trug:3)
  calcium 38 %
"
    );
}

#[test]
fn every_book_that_is_listed_is_printed_and_checks_clean() {
    let farm = Farm::new(&[]);
    let list = farm.run(&["book", "--list"]).ends(0).out;
    assert!(
        list.lines().any(|line| line == "use book poultry 2026"),
        "{list}"
    );
    for line in list.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        let [_, _, name, year] = words[..] else {
            panic!("{line}")
        };
        let text = farm.run(&["book", name, year]).ends(0).out;
        assert!(text.starts_with("# "), "{name}");
        let copied = Farm::new(&[("copy.trug", &text)]);
        copied.run(&["check", "--deny", "warning"]).ends(0);
    }
    let newest = farm.run(&["book", "poultry"]).ends(0).out;
    assert_eq!(newest, farm.run(&["book", "poultry", "2026"]).ends(0).out);
    farm.run(&["book", "poultry", "1994"])
        .fails("its editions are: 2026");
    farm.run(&["book", "pultry"]).fails("try poultry");
}
