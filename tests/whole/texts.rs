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
