//! What may come next in the header of an item, behind its word.

use trug_model::Namespace;

use super::super::place::Said;
use super::{Expect, Fit, next, quantity};

pub(super) fn after(word: &str, said: &[Said<'_>]) -> Vec<Expect> {
    let last = said.last();
    let is_last = |word: &str| last == Some(&Said::Word(word));
    match (word, said) {
        ("use", []) => vec![Expect::Paths, Expect::Words(&["book"])],
        ("use", [Said::Word("book")]) => vec![Expect::Books],
        ("use", _) => Vec::new(),
        ("animal", []) => vec![Expect::OfBooks(Namespace::Animal)],
        ("method", []) => vec![Expect::OfBooks(Namespace::Method)],
        ("ingredient", []) => vec![Expect::OfBooks(Namespace::Feed)],
        ("rate", _) => rate(said),
        (_, []) => Vec::new(),
        ("unit", _) => unit(said),
        ("animal", _) if is_last("is") => vec![Expect::Names(Namespace::Animal)],
        ("animal", _) => not_yet(said, &["is"]),
        ("nutrient", _) => nutrient(said),
        ("lot", _) if is_last("of") => vec![Expect::Ingredients],
        ("lot", _) => not_yet(said, &["of"]),
        ("targets", _) if is_last("for") => vec![Expect::Names(Namespace::Animal)],
        ("targets", [_, rest @ ..]) => targets(rest),
        ("ration", _) if is_last("like") => vec![Expect::Rations],
        ("ration", _) => not_yet(said, &["like"]),
        ("record", _) if is_last("of") => vec![Expect::Rations],
        ("record", [_]) => vec![Expect::Words(&["of"])],
        ("scale", [_, rest @ ..]) => scale(without_label(rest)),
        ("vessel", [_, rest @ ..]) => vessel(without_label(rest)),
        ("ingredient" | "method" | "group", [_]) => vec![Expect::Quoted],
        _ => Vec::new(),
    }
}

fn without_label<'s, 't>(said: &'s [Said<'t>]) -> &'s [Said<'t>] {
    match said {
        [Said::Text, rest @ ..] => rest,
        rest => rest,
    }
}

/// A joining word and a label, those that are not there yet.
fn not_yet(said: &[Said<'_>], words: &'static [&'static str]) -> Vec<Expect> {
    let mut expected = Vec::new();
    let is_said = |word: &str| said.contains(&Said::Word(word));
    if !words.iter().any(|word| is_said(word)) {
        expected.push(Expect::Words(words));
    }
    if !said.contains(&Said::Text) {
        expected.push(Expect::Quoted);
    }
    expected
}

fn targets(said: &[Said<'_>]) -> Vec<Expect> {
    let is_said = |word: &str| said.contains(&Said::Word(word));
    match said {
        [.., Said::Word("from")] => return vec![Expect::Words(&["day"])],
        [.., Said::Word("day" | "to")] => return Vec::new(),
        [.., Said::Word("day"), Said::Number] if !is_said("to") => {
            let mut expected = vec![Expect::Words(&["to"])];
            expected.extend(not_yet(said, &["for"]));
            return expected;
        }
        _ => {}
    }
    let mut expected = not_yet(said, &["for"]);
    if !is_said("day") {
        expected.push(Expect::Words(&["from day"]));
    }
    expected
}

fn unit(said: &[Said<'_>]) -> Vec<Expect> {
    if let Some(at) = said.iter().position(|said| *said == Said::Sign("=")) {
        let rest = said.get(at + 1..).unwrap_or(&[]);
        return next(quantity(rest), Fit::MassOrVolume).unwrap_or_default();
    }
    match said {
        [_] => vec![Expect::Words(&["=", "of"])],
        [_, Said::Word("of")] => vec![Expect::Ingredients],
        [_, Said::Word("of"), _] => vec![Expect::Words(&["="])],
        _ => Vec::new(),
    }
}

fn rate(said: &[Said<'_>]) -> Vec<Expect> {
    let rest = match said.iter().position(|said| *said == Said::Sign("=")) {
        Some(at) => said.get(at + 1..).unwrap_or(&[]),
        None => said,
    };
    match next(quantity(rest), Fit::Money) {
        Ok(expected) => expected,
        Err([]) if rest.len() == said.len() => vec![Expect::Words(&["="])],
        Err(_) => Vec::new(),
    }
}

fn nutrient(said: &[Said<'_>]) -> Vec<Expect> {
    let has_formula = said.contains(&Said::Sign("="));
    match said.last() {
        Some(Said::Word("in")) => {
            vec![Expect::Words(&[
                "share", "energy", "charge", "IU", "U", "FTU", "CFU",
            ])]
        }
        Some(Said::Sign(")")) => Vec::new(),
        Some(Said::Sign(_)) if has_formula => vec![Expect::Names(Namespace::Nutrient)],
        _ if has_formula || said.contains(&Said::Word("in")) => Vec::new(),
        _ => not_yet(said, &["in", "="]),
    }
}

fn scale(said: &[Said<'_>]) -> Vec<Expect> {
    match said.last() {
        Some(Said::Word("class")) => return vec![Expect::Words(&["I", "II", "III", "IIII"])],
        Some(Said::Word("minimum" | "by")) => return Vec::new(),
        _ => {}
    }
    if let Some(at) = said
        .iter()
        .rposition(|said| matches!(said, Said::Word("by" | "minimum")))
    {
        let is_whole = next(quantity(said.get(at + 1..).unwrap_or(&[])), Fit::Mass);
        return is_whole.unwrap_or_else(|_| vec![Expect::Words(&["class", "minimum"])]);
    }
    next(quantity(said), Fit::Mass).unwrap_or_else(|_| vec![Expect::Words(&["by"])])
}

fn vessel(said: &[Said<'_>]) -> Vec<Expect> {
    match said {
        [Said::Number] => vec![Expect::Units(Fit::Volume), Expect::Words(&["of"])],
        [Said::Number, Said::Word("of"), rest @ ..] => {
            next(quantity(rest), Fit::Volume).unwrap_or_default()
        }
        _ => Vec::new(),
    }
}
