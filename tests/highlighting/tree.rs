//! The tree-sitter grammar with its queries: the same words, the same items, and no line that spoils another.

use proptest::prelude::*;
use tree_sitter::{Node, Parser, Query, QueryCursor, StreamingIterator, Tree};
use trug_tests::repository;

use crate::kinds::{self, Kind, Token};
use crate::reference::{self, Item};
use crate::same::{self, Tokens};
use crate::texts::{self, Text};

/// What the queries call each kind: tree-sitter's own names, and those of Helix's themes.
const CAPTURES: [(&str, Kind); 16] = [
    ("keyword", Kind::Item),
    ("property", Kind::Line),
    ("variable.other.member", Kind::Line),
    ("keyword.operator", Kind::Word),
    ("function", Kind::Name),
    ("variable", Kind::Name),
    ("constant", Kind::Name),
    ("number", Kind::Number),
    ("constant.numeric", Kind::Number),
    ("type", Kind::Unit),
    ("string", Kind::Text),
    ("comment", Kind::Comment),
    ("operator", Kind::Operator),
    // Not colours.
    ("fold", Kind::Item),
    ("class.around", Kind::Item),
    ("comment.around", Kind::Comment),
];

pub(crate) fn parse(text: &str) -> Tree {
    let mut parser = Parser::new();
    parser
        .set_language(&tree_sitter_trug::LANGUAGE.into())
        .unwrap();
    parser.parse(text, None).unwrap()
}

fn query(path: &str) -> Query {
    let query = repository::read(path);
    assert!(!query.is_empty(), "{path} was not found");
    Query::new(&tree_sitter_trug::LANGUAGE.into(), &query).unwrap()
}

fn kind(capture: &str) -> Kind {
    let known = CAPTURES.iter().find(|(name, _)| *name == capture);
    known
        .unwrap_or_else(|| panic!("no kind is captured as {capture}"))
        .1
}

fn tokens(query: &Query, text: &str) -> Tokens {
    let tree = parse(text);
    let lines = kinds::lines(text);
    let mut cursor = QueryCursor::new();
    let mut captures = cursor.captures(query, tree.root_node(), text.as_bytes());
    let mut tokens = Tokens::new();
    let mut last = 0;
    while let Some((found, rank)) = captures.next() {
        let capture = found.captures()[*rank];
        let range = capture.node.byte_range();
        assert!(last <= range.start, "{text}\n{capture:?} is captured twice");
        last = range.end;
        let number = lines.partition_point(|line| line.start <= range.start) - 1;
        let start = lines[number].start;
        assert!(
            range.end <= start + lines[number].text.len(),
            "{text}\n{capture:?} is on two lines"
        );
        tokens.entry(number).or_default().push(Token {
            start: range.start - start,
            end: range.end - start,
            kind: kind(query.capture_names()[capture.index as usize]),
        });
    }
    tokens
}

pub(crate) const HIGHLIGHTS: &str = "editors/tree-sitter-trug/queries/highlights.scm";
const HELIX: &str = "editors/helix/queries/trug/highlights.scm";

pub(crate) fn all_tokens(highlights: &str, texts: &[Text]) -> Vec<Tokens> {
    let query = query(highlights);
    texts
        .iter()
        .map(|text| tokens(&query, &text.text))
        .collect()
}

#[test]
fn tree_sitter_marks_every_word_as_the_language_does() {
    let texts = texts::all();
    same::hold("tree-sitter", &texts, &all_tokens(HIGHLIGHTS, &texts));
}

#[test]
fn helix_marks_every_word_as_the_language_does() {
    let texts = texts::all();
    same::hold("Helix", &texts, &all_tokens(HELIX, &texts));
}

#[test]
fn every_query_is_of_the_grammar() {
    let paths = repository::files("editors", ".scm");
    assert!(paths.len() >= 4, "{paths:?}");
    for path in paths {
        for capture in query(&path).capture_names() {
            kind(capture);
        }
    }
}

fn items(text: &str) -> Vec<Item> {
    let tree = parse(text);
    let lines = kinds::lines(text);
    let line = |at: usize| lines.partition_point(|line| line.start <= at) - 1;
    let said = |node: Node<'_>| text[node.byte_range()].to_owned();
    let mut cursor = tree.walk();
    let nodes = tree.root_node().named_children(&mut cursor);
    let items = nodes
        .filter(|node| node.kind().ends_with("item"))
        .map(|node| Item {
            word: node.child_by_field_name("keyword").map(said),
            name: node.child_by_field_name("name").map(said),
            first: line(node.start_byte()),
            last: line(node.end_byte() - 1),
        });
    items.collect()
}

#[test]
fn tree_sitter_sees_the_same_items() {
    for text in texts::all() {
        let wanted = reference::items(&text.text);
        let mut found = items(&text.text);
        assert_eq!(wanted.len(), found.len(), "{}", text.name);
        for (_, found) in wanted
            .iter()
            .zip(&mut found)
            .filter(|(it, _)| it.word.is_none())
        {
            (found.word, found.name) = (None, None);
        }
        assert_eq!(wanted, found, "{}", text.name);
    }
}

#[test]
fn no_line_is_an_error_to_tree_sitter() {
    for text in texts::all() {
        let tree = parse(&text.text);
        assert!(
            !tree.root_node().has_error(),
            "{}\n{}",
            text.name,
            tree.root_node().to_sexp()
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn no_line_spoils_another(line in "[ \t]{0,2}([a-z]{1,4}|at|of|dry|never|item|for|[\"“”#()/*+=.%±…🦆\u{a0}-]|[0-9.]{1,3}| ){0,12}") {
        let text = format!("animal duck \"Duck\"\n  gives eggs\n{line}\n  gives meat\ningredient maize\n  protein 8 %");
        let query = query(HIGHLIGHTS);
        let found = tokens(&query, &text);
        let plain = "animal duck \"Duck\"\n  gives eggs\n\n  gives meat\ningredient maize\n  protein 8 %";
        let wanted = tokens(&query, plain);
        for number in [0, 1, 3, 4, 5] {
            prop_assert_eq!(found.get(&number), wanted.get(&number));
        }
        prop_assert!(!parse(&text).root_node().has_error());
    }
}

#[test]
fn a_lone_carriage_return_ends_a_line() {
    let text = Text {
        name: "old line ends".to_owned(),
        text: repository::read(texts::EVERYTHING).replace('\n', "\r"),
    };
    let texts = [text];
    same::hold("tree-sitter", &texts, &all_tokens(HIGHLIGHTS, &texts));
}

#[test]
fn a_character_that_is_none_spoils_its_line_alone() {
    let text = "animal duck\n  gives\0 eggs\n  selenium at most 5 mg/kg harm\ningredient maize\n";
    let tokens = tokens(&query(HIGHLIGHTS), text);
    let wanted = reference::tokens(text);
    for number in [0, 2, 3] {
        assert_eq!(
            kinds::usual(kinds::lines(text)[number].text, &tokens[&number]),
            wanted[&number]
        );
    }
}
