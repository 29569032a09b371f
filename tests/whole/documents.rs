//! What the documents say is so: the first screen, the reference, the map.

use std::collections::BTreeSet;

use trug_findings::Severity;
use trug_plan::Request;
use trug_tests::answer;
use trug_tests::page::{Block, blocks, texts};
use trug_tests::repository;

/// Lines of the README that a reader sees before scrolling.
const FIRST_SCREEN: usize = 40;
/// Lines of DEVELOPERS.md.
const MOST_LINES: usize = 150;

fn block(document: &str, info: &str) -> Block {
    let found = blocks(document)
        .into_iter()
        .find(|block| block.info == info);
    found.unwrap_or_else(|| panic!("no block ```{info}"))
}

#[test]
fn the_first_screen_shows_the_job() {
    let readme = repository::read("README.md");
    let screen: Vec<_> = readme.lines().take(FIRST_SCREEN).collect();
    let shown = screen.join("\n");
    assert!(
        shown.contains("never"),
        "what the tool never claims stands on the first screen"
    );
    for info in ["sh", "trug", "text"] {
        let block = block(&readme, info);
        let end = block.line + block.text.lines().count();
        assert!(
            end <= FIRST_SCREEN,
            "the block ```{info} ends on line {end}"
        );
    }
}

#[test]
fn the_reference_names_the_books_and_all_they_declare_but_targets() {
    let reference = repository::read("grammar/REFERENCE.md");
    for name in trug_model::Library::bundled().names() {
        assert!(reference.contains(&format!("`{name}`")), "{name}");
        let text = repository::read(&format!("crates/trug-model/src/book/{name}.trug"));
        for line in text.lines() {
            let mut words = line.split(' ');
            let item = words.next().unwrap_or_default();
            let is_named = ["animal", "nutrient", "method", "ingredient"].contains(&item);
            if let (true, Some(name)) = (is_named, words.next()) {
                assert!(reference.contains(&format!("`{name}`")), "{name}");
            }
        }
    }
}

#[test]
fn the_two_commands_are_those_that_work() {
    let readme = repository::read("README.md");
    let commands = block(&readme, "sh").text;
    let commands: Vec<_> = commands
        .lines()
        .map(|it| it.split(" #").next().unwrap().trim())
        .collect();
    let [main_job, tests] = commands[..] else {
        panic!("two commands: {commands:?}");
    };
    let path = main_job
        .strip_prefix("cargo run -- plan ")
        .expect("the main job");
    assert!(!repository::read(path).is_empty(), "{path} is not there");
    assert_eq!(tests, "cargo test --workspace");
    assert!(
        repository::read(".ci/run").contains(tests),
        ".ci/run runs the README's tests"
    );
}

#[test]
fn the_ration_and_its_sheet_are_real() {
    let readme = repository::read("README.md");
    let commands = block(&readme, "sh").text;
    let path = commands
        .split_whitespace()
        .find(|word| word.ends_with(".trug"))
        .unwrap();
    let text = repository::read(path);
    let ration = block(&readme, "trug").text;
    assert!(
        text.contains(&ration),
        "the ration of the README stands in {path}"
    );
    let name = ration.split_whitespace().nth(1).unwrap();
    let plan = answer::plan_in(&[(path, &text)], path, name, &Request::default());
    let sheet = plan.text.expect("it is planned");
    for part in block(&readme, "text").text.split("…\n") {
        assert!(
            sheet.contains(part),
            "this part of the sheet is not so:\n{part}\nin\n{sheet}"
        );
    }
}

#[test]
fn the_finding_shown_is_the_one_that_is_said() {
    let readme = repository::read("README.md");
    let shown = block(&readme, "console").text;
    let said: Vec<_> = shown.lines().skip(1).collect();
    let path = "examples/small/hens.trug";
    let text = repository::read(path);
    let wrong = text.replace("  hen-premix     5 g/kg", "  hen-premix     10 g/kg");
    assert_ne!(text, wrong, "the dose is there to be changed");
    let answer = answer::check(&[(path, &wrong)]);
    let lines = trug_report::findings::lines(&answer.findings, &answer.sources);
    assert_eq!(lines.lines().collect::<Vec<_>>(), said);
}

#[test]
fn the_map_names_every_crate_and_no_other() {
    let map = repository::read("DEVELOPERS.md");
    assert!(map.lines().count() <= MOST_LINES);
    let is_name = |letter: char| letter.is_ascii_lowercase() || letter == '-';
    let named: BTreeSet<_> = map
        .split(|letter: char| !is_name(letter))
        .filter(|word| word.starts_with("trug-"))
        .map(str::to_owned)
        .collect();
    let crates = repository::files("crates", "Cargo.toml");
    let mut there: BTreeSet<_> = crates
        .iter()
        .filter_map(|path| path.split('/').nth(1))
        .filter(|name| *name != "trug")
        .map(str::to_owned)
        .collect();
    there.insert("trug-tests".to_owned());
    assert_eq!(named, there);
}

#[test]
fn every_dependency_has_its_reason() {
    let map = repository::read("DEVELOPERS.md");
    let table: Vec<_> = map.lines().filter(|line| line.starts_with('|')).collect();
    let manifest = repository::read("Cargo.toml");
    let shared = manifest
        .lines()
        .skip_while(|line| *line != "[workspace.dependencies]")
        .skip(1);
    let shared = shared.take_while(|line| !line.starts_with('['));
    for name in shared.filter_map(|line| line.split([' ', '=']).next()) {
        if name.is_empty() || name.starts_with("trug-") {
            continue;
        }
        let is_named = |line: &str| {
            let cell = line.split('|').nth(1).unwrap_or("");
            cell.split(',').any(|it| it.trim() == name)
        };
        assert!(
            table.iter().any(|line| is_named(line)),
            "{name} has no reason"
        );
    }
}

#[test]
fn the_examples_of_the_reference_hold() {
    let reference = repository::read("grammar/REFERENCE.md");
    let examples = blocks(&reference);
    let examples: Vec<_> = examples
        .iter()
        .filter(|block| block.info == "trug")
        .collect();
    assert!(examples.len() >= 20, "the reference shows its examples");
    let mut wrong = Vec::new();
    for block in examples {
        let owned = texts(block);
        let texts: Vec<_> = owned
            .iter()
            .map(|(path, text)| (path.as_str(), text.as_str()))
            .collect();
        let findings = answer::check(&texts).findings;
        for it in findings
            .iter()
            .filter(|it| it.is_open() && it.severity > Severity::Note)
        {
            wrong.push(format!(
                "line {}: {} {}",
                block.line, it.code.name, it.message
            ));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
