//! A line put together from one like it is what it is when it is read alone.

use trug_findings::FileId;

use super::*;
use crate::tree::{File, Item};

/// Each item read in a text of its own, where nothing is like it, and moved to where it stands.
fn one_by_one(text: &str) -> Vec<String> {
    let mut starts: Vec<usize> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if !line.starts_with(' ') {
            starts.push(at);
        }
        at += line.len();
    }
    starts.push(text.len());
    let mut items = Vec::new();
    for pair in starts.windows(2) {
        // Blanks before an item move its places without changing it.
        let blanks = " ".repeat(pair[0].saturating_sub(1));
        let newline = if pair[0] > 0 { "\n" } else { "" };
        let own = format!("{blanks}{newline}{}", &text[pair[0]..pair[1]]);
        items.extend(shown(&crate::parse(FileId(0), &own)));
    }
    items
}

fn shown(file: &File) -> Vec<String> {
    let shown = |item: &Item| format!("{item:?}");
    file.items.iter().map(shown).collect()
}

const LINES: &[&str] = &[
    "protein 8.0 ± 0.4 %",
    "protein 12 +- 0.4 %",
    "protein   7.25 % of dry-matter",
    "n10 7 % of dry matter",
    "dm 7 g/kg at 88 % dry-matter",
    "price 92 LKR/kg as of 2026-11-01",
    "price 1204.50 LKR/kg as of 2026-11-01",
    "price 92 LKR per 25 kg",
    "price -5 LKR/kg",
    "dry-matter 87.5 %",
    "dry-matter 8 %",
    "bulk-density 0.80 kg/L",
    "maize 46 %",
    "broken-rice 4.5 %",
    "Broken-Rice 4 %",
    "rice- 4 %",
    "maïs 4 %",
    "maize 4.5.6 %",
    "maize 4. %",
    "maize 1234567890123456789012345 %",
    "maize 12 .. 24 %",
    "soya 12 .. 24 %",
    "soya 24 .. 12 %",
    "soya 9 .. 12 %",
    "lime at least 2 %",
    "fish-meal at least 10.5 %",
    "fish-meal at most 10.5 % of dry-matter",
    "salt 5 g/kg accept dose/over \"the vet's order\"",
    "protein 8.1 % source \"Table of 1994\"",
    "protein 9 % unverified",
    "dry-matter 9 % unverified source \"Table of 1994\" accept dose/over \"why\"",
    "source \"Table of 1994\"",
    "unverified",
    "salt 5 parts",
    "salt 1 part",
    "salt 5 mcg/kg",
    "salt 50 mcg/kg",
    "calcium / phosphorus 6 .. 10",
    "calcium - n1 at most 5 g/kg",
    "salt 4 kg lot FM-02",
    "salt 40 kg lot FM-02",
    "salt 4 % or none",
    "ration 4 %",
    "Ration 4 %",
    "salt 4 %   # a comment",
    "salt\t4 %",
    "salt 2026-11-01",
    "salt 4",
    "salt 44",
    "salt 4 % source \"feed tables, page 12\"",
    "salt 40 % source \"feed tables, page 12\"",
    "salt 5 % unverified",
    "source \"feed tables\"",
    "unverified",
];

#[test]
fn a_line_is_what_it_is_alone() {
    let headers = [
        "ingredient one",
        "lot one of two",
        "ration one",
        "targets one",
        "animal one",
    ];
    for header in headers {
        // Each line twice, so that the second is put together from the first or one like it.
        let mut text = String::new();
        for round in 0..2 {
            for (rank, line) in LINES.iter().enumerate() {
                text.push_str(&format!("{header}-{round}-{rank}\n  {line}\n"));
            }
        }
        let together = shown(&crate::parse(FileId(0), &text));
        assert_eq!(together, one_by_one(&text), "{header}");
    }
}

#[test]
fn findings_are_those_of_the_line() {
    let alone = crate::parse(FileId(0), "ingredient a\n  protein 5 gm/kg\n").findings;
    let text = "ingredient a\n  protein 5 gm/kg\ningredient b\n  ash 15 gm/kg\n";
    let both = crate::parse(FileId(0), text).findings;
    assert_eq!(both.len(), 2 * alone.len());
    assert!(!alone.is_empty());
}

#[test]
fn a_number_stands_alone() {
    let number = |text: &str| plain_number(text.as_bytes(), 1).map(|at| text[at].to_owned());
    assert_eq!(number("a 12.5 %").as_deref(), Some("12.5"));
    assert_eq!(number("a 12").as_deref(), Some("12"));
    for none in [
        "a -5 %",
        "a 4. %",
        "a 4.5.6 %",
        "a n1 5",
        "a",
        "a 1234567890123456789",
    ] {
        assert_eq!(number(none), None, "{none}");
    }
}
