//! Why a line cannot be read: only a line that failed is looked at again, for the mistakes people make.
//!
//! Each failed line gets exactly one finding, the most helpful there is. A rewriting is offered only where the line
//! could be read with it.

mod bounds;
mod headers;

use trug_findings::{FileId, Finding, Place, Span};

use crate::findings::{syntax, unit};
use crate::grammar::{self, Rule};
use crate::lines::{first_word, is_typographic_quote};
use crate::names::is_name;
use crate::reader::Mistake;
use crate::words::{self, ItemWord, LineWord};

pub(crate) use headers::{declared, header, reads_as_line_of};

/// A longer line is not read: no one could, and it is no line of this language.
pub(crate) const MOST_CHARACTERS: usize = 10_000;

/// Rewritings are tried word by word, each on the whole line: only lines a person may have written are worth it.
const MOST_BYTES_REWRITTEN: usize = 1_000;
const MOST_WORDS: usize = 32;

/// A line that failed.
pub(crate) struct Failed<'t> {
    pub(crate) file: FileId,
    /// What it says.
    pub(crate) text: &'t str,
    /// Where that starts in its file.
    pub(crate) base: usize,
    /// The quote mark that nothing closes, an offset in the file.
    pub(crate) open_quote: Option<usize>,
}

impl<'t> Failed<'t> {
    /// The place of a range of the line.
    fn place(&self, start: usize, end: usize) -> Place {
        Place::new(self.file, Span::new(self.base + start, self.base + end))
    }

    fn whole(&self) -> Place {
        self.place(0, self.text.len())
    }

    fn first_word(&self) -> &'t str {
        first_word(self.text)
    }

    fn first_place(&self) -> Place {
        self.place(0, self.first_word().len())
    }

    /// What stands at an offset up to the next blank, and where.
    fn word_at(&self, at: usize) -> (&'t str, Place) {
        let mut at = at.min(self.text.len());
        while !self.text.is_char_boundary(at) {
            at -= 1;
        }
        let word = first_word(self.text.get(at..).unwrap_or(""));
        let place = if word.is_empty() {
            self.whole()
        } else {
            self.place(at, at + word.len())
        };
        (word, place)
    }

    /// Offsets where a word starts outside quotes: the first few, for no line of the language has more.
    fn word_starts(&self) -> Vec<usize> {
        let mut starts = Vec::new();
        let mut in_quotes = false;
        let mut after_blank = true;
        for (at, character) in self.text.char_indices() {
            if character == '"' || is_typographic_quote(character) {
                in_quotes = !in_quotes;
            } else if !in_quotes && after_blank && !character.is_whitespace() {
                starts.push(at);
            }
            after_blank = character.is_whitespace() || character == '(';
            if starts.len() == MOST_WORDS {
                break;
            }
        }
        starts
    }

    /// The line with a range of it replaced.
    fn with(&self, start: usize, end: usize, usual: &str) -> String {
        let before = self.text.get(..start).unwrap_or("");
        let after = self.text.get(end..).unwrap_or("");
        format!("{before}{usual}{after}")
    }
}

/// What is wrong with an indented line of an item. `form` is what the line's first word made of it.
pub(crate) fn line(
    failed: &Failed<'_>,
    item: &ItemWord,
    form: Option<&LineWord>,
    mistake: &Mistake,
) -> Finding {
    if let Some(finding) = not_readable(failed) {
        return finding;
    }
    if !item.has_lines() {
        return syntax::has_no_lines(failed.whole(), item);
    }
    if let Some(finding) = in_part(failed, form, mistake) {
        return finding;
    }
    if let Some(finding) = commas(failed) {
        return finding;
    }
    if let Some(finding) = foreign_word(failed, item, form) {
        return finding;
    }
    if let Some(form) = form {
        if let Some(finding) = bounds::finding(failed, form) {
            return finding;
        }
        if let Some(finding) = rewritten(failed, |text| grammar::read_line(form.rule, text).is_ok())
        {
            return finding;
        }
    }
    near_word(failed, item).unwrap_or_else(|| at_fault(failed, item, form, mistake))
}

/// A line no rule can read, whatever it says.
fn not_readable(failed: &Failed<'_>) -> Option<Finding> {
    if failed.text.chars().count() > MOST_CHARACTERS {
        return Some(syntax::too_long(failed.whole(), MOST_CHARACTERS));
    }
    let strange = failed.text.char_indices().find(|(_, character)| {
        character.is_control() && *character != '\t' || *character == '\u{fffd}'
    });
    if let Some((at, character)) = strange {
        return Some(syntax::not_a_character(
            failed.place(at, at + character.len_utf8()),
            character,
        ));
    }
    let opened = failed.open_quote?;
    Some(syntax::open_quote(failed.place(
        opened.saturating_sub(failed.base),
        failed.text.len(),
    )))
}

