//! Every phrase is there in every language, says the same things, and is used; numbers and days are written as the language does.
#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use trug_model::Q;
use trug_report::speech::{ENGLISH, PHRASES, Part, Speech};

/// The phrases of a file, each with the parts it speaks of.
fn phrases(text: &str) -> BTreeMap<String, BTreeSet<String>> {
    let resource = fluent_syntax::parser::parse(text).unwrap_or_else(|(_, errors)| {
        panic!("a phrase cannot be read: {errors:?}");
    });
    let messages = resource.body.iter().filter_map(|entry| match entry {
        fluent_syntax::ast::Entry::Message(message) => Some(message),
        _ => None,
    });
    messages
        .map(|message| {
            let parts = fluent_syntax::serializer::serialize(&fluent_syntax::ast::Resource {
                body: vec![fluent_syntax::ast::Entry::Message(message.clone())],
            });
            (message.id.name.to_owned(), variables(&parts))
        })
        .collect()
}

/// The names behind `$`.
fn variables(phrase: &str) -> BTreeSet<String> {
    let after = phrase.split('$').skip(1);
    after
        .map(|rest| {
            let end = rest.find(|letter: char| !(letter.is_alphanumeric() || letter == '-'));
            rest[..end.unwrap_or(rest.len())].to_owned()
        })
        .collect()
}

fn english() -> BTreeMap<String, BTreeSet<String>> {
    phrases(PHRASES.iter().find(|(tag, _)| *tag == ENGLISH).unwrap().1)
}

#[test]
fn every_language_has_every_phrase_with_the_same_parts() {
    for (tag, text) in PHRASES {
        assert_eq!(phrases(text), english(), "the phrases of {tag}");
    }
}

/// A language that was copied and forgotten would pass the test above.
#[test]
fn no_sentence_is_left_in_english() {
    let (_, english) = PHRASES[0];
    let sentences: BTreeSet<&str> = english.lines().filter(|line| says_much(line)).collect();
    for (tag, text) in PHRASES.iter().skip(1) {
        let left: Vec<&str> = text
            .lines()
            .filter(|line| !line.starts_with('#') && sentences.contains(line))
            .collect();
        assert!(left.is_empty(), "{tag} still says {left:#?}");
    }
}

/// More letters of its own than a name or two have: parts and the phrase's id do not count.
fn says_much(line: &str) -> bool {
    let said = line.split_once('=').map_or(line, |(_, said)| said);
    let outside = said.split('}').filter_map(|piece| piece.split('{').next());
    outside
        .flat_map(str::chars)
        .filter(|it| it.is_alphabetic())
        .count()
        > 12
}

#[test]
fn every_phrase_is_used_and_every_one_used_is_there() {
    let mut sources = Vec::new();
    rust_files(Path::new("src"), &mut sources);
    let code: String = sources
        .iter()
        .map(|file| std::fs::read_to_string(file).unwrap())
        .collect();
    let quoted: BTreeSet<&str> = code.split('"').collect();
    let unused: Vec<String> = english()
        .into_keys()
        .filter(|phrase| !quoted.contains(phrase.as_str()))
        .collect();
    assert!(unused.is_empty(), "nobody says {unused:?}");
    let known = english();
    for said in said_in(&code) {
        assert!(known.contains_key(said), "there is no phrase {said}");
    }
}

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// The phrases that are said by name, wherever they are said.
fn said_in(code: &str) -> Vec<&str> {
    let verbs = ["say(\"", "say_of(\"", "say_one(\"", "say_count(\""];
    let mut said = Vec::new();
    for verb in verbs {
        for rest in code.split(verb).skip(1) {
            said.extend(rest.split('"').next());
        }
    }
    said
}

#[test]
fn numbers_and_days_are_written_as_the_language_does() {
    let said = |tag: &str| {
        let speech = Speech::of(tag).unwrap();
        (speech.quantity("1.5", "kg"), speech.date("2026-12-01"))
    };
    let words = |mass: &str, day: &str| (mass.to_owned(), day.to_owned());
    assert_eq!(said("en"), words("1.5 kg", "1 December 2026"));
    assert_eq!(said("fr"), words("1,5 kg", "1er décembre 2026"));
    assert_eq!(said("fr-CI"), words("1,5 kg", "1er décembre 2026"));
    assert_eq!(said("es"), words("1,5 kg", "1 de diciembre de 2026"));
    assert_eq!(said("es-MX"), words("1.5 kg", "1 de diciembre de 2026"));
    assert_eq!(said("pt-BR"), words("1,5 kg", "1 de dezembro de 2026"));
    assert_eq!(said("sw"), words("1.5 kg", "1 Desemba 2026"));
    assert_eq!(said("hi"), words("1.5 kg", "1 दिसंबर 2026"));
    // English where the project has no phrases.
    assert_eq!(said("si"), words("1.5 kg", "1 December 2026"));
}

#[test]
fn a_number_of_things_decides_the_form() {
    let english = Speech::english();
    assert_eq!(english.days(1), "1 day");
    assert_eq!(english.days(14), "14 days");
    assert_eq!(english.say_count("turn", 1), "Turn once.");
    assert_eq!(english.say_count("turn", 6), "Turn 6 times.");
    let parts = [("count", Part::Count(2))];
    assert!(english.say_of("draft-errors", &parts).contains("2 errors"));
}

#[test]
fn bounds_and_lists_are_said_in_words() {
    let english = Speech::english();
    let (low, high) = (Q::int(16), Q::int(18));
    let said = |min, max| english.bound(min, max, "%").replace('\u{a0}', " ");
    assert_eq!(said(Some(&low), Some(&high)), "16 to 18 %");
    assert_eq!(said(Some(&low), None), "at least 16 %");
    assert_eq!(said(None, Some(&high)), "at most 18 %");
    assert_eq!(said(None, None), "");
    let words = ["a", "b", "c"].map(str::to_owned);
    assert_eq!(english.list(&words), "a, b and c");
    assert_eq!(english.list(&words[..1]), "a");
    assert_eq!(english.list(&[]), "");
}

#[test]
fn what_is_no_language_is_refused_and_labels_are_found_by_tag() {
    assert!(Speech::of("not a tag").is_none());
    assert!(Speech::of("").is_none());
    let labels = BTreeMap::from([
        ("si".to_owned(), "කැඩුනු සහල්".to_owned()),
        ("pt-BR".to_owned(), "arroz quebrado".to_owned()),
        ("pt".to_owned(), "trinca de arroz".to_owned()),
    ]);
    let label = |tag: &str| Speech::of(tag).unwrap().label(&labels).cloned();
    assert_eq!(label("si-LK").as_deref(), Some("කැඩුනු සහල්"));
    assert_eq!(label("pt-BR").as_deref(), Some("arroz quebrado"));
    assert_eq!(label("pt-MZ").as_deref(), Some("trinca de arroz"));
    assert_eq!(label("en"), None);
}
