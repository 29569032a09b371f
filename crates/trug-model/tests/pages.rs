//! Every code of the model has a page, and both of its examples say what the page says.
//!
//! A line `//- path` inside an example starts a text of that name; an example without one is a single
//! text, `page.trug`.

#![expect(clippy::expect_used, reason = "a test says what it expects")]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use trug_findings::{Code, Finding};
use trug_model::{Edition, Farm, InMemory, Library, Settings, findings};

const FIRST: &str = "page.trug";

/// The longest sentence that an example may raise: it must stand alone in a narrow terminal.
const LONGEST_SENTENCE: usize = 72;

/// Its example would have over a thousand lines, and says that it is cut short; `whole/texts.rs` of `trug-tests` raises it.
const CUT_SHORT: &str = "amount/many";

fn codes() -> impl Iterator<Item = &'static Code> {
    findings::ALL
        .iter()
        .flat_map(|family| family.iter().copied())
}

/// What stands in the fence of that kind.
fn example<'page>(page: &'page str, fence: &str) -> Option<&'page str> {
    let (_, rest) = page.split_once(&format!("```trug {fence}\n"))?;
    let (example, _) = rest.split_once("\n```")?;
    Some(example)
}

/// The texts of an example, by their names.
fn texts(example: &str) -> Vec<(String, String)> {
    let mut texts: Vec<(String, String)> = Vec::new();
    for line in example.lines() {
        if let Some(path) = line.strip_prefix("//- ") {
            texts.push((path.trim().to_owned(), String::new()));
            continue;
        }
        if texts.is_empty() {
            texts.push((FIRST.to_owned(), String::new()));
        }
        let (_, text) = texts.last_mut().expect("one was begun");
        text.push_str(line);
        text.push('\n');
    }
    texts
}

/// The bundled books, and the same again as of a later year: what goes wrong with two editions needs two.
fn with_another_year() -> &'static Library {
    static BOTH: LazyLock<Library> = LazyLock::new(|| {
        let editions = Library::bundled().editions();
        let newest = editions.first().expect("there is an edition");
        let later = Edition {
            year: newest.year + 1,
            ..*newest
        };
        Library::of(editions.iter().copied().chain([later]))
    });
    &BOTH
}

fn check(example: &str) -> Vec<Finding> {
    let texts = texts(example);
    let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
    let held = InMemory::new(
        texts
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    );
    let settings = Settings {
        today: "2026-11-25".parse().ok(),
        library: with_another_year(),
        ..Settings::default()
    };
    let farm = Farm::read(&names, &held, settings);
    let findings = farm.check();
    for finding in &findings {
        let places = finding.related.iter().map(|related| related.place);
        for place in places.chain([finding.place]) {
            let text = farm.sources()[place.file.index()].text();
            assert!(text.get(place.span.range()).is_some(), "{finding:?}");
        }
    }
    findings
}

fn told(findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        let (severity, code) = (finding.severity.word(), finding.code.name);
        format!("\n      {severity}[{code}] {}", finding.message)
    };
    findings.iter().map(line).collect()
}

/// Holds each page against what `wrong` says of it; all complaints at once.
fn all_pages(wrong: impl Fn(&Code) -> Option<String>) {
    let complaints: Vec<String> = codes()
        .filter_map(|code| Some(format!("{}: {}", code.name, wrong(code)?)))
        .collect();
    assert!(
        complaints.is_empty(),
        "{} pages:\n{}",
        complaints.len(),
        complaints.join("\n")
    );
}

#[test]
fn a_code_is_declared_once_and_its_page_bears_its_name() {
    let mut names = BTreeSet::new();
    for code in codes() {
        assert!(names.insert(code.name), "{} is declared twice", code.name);
        assert!(
            code.page.starts_with(&format!("# {}\n\n", code.name)),
            "{} does not open with its name",
            code.name
        );
    }
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/findings/pages");
    for entry in std::fs::read_dir(folder).expect("the pages are there") {
        let file = entry.expect("a page").file_name();
        let name = file
            .to_string_lossy()
            .replace(".md", "")
            .replacen('-', "/", 1);
        assert!(
            names.contains(name.as_str()),
            "{name} is the page of no code"
        );
    }
}

