//! A word that comes into the language fails here until every grammar has it.

use std::collections::BTreeSet;

use trug_syntax::words::{CLAUSES, ITEMS};
use trug_tests::repository;

use crate::engines;
use crate::kinds::{self, Kind};
use crate::reference;
use crate::same;
use crate::texts::{self, Text};
use crate::tree;

/// The example of every item, and below one of its kind that of each of its lines.
fn examples() -> Vec<Text> {
    let mut texts = Vec::new();
    for item in ITEMS {
        let mut text = format!("{}\n", item.example);
        for line in item.lines.iter().chain(item.otherwise) {
            text.push_str(&format!("  {}\n", line.example));
        }
        let name = format!("the examples of {}", item.word);
        texts.push(Text { name, text });
    }
    texts
}

#[test]
fn every_example_can_be_read() {
    for example in examples() {
        let lines = kinds::lines(&example.text);
        let read = reference::tokens(&example.text);
        // The empty line behind the last is one too.
        assert_eq!(read.len(), lines.len(), "{}", example.name);
    }
}

#[test]
fn every_grammar_knows_every_item_and_line() {
    let texts = examples();
    same::hold(
        "tree-sitter",
        &texts,
        &tree::all_tokens(tree::HIGHLIGHTS, &texts),
    );
    for (name, run) in engines::all() {
        same::hold(name, &texts, &run(&texts));
    }
}

/// The words of the text of everything that are of a kind.
fn words_of(kind: Kind) -> BTreeSet<String> {
    let text = repository::read(texts::EVERYTHING);
    let lines = kinds::lines(&text);
    let mut words = BTreeSet::new();
    for (number, tokens) in reference::tokens(&text) {
        for token in tokens.iter().filter(|token| token.kind == kind) {
            words.insert(lines[number].text[token.start..token.end].to_owned());
        }
    }
    words
}

#[test]
fn the_text_of_everything_has_every_word() {
    let items = words_of(Kind::Item);
    let openings = words_of(Kind::Line);
    let joins = words_of(Kind::Word);
    for item in ITEMS {
        assert!(items.contains(item.word), "{}", item.word);
        for line in item.lines {
            for word in line.word.split(' ') {
                assert!(openings.contains(word), "{word}");
            }
        }
    }
    for word in CLAUSES {
        assert!(joins.contains(*word), "{word}");
    }
}

#[test]
fn the_text_of_everything_is_read_but_for_what_it_says() {
    let text = repository::read(texts::EVERYTHING);
    let read = reference::tokens(&text);
    let lines = kinds::lines(&text);
    let unread = (0..lines.len()).filter(|number| !read.contains_key(number));
    let unread: Vec<_> = unread.map(|number| lines[number].text.trim()).collect();
    let meant = [
        "copper / molybdenum  at most ten",
        "animal \"no name\"",
        "gives          nothing that is read",
        "source         none",
        "\"unclosed # no comment",
        "((()) .. ± ** 🦆 \\ $ ~ , ; `",
        "protein        12,5 %",
        "“unclosed",
        "ingrediant misspelt \"Misspelt\"",
        "protein        silent %",
        "ash\t5 %",
    ];
    assert_eq!(unread, meant);
}

/// The words of the grammar's rule of that name, in quotes there.
fn words_of_rule(rule: &str) -> Vec<String> {
    let grammar = repository::read("grammar/trug.pest");
    let start = grammar.find(&format!("\n{rule} = ")).expect("the rule");
    let body = grammar[start..].split("\n}").next().unwrap();
    body.split('"')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_word_behind_a_number_is_a_unit_or_is_not_to_all_grammars() {
    let not_units = words_of_rule("after_number");
    assert!(not_units.len() > 20, "{not_units:?}");
    let textmate = repository::read("editors/vscode/syntaxes/trug.tmLanguage.json");
    assert!(textmate.contains(&format!("(?!(?:{})", not_units.join("|"))));
    let vim = repository::read("editors/neovim/syntax/trug.vim").replace("\n      \\ ", " ");
    assert!(vim.contains(&format!("['{}']", not_units.join("', '"))));

    // Only lines that can be read are compared: a content whose unit is any word.
    let words = CLAUSES
        .iter()
        .copied()
        .filter(|word| !not_units.iter().any(|it| it == word));
    let mut text = "ingredient maize\n".to_owned();
    for word in words.chain(["basket", "of-all", "off", "largest"]) {
        text.push_str(&format!("  protein 5 {word}\n  protein 5{word}/{word}x\n"));
    }
    let texts = [Text {
        name: "words behind numbers".to_owned(),
        text,
    }];
    assert_eq!(
        reference::tokens(&texts[0].text).len(),
        kinds::lines(&texts[0].text).len()
    );
    same::hold(
        "tree-sitter",
        &texts,
        &tree::all_tokens(tree::HIGHLIGHTS, &texts),
    );
    for (name, run) in engines::all() {
        same::hold(name, &texts, &run(&texts));
    }
}
