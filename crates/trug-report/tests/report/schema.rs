//! Documents against their own schemas.

use serde_json::{Value, json};
use trug_model::{Farm, InMemory, Settings};
use trug_report::analysis::{Beside, analysis_document};
use trug_report::buy::{ShoppingList, buy_document};
use trug_report::evenness::{Tested, evenness_document, sampling_document};
use trug_report::findings::findings_document;
use trug_report::json::to_json;
use trug_report::schema::{names, schema};
use trug_report::trace::trace_document;
use trug_store::Judged;

use crate::analysis::river_layer;
use crate::farm::{findings, sources};

/// Documents that may still change: version 0.
const UNPINNED: [&str; 4] = ["buy", "compare", "sampling", "trace"];

fn validator(name: &str) -> jsonschema::Validator {
    let schema: Value = serde_json::from_str(&schema(name).unwrap()).unwrap();
    jsonschema::validator_for(&schema).unwrap()
}

fn complaints(name: &str, document: &Value) -> Vec<String> {
    validator(name)
        .iter_errors(document)
        .map(|complaint| complaint.to_string())
        .collect()
}

fn found() -> Value {
    let sources = sources();
    let document = findings_document(&findings(&sources), &sources, Some("2026-11-25"));
    serde_json::from_str(&to_json(&document)).unwrap()
}

fn analysed() -> Value {
    let sources = sources();
    let document = analysis_document(&river_layer(&sources), &sources, &Beside::default());
    serde_json::from_str(&to_json(&document)).unwrap()
}

/// What a change of one value does to a document's standing.
fn is_kept_with(name: &str, document: &Value, pointer: &str, value: Value) -> bool {
    let mut changed = document.clone();
    *changed.pointer_mut(pointer).unwrap() = value;
    validator(name).is_valid(&changed)
}

#[test]
fn every_schema_is_one() {
    for name in names() {
        let schema: Value = serde_json::from_str(&schema(name).unwrap()).unwrap();
        assert!(jsonschema::meta::is_valid(&schema), "{name}");
        assert_eq!(
            schema["properties"]["format"]["const"],
            format!("trug.{name}/{}", u8::from(!UNPINNED.contains(&name)))
        );
    }
    assert_eq!(schema("no-such"), None);
}

#[test]
fn findings_keep_their_schema() {
    let document = found();
    assert_eq!(complaints("findings", &document), Vec::<String>::new());
    let wrong = |pointer, value| !is_kept_with("findings", &document, pointer, value);
    assert!(wrong("/format", json!("trug.findings/2")));
    assert!(wrong("/findings/0/severity", json!("dreadful")));
    assert!(wrong("/findings/0/line", json!(0)));
    assert!(wrong("/findings/0/message", json!(null)));
    assert!(wrong("/findings/0/code", json!("nothing")));
    assert!(wrong(
        "/findings/0/related/0",
        json!({"message": "no place"})
    ));
    assert!(wrong("/counts/error", json!("2")));
    assert!(wrong("/findings/0/help", json!(null)));
    assert!(wrong("/findings/1/accepted", json!(null)));
    assert!(wrong("/today", json!(null)));
}

#[test]
fn an_analysis_keeps_its_schema() {
    let document = analysed();
    assert_eq!(complaints("analysis", &document), Vec::<String>::new());
    let wrong = |pointer, value| !is_kept_with("analysis", &document, pointer, value);
    assert!(wrong("/mass_g", json!(120_000)));
    assert!(wrong("/mass_g", json!("1.2e5")));
    assert!(wrong("/nutrients/0/value", json!(null)));
    assert!(wrong("/nutrients/0/low", json!("11.1")));
    assert!(wrong("/bounds/0/kind", json!("wish")));
    assert!(wrong("/bounds/0/met", json!("yes")));
    assert!(wrong("/bounds/0/line", json!(0)));
    assert!(wrong("/cost/per_kg", json!(96.4)));
    assert!(wrong("/cost", json!(null)));
    assert!(wrong("/nutrients/0/low", json!(null)));
    assert!(is_kept_with(
        "analysis",
        &document,
        "/bounds/0/met",
        json!(null)
    ));
    assert!(is_kept_with(
        "analysis",
        &document,
        "/bounds/0/value",
        json!(null)
    ));
}

