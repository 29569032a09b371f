//! Why a header cannot be read, and what it declares all the same.

use std::ops::Range;

use trug_findings::Finding;

use super::{
    Failed, MOST_BYTES_REWRITTEN, commas, distance, in_part, is_plain_name, not_readable, rewritten,
};
use crate::findings::syntax;
use crate::grammar::{self, Part, Rule};
use crate::lines::first_word;
use crate::reader::Mistake;
use crate::words::{self, ItemWord};

/// What is wrong with a line at the margin. `above` is the item that ended there.
pub(crate) fn header(failed: &Failed<'_>, above: Option<&ItemWord>, mistake: &Mistake) -> Finding {
    let finding =
        not_readable(failed).unwrap_or_else(|| match words::item_word(failed.first_word()) {
            None => no_item(failed, above),
            Some(item) => in_part(failed, None, mistake)
                .or_else(|| commas(failed))
                .or_else(|| ages(failed, item))
                .or_else(|| rewritten(failed, |text| grammar::read(item.rule, text).is_ok()))
                .unwrap_or_else(|| at_fault(failed, item, mistake)),
        });
    of_an_item(finding)
}

/// Ages of targets as people write them, in weeks or without the word `day`.
fn ages(failed: &Failed<'_>, item: &ItemWord) -> Option<Finding> {
    if item.rule != Rule::targets_item || failed.text.len() > MOST_BYTES_REWRITTEN {
        return None;
    }
    for start in failed.word_starts() {
        let rest = failed.text.get(start..).unwrap_or("");
        let Ok((part, end)) = grammar::read_start(Rule::everyday_ages, rest) else {
            continue;
        };
        let written = part.as_str();
        let Some((usual, in_weeks)) = usual_ages(part) else {
            continue;
        };
        if grammar::read(item.rule, &failed.with(start, start + end, &usual)).is_ok() {
            let place = failed.place(start, start + end);
            return Some(if in_weeks {
                syntax::ages_in_weeks(place, written, &usual)
            } else {
                syntax::respelt(place, written, &usual)
            });
        }
    }
    None
}

/// The same ages in days, and whether they were weeks. A week that ends them is over before its last day begins the next:
/// three weeks end with day 20.
fn usual_ages(part: Part<'_>) -> Option<(String, bool)> {
    let written = part.as_str();
    let mut is_until = false;
    let mut ages: Vec<i64> = Vec::new();
    let mut words: Vec<&str> = Vec::new();
    for part in part.into_inner() {
        if part.as_rule() == Rule::everyday_until {
            is_until = true;
            continue;
        }
        for inner in part.into_inner() {
            match inner.as_rule() {
                Rule::everyday_days => ages.push(inner.as_str().parse().ok()?),
                _ => words.push(inner.as_str()),
            }
        }
    }
    let in_weeks = words.iter().any(|word| word.starts_with('w'));
    let is_bare = words.is_empty() && !written.starts_with("from");
    if is_bare || in_weeks && words.iter().any(|word| word.starts_with('d')) {
        return None;
    }
    let first = |age: i64| if in_weeks { age * 7 } else { age };
    let last = |age: i64| {
        if in_weeks { (age * 7 - 1).max(0) } else { age }
    };
    let usual = match ages.as_slice() {
        [from, to] if from <= to => format!("from day {} to {}", first(*from), last(*to)),
        [to] if is_until => format!("to day {}", last(*to)),
        [from] => format!("from day {}", first(*from)),
        _ => return None,
    };
    Some((usual, in_weeks))
}

/// The name a header declares that could not be read, and where it stands in the header.
///
/// A name of two words counts as the one name it was meant for, so that what names it is not unknown as well.
pub(crate) fn declared(text: &str) -> Option<(String, Range<usize>)> {
    let keyword = first_word(text);
    let item = words::item_word(keyword).or_else(|| nearest_item(keyword));
    if item.is_some_and(|item| item.word == "use" || item.word == "rate") {
        return None;
    }
    let (start, name) = word_after(text, keyword.len())?;
    if !is_plain_name(name) {
        return None;
    }
    let end = start + name.len();
    if let (Some(item), Some((next, second))) = (item, word_after(text, end)) {
        let joined = format!("{name}-{second}");
        let after = text.get(next + second.len()..).unwrap_or("");
        let header = format!("{} {joined}{after}", item.word);
        if is_plain_name(second) && grammar::read(item.rule, &header).is_ok() {
            return Some((joined, start..next + second.len()));
        }
    }
    Some((name.to_owned(), start..end))
}

/// The word that stands after an offset, and where it starts.
fn word_after(text: &str, at: usize) -> Option<(usize, &str)> {
    let rest = text.get(at..)?;
    let start = at + (rest.len() - rest.trim_start().len());
    let word = first_word(text.get(start..)?);
    (!word.is_empty()).then_some((start, word))
}

/// The item whose word a word nearly is.
fn nearest_item(word: &str) -> Option<&'static ItemWord> {
    let distances = words::ITEMS
        .iter()
        .filter_map(|item| Some((distance(word, item.word)?, item)));
    distances
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, item)| item)
}

fn no_item(failed: &Failed<'_>, above: Option<&ItemWord>) -> Finding {
    let first = failed.first_word();
    if let Some(near) = nearest_item(first) {
        return syntax::no_such_item(failed.first_place(), first, Some(near.word));
    }
    match above.filter(|above| reads_as_line_of(failed.text, above)) {
        Some(above) => syntax::belongs_above(failed.first_place(), first, above),
        None => syntax::no_such_item(failed.first_place(), first, None),
    }
}

/// Whether a text would be a line of an item if it were indented.
pub(crate) fn reads_as_line_of(text: &str, item: &ItemWord) -> bool {
    let first = first_word(text);
    let form = item.line_word(first).or(item.otherwise);
    form.is_some_and(|form| grammar::read_line(form.rule, text).is_ok())
}

fn at_fault(failed: &Failed<'_>, item: &ItemWord, mistake: &Mistake) -> Finding {
    let at = match mistake {
        Mistake::Form(at) => *at,
        _ => failed.text.len(),
    };
    let (word, place) = failed.word_at(at);
    syntax::header(place, word, item)
}

/// A finding about a line is one about an item where the line is its header.
fn of_an_item(mut finding: Finding) -> Finding {
    if finding.code == &syntax::LINE {
        finding.code = &syntax::ITEM;
    }
    finding
}