#[test]
fn a_page_has_four_parts_in_order() {
    all_pages(|code| {
        let parts = [
            "```trug wrong\n",
            "```trug right\n",
            "\nWhat to do on the farm: ",
        ];
        let places: Vec<Option<usize>> = parts.iter().map(|part| code.page.find(part)).collect();
        let is_in_order = places.iter().all(Option::is_some) && places.is_sorted();
        let meaning = code.page.split("\n\n").nth(1).unwrap_or_default();
        let has_meaning = meaning.contains(". ") || meaning.ends_with('.');
        (!is_in_order || !has_meaning).then(|| "a part is missing or out of order".to_owned())
    });
}

#[test]
fn a_wrong_example_raises_its_code_once_and_nothing_else() {
    all_pages(|code| {
        let findings = check(example(code.page, "wrong").unwrap_or_default());
        match findings.as_slice() {
            [] if code.name == CUT_SHORT => None,
            [one] if one.code == code && one.is_open() => None,
            _ => Some(told(&findings)),
        }
    });
}

#[test]
fn a_right_example_raises_nothing_at_all() {
    all_pages(|code| {
        let example = example(code.page, "right").unwrap_or_default();
        let findings = check(example);
        if example.is_empty() {
            return Some("there is no right example".to_owned());
        }
        (!findings.is_empty()).then(|| told(&findings))
    });
}

#[test]
fn the_sentence_of_a_wrong_example_is_plain_and_short() {
    all_pages(|code| {
        let findings = check(example(code.page, "wrong").unwrap_or_default());
        let is_bad = |message: &str| {
            let words = ["invalid", "illegal", "unexpected", "please"];
            let is_blunt = words.iter().any(|word| message.contains(word));
            is_blunt || message.ends_with('.') || message.chars().count() > LONGEST_SENTENCE
        };
        let bad: Vec<Finding> = findings
            .into_iter()
            .filter(|finding| is_bad(&finding.message) || finding.help.is_none())
            .collect();
        (!bad.is_empty()).then(|| told(&bad))
    });
}

/// Whatever is taken out of a text, written twice, cut off or moved, there is an answer, and every place in it is of a text.
#[test]
fn a_damaged_example_is_answered() {
    for code in codes() {
        for fence in ["wrong", "right"] {
            let example = example(code.page, fence).unwrap_or_default();
            let lines: Vec<&str> = example.lines().collect();
            let most = lines.len().min(40);
            for rank in 0..most {
                for damaged in damages(&lines, rank) {
                    check(&damaged);
                }
            }
        }
    }
}

fn damages(lines: &[&str], rank: usize) -> Vec<String> {
    let with = |changed: &dyn Fn(&mut Vec<String>)| {
        let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        changed(&mut lines);
        lines.join("\n")
    };
    vec![
        with(&|lines| drop(lines.remove(rank))),
        with(&|lines| lines.insert(rank, lines[rank].clone())),
        with(&|lines| {
            let half = lines[rank].chars().count() / 2;
            lines[rank] = lines[rank].chars().take(half).collect();
        }),
        with(&|lines| lines.swap(0, rank)),
        with(&|lines| lines[rank] = lines[rank].replace(['1', '5'], "-0")),
        with(&|lines| lines[rank] = lines[rank].replace('%', "kg/day")),
        with(&|lines| lines[rank] = lines[rank].replace("kg", "EUR").replace("g/", "IU/")),
        with(&|lines| lines[rank] = lines[rank].replace("maize", "river-mash")),
    ]
}

#[test]
fn no_page_blames_or_names_what_it_must_not() {
    all_pages(|code| {
        let page = code.page.to_lowercase();
        let words = ["invalid", "illegal", "unexpected", "please", "todo"];
        let found: Vec<&str> = words
            .into_iter()
            .filter(|word| page.contains(word))
            .collect();
        let is_wide = |line: &&str| line.chars().count() > 100;
        let wide = code.page.lines().find(is_wide);
        (!found.is_empty() || wide.is_some()).then(|| format!("{found:?} {wide:?}"))
    });
}
