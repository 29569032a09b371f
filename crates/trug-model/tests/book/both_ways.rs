//! Every value in the books is a row of the data, and every row of the data is in the books or left out with a reason.

use std::collections::{BTreeMap, BTreeSet};

use crate::rows::{Data, Told, table};
use crate::said::{self, Said};

/// What the books say beyond the data: contents that common practice does not count, marked as such, and what follows
/// from chemistry alone.
fn beyond_the_data() -> Vec<Said> {
    let said = |says: String, source: &str| Said {
        says,
        source: source.to_owned(),
    };
    let phosphates = [
        "dicalcium-phosphate",
        "monocalcium-phosphate",
        "monodicalcium-phosphate",
        "monosodium-phosphate",
    ];
    let mut beyond = Vec::new();
    for mineral in phosphates.iter().chain(&["limestone", "oyster-shell"]) {
        beyond.push(said(
            format!("{mineral} dry-matter 100 % unverified"),
            "common practice: counted as dry; ask the supplier",
        ));
        for trace in ["copper", "selenium"] {
            beyond.push(said(
                format!("{mineral} {trace} 0 mg/kg unverified"),
                "common practice: not counted; ask the supplier",
            ));
        }
    }
    let all = said::all();
    for mineral in phosphates.iter().chain(&["limestone"]) {
        let total = format!("{mineral} phosphorus ");
        let total = all
            .iter()
            .find_map(|it| it.says.strip_prefix(&total))
            .unwrap();
        beyond.push(said(
            format!("{mineral} available-phosphorus {total}"),
            "computed from phosphorus: an inorganic phosphate holds no phytate",
        ));
    }
    let dry = all
        .iter()
        .filter(|it| it.source == "pure substance: holds no free water");
    for it in dry {
        assert!(it.says.ends_with(" dry-matter 100 %"), "{it:?}");
        beyond.push(it.clone());
    }
    beyond
}

fn wanted(told: &[Told]) -> Vec<Said> {
    let rows = told.iter().flat_map(|told| told.says.iter().cloned());
    let mut wanted: Vec<Said> = rows.chain(beyond_the_data()).collect();
    wanted.sort();
    wanted
}

#[test]
fn the_books_say_what_the_data_says_and_nothing_else() {
    let wanted = wanted(&Data::read().told());
    let mut said = said::all();
    said.sort();
    let missing: Vec<&Said> = wanted.iter().filter(|it| !said.contains(it)).collect();
    let unfounded: Vec<&Said> = said.iter().filter(|it| !wanted.contains(it)).collect();
    assert!(
        missing.is_empty(),
        "in the data, not in the books: {missing:#?}"
    );
    assert!(
        unfounded.is_empty(),
        "in the books, not in the data: {unfounded:#?}"
    );
    assert_eq!(said.len(), wanted.len(), "something is said twice");
}

/// The tables hold every row there was: used and left out are the whole.
#[test]
fn no_row_is_lost() {
    let data = Data::read();
    let told = data.told();
    let mut counts: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for row in &told {
        let (used, left_out) = counts.entry(row.file).or_default();
        match data.reason(row.file, &row.row) {
            Some(reason) => {
                assert!(reason.len() > 10, "{} has no reason", row.row);
                *left_out += 1;
            }
            None => {
                assert!(!row.says.is_empty(), "{} says nothing", row.row);
                *used += 1;
            }
        }
    }
    let all: Vec<(&str, usize)> = counts.iter().map(|(file, (a, b))| (*file, a + b)).collect();
    // As many as the tables had where they were gathered, but for the kinds of ingredients.csv that are not taken.
    assert_eq!(
        all,
        [
            ("bounds", 227),
            ("ingredients", 267),
            ("picks", 1084),
            ("requirements", 759)
        ]
    );
    let rows: BTreeSet<(&str, &str)> = told.iter().map(|it| (it.file, it.row.as_str())).collect();
    for (file, row) in data.left_out() {
        assert!(
            rows.contains(&(file.as_str(), row.as_str())),
            "{file} has no row {row}"
        );
    }
}

/// What was recalled and not read is not in the books.
#[test]
fn nothing_comes_from_memory() {
    for file in ["picks", "ingredients", "requirements", "bounds"] {
        for row in table(file) {
            let how = row["verified"].as_str();
            assert!(["read", "computed"].contains(&how), "{row:?}");
        }
    }
}

/// A citation is made of the words of its source alone, and short enough to be read in passing.
#[test]
fn citations_are_made_of_their_sources() {
    let joining = [
        "and", "by", "the", "of", "in", "to", "a", "an", "as", "for", "from", "with",
    ];
    let words = |text: &str| -> BTreeSet<String> {
        let lower = text.to_lowercase();
        let words = lower.split(|letter: char| !letter.is_alphanumeric());
        words
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect()
    };
    let sources = table("sources");
    for citation in table("citations") {
        let id = &citation["source_id"];
        let source = sources.iter().find(|row| row["source_id"] == *id).unwrap();
        let known: Vec<&str> = source.values().map(String::as_str).collect();
        let known = words(&known.join(" "));
        let text = &citation["citation"];
        let foreign: Vec<String> = words(text)
            .into_iter()
            .filter(|word| !known.contains(word) && !joining.contains(&word.as_str()))
            .collect();
        assert!(foreign.is_empty(), "{id}: {foreign:?} is not of {source:?}");
        assert!(text.chars().count() <= 120, "{text}");
    }
    for it in said::all() {
        assert!(!it.source.is_empty(), "{} has no source", it.says);
        assert!(it.source.chars().count() <= 120, "{} is long", it.source);
    }
}

/// What stands in no common form still holds the number of its row.
#[test]
fn irregular_rows_keep_their_numbers() {
    for row in table("irregular") {
        let most = row["row"].split('|').nth(3).unwrap_or_default();
        let says = &row["says"];
        let has_number = says.contains(&format!(" {most} "));
        let has_none = says.contains(" never for ") || says.ends_with(" caution");
        assert!(has_number || has_none, "{row:?}");
    }
}

/// A set of targets is one source's, and says of what kind it is.
#[test]
fn each_set_of_targets_names_its_source_and_its_kind() {
    let mut sources: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for it in said::all() {
        if let Some((set, _)) = it.says.split_once(" for ") {
            sources.entry(set.to_owned()).or_default().insert(it.source);
        }
    }
    for (_, text) in crate::books() {
        let headers = text
            .lines()
            .filter_map(|line| line.strip_prefix("targets "));
        for header in headers {
            let set = header.split(' ').next().unwrap_or_default();
            assert_eq!(sources[set].len(), 1, "{set} mixes sources");
            let kinds = table("sets");
            let tagged = |row: &&crate::rows::Row| set.ends_with(&format!("-{}", row["tag"]));
            let mut kinds = kinds.iter().filter(tagged);
            assert!(
                kinds.any(|row| header.ends_with(&format!(": {}\"", row["kind"]))),
                "{header}"
            );
        }
    }
}
