//! Findings as programs read them.

use trug_findings::{FileId, Place, Source, Span};
use trug_report::findings::{findings_document, lines};
use trug_report::json::{to_json, to_json_line};

use crate::farm::{OVER, findings, sources};

#[test]
fn lines_have_one_form() {
    let sources = sources();
    insta::assert_snapshot!(lines(&findings(&sources), &sources));
}

#[test]
fn the_document_is_as_pinned() {
    let sources = sources();
    insta::assert_snapshot!(to_json(&findings_document(
        &findings(&sources),
        &sources,
        None
    )));
}

#[test]
fn an_empty_document_still_counts() {
    let document = findings_document(&[], &[], Some("2026-11-25"));
    assert_eq!(
        to_json_line(&document),
        concat!(
            r#"{"format":"trug.findings/1","today":"2026-11-25","findings":[],"#,
            r#""counts":{"error":0,"warning":0,"note":0}}"#,
            "\n"
        )
    );
}

#[test]
fn findings_are_sorted_by_file_line_column_and_code() {
    let sources = [
        Source::new("b.trug", "x\ny\n"),
        Source::new("a.trug", "x y\n"),
    ];
    let at = |file, start| {
        OVER.at(Place::new(FileId(file), Span::new(start, start + 1)))
            .says("m")
    };
    let shuffled = [at(0, 2), at(1, 2), at(0, 0), at(1, 0)];
    let read: Vec<String> = lines(&shuffled, &sources)
        .lines()
        .map(str::to_owned)
        .collect();
    assert_eq!(
        read,
        [
            "a.trug:1:1: error[sum/over] m",
            "a.trug:1:3: error[sum/over] m",
            "b.trug:1:1: error[sum/over] m",
            "b.trug:2:1: error[sum/over] m",
        ]
    );
}

#[test]
fn a_line_stays_one_line() {
    let source = Source::new("a.trug", "x");
    let finding = OVER.at(Place::default()).says("first\nsecond\r\u{1b}");
    assert_eq!(lines(&[finding], &[source]).lines().count(), 1);
}