/// A line of the right form with something in it that cannot be.
fn in_part(failed: &Failed<'_>, form: Option<&LineWord>, mistake: &Mistake) -> Option<Finding> {
    let written = |span: Span| {
        let start = (span.start as usize).saturating_sub(failed.base);
        let end = (span.end as usize).saturating_sub(failed.base);
        failed.text.get(start..end).unwrap_or("")
    };
    let place = |span: Span| Place::new(failed.file, span);
    match mistake {
        Mistake::Form(_) => None,
        Mistake::Digits(span) => Some(syntax::too_many_digits(place(*span))),
        Mistake::Day(span) => Some(syntax::no_such_day(place(*span), written(*span))),
        Mistake::NoOrigin(span) => Some(syntax::no_origin(place(*span))),
        Mistake::Twice(span) => Some(syntax::twice(place(*span), written(*span))),
        Mistake::Reversed { range, turned } => {
            let can_harm = form.is_some_and(|form| bounds::can_harm(failed.text, form));
            Some(syntax::reversed(
                place(*range),
                written(*range),
                turned,
                can_harm,
            ))
        }
        Mistake::Missing(what) => Some(match form {
            Some(form) => syntax::line_lacks(failed.whole(), what, form),
            None => {
                syntax::header_lacks(failed.whole(), what, words::item_word(failed.first_word())?)
            }
        }),
    }
}

/// Numbers with a comma in them.
fn commas(failed: &Failed<'_>) -> Option<Finding> {
    let mut numbers = Vec::new();
    for start in failed.word_starts() {
        let rest = failed.text.get(start..).unwrap_or("");
        if let Ok((part, end)) = grammar::read_start(Rule::comma_number, rest) {
            numbers.push((failed.place(start, start + end), part.as_str().to_owned()));
        }
    }
    (!numbers.is_empty()).then(|| unit::comma(&numbers))
}

/// Small rewritings that can only mean one thing: blanks round a unit's `/`, a number after `/`, a point without a
/// zero, thousands parted by blanks, a name of two words or with `_`.
fn rewritten(failed: &Failed<'_>, is_read: impl Fn(&str) -> bool) -> Option<Finding> {
    if failed.text.len() > MOST_BYTES_REWRITTEN {
        return None;
    }
    for (start, end, usual) in rewritings(failed) {
        if is_read(&failed.with(start, end, &usual)) {
            let written = failed.text.get(start..end).unwrap_or("");
            return Some(syntax::respelt(failed.place(start, end), written, &usual));
        }
    }
    None
}

/// What could be written instead of a range of the line; most of it makes no better line, and is dropped.
fn rewritings(failed: &Failed<'_>) -> Vec<(usize, usize, String)> {
    let words: Vec<_> = failed
        .word_starts()
        .into_iter()
        .map(|start| (start, first_word(failed.text.get(start..).unwrap_or(""))))
        .collect();
    let mut found = Vec::new();
    for (nth, &(start, word)) in words.iter().enumerate() {
        let after = |more: usize| {
            words
                .get(nth + more)
                .map_or((start, ""), |&(start, word)| (start + word.len(), word))
        };
        let (next_end, next) = after(1);
        let (third_end, third) = after(2);
        if next == "/" {
            found.push((start, third_end, format!("{word}/{third}")));
        }
        if word.ends_with('/') || next.starts_with('/') {
            found.push((start, next_end, format!("{word}{next}")));
        }
        if let Some((unit, number, rest)) = number_after_slash(word) {
            if rest.is_empty() {
                found.push((start, next_end, format!("{unit} per {number} {next}")));
            } else {
                found.push((
                    start,
                    start + word.len(),
                    format!("{unit} per {number} {rest}"),
                ));
            }
        }
        if is_digits(
            word.strip_prefix('.')
                .and_then(|rest| rest.get(..1))
                .unwrap_or(""),
        ) {
            found.push((start, start + word.len(), format!("0{word}")));
        }
        if is_digits(word) && word.len() <= 3 && is_digits(next) && next.len() == 3 {
            found.push((start, next_end, format!("{word}{next}")));
        }
        if word.contains('_') {
            found.push((start, start + word.len(), word.replace('_', "-")));
        }
        if is_plain_name(word) && is_plain_name(next) {
            found.push((start, next_end, format!("{word}-{next}")));
        }
    }
    found
}

