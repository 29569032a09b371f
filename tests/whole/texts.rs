//! Texts that cannot be had, or are none: each is a finding, and nothing stops.

use std::sync::Arc;

use trug_model::{Absent, Farm, InMemory, Settings, Texts};

/// Gives one text, and a reason for every other.
struct Only(&'static str, Absent);

impl Texts for Only {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        if name == "farm.trug" && !self.0.is_empty() {
            return Ok(Arc::from(self.0));
        }
        Err(self.1.clone())
    }
}

fn codes(texts: &Only) -> Vec<(String, &'static str)> {
    let farm = Farm::read(&["farm.trug".to_owned()], texts, Settings::default());
    let of = |finding: &trug_findings::Finding| {
        let source = &farm.sources()[finding.place.file.index()];
        (source.name().to_owned(), finding.code.name)
    };
    farm.check().iter().map(of).collect()
}

#[test]
fn what_is_no_text_is_told() {
    let told = codes(&Only("", Absent::NotText(3)));
    assert_eq!(told, [("farm.trug".to_owned(), "syntax/text")]);
}

#[test]
fn what_is_too_large_is_told() {
    let told = codes(&Only("", Absent::TooLarge));
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].1.split('/').next(), Some("syntax"));
}

#[test]
fn a_used_text_that_cannot_be_had_is_told_once() {
    let using = "use \"store.trug\"\nanimal duck\nration mash\n  for  duck\n  maize  100 %\n";
    for (absent, code) in [
        (Absent::Missing, "use/missing"),
        (Absent::Outside, "use/outside"),
    ] {
        let told = codes(&Only(using, absent));
        assert_eq!(told, [("farm.trug".to_owned(), code)]);
    }
    for absent in [
        Absent::NotText(0),
        Absent::TooLarge,
        Absent::Unreadable("gone".to_owned()),
    ] {
        let told = codes(&Only(using, absent));
        assert_eq!(told.len(), 1, "{told:?}");
    }
}

#[test]
fn a_chain_of_texts_has_an_end() {
    let names: Vec<String> = (0..80).map(|rank| format!("t{rank:02}.trug")).collect();
    let texts: Vec<String> = (1..80)
        .map(|rank| format!("use \"t{rank:02}.trug\"\n"))
        .collect();
    let last = "animal duck\n".to_owned();
    let texts = texts.iter().chain(std::iter::once(&last));
    let pairs = names
        .iter()
        .map(String::as_str)
        .zip(texts.map(String::as_str));
    let farm = Farm::read(&names[..1], &InMemory::new(pairs), Settings::default());
    let codes: Vec<_> = farm.check().iter().map(|it| it.code.name).collect();
    assert_eq!(codes, ["use/deep"]);
}

/// A ration of so many lines, and what is said of it and of one that is like it, and of one that holds it.
fn codes_of_lines(lines: usize) -> Vec<&'static str> {
    let ingredients: String = (0..lines)
        .map(|rank| format!("ingredient f{rank}\n"))
        .collect();
    let parts: String = (0..lines)
        .map(|rank| format!("  f{rank} 1 parts\n"))
        .collect();
    let text = format!(
        "{ingredients}ration blend\n  for mixing\n{parts}\nration alike like blend\n  batch 10 kg\n\n\
         ration mash\n  for mixing\n  blend 40 %\n  f0 rest\n"
    );
    let texts = InMemory::new([("farm.trug", text.as_str())]);
    let farm = Farm::read(&["farm.trug".to_owned()], &texts, Settings::default());
    farm.check().iter().map(|it| it.code.name).collect()
}

#[test]
fn a_ration_has_not_more_ingredients_than_can_be_judged() {
    assert_eq!(codes_of_lines(999), Vec::<&str>::new());
    assert_eq!(
        codes_of_lines(1_001),
        ["amount/many"],
        "and what rests on it is silent"
    );
    // The mix has as many as are read, and whatever holds it too has one more.
    assert_eq!(codes_of_lines(1_000), ["amount/many"]);
}

/// Twenty mixes of fifty, each of fifty.
#[test]
fn ingredients_inside_mixes_count_too() {
    let mut text: String = (0..50)
        .map(|rank| format!("ingredient f{rank}\n"))
        .collect();
    let parts: String = (0..50).map(|rank| format!("  f{rank} 1 parts\n")).collect();
    for mix in 0..21 {
        text += &format!("ration mix-{mix}\n  for mixing\n{parts}");
    }
    let holding = |mixes: usize| -> Vec<&'static str> {
        let parts: String = (0..mixes)
            .map(|rank| format!("  mix-{rank} 1 parts\n"))
            .collect();
        let text = format!("{text}ration mash\n  for mixing\n{parts}");
        let texts = InMemory::new([("farm.trug", text.as_str())]);
        let farm = Farm::read(&["farm.trug".to_owned()], &texts, Settings::default());
        farm.check().iter().map(|it| it.code.name).collect()
    };
    assert_eq!(holding(20), Vec::<&str>::new());
    assert_eq!(holding(21), ["amount/many"]);
}
