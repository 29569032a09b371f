//! What the texts of a farm mean, sentence by sentence of the language page: texts in, codes and places out.

mod bounds;
mod data;
mod judging;
mod mistakes;
mod names;
mod rations;

use trug_findings::Finding;
use trug_model::{Farm, InMemory, Settings};

/// What is said of these texts: `severity[code] what stands there`, with the file where there are several.
fn said(texts: &[(&str, &str)]) -> Vec<String> {
    let names = texts.iter().map(|(name, _)| (*name).to_owned());
    let names: Vec<String> = names.filter(|name| name.ends_with(".trug")).collect();
    let held = InMemory::new(texts.iter().copied());
    let farm = Farm::read(&names, &held, Settings::default());
    let line = |finding: &Finding| {
        let source = &farm.sources()[finding.place.file.index()];
        let there = finding.place.span.of(source.text());
        let file = if texts.len() > 1 {
            format!("{}: ", source.name())
        } else {
            String::new()
        };
        let (severity, code) = (finding.severity.word(), finding.code.name);
        let accepted = if finding.is_open() { "" } else { " (accepted)" };
        format!("{file}{severity}[{code}] {there}{accepted}")
    };
    farm.check().iter().map(line).collect()
}

/// What is said of one text.
fn says(text: &str) -> Vec<String> {
    said(&[("farm.trug", text)])
}

/// The findings of one text.
fn findings(text: &str) -> Vec<Finding> {
    let held = InMemory::new([("farm.trug", text)]);
    Farm::read(&["farm.trug".to_owned()], &held, Settings::default()).check()
}

/// The codes said of one text, in the order of their names, each once.
fn codes(text: &str) -> Vec<&'static str> {
    let mut codes: Vec<&str> = findings(text)
        .iter()
        .map(|finding| finding.code.name)
        .collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}
