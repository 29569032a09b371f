//! Every farm in `examples/` checks clean, and every ration of it can be mixed from.

use std::collections::BTreeSet;
use std::fs;

use trug_findings::{Finding, Severity};
use trug_plan::Request;
use trug_report::schema;
use trug_syntax::tree::ItemBody;
use trug_tests::answer::{self, Answer};
use trug_tests::repository;

/// The folder of the sheets as they were last read by a person.
const SHEETS: &str = "tests/sheets";

fn farms() -> Vec<(String, String)> {
    let paths = repository::files("examples", ".trug");
    assert!(paths.len() >= 8, "the examples were not found");
    paths
        .into_iter()
        .map(|path| (path.clone(), repository::read(&path)))
        .collect()
}

/// Each ration of the examples with the file that declares it.
fn rations() -> Vec<(String, String)> {
    let mut rations = Vec::new();
    for (path, text) in farms() {
        let tree = trug_syntax::parse(trug_findings::FileId(0), &text);
        for item in &tree.items {
            if let ItemBody::Ration(ration) = &item.body {
                rations.push((path.clone(), ration.name.text.to_string()));
            }
        }
    }
    rations
}

fn plan(path: &str, ration: &str) -> Answer {
    let farms = farms();
    let texts: Vec<_> = farms
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect();
    answer::plan_in(&texts, path, ration, &Request::default())
}

fn analyse(path: &str, ration: &str) -> Answer {
    let farms = farms();
    let texts: Vec<_> = farms
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect();
    answer::analyse_in(&texts, path, ration)
}

fn wanting(findings: &[Finding]) -> Vec<String> {
    let told = |it: &Finding| format!("{}[{}] {}", it.severity.word(), it.code.name, it.message);
    let asks = |it: &&Finding| it.severity > Severity::Note;
    findings.iter().filter(asks).map(told).collect()
}

#[test]
fn the_examples_check_without_error_or_warning() {
    let farms = farms();
    let texts: Vec<_> = farms
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect();
    let answer = answer::check(&texts);
    assert_eq!(wanting(&answer.findings), Vec::<String>::new());
}

#[test]
fn the_examples_are_tidy() {
    for (path, text) in farms() {
        assert_eq!(trug_syntax::tidy(&text), text, "{path}");
    }
}

#[test]
fn there_is_a_farm_of_several_files_and_two_of_one() {
    let rations = rations();
    let of = |folder: &str| {
        rations
            .iter()
            .filter(|(path, _)| path.starts_with(folder))
            .count()
    };
    assert!(of("examples/river-farm/") >= 4);
    let small = repository::files("examples/small", ".trug");
    assert!(small.len() >= 2);
    for path in &small {
        assert_eq!(of(path), 1, "{path} holds one ration");
    }
}

#[test]
fn every_ration_plans_without_being_a_draft() {
    for (path, ration) in rations() {
        let answer = plan(&path, &ration);
        assert_eq!(wanting(&answer.findings), Vec::<String>::new(), "{ration}");
        let document = answer.document.expect("a ration without errors is planned");
        assert_eq!(document["draft"], false, "{ration}");
        let breaches = trug_plan::verify::verify(&document);
        assert!(breaches.is_empty(), "{ration}: {breaches:?}");
    }
}

/// `TRUG_UPDATE=1` writes the sheets anew; read them as the person with the shovel would.
#[test]
fn the_sheets_are_as_last_read() {
    let is_updated = std::env::var_os("TRUG_UPDATE").is_some();
    let mut known = BTreeSet::new();
    for (path, ration) in rations() {
        let sheet = plan(&path, &ration).text.expect("a plan has a sheet");
        let name = format!("{SHEETS}/{ration}.txt");
        if is_updated {
            fs::create_dir_all(repository::root().join(SHEETS)).unwrap();
            fs::write(repository::root().join(&name), &sheet).unwrap();
        }
        assert_eq!(repository::read(&name), sheet, "{name}");
        for line in sheet.lines() {
            assert!(line.chars().count() <= 80, "{name}: {line}");
        }
        known.insert(name);
    }
    let written: BTreeSet<_> = repository::files(SHEETS, ".txt").into_iter().collect();
    assert_eq!(written, known, "a sheet of no ration");
}

#[test]
fn documents_conform_to_their_schemas() {
    let schema_of = |name: &str| {
        let schema = schema::schema(name).expect("the schema is there");
        jsonschema::validator_for(&serde_json::from_str(&schema).unwrap()).unwrap()
    };
    let (plans, analyses) = (schema_of("plan"), schema_of("analysis"));
    for (path, ration) in rations() {
        let document = plan(&path, &ration).document.expect("planned");
        let told: Vec<_> = plans
            .iter_errors(&document)
            .map(|it| it.to_string())
            .collect();
        assert!(told.is_empty(), "{ration}: {told:?}");
        let document = analyse(&path, &ration).document.expect("analysed");
        let told: Vec<_> = analyses
            .iter_errors(&document)
            .map(|it| it.to_string())
            .collect();
        assert!(told.is_empty(), "{ration}: {told:?}");
    }
}