/// The test of one record of a farm, and where samples of it are taken.
fn tested() -> (Value, Value) {
    let text = "animal duck\nnutrient chloride in share\ningredient maize\nration mash\n  for duck\n  maize 100 %\n\
        record R-1 of mash\n  made 2026-11-21\n  sampled chloride 0.31 0.29 0.33 % assay 0.01 %\n";
    let texts = InMemory::new([("r.trug", text)]);
    let farm = Farm::read(&["r.trug".to_owned()], &texts, Settings::default());
    let file = farm.asked()[0];
    let view = farm.open(file);
    let record = view.record(&farm.records(file)[0]).unwrap();
    let test = trug_evenness::tests_of(&view, &record).remove(0).unwrap();
    let sampling = trug_evenness::sampling(&view, "mash", None, 10).unwrap();
    let test = evenness_document(&Tested::of(test, &view));
    let sampling = sampling_document(&sampling, farm.sources());
    let value = |json: String| serde_json::from_str(&json).unwrap();
    (value(to_json(&test)), value(to_json(&sampling)))
}

#[test]
fn a_test_of_evenness_keeps_its_schema() {
    let (test, sampling) = tested();
    assert_eq!(complaints("evenness", &test), Vec::<String>::new());
    assert_eq!(complaints("sampling", &sampling), Vec::<String>::new());
    let wrong = |pointer, value| !is_kept_with("evenness", &test, pointer, value);
    assert!(wrong("/format", json!("trug.evenness/2")));
    assert!(wrong("/verdict", json!("safe")));
    assert!(wrong("/samples", json!(1)));
    assert!(wrong("/mean", json!("0.31")));
    assert!(wrong("/assay_sd", json!(null)));
    assert!(wrong("/wanted_percent", json!(null)));
}

/// The trace of a lot that is in a mix, in a batch and in a withdrawal that runs.
fn traced() -> Value {
    let text = "animal duck\ningredient maize\ningredient drug\n  withdrawal 5 days for eggs\n\
        lot D-1 of drug \"A\"\n  received 9 kg on 2026-10-01\n  on hand 1 kg\n  best before 2027-01-01\n\
        ration mix\n  for mixing\n  drug 100 %\nration mash\n  for duck\n  maize 90 %\n  mix 10 %\n\
        group yard \"Yard\"\n  40 duck\n  eats mash 100 g/day\n\
        record M-1 of mix\n  made 2026-11-01\n  weighed drug 2 kg lot D-1\n\
        record R-1 of mash\n  made 2026-11-02 by \"A.\"\n  batch 10 kg\n  weighed maize 9 kg\n  weighed mix 1 kg lot M-1\n  \
        fed to yard from 2026-11-03 to 2026-11-20\n\
        record R-2 of mash\n  weighed maize 9 kg\n  weighed mix 1 kg\n";
    let texts = InMemory::new([("r.trug", text)]);
    let farm = Farm::read(&["r.trug".to_owned()], &texts, Settings::default());
    let ledger = trug_record::ledger::Ledger::of(&farm);
    let start = trug_record::trace::find(&ledger, None, "D-1").unwrap();
    let today = "2026-11-25".parse().unwrap();
    let trace = trug_record::trace::trace(&ledger, start, today);
    serde_json::from_str(&to_json(&trace_document(&trace, farm.sources()))).unwrap()
}

