//! What the tests stand on: every published value has a place where it is tested, and every place is there.

use std::collections::BTreeSet;

use trug_tests::repository;

/// Every check there is. A number that is taken is never given again.
const CHECKS: [&str; 49] = [
    "C01", "C02", "C03", "C04", "C05", "C06", "C06b", "C07", "C08", "C09", "C10", "C11", "C16",
    "C17", "C18", "C19", "C29", "C30", "C31", "C38", "C46", "C47", "C48", "C49", "C50", "C51",
    "C52", "C53", "C54", "C55", "C56", "C57", "C58", "C61", "C62", "C63", "C64", "C67", "C70",
    "C73", "C76", "C77", "C78", "C79", "C80", "C85", "C86", "C87", "C88",
];

const PAGE: &str = "tests/README.md";

/// The rows of the tables of a page, below the one with this heading in its first line, as cells.
fn table(first: &str) -> Vec<Vec<String>> {
    let page = repository::read(PAGE);
    let lines = page.lines().skip_while(|line| !line.starts_with(first));
    let rows = lines.skip(2).take_while(|line| line.starts_with('|'));
    let cells = |row: &str| {
        let row = row.trim_matches('|');
        row.split('|').map(|cell| cell.trim().to_owned()).collect()
    };
    rows.map(cells).collect()
}

/// The paths a cell names.
fn paths(cell: &str) -> Vec<String> {
    let named = cell.split('`').skip(1).step_by(2);
    named.map(str::to_owned).collect()
}

/// Whether a text names the check as a word of its own: `C46`, or `c46-…` as the name of a section.
fn names(text: &str, check: &str) -> bool {
    let section = format!("--- {}-", check.to_lowercase());
    let is_inside = |letter: char| letter.is_ascii_alphanumeric();
    text.split(|letter: char| !is_inside(letter))
        .any(|word| word == check)
        || text.contains(&section)
}

#[test]
fn every_check_has_its_line_and_no_line_is_of_another() {
    let rows = table("| check | what | where |");
    let listed: Vec<_> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(listed, CHECKS);
}

#[test]
fn every_check_is_where_its_line_says() {
    let mut wrong = Vec::new();
    for row in table("| check | what | where |") {
        let paths = paths(&row[2]);
        assert!(!paths.is_empty(), "{row:?}");
        for path in paths {
            let text = repository::read(&path);
            if !names(&text, &row[0]) {
                wrong.push(format!("{} is not in {path}", row[0]));
            }
        }
        let known = ["read", "computed", "part memory"];
        assert!(known.iter().any(|word| row[3].starts_with(word)), "{row:?}");
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn no_section_of_the_suite_is_of_an_unlisted_check() {
    let known: BTreeSet<_> = CHECKS.iter().map(|check| check.to_lowercase()).collect();
    let mut wrong = Vec::new();
    for path in repository::files("tests/suite/outside", ".txt") {
        for line in repository::read(&path).lines() {
            if let Some(header) = line.strip_prefix("--- ") {
                let check = header.split('-').next().unwrap_or_default();
                if !known.contains(check) {
                    wrong.push(format!("{path}: {header}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn what_cannot_be_said_is_of_a_check_and_has_its_reason() {
    let rows = table("| check | what is left out |");
    assert!(!rows.is_empty());
    for row in rows {
        assert!(CHECKS.contains(&row[0].as_str()), "{row:?}");
        assert!(row[1..].iter().all(|cell| !cell.is_empty()), "{row:?}");
    }
}

#[test]
fn every_standard_is_held_to_in_a_file_that_is_there() {
    let rows = table("| what | held to | where |");
    assert!(rows.len() >= 10);
    for path in rows.iter().flat_map(|row| paths(&row[2])) {
        assert!(!repository::read(&path).is_empty(), "{path} is not there");
    }
}
