//! The page of a booklet as a program reads it: whole, closed, and with no markup that came from a text.

#![expect(clippy::unwrap_used, reason = "a test may stop where it stands")]

mod analysis;
mod balance;
mod booklet;
mod buy;
mod element;

use std::collections::BTreeSet;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};
use trug_report::sheet::html::booklet_html;

use element::Element;

/// Texts that try to be something else.
fn hostile() -> Vec<String> {
    let mut texts: Vec<String> = [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "' onmouseover='alert(1)' x='",
        "]]><svg onload=alert(1)>",
        "--></style></title></textarea></script><b>",
        "{{7*7}} ${7*7} &lt;b&gt; &amp;#60;b&amp;#62; &#x3c;",
        "maize\u{202e}tlas\u{202c} \u{2066}x\u{2069}\u{200f}",
        "a\u{0}b\u{7}c\u{1b}[31md\u{85}e\u{9b}f\rg\th",
        "no \u{ffff}\u{fdd0}\u{1fffe} characters",
        "👩🏽‍🌾 🦆🏳️‍🌈 कुक्कुट ඉරිඟු ذرة",
        " ",
    ]
    .map(str::to_owned)
    .to_vec();
    texts.push("very-long-".repeat(50));
    texts.push("word ".repeat(100));
    texts
}

#[test]
fn the_page_is_well_formed_whatever_a_label_says() {
    for text in hostile() {
        let (_, errors) = element::read(&booklet_html(&booklet::of(&text)));
        assert_eq!(errors, Vec::<String>::new(), "with {text:?}");
    }
}

#[test]
fn a_label_is_never_an_element_or_an_attribute() {
    let shape = |text: &str| {
        let (page, _) = element::read(&booklet_html(&booklet::of(text)));
        let all = page.all();
        all.iter()
            .map(|it| {
                let names: Vec<String> = it.attributes.keys().cloned().collect();
                (it.name.clone(), names)
            })
            .collect::<Vec<_>>()
    };
    let plain = shape("Maize, ground");
    for text in hostile() {
        assert_eq!(shape(&text), plain, "with {text:?}");
    }
}

#[test]
fn a_label_is_shown_as_it_is_written() {
    for text in hostile() {
        let (page, _) = element::read(&booklet_html(&booklet::of(&text)));
        let shown: Vec<String> = page
            .all()
            .iter()
            .filter(|it| it.name == "label" && it.text().contains(&kept(&text)))
            .map(|it| it.text())
            .collect();
        let rows = shown.iter().filter(|it| **it == kept(&text)).count();
        assert!(rows >= 4, "with {text:?}: {shown:?}");
    }
}