/// `LKR/25` and `LKR/25kg`: the unit, the number, and what touches it.
fn number_after_slash(word: &str) -> Option<(&str, &str, &str)> {
    let (unit, after) = word.split_once('/')?;
    let rest = after.trim_start_matches(|first: char| first.is_ascii_digit() || first == '.');
    let number = after
        .get(..after.len() - rest.len())
        .filter(|number| !number.is_empty())?;
    Some((unit, number, rest))
}

fn is_digits(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

/// A name that someone may have written as two words.
fn is_plain_name(word: &str) -> bool {
    is_name(word) && !words::is_reserved(word)
}

/// A first word of the language that has no business in this item.
fn foreign_word(failed: &Failed<'_>, item: &ItemWord, form: Option<&LineWord>) -> Option<Finding> {
    let first = failed.first_word();
    if item.line_word(first).is_some()
        || !words::is_reserved(first)
        || near_word(failed, item).is_some()
    {
        return None;
    }
    // Of the items that share a word, a ration is the one most likely meant.
    let ration_first = words::item_word("ration").into_iter().chain(words::ITEMS);
    let owner = ration_first
        .into_iter()
        .find_map(|owner| owner.line_word(first).map(|line| (owner, line)));
    match (owner, form) {
        (Some((owner, line)), _) => Some(syntax::line_of_another(
            failed.first_place(),
            line,
            owner,
            item,
        )),
        (None, Some(form)) => Some(syntax::word_for_name(failed.first_place(), first, form)),
        (None, None) => None,
    }
}

/// A first word that is nearly one of this item.
fn near_word(failed: &Failed<'_>, item: &ItemWord) -> Option<Finding> {
    let first = failed.first_word();
    if item.line_word(first).is_some() {
        return None;
    }
    let line = nearest_line(first, item)?;
    Some(syntax::nearly(
        failed.first_place(),
        first,
        line.first(),
        line,
    ))
}

/// The line whose word a word nearly is.
fn nearest_line(word: &str, item: &ItemWord) -> Option<&'static LineWord> {
    let distances = item
        .lines
        .iter()
        .filter_map(|line| Some((distance(word, line.first())?, line)));
    distances
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, line)| line)
}

/// How many letters differ, where that is few for the length of the word; capitals make no difference.
pub(crate) fn distance(word: &str, wanted: &str) -> Option<usize> {
    if word.len() > 4 * wanted.len() {
        return None;
    }
    let distance = strsim::osa_distance(&word.to_lowercase(), wanted);
    (distance * 3 <= wanted.chars().count().max(3) && distance < wanted.chars().count())
        .then_some(distance)
}

/// Nothing foreseen: where the form ends, and what the line wants.
fn at_fault(
    failed: &Failed<'_>,
    item: &ItemWord,
    form: Option<&LineWord>,
    mistake: &Mistake,
) -> Finding {
    let Some(form) = form else {
        return syntax::no_such_line(failed.first_place(), failed.first_word(), item);
    };
    if let Some(deep) = too_deep(failed) {
        return deep;
    }
    let at = match mistake {
        Mistake::Form(at) => *at,
        _ => failed.text.len(),
    };
    let end = grammar::end_start(failed.text).filter(|&(start, _)| start <= at);
    let form = match end {
        Some((_, "accept")) => &words::ACCEPT,
        Some(_) if item.line_word("source").is_some() => &words::SOURCE,
        Some((start, word)) => {
            return syntax::no_origin(failed.place(start, start + word.len()));
        }
        None => form,
    };
    let (word, place) = failed.word_at(after_own_words(failed, at));
    syntax::line(place, word, form)
}

/// A rule that fails is reported where it starts, which is at a word that is right; what is wrong stands behind it.
fn after_own_words(failed: &Failed<'_>, at: usize) -> usize {
    let mut starts = failed
        .word_starts()
        .into_iter()
        .skip_while(|&start| start < at);
    let is_own = |start: usize| {
        let word = first_word(failed.text.get(start..).unwrap_or(""));
        words::is_reserved(word) || words::is_second(word)
    };
    starts
        .find(|&start| !is_own(start))
        .unwrap_or(failed.text.len())
}

fn too_deep(failed: &Failed<'_>) -> Option<Finding> {
    let starts = failed.word_starts();
    let open = starts.iter().copied().find(|&start| {
        failed
            .text
            .get(start..)
            .is_some_and(|rest| rest.starts_with('('))
    })?;
    Some(syntax::too_deep(failed.place(open, failed.text.len())))
}
