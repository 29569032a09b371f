//! Why a header cannot be read, and what it declares all the same.

use std::ops::Range;

use trug_findings::Finding;

use super::{Failed, commas, distance, in_part, is_plain_name, not_readable, rewritten};
use crate::findings::syntax;
use crate::grammar;
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
                .or_else(|| rewritten(failed, |text| grammar::read(item.rule, text).is_ok()))
                .unwrap_or_else(|| at_fault(failed, item, mistake)),
        });
    of_an_item(finding)
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
