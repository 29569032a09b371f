//! The language page's own examples are read exactly as they stand.

use trug_findings::FileId;
use trug_syntax::{parse, tree::ItemBody};

const LANGUAGE: &str = include_str!("texts/language.txt");

#[test]
fn the_examples_of_the_language_page_are_read_without_a_finding() {
    let file = parse(FileId(0), LANGUAGE);
    let findings: Vec<_> = file
        .findings
        .iter()
        .map(|finding| {
            format!(
                "{} {} {:?}",
                finding.code.name,
                finding.message,
                finding.place.span.of(LANGUAGE)
            )
        })
        .collect();
    assert!(findings.is_empty(), "{findings:#?}");
    assert_eq!(file.items.len(), 23);
    assert!(file.items.iter().all(|item| !item.has_unread_line));
    assert!(
        !file
            .items
            .iter()
            .any(|item| matches!(item.body, ItemBody::Unread(_)))
    );
}