#[test]
fn a_trace_keeps_its_schema() {
    let document = traced();
    assert_eq!(complaints("trace", &document), Vec::<String>::new());
    assert_eq!(document["withdrawals"].as_array().unwrap().len(), 1);
    let wrong = |pointer, value| !is_kept_with("trace", &document, pointer, value);
    assert!(wrong("/format", json!("trug.trace/1")));
    assert!(wrong("/today", json!(null)));
    assert!(wrong("/lots/0/weighed_g", json!(2000)));
    assert!(wrong("/records/0/certain", json!("perhaps")));
    assert!(wrong("/withdrawals/0/until", json!(null)));
    assert!(wrong("/gaps/0/says", json!(null)));
}

/// The shopping list of a farm that has some of everything.
fn shopping() -> Value {
    let text = "animal duck\ningredient maize\n  price 40 LKR/kg\n  sold in 50 kg\ningredient drug\n  withdrawal 5 days for meat\n\
        ingredient greens\nlot M-1 of maize\n  best before 2026-12-01\n  on hand 80 kg\nlot X-1 of blend\n  on hand 1 kg\n\
        ration blend\n  for mixing\n  maize 100 %\nration mash\n  for duck\n  intake 150 g/day\n  beside greens 1 g/day\n  blend 50 %\n  maize rest\n  drug 1 %\n\
        ration open\n  for duck\n  maize 1 .. 100 %\n\
        group pond\n  10 duck\n  eats mash from 2026-11-25 to 2027-01-01\n  eats open 5 g/day\n  mix for at most 7 days\n";
    let other = "use \"f.trug\"\nlot M-2 of maize\n  on hand 8 kg\n";
    let texts = InMemory::new([("f.trug", text), ("g.trug", other)]);
    let today = jiff::civil::date(2026, 11, 25);
    let settings = Settings {
        today: Some(today),
        ..Settings::default()
    };
    let farm = Farm::read(
        &["f.trug".to_owned(), "g.trug".to_owned()],
        &texts,
        settings,
    );
    let files: Vec<_> = farm.files().collect();
    let buying = trug_store::buying(&farm, &files, Judged::Found(&farm.check()), today, 30);
    let list = ShoppingList {
        buying: &buying,
        sources: farm.sources(),
    };
    serde_json::from_str(&to_json(&buy_document(&list))).unwrap()
}

#[test]
fn a_shopping_list_keeps_its_schema() {
    let list = shopping();
    assert_eq!(complaints("buy", &list), Vec::<String>::new());
    for all in [
        "groups",
        "not_counted",
        "beside",
        "ingredients",
        "mixed",
        "expiring",
        "lots_left_out",
        "cost",
    ] {
        assert!(
            !list[all].as_array().unwrap().is_empty(),
            "{all} in {list:#}"
        );
    }
    assert_eq!(
        (&list["complete"], &list["cost_complete"]),
        (&json!(false), &json!(false))
    );
    let wrong = |pointer, value| !is_kept_with("buy", &list, pointer, value);
    assert!(wrong("/format", json!("trug.buy/1")));
    assert!(wrong("/days", json!(0)));
    assert!(wrong("/ingredients/0/needed_g", json!(45)));
    assert!(wrong("/ingredients/0/buy", json!("much")));
    assert!(wrong("/groups/0/short", json!(null)));
}

#[test]
fn more_fields_may_be_added() {
    let mut document = found();
    document["findings"][0]["weight"] = json!(3);
    document["more"] = json!([]);
    assert_eq!(complaints("findings", &document), Vec::<String>::new());
}

#[test]
fn optional_fields_may_be_absent_and_others_may_not() {
    let mut document = found();
    let finding = document["findings"][0].as_object_mut().unwrap();
    finding.remove("help");
    assert!(validator("findings").is_valid(&document));
    document["findings"][0]
        .as_object_mut()
        .unwrap()
        .remove("related");
    assert!(!validator("findings").is_valid(&document));
    let mut document = analysed();
    document.as_object_mut().unwrap().remove("mass_g");
    assert!(!validator("analysis").is_valid(&document));
}

#[test]
fn schemas_are_drawn() {
    for name in names() {
        insta::assert_snapshot!(format!("schema_{name}"), schema(name).unwrap());
    }
}
