//! The farms that `trug start` makes: not even a note is to be said of them, and every ration is planned.

use trug_plan::Request;
use trug_syntax::tree::ItemBody;
use trug_tests::answer;
use trug_tests::repository;

/// Where they lie, a folder each.
const STARTERS: [&str; 2] = ["crates/trug/starters/small", "crates/trug/starters/co-op"];

/// The texts of one, by their paths in it.
fn texts(starter: &str) -> Vec<(String, String)> {
    let paths = repository::files(starter, ".trug");
    assert!(paths.len() >= 3, "{starter} was not found");
    let inside = |path: &String| path[starter.len() + 1..].to_owned();
    paths
        .iter()
        .map(|path| (inside(path), repository::read(path)))
        .collect()
}

fn borrowed(texts: &[(String, String)]) -> Vec<answer::Text<'_>> {
    texts
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect()
}

#[test]
fn nothing_is_to_be_said_of_them() {
    for starter in STARTERS {
        let texts = texts(starter);
        let answer = answer::check(&borrowed(&texts));
        let lines = trug_report::findings::lines(&answer.findings, &answer.sources);
        assert_eq!(lines, "", "{starter}");
    }
}

#[test]
fn they_are_tidy() {
    for starter in STARTERS {
        for (path, text) in texts(starter) {
            assert_eq!(trug_syntax::tidy(&text), text, "{starter}/{path}");
        }
    }
}

#[test]
fn every_ration_plans_without_a_word_and_has_a_group() {
    for starter in STARTERS {
        let texts = texts(starter);
        let (mut rations, mut groups) = (0, 0);
        for (path, text) in &texts {
            let tree = trug_syntax::parse(trug_findings::FileId(0), text);
            for item in &tree.items {
                match &item.body {
                    ItemBody::Ration(ration) => {
                        rations += 1;
                        planned(&texts, path, &ration.name.text);
                    }
                    ItemBody::Group(_) => groups += 1,
                    _ => {}
                }
            }
        }
        assert!(rations >= 1 && groups >= rations, "{starter}");
    }
}

fn planned(texts: &[(String, String)], path: &str, ration: &str) {
    let answer = answer::plan_in(&borrowed(texts), path, ration, &Request::default());
    let lines = trug_report::findings::lines(&answer.findings, &answer.sources);
    assert_eq!(lines, "", "{path} {ration}");
    let document = answer.document.expect("it is planned");
    assert_eq!(document["draft"], false, "{path} {ration}");
    let breaches = trug_plan::verify::verify(&document);
    assert!(breaches.is_empty(), "{path} {ration}: {breaches:?}");
}

#[test]
fn money_has_its_day_and_no_text_depends_on_the_day_it_is_read() {
    for starter in STARTERS {
        for (path, text) in texts(starter) {
            for line in text.lines() {
                let word = line.split_whitespace().next().unwrap_or("");
                assert!(
                    word != "price" || line.contains(" as of "),
                    "{path}: {line}"
                );
                let is_dated = matches!(word, "lot" | "best" | "record");
                assert!(!is_dated, "{path}: {line}");
            }
        }
    }
}
