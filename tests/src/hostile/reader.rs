//! The reader: any text has a tree, and every place of it lies in the text.

use trug_findings::{FileId, Source};
use trug_syntax::{parse, parse_part, tree};

use super::farms::letters;
use super::held::findings_hold;

/// Reads the bytes as one text.
pub fn reader(bytes: &[u8]) {
    let text = letters(bytes);
    let file = parse(FileId(0), &text);
    spans_lie_in(&text, &format!("{:?}", file.items));
    findings_hold(&file.findings, &[Source::new("farm.trug", text.as_str())]);
    items_follow_one_another(&text, &file);
    parts_are_read_alike(&text, &file);
}

/// Every place that a debug print of the tree shows is a range of the text, and ends between letters.
fn spans_lie_in(text: &str, debug: &str) {
    for shown in debug.split("Span { start: ").skip(1) {
        let ends = shown.split_once('}').map_or("", |(ends, _)| ends);
        let (start, end) = ends.split_once(", end: ").unwrap_or_default();
        let span = start
            .trim()
            .parse::<usize>()
            .ok()
            .zip(end.trim().parse::<usize>().ok());
        let is_in = span.is_some_and(|(start, end)| text.get(start..end).is_some());
        assert!(is_in, "{ends:?} is no place of {text:?}");
    }
}

/// Items stand one after the other, and what lies between them holds no line.
fn items_follow_one_another(text: &str, file: &tree::File) {
    let mut end = 0;
    for item in &file.items {
        let whole = item.whole.range();
        assert!(end <= whole.start, "items overlap at {end} in {text:?}");
        let between = text.get(end..whole.start).unwrap_or_default();
        let is_blank = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
        let lost = || {
            between
                .lines()
                .find(|line| !is_blank(line.trim_start_matches('\u{feff}')))
        };
        assert!(
            lost().is_none() || !file.findings.is_empty(),
            "nobody has read {:?} in {text:?}",
            lost()
        );
        assert!(
            item.whole.to(item.header) == item.whole,
            "a header lies outside its item"
        );
        end = whole.end;
    }
}

/// A part that is an item reads as it does in the whole text.
fn parts_are_read_alike(text: &str, file: &tree::File) {
    let starts_line = |at: usize| at == 0 || text.get(..at).is_some_and(|it| it.ends_with('\n'));
    for item in file.items.iter().take(3) {
        let whole = item.whole.range();
        if !starts_line(whole.start) {
            continue;
        }
        let part = parse_part(FileId(0), text, whole.clone());
        spans_lie_in(text, &format!("{:?}", part.items));
        if let [alone] = part.items.as_slice() {
            assert_eq!(
                format!("{:?}", alone.body),
                format!("{:?}", item.body),
                "{whole:?} of {text:?}"
            );
        }
    }
}