/// What is left of a text once nothing in it steers the line.
fn kept(text: &str) -> String {
    let steers = |character: &char| {
        (character.is_control() && *character != '\t')
            || matches!(character, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
            || matches!(character, '\u{ffff}' | '\u{fdd0}' | '\u{1fffe}')
    };
    let kept = |character: char| match character {
        '\t' => ' ',
        _ if steers(&character) => char::REPLACEMENT_CHARACTER,
        _ => character,
    };
    text.chars().map(kept).collect()
}

#[test]
fn nothing_steers_the_line() {
    for text in hostile() {
        let page = booklet_html(&booklet::of(&text));
        let steers = page.chars().find(|character| {
            (character.is_control() && *character != '\n')
                || matches!(character, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        });
        assert_eq!(steers, None, "with {text:?}");
    }
}

#[test]
fn the_policy_names_this_script_and_this_style_and_lets_nothing_else_act() {
    let (page, _) = element::read(&booklet_html(&booklet::of("Maize")));
    let all = page.all();
    let policy = all
        .iter()
        .find(|it| it.attribute("http-equiv") == Some("Content-Security-Policy"))
        .and_then(|it| it.attribute("content"))
        .unwrap();
    let hash = |name: &str| {
        let found: Vec<_> = all.iter().filter(|it| it.name == name).collect();
        assert_eq!(found.len(), 1, "one {name}");
        assert!(found[0].attributes.is_empty());
        STANDARD.encode(Sha256::digest(found[0].text()))
    };
    let wanted = format!(
        "default-src 'none'; script-src 'sha256-{}'; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
        hash("script"),
        hash("style"),
    );
    assert_eq!(policy, wanted);
    for element in &all {
        for name in element.attributes.keys() {
            let acts = name.starts_with("on") || name == "style" || name == "src";
            assert!(!acts, "{} has {name}", element.name);
        }
        let away = element
            .attribute("href")
            .filter(|href| !href.starts_with('#'));
        assert_eq!(away, None);
    }
}

#[test]
fn ids_are_their_own_and_what_is_named_is_there() {
    let (page, _) = element::read(&booklet_html(&booklet::of("Maize")));
    let all = page.all();
    let mut ids = BTreeSet::new();
    for element in &all {
        if let Some(id) = element.attribute("id") {
            assert!(ids.insert(id.to_owned()), "{id} twice");
        }
    }
    let mut named = 0;
    for element in &all {
        let lists = ["for", "aria-labelledby", "aria-describedby", "headers"];
        let lists = lists.iter().filter_map(|name| element.attribute(name));
        let link = element.attribute("href").map(|href| &href[1..]);
        for id in lists.flat_map(str::split_whitespace).chain(link) {
            assert!(ids.contains(id), "{} names {id}", element.name);
            named += 1;
        }
    }
    assert!(named > 20, "{named}");
}

#[test]
fn programs_find_every_weighing_with_its_masses() {
    let (page, _) = element::read(&booklet_html(&booklet::of("maize")));
    let all = page.all();
    let rows: Vec<&Element> = all
        .iter()
        .copied()
        .filter(|it| it.attribute("data-weighing").is_some())
        .collect();
    let ids: Vec<_> = rows
        .iter()
        .map(|it| it.attribute("data-weighing"))
        .collect();
    assert_eq!(ids, [Some("w1"), Some("w2"), Some("w1"), Some("w2")]);
    for row in rows {
        let is = |name, value| assert_eq!(row.attribute(name), Some(value));
        is("data-ingredient", "maize");
        is("data-lot", "maize");
        is("data-from", "294");
        is("data-to", "306");
        let inside = row.all();
        let mass = inside.iter().find(|it| it.name == "data").unwrap();
        assert_eq!(mass.attribute("value"), Some("300"));
        assert!(
            inside
                .iter()
                .any(|it| it.attribute("type") == Some("checkbox"))
        );
    }
}

#[test]
fn every_ration_and_day_keeps_its_own_ticks() {
    let keys = |booklet| {
        let (page, _) = element::read(&booklet_html(booklet));
        page.all()
            .iter()
            .filter_map(|it| it.attribute("data-key").map(str::to_owned))
            .collect::<Vec<_>>()
    };
    let one = booklet::of("maize");
    let mut other = one.clone();
    other.sheets[1].record.day = "2026-11-26".to_owned();
    let (one, other) = (keys(&one), keys(&other));
    assert_eq!(one[0], other[0]);
    assert_ne!(one[1], other[1]);
    assert_ne!(one[0], one[1]);
    assert!(one.iter().all(|key| key.len() == 64));
}

#[test]
fn the_page_says_its_languages_and_its_direction() {
    let mut booklet = booklet::of("ذرة");
    booklet.phrases = "ar".to_owned();
    booklet.language = "ar-SD".to_owned();
    let (page, _) = element::read(&booklet_html(&booklet));
    let all = page.all();
    let html = all.iter().find(|it| it.name == "html").unwrap();
    assert_eq!(html.attribute("lang"), Some("ar"));
    assert_eq!(html.attribute("dir"), Some("rtl"));
    assert!(all.iter().any(|it| it.attribute("lang") == Some("ar-SD")));
}

#[test]
fn the_same_booklet_gives_the_same_bytes() {
    let booklet = booklet::of("maize");
    assert_eq!(booklet_html(&booklet), booklet_html(&booklet));
}
