//! Bounds in everyday writing: `16-18 %`, `16 to 18 %`, `min 16 %`, and a single number where a bound is wanted.

use trug_findings::Finding;

use super::{Failed, MOST_BYTES_REWRITTEN};
use crate::findings::syntax;
use crate::grammar::{self, Part, Rule};
use crate::words::LineWord;

/// The finding about a bound of this line, if that is what keeps it from being read.
pub(super) fn finding(failed: &Failed<'_>, form: &LineWord) -> Option<Finding> {
    if failed.text.len() > MOST_BYTES_REWRITTEN {
        return None;
    }
    everyday(failed, form).or_else(|| one_number(failed, form))
}

/// Whether an amount on this line can harm: then a number is never made up for it.
pub(super) fn can_harm(text: &str, form: &LineWord) -> bool {
    match form.rule {
        Rule::dose_line | Rule::ceiling_line | Rule::bound_line => true,
        _ => text
            .split_whitespace()
            .any(|word| word == "law" || word == "harm"),
    }
}

/// Whether a respelling of a bound changes nothing but what the animal is wished to get.
fn is_wish(form: &LineWord) -> bool {
    matches!(form.rule, Rule::target_line | Rule::limit_line)
}

fn everyday(failed: &Failed<'_>, form: &LineWord) -> Option<Finding> {
    for start in failed.word_starts() {
        for rule in [
            Rule::everyday_range,
            Rule::everyday_least,
            Rule::everyday_most,
        ] {
            let rest = failed.text.get(start..).unwrap_or("");
            let Ok((part, end)) = grammar::read_start(rule, rest) else {
                continue;
            };
            let Some(usual) = usual(&part) else { continue };
            if grammar::read_line(form.rule, &failed.with(start, start + end, &usual)).is_err() {
                continue;
            }
            let place = failed.place(start, start + end);
            return Some(syntax::everyday_range(
                place,
                part.as_str(),
                &usual,
                is_wish(form),
            ));
        }
    }
    None
}

/// An everyday bound as it is written here; none where it has two units.
fn usual(part: &Part<'_>) -> Option<String> {
    let mut numbers = Vec::new();
    let mut units = Vec::new();
    for inner in part.clone().into_inner() {
        match inner.as_rule() {
            Rule::number => numbers.push(inner.as_str()),
            _ => units.push(inner.as_str()),
        }
    }
    units.dedup();
    let unit = match units.as_slice() {
        [] => String::new(),
        [unit] => format!(" {unit}"),
        _ => return None,
    };
    match (part.as_rule(), numbers.as_slice()) {
        (Rule::everyday_range, [low, high]) => Some(format!("{low} .. {high}{unit}")),
        (Rule::everyday_least, [low]) => Some(format!("at least {low}{unit}")),
        (Rule::everyday_most, [high]) => Some(format!("at most {high}{unit}")),
        _ => None,
    }
}

fn one_number(failed: &Failed<'_>, form: &LineWord) -> Option<Finding> {
    if form.rule == Rule::step_line {
        return None;
    }
    for start in failed.word_starts() {
        let rest = failed.text.get(start..).unwrap_or("");
        let Ok((part, end)) = grammar::read_start(Rule::quantity, rest) else {
            continue;
        };
        let with = |words: &str| failed.with(start, start, words);
        if grammar::read_line(form.rule, &with("at most ")).is_err() {
            continue;
        }
        let has_lower = grammar::read_line(form.rule, &with("at least ")).is_ok();
        let place = failed.place(start, start + end);
        return Some(syntax::one_number(
            place,
            part.as_str(),
            can_harm(failed.text, form),
            has_lower,
        ));
    }
    None
}
