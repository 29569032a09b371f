//! Findings as SARIF, against the published schema of that standard.

use serde_json::{Value, json};
use trug_findings::{FileId, Place, Source, Span};
use trug_report::findings::sarif;

use crate::farm::{OVER, findings, sources};

fn published_schema() -> jsonschema::Validator {
    // The pattern of a language tag has a bracket too many, which only lenient readers let pass; a log of ours has none.
    let schema = include_str!("../fixtures/sarif-schema-2.1.0.json");
    let schema = schema.replace("[a-zA-Z]{2}]?$", "[a-zA-Z]{2}$");
    jsonschema::validator_for(&serde_json::from_str(&schema).unwrap()).unwrap()
}

fn log() -> Value {
    let sources = sources();
    let text = sarif(&findings(&sources), &sources, Some("2026-11-25"));
    serde_json::from_str(&text).unwrap()
}

#[test]
fn a_log_keeps_the_published_schema() {
    let schema = published_schema();
    let complaints: Vec<String> = schema
        .iter_errors(&log())
        .map(|complaint| complaint.to_string())
        .collect();
    assert_eq!(complaints, Vec::<String>::new());
    let nothing: Value = serde_json::from_str(&sarif(&[], &[], None)).unwrap();
    assert!(schema.is_valid(&nothing));
}

#[test]
fn the_schema_would_notice() {
    let schema = published_schema();
    let mut wrong = log();
    wrong["runs"][0]["results"][0]["level"] = json!("dreadful");
    assert!(!schema.is_valid(&wrong));
    let mut wrong = log();
    wrong["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] =
        json!(0);
    assert!(!schema.is_valid(&wrong));
}

#[test]
fn a_log_is_drawn() {
    let sources = sources();
    let version = concat!("\"version\": \"", env!("CARGO_PKG_VERSION"), "\"");
    let log = sarif(&findings(&sources)[1..3], &sources, None);
    assert!(log.contains(version));
    insta::assert_snapshot!(log.replace(version, "\"version\": \"of the tool\""));
}

#[test]
fn accepted_findings_are_suppressed_and_others_are_not() {
    let log = log();
    let results = log["runs"][0]["results"].as_array().unwrap();
    let suppressed: Vec<&Value> = results
        .iter()
        .filter(|result| result["suppressions"] != json!([]))
        .collect();
    assert_eq!(suppressed.len(), 1);
    assert_eq!(suppressed[0]["ruleId"], "dose/over");
    assert_eq!(suppressed[0]["suppressions"][0]["kind"], "inSource");
    assert_eq!(
        suppressed[0]["suppressions"][0]["justification"],
        "vet's order 14 of 2026-11-02"
    );
}

#[test]
fn rules_are_found_by_their_index() {
    let log = log();
    for result in log["runs"][0]["results"].as_array().unwrap() {
        let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
        assert_eq!(
            log["runs"][0]["tool"]["driver"]["rules"][index]["id"],
            result["ruleId"]
        );
    }
}

#[test]
fn names_become_uris() {
    let names = ["a b/සහල්.trug", "c:d.trug", "book:poultry", "-"];
    let sources: Vec<Source> = names.map(|name| Source::new(name, "x")).into();
    let finding = |rank| OVER.at(Place::new(FileId(rank), Span::new(0, 1))).says("m");
    let findings: Vec<_> = (0..4).map(finding).collect();
    let log: Value = serde_json::from_str(&sarif(&findings, &sources, None)).unwrap();
    assert!(published_schema().is_valid(&log));
    let results = log["runs"][0]["results"].as_array().unwrap();
    let uris: Vec<&str> = results
        .iter()
        .filter_map(|result| {
            result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].as_str()
        })
        .collect();
    assert_eq!(
        uris,
        [
            "-",
            "a%20b/%E0%B7%83%E0%B7%84%E0%B6%BD%E0%B7%8A.trug",
            "book:poultry",
            "c%3Ad.trug"
        ]
    );
}
