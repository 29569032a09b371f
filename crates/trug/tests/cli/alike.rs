//! Text, JSON, CSV, HTML and Markdown carry the same numbers, of every command that has several forms.
//!
//! For people numbers are rounded and in the unit that reads best; for programs they are whole. So a number of a page is
//! held to be a number of the document where that, in some unit, rounds to it. That this can tell numbers apart is
//! tested beside it: moved a little, most numbers of three figures and more are no longer found.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::farm::{Farm, ran};
use crate::threads::folder;

/// A command, the form for programs, and the forms for people and for spreadsheets.
const ASKED: [(&[&str], &str, &[&str]); 6] = [
    (&["analyse", "."], "jsonl", &["text", "html"]),
    (&["balance", "."], "jsonl", &["text", "html"]),
    (&["buy", "river"], "json", &["text", "csv", "html"]),
    (&["plan", "."], "jsonl", &["text", "csv", "html"]),
    (
        &["compare", "many", "other"],
        "json",
        &["text", "markdown", "html"],
    ),
    (&["check", "."], "json", &["human", "lines", "sarif"]),
];
/// Figures from which on a number is looked for: shorter ones are found by chance, and many only count things.
const FIGURES: usize = 3;
/// Days are written in words on a page.
const YEARS: [&str; 2] = ["2026", "2027"];
/// From which on it is asked whether a number that was moved is found all the same.
const TELLING: usize = 4;
/// Units are this many times each other: of mass and money, of shares in %, g/kg and mg/kg, and of MJ and kcal.
const FACTORS: [f64; 11] = [1.0, 1e3, 1e-3, 10.0, 0.1, 1e4, 1e-4, 100.0, 0.01, 1e6, 1e-6];

#[test]
fn every_form_tells_the_numbers_of_the_document() {
    let farm = folder();
    let mut telling = (0, 0);
    for (asked, form, others) in ASKED {
        let known = of_document(&printed(&farm, asked, form));
        for other in others {
            let page = printed(&farm, asked, other);
            let shown = of_page(&page, other);
            assert!(
                10 < shown.len(),
                "{asked:?} as {other} tells {} numbers",
                shown.len()
            );
            for number in &shown {
                assert!(
                    known.has(number),
                    "{asked:?} as {other} tells {number}, and {form} does not: {}",
                    around(&page, number)
                );
                if TELLING <= figures(number) {
                    telling.1 += 1;
                    telling.0 += usize::from(!known.has(&moved(number)));
                }
            }
        }
    }
    let (refused, all) = telling;
    assert!(
        300 < all && all * 7 < refused * 10,
        "of {all} moved numbers {refused} are refused"
    );
}

#[test]
fn pages_of_paper_and_of_a_browser_tell_the_same_numbers() {
    let farm = folder();
    for (asked, _, others) in ASKED
        .iter()
        .filter(|(_, _, others)| others.contains(&"html"))
    {
        let [text, .., html] = others else { continue };
        let text = of_page(&printed(&farm, asked, text), "text");
        let html = of_page(&printed(&farm, asked, html), "html");
        let lacks = |one: &BTreeSet<String>, other: &BTreeSet<String>| -> Vec<String> {
            one.difference(other).cloned().collect()
        };
        assert_eq!(
            lacks(&text, &html),
            Vec::<String>::new(),
            "{asked:?}: the browser's page lacks them"
        );
    }
}

/// Where a page tells a number.
fn around<'p>(page: &'p str, number: &str) -> &'p str {
    let at = page.find(number).unwrap_or_default();
    let near = |at: usize| {
        (0..=at)
            .rev()
            .find(|at| page.is_char_boundary(*at))
            .unwrap_or_default()
    };
    &page[near(at.saturating_sub(200))..near((at + 100).min(page.len()))]
}

fn printed(farm: &Farm, asked: &[&str], form: &str) -> String {
    let words = [asked, &["--as", form]].concat();
    let ran = ran(&mut farm.command(&words));
    assert!(ran.code < 2 && !ran.out.is_empty(), "{words:?}: {ran:#?}");
    ran.out
}

/// Numbers of a document, in order.
struct Known(Vec<f64>);

impl Known {
    /// Whether some number of it rounds to the one shown, in some unit.
    fn has(&self, shown: &str) -> bool {
        let decimals = shown
            .split_once('.')
            .map_or(0, |(_, decimals)| decimals.len());
        let Ok(shown) = shown.parse::<f64>() else {
            return false;
        };
        let decimals = i32::try_from(decimals).unwrap();
        let half = 0.5 * 10_f64.powi(-decimals);
        FACTORS.iter().any(|factor| {
            // A hair more than half of the last figure: these are machine numbers.
            let (low, high) = (
                (shown - half * 1.000_1) * factor,
                (shown + half * 1.000_1) * factor,
            );
            let from = self.0.partition_point(|known| *known < low);
            self.0.get(from).is_some_and(|known| *known <= high)
        })
    }
}

