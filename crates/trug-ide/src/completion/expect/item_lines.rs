//! What may come next in an indented line, by the item and the words before.

use trug_model::Namespace;

use super::super::place::Said;
use super::{Expect, Fit, amounts, bound, next, quantity};

const BASES: &[&str] = &["as fed", "of dry-matter", "at 88 % dry-matter"];
const ACCEPT: &[&str] = &["accept"];
const PRODUCTS: &[&str] = &["eggs", "milk", "meat"];

/// Items whose lines may say where their values are from.
const READ_SOMEWHERE: [&str; 5] = ["animal", "ingredient", "lot", "targets", "method"];

pub(super) fn after(item: &str, said: &[Said<'_>]) -> Vec<Expect> {
    if !READ_SOMEWHERE.contains(&item) {
        return in_line(item, said);
    }
    match said {
        [.., Said::Word("source")] => return vec![Expect::Quoted],
        [Said::Word("source"), ..] => return Vec::new(),
        [.., Said::Word("unverified")] => return vec![Expect::Words(&["source"])],
        _ => {}
    }
    let mut expected = in_line(item, said);
    if expected.contains(&Expect::Words(ACCEPT)) {
        expected.push(Expect::Words(&["source", "unverified"]));
    }
    expected
}

fn in_line(item: &str, said: &[Said<'_>]) -> Vec<Expect> {
    let Some((first, rest)) = said.split_first() else {
        return at_start(item);
    };
    match item {
        "ration" => ration(first, rest),
        "ingredient" => ingredient(first, rest, said),
        "lot" => lot(first, rest),
        "animal" => animal(first, rest, said),
        "targets" => target(said, &[]),
        "method" => method(first, rest),
        "group" => group(first, rest),
        "record" => record(first, rest),
        _ => Vec::new(),
    }
}

fn at_start(item: &str) -> Vec<Expect> {
    let names = match item {
        "ration" => Some(Expect::Feeds),
        "ingredient" | "lot" | "targets" | "animal" => Some(Expect::NutrientLines),
        _ => None,
    };
    names.into_iter().chain([Expect::Lines]).collect()
}

/// A quantity, and then these words.
fn measured(said: &[Said<'_>], fit: Fit, then: &'static [&'static str]) -> Vec<Expect> {
    match next(quantity(said), fit) {
        Ok(expected) => expected,
        Err([]) => vec![Expect::Words(then), Expect::Words(ACCEPT)],
        Err(_) => Vec::new(),
    }
}

/// One of these words, then something.
fn joined(said: &[Said<'_>], word: &'static [&'static str]) -> Option<Vec<Expect>> {
    said.is_empty().then(|| vec![Expect::Words(word)])
}

/// A name, then no more but what is accepted.
fn one_name(said: &[Said<'_>], names: Expect) -> Vec<Expect> {
    match said {
        [] => vec![names],
        [_] => vec![Expect::Words(ACCEPT)],
        _ => Vec::new(),
    }
}

fn ration(first: &Said<'_>, rest: &[Said<'_>]) -> Vec<Expect> {
    let Said::Word(word) = first else {
        return Vec::new();
    };
    match (*word, rest) {
        ("for", []) => vec![Expect::Names(Namespace::Animal), Expect::Words(&["mixing"])],
        ("for", _) => one_name(rest, Expect::Names(Namespace::Animal)),
        ("meets", _) => one_name(rest, Expect::Names(Namespace::Targets)),
        ("batch", _) => measured(rest, Fit::Mass, &[]),
        ("mix", []) => vec![Expect::Words(&["by"])],
        ("mix", [_, rest @ ..]) => one_name(rest, Expect::Names(Namespace::Method)),
        ("intake", _) => measured(rest, Fit::DailyMass, &[]),
        ("beside", []) => vec![Expect::Feeds],
        ("beside", [_, rest @ ..]) => measured(rest, Fit::DailyMass, &[]),
        ("keeps", _) => measured(rest, Fit::Time, &[]),
        ("certainty", _) => measured(rest, Fit::Percent, &[]),
        ("drop", _) => one_name(rest, Expect::Feeds),
        ("replace", [_]) => vec![Expect::Words(&["with"])],
        ("replace", [] | [_, Said::Word("with")]) => vec![Expect::Feeds],
        ("replace", _) => Vec::new(),
        ("limit", _) => limit(rest),
        (name, _) => amounts::amount(name, rest),
    }
}

fn limit(said: &[Said<'_>]) -> Vec<Expect> {
    let (sum, ends) = parted(said);
    match (sum.last(), ends) {
        (None | Some(Said::Sign("+" | "-" | "/" | "*" | "(")), []) => vec![Expect::Feeds],
        (_, []) => vec![Expect::Words(&["at most", "at least", "+"])],
        _ => bounded(ends, Fit::Share, &[]),
    }
}

/// A bound, and then these words.
fn bounded(said: &[Said<'_>], fit: Fit, then: &'static [&'static str]) -> Vec<Expect> {
    match next(bound(said), fit) {
        Ok(expected) => expected,
        Err([]) => vec![Expect::Words(then), Expect::Words(ACCEPT)],
        Err(_) => Vec::new(),
    }
}

/// A sum of names, and the bound behind it.
fn parted<'s, 't>(said: &'s [Said<'t>]) -> (&'s [Said<'t>], &'s [Said<'t>]) {
    let starts = |(rank, word): (usize, &Said<'_>)| match word {
        Said::Word("at") => true,
        Said::Number => rank
            .checked_sub(1)
            .and_then(|before| said.get(before))
            .is_some_and(|before| matches!(before, Said::Word(_) | Said::Sign(")"))),
        _ => false,
    };
    let at = said
        .iter()
        .enumerate()
        .position(starts)
        .unwrap_or(said.len());
    said.split_at(at)
}

/// A sum of nutrients and its bound, then these words.
fn target(said: &[Said<'_>], then: &'static [&'static str]) -> Vec<Expect> {
    let (sum, ends) = parted(said);
    match (sum.last(), ends) {
        (None | Some(Said::Sign("+" | "-" | "/" | "*" | "(")), []) => {
            vec![Expect::Names(Namespace::Nutrient)]
        }
        (_, []) => vec![
            Expect::Words(&["at least", "at most"]),
            Expect::Range(content_of(sum)),
            Expect::Words(&["/", "+"]),
        ],
        _ => bounded(ends, content_of(sum), then),
    }
}

/// What a bound of such a sum counts.
fn content_of(sum: &[Said<'_>]) -> Fit {
    let names = |said: &[Said<'_>]| {
        said.iter().find_map(|said| match said {
            Said::Word(name) => Some((*name).to_owned()),
            _ => None,
        })
    };
    let over = sum.iter().position(|said| *said == Said::Sign("/"));
    let over = over.and_then(|at| sum.get(at + 1..)).and_then(names);
    Fit::Content(names(sum).unwrap_or_default(), over, true)
}

fn animal(first: &Said<'_>, rest: &[Said<'_>], said: &[Said<'_>]) -> Vec<Expect> {
    if *first == Said::Word("gives") {
        return one_name(rest, Expect::Words(PRODUCTS));
    }
    match said.last() {
        Some(Said::Word("law" | "harm")) => vec![Expect::Quoted, Expect::Words(BASES)],
        _ => target(said, &["law", "harm", "as fed", "of dry-matter"]),
    }
}

fn ingredient(first: &Said<'_>, rest: &[Said<'_>], said: &[Said<'_>]) -> Vec<Expect> {
    let Said::Word(word) = first else {
        return Vec::new();
    };
    let last = said.last();
    match (*word, rest) {
        ("sold", []) => vec![Expect::Words(&["in"])],
        ("sold", [_, rest @ ..]) => measured(rest, Fit::Mass, &[]),
        ("at", _) if last == Some(&Said::Word("for")) => vec![Expect::Names(Namespace::Animal)],
        ("at", _) => bounded(said, Fit::Share, &["for"]),
        ("label", [_]) | ("caution", []) => vec![Expect::Quoted],
        ("nothing", []) => vec![Expect::Words(&["else"])],
        ("form", []) => {
            vec![Expect::Words(&[
                "crystal", "powder", "meal", "grain", "pellet", "liquid",
            ])]
        }
        ("particle-size", _) => measured(rest, Fit::Length, &[]),
        ("particle-density", _) => measured(rest, Fit::Density, &[]),
        ("dose" | "ceiling", _) if last == Some(&Said::Word("for")) => {
            vec![Expect::Names(Namespace::Animal)]
        }
        ("dose", _) => dose(next(bound(rest), Fit::Share)),
        ("ceiling", _) => dose(next(quantity(rest), Fit::Share)),
        ("apart", []) => vec![Expect::Words(&["from"])],
        ("apart", [_]) => vec![Expect::Feeds],
        ("apart", [_, _]) => vec![Expect::Words(&["until 1 in"])],
        ("apart", [_, _, Said::Word("until")]) => vec![Expect::Words(&["1 in"])],
        ("never", []) => vec![Expect::Words(&["with", "for"])],
        ("never", [Said::Word("for")]) => vec![Expect::Names(Namespace::Animal)],
        ("never", [_]) => vec![Expect::Feeds],
        ("never", [_, _]) => vec![Expect::Quoted],
        ("withdrawal", _) if last == Some(&Said::Word("for")) => vec![Expect::Words(PRODUCTS)],
        ("withdrawal", _) => measured(rest, Fit::Time, &["for"]),
        ("label" | "caution" | "nothing" | "form" | "apart" | "never", _) => {
            vec![Expect::Words(ACCEPT)]
        }
        (word, _) => stored(word, rest),
    }
}

/// What may follow the numbers of a dose or a ceiling.
fn dose(written: Result<Vec<Expect>, &[Said<'_>]>) -> Vec<Expect> {
    match written {
        Ok(expected) => expected,
        Err([]) => vec![
            Expect::Words(&["for"]),
            Expect::Names(Namespace::Nutrient),
            Expect::Quoted,
            Expect::Words(ACCEPT),
        ],
        Err([Said::Word(_)]) => vec![
            Expect::Words(&["for"]),
            Expect::Quoted,
            Expect::Words(ACCEPT),
        ],
        Err(_) => Vec::new(),
    }
}

/// What ingredients and lots both say.
fn stored(word: &str, rest: &[Said<'_>]) -> Vec<Expect> {
    match word {
        "dry-matter" => measured(rest, Fit::Percent, &[]),
        "price" => match next(quantity(rest), Fit::Price) {
            Ok(expected) => expected,
            Err([]) => vec![Expect::Words(&["as of"]), Expect::Words(ACCEPT)],
            Err([Said::Word("as")]) => vec![Expect::Words(&["of"])],
            Err([Said::Word("as"), Said::Word("of")]) => vec![Expect::Day],
            Err(_) => Vec::new(),
        },
        "bulk-density" => measured(rest, Fit::Density, &[]),
        nutrient => measured(rest, Fit::Content(nutrient.to_owned(), None, false), BASES),
    }
}

fn lot(first: &Said<'_>, rest: &[Said<'_>]) -> Vec<Expect> {
    let Said::Word(word) = first else {
        return Vec::new();
    };
    match (*word, rest) {
        ("received", []) | ("best", [_]) => vec![Expect::Day],
        ("received", [Said::Number, ..]) => match next(quantity(rest), Fit::Mass) {
            Ok(expected) => expected,
            Err([]) => vec![Expect::Words(&["on"])],
            Err([Said::Word("on")]) => vec![Expect::Day],
            Err(_) => vec![Expect::Words(ACCEPT)],
        },
        ("best", []) => vec![Expect::Words(&["before"])],
        ("on", []) => vec![Expect::Words(&["hand"])],
        ("on", [_, rest @ ..]) => measured(rest, Fit::Mass, &[]),
        ("received" | "best", _) => vec![Expect::Words(ACCEPT)],
        (word, _) => stored(word, rest),
    }
}

fn method(first: &Said<'_>, rest: &[Said<'_>]) -> Vec<Expect> {
    let Said::Word(word) = first else {
        return Vec::new();
    };
    match (*word, rest) {
        ("small", [_, rest @ ..]) | ("weigh" | "even", [_, rest @ ..]) => {
            measured(rest, Fit::Percent, &[])
        }
        ("small", []) => vec![Expect::Words(&["below"])],
        ("weigh" | "even", []) => vec![Expect::Words(&["within"])],
        ("pre-blend", _) => measured(rest, Fit::Percent, &[]),
        ("step", []) => vec![Expect::Words(&["at most 1 in"])],
        ("step", [Said::Word("at")]) => vec![Expect::Words(&["most 1 in"])],
        ("floor" | "lift", _) => measured(rest, Fit::Mass, &[]),
        ("in", _) => one_name(rest, Expect::Names(Namespace::Vessel)),
        ("turn", [Said::Number]) => vec![Expect::Words(&["times"])],
        _ => Vec::new(),
    }
}

fn group(first: &Said<'_>, rest: &[Said<'_>]) -> Vec<Expect> {
    match (first, rest) {
        (Said::Number, _) => one_name(rest, Expect::Names(Namespace::Animal)),
        (Said::Word("eats"), []) => vec![Expect::Rations],
        (Said::Word("eats"), [_, rest @ ..]) => match next(quantity(rest), Fit::DailyMass) {
            Ok(expected) if rest.is_empty() => expected
                .into_iter()
                .chain([Expect::Words(&["from", "to"])])
                .collect(),
            Ok(expected) => expected,
            Err(rest) => days(rest),
        },
        (Said::Word("placed"), []) => vec![Expect::Words(&["on"])],
        (Said::Word("placed"), [Said::Word("on")]) => vec![Expect::Day],
        (Said::Word("placed"), [Said::Word("on"), Said::Date]) => {
            vec![Expect::Words(&["at day"]), Expect::Words(ACCEPT)]
        }
        (Said::Word("placed"), [Said::Word("on"), Said::Date, Said::Word("at")]) => {
            vec![Expect::Words(&["day"])]
        }
        (Said::Word("placed"), [.., Said::Number]) => vec![Expect::Words(ACCEPT)],
        (Said::Word("mix"), []) => vec![Expect::Words(&["for at most"])],
        (Said::Word("mix"), [Said::Word("for")]) => vec![Expect::Words(&["at most"])],
        (Said::Word("mix"), [Said::Word("for"), rest @ ..]) => bounded(rest, Fit::Time, &[]),
        _ => Vec::new(),
    }
}

/// `from` a day, `to` a day.
fn days(said: &[Said<'_>]) -> Vec<Expect> {
    match said {
        [] => vec![Expect::Words(&["from", "to"]), Expect::Words(ACCEPT)],
        [.., Said::Word("from" | "to")] => vec![Expect::Day],
        [Said::Word("from"), Said::Date] => vec![Expect::Words(&["to"]), Expect::Words(ACCEPT)],
        _ => vec![Expect::Words(ACCEPT)],
    }
}

fn record(first: &Said<'_>, rest: &[Said<'_>]) -> Vec<Expect> {
    let Said::Word(word) = first else {
        return Vec::new();
    };
    match (*word, rest) {
        ("made", []) => vec![Expect::Day],
        ("made", [_]) => vec![Expect::Words(&["by"])],
        ("made", [_, Said::Word("by")]) => vec![Expect::Quoted],
        ("batch", _) => measured(rest, Fit::Mass, &[]),
        ("weighed", []) => vec![Expect::Feeds],
        ("weighed", [Said::Word(name), .., Said::Word("lot")]) => {
            vec![Expect::Lots((*name).to_owned())]
        }
        ("weighed", [_, rest @ ..]) => measured(rest, Fit::Mass, &["lot"]),
        ("sampled", []) => vec![Expect::Names(Namespace::Nutrient)],
        ("sampled", [Said::Word(name), .., Said::Number]) => {
            vec![Expect::Units(Fit::Content((*name).to_owned(), None, false))]
        }
        ("sampled", [_, .., Said::Word(_)]) => vec![Expect::Words(&["assay"])],
        ("fed", []) => vec![Expect::Words(&["to"])],
        ("fed", [_]) => vec![Expect::Names(Namespace::Group)],
        ("fed", [_, _, rest @ ..]) => days(rest),
        _ => joined(rest, &[]).unwrap_or_default(),
    }
}
