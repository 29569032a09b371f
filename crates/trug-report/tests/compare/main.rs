//! A comparison as a reviewer meets it, in every form.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

mod farm;

use serde_json::{Value, json};
use trug_report::compare::{
    Compared, MOST_CHARACTERS, compare_document, compare_html, compare_markdown, compare_text,
};
use trug_report::json::to_json;
use trug_report::schema::schema;

use farm::{farm, many, with_comparison};

const DAY: &str = "2026-11-25";

fn drawn(change: &dyn Fn(&mut farm::Texts), draw: &dyn Fn(&Compared<'_>) -> String) -> String {
    let before = farm();
    let mut after = farm();
    change(&mut after);
    with_comparison(&before, &after, |comparison| {
        draw(&Compared {
            comparison,
            before: "main",
            after: "work",
            ration: None,
            today: Some(DAY),
        })
    })
}

/// Less soya, dearer rice of less protein, more salt, a ration gone and one come.
fn much(texts: &mut farm::Texts) {
    farm::change(
        texts,
        "rations.trug",
        "soya-meal      24 %",
        "soya-meal      20 %",
    );
    farm::change(
        texts,
        "rations.trug",
        "salt           3 g/kg\n  premix         5 g/kg",
        "salt           6 g/kg\n  premix         9 g/kg on top",
    );
    farm::change(
        texts,
        "rations.trug",
        "batch          60 kg",
        "batch          80 kg",
    );
    farm::change(
        texts,
        "rations.trug",
        "ration grower",
        "ration starter \"Starter | <b>\"",
    );
    farm::change(
        texts,
        "store.trug",
        "price          92 LKR/kg",
        "price          95 LKR/kg",
    );
    farm::change(
        texts,
        "store.trug",
        "protein        8 %",
        "protein        7.4 %",
    );
}

/// Every column of every line, at most.
fn widest(text: &str) -> usize {
    text.lines().map(|line| line.chars().count()).max().unwrap()
}

#[test]
fn text_fits_a_terminal() {
    let text = drawn(&much, &|compared| compare_text(compared, 80));
    assert!(widest(&text) <= 80, "{text}");
    insta::assert_snapshot!("text", text);
}

#[test]
fn markdown_begins_with_the_short_of_it() {
    let text = drawn(&much, &compare_markdown);
    insta::assert_snapshot!("markdown", text);
}

#[test]
fn html_is_one_page_that_needs_nothing_else() {
    let page = drawn(&much, &compare_html);
    assert!(!page.contains("<b>") && !page.contains("<script"));
    for outside in ["http:", "https:", "src=", "url("] {
        assert!(!page.contains(outside), "{outside}");
    }
    insta::assert_snapshot!("html", page);
}

#[test]
fn nothing_changed_is_said_plainly() {
    let text = drawn(&|_| {}, &|compared| compare_text(compared, 80));
    assert!(
        text.contains("Nothing changed. 2 rations were compared."),
        "{text}"
    );
    let reworded = |texts: &mut farm::Texts| {
        farm::change(texts, "store.trug", "protein        8 %", "protein 80 g/kg")
    };
    let text = drawn(&reworded, &|compared| compare_text(compared, 80));
    assert!(
        text.contains("The texts differ, but nothing changed"),
        "{text}"
    );
}

#[test]
fn a_verdict_that_turned_is_a_sentence() {
    let less = |texts: &mut farm::Texts| {
        farm::change(
            texts,
            "rations.trug",
            "soya-meal      24 %",
            "soya-meal      22 %",
        )
    };
    let text = drawn(&less, &|compared| compare_text(compared, 80));
    assert!(
        text.contains("! protein 16.58 % -> 15.86 %: now below duck-lay's 16 .. 18 %"),
        "{text}"
    );
    let back = |texts: &mut farm::Texts| {
        farm::change(
            texts,
            "rations.trug",
            "salt           3 g/kg\n  premix",
            "salt           9 g/kg\n  premix",
        )
    };
    let text = drawn(&back, &|compared| compare_text(compared, 80));
    assert!(
        text.contains("dose of salt 3 g/kg -> 9 g/kg: now above the ceiling of 8 g/kg: harm is"),
        "{text}"
    );
}

#[test]
fn a_document_keeps_its_schema() {
    let text = drawn(&much, &|compared| to_json(&compare_document(compared)));
    let document: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(&schema("compare").unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let complaints: Vec<String> = validator
        .iter_errors(&document)
        .map(|one| one.to_string())
        .collect();
    assert_eq!(complaints, Vec::<String>::new());
    assert_eq!(document["format"], "trug.compare/0");
    let wrong = |pointer: &str, value: Value| {
        let mut changed = document.clone();
        *changed.pointer_mut(pointer).unwrap() = value;
        !validator.is_valid(&changed)
    };
    assert!(wrong("/format", json!("trug.compare/1")));
    assert!(wrong("/rations/0/change", json!("renamed")));
    assert!(wrong("/rations/0/amounts/0/on_top", json!("no")));
    assert!(wrong("/alike", json!("2")));
    assert!(wrong("/causes/0/file/before", json!(1)));
}

#[test]
fn a_comment_is_never_too_long() {
    let (before, after) = many(400);
    let text = with_comparison(&before, &after, |comparison| {
        compare_markdown(&Compared {
            comparison,
            before: "main",
            after: "work",
            ration: None,
            today: Some(DAY),
        })
    });
    assert!(
        text.chars().count() <= MOST_CHARACTERS,
        "{}",
        text.chars().count()
    );
    assert!(text.contains("400 rations changed"), "{}", &text[..400]);
    assert!(
        text.contains("left out") && text.contains("trug compare"),
        "what is left out is said"
    );
}

#[test]
fn the_same_farm_gives_the_same_bytes() {
    assert_eq!(
        drawn(&much, &compare_markdown),
        drawn(&much, &compare_markdown)
    );
}