/// Every number of a document, or of several, a line each: what its fields are, and what stands in its sentences.
fn of_document(printed: &str) -> Known {
    let mut known = Vec::new();
    let documents = serde_json::Deserializer::from_str(printed).into_iter::<Value>();
    for document in documents {
        let document = document.unwrap();
        known.extend(worked_out(&document));
        collect(&document, &mut known);
    }
    known.sort_by(f64::total_cmp);
    Known(known)
}

/// What a page of an analysis works out beside the document: a batch and its lines cost what a kg does, times its mass; a
/// line's mass is its share of the batch, and its part of the cost what it adds to it.
fn worked_out(document: &Value) -> Vec<f64> {
    let number = |value: &Value| value.as_str()?.parse::<f64>().ok();
    let Some(per_kg) = number(&document["cost"]["per_kg"]) else {
        return Vec::new();
    };
    let mass = number(&document["mass_g"]).unwrap_or_default() / 1000.0;
    let mut known = vec![mass * per_kg];
    for line in document["costs"].as_array().into_iter().flatten() {
        let adds = number(&line["per_kg"]).unwrap_or_default();
        let share = number(&line["share_percent"]).unwrap_or_default();
        known.extend([adds * mass, adds / per_kg, share * mass]);
    }
    known
}

fn collect(value: &Value, known: &mut Vec<f64>) {
    match value {
        Value::Number(number) => known.extend(number.as_f64().map(f64::abs)),
        Value::String(words) => {
            known.extend(numbers(words).filter_map(|number| number.parse::<f64>().ok()))
        }
        Value::Array(all) => all.iter().for_each(|one| collect(one, known)),
        Value::Object(fields) => fields.values().for_each(|one| collect(one, known)),
        Value::Null | Value::Bool(_) => {}
    }
}

/// Every number of a page that has enough figures. What is no text of it is left out: tags, styles, what is drawn.
fn of_page(page: &str, form: &str) -> BTreeSet<String> {
    let words = match form {
        "html" => words_of(page),
        _ => page.to_owned(),
    };
    let long = |number: &String| FIGURES <= figures(number) && !YEARS.contains(&number.as_str());
    numbers(&words).filter(long).collect()
}

fn words_of(page: &str) -> String {
    let mut page = page.to_owned();
    for (open, close) in [
        ("<style", "</style>"),
        ("<script", "</script>"),
        ("<svg", "</svg>"),
        ("<head>", "</head>"),
    ] {
        while let Some(start) = page.find(open) {
            let end = page[start..]
                .find(close)
                .map_or(page.len(), |end| start + end + close.len());
            page.replace_range(start..end, " ");
        }
    }
    let mut words = String::new();
    for piece in page.split('<') {
        words.push(' ');
        words.push_str(piece.split_once('>').map_or("", |(_, words)| words));
    }
    words
}

/// Numbers as they stand in words: digits with perhaps a point, no part of a name, a day or a code.
fn numbers(words: &str) -> impl Iterator<Item = String> {
    let is_of_number = |letter: char| letter.is_ascii_digit() || letter == '.';
    let is_of_word = |letter: char| letter.is_alphanumeric() || ".-_/:".contains(letter);
    let parts = words.split(move |letter: char| !is_of_word(letter));
    parts.filter_map(move |part| {
        // A sign before it, and a unit that touches it.
        let part = part
            .trim_start_matches(['-', '.'])
            .trim_end_matches(['.', ':', '-']);
        let end = part
            .find(|letter| !is_of_number(letter))
            .unwrap_or(part.len());
        let (number, rest) = part.split_at(end);
        let is_name =
            rest.chars().any(|letter| letter.is_ascii_digit()) || rest.starts_with(['-', '_', ':']);
        let is_number = !is_name
            && number.starts_with(|letter: char| letter.is_ascii_digit())
            && number.matches('.').count() < 2;
        is_number.then(|| number.to_owned())
    })
}

/// Figures of a number, without the zeros before it.
fn figures(number: &str) -> usize {
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len()
}

/// The number with its second figure moved by one.
fn moved(number: &str) -> String {
    let mut seen = 0;
    let step = |letter: char| {
        seen += usize::from(letter.is_ascii_digit() && (seen != 0 || letter != '0'));
        match (seen, letter) {
            (2, '9') => '8',
            (2, digit @ '0'..='8') => char::from(digit as u8 + 1),
            _ => letter,
        }
    };
    number.chars().map(step).collect()
}
