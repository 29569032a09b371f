//! The reference page is held to the grammar: every form has an example there that is read without a finding.

use std::collections::BTreeSet;

use trug_findings::FileId;

use crate::grammar::{self, Part};
use crate::lines::{Lines, first_word};
use crate::words;

const REFERENCE: &str = include_str!("../../../grammar/REFERENCE.md");
const GRAMMAR: &str = include_str!("../../../grammar/trug.pest");

/// Rules for mistakes; the page has them as a table.
const MISTAKES: [(&str, &str); 9] = [
    ("everyday_range", "`16-18 %`"),
    ("everyday_least", "`min 16 %`"),
    ("everyday_most", "`max 5 %`"),
    ("comma_number", "`1,5`"),
    ("everyday_ages", "`from week 0 to 3`"),
    ("everyday_age", "`0-3 weeks`"),
    ("everyday_until", "`to 21 days`"),
    ("everyday_days", "`0-3 weeks`"),
    ("age_word", "`0-3 weeks`"),
];

/// The examples of the page.
fn examples() -> Vec<&'static str> {
    let fences = REFERENCE.split("\n```trug").skip(1);
    fences
        .filter_map(|after| after.split_once('\n'))
        .filter_map(|(_, after)| after.split_once("```"))
        .map(|(example, _)| example)
        .collect()
}

/// The named rules of the grammar: those that are not silent.
fn named_rules() -> BTreeSet<String> {
    let rules = GRAMMAR.lines().filter_map(|line| line.split_once(" = "));
    rules
        .filter(|(name, body)| !name.starts_with([' ', '/']) && !body.starts_with('_'))
        .map(|(name, _)| name.to_owned())
        .collect()
}

fn collect(part: Part<'_>, seen: &mut BTreeSet<String>) {
    let mut left = vec![part];
    while let Some(part) = left.pop() {
        seen.insert(format!("{:?}", part.as_rule()));
        left.extend(part.into_inner());
    }
}

/// Which rules read the lines of a text.
fn rules_of(text: &str, seen: &mut BTreeSet<String>) {
    let mut item = None;
    for line in Lines::of(text) {
        let content = &text[line.content.clone()];
        let first = first_word(content);
        let rule = if line.is_indented {
            item.and_then(|item: &'static words::ItemWord| item.line_word(first).or(item.otherwise))
                .map(|line| line.rule)
        } else {
            item = words::item_word(first);
            item.map(|item| item.rule)
        };
        let Some(rule) = rule else { continue };
        if let Ok((part, end)) = grammar::read_line(rule, content) {
            collect(part, seen);
            end.into_iter().for_each(|(_, end)| collect(end, seen));
        }
    }
}

#[test]
fn every_example_is_read_without_a_finding_and_is_tidy() {
    assert!(examples().len() > 15);
    for example in examples() {
        let findings = crate::parse(FileId(0), example).findings;
        assert!(findings.is_empty(), "{example}\n{findings:#?}");
        assert_eq!(crate::tidy(example), example);
    }
}

#[test]
fn every_rule_of_the_grammar_has_its_example() {
    let mut seen = BTreeSet::new();
    for example in examples() {
        rules_of(example, &mut seen);
    }
    for (rule, written) in MISTAKES {
        assert!(REFERENCE.contains(written), "{rule}");
        seen.insert(rule.to_owned());
    }
    let missing: Vec<_> = named_rules().difference(&seen).cloned().collect();
    assert!(
        missing.is_empty(),
        "no example in the reference for {missing:?}"
    );
}

#[test]
fn every_reserved_word_is_listed() {
    let listed = REFERENCE
        .split_once("<!-- reserved -->\n```text\n")
        .and_then(|(_, after)| after.split_once("```"))
        .map_or(Vec::new(), |(words, _)| words.split_whitespace().collect());
    assert_eq!(listed, words::reserved());
}

#[test]
fn every_word_of_the_table_has_an_example_that_is_read() {
    for item in words::ITEMS {
        assert!(
            grammar::read(item.rule, item.example).is_ok(),
            "{}",
            item.example
        );
        for line in item.lines.iter().chain(item.otherwise) {
            assert!(
                grammar::read(line.rule, line.example).is_ok(),
                "{}",
                line.example
            );
            let found = item.line_word(first_word(line.example)).or(item.otherwise);
            assert_eq!(
                found.map(|found| found.rule),
                Some(line.rule),
                "{}",
                line.example
            );
        }
    }
}
