//! The plan/1 document: as pinned, as its schema says, and as the verifier wants it.

use serde_json::{Value, json};
use trug_model::Q;
use trug_report::analysis::Interval;
use trug_report::json::to_json;
use trug_report::plan::{Bounded, DoseInterval, plan_document, verified};
use trug_report::schema::schema;

use crate::made_by_hand::{PLANS, about, called, json as made, plan, sources};

/// What stands in the file comes back from the domain's types, field for field.
#[test]
fn a_plan_made_by_hand_is_printed_as_it_was_written() {
    let sources = sources();
    for (name, _) in PLANS {
        let mut written = made(name);
        let document = plan_document(&plan(&written), &about(&written, &sources));
        let printed: Value = serde_json::from_str(&to_json(&document)).unwrap();
        written["doses"] = json!([]);
        assert_eq!(printed, written, "{name}");
        assert!(
            to_json(&document).starts_with("{\n  \"format\": \"trug.plan/1\""),
            "{name}"
        );
    }
}

#[test]
fn a_plan_keeps_its_schema_and_every_rule() {
    let schema: Value = serde_json::from_str(&schema("plan").unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let sources = sources();
    for (name, _) in PLANS {
        let written = made(name);
        let document = plan_document(&plan(&written), &about(&written, &sources));
        let value = verified(&document).unwrap();
        let complaints: Vec<String> = validator
            .iter_errors(&value)
            .map(|it| it.to_string())
            .collect();
        assert_eq!(complaints, Vec::<String>::new(), "{name}");
        for pointer in [
            "/batches/0/weighings/0/mass_g",
            "/batches/0/steps/0/kind",
            "/given/method/lift_g",
        ] {
            let mut wrong = value.clone();
            *wrong.pointer_mut(pointer).unwrap() = json!(1);
            assert!(!validator.is_valid(&wrong), "{name}{pointer}");
        }
    }
}

#[test]
fn a_plan_that_breaks_a_rule_is_not_printed() {
    let sources = sources();
    let written = made("river-layer");
    let mut wrong = plan(&written);
    wrong.batches[0].weighings[0].mass_g += Q::ONE;
    let breaches = verified(&plan_document(&wrong, &about(&written, &sources))).unwrap_err();
    assert!(
        breaches
            .iter()
            .any(|breach| breach.place == "batch 1, weighing w1")
    );
}

#[test]
fn an_error_that_stands_makes_a_draft_and_an_accepted_one_does_not() {
    let sources = sources();
    let written = made("coarse");
    let mut plan = plan(&written);
    let about = about(&written, &sources);
    assert!(!plan_document(&plan, &about).draft);
    plan.findings[0].severity = trug_findings::Severity::Error;
    assert!(plan_document(&plan, &about).draft);
    plan.findings[0].accepted = Some(trug_findings::Acceptance {
        reason: "only for the goats".to_owned(),
        place: plan.findings[0].place,
    });
    let document = plan_document(&plan, &about);
    assert!(!document.draft && document.findings.is_empty());
    assert_eq!(document.accepted.len(), 1);
    verified(&document).unwrap();
}

#[test]
fn doses_stand_with_their_bounds_and_intervals() {
    let sources = sources();
    let written = made("river-layer");
    let mut about = about(&written, &sources);
    about.labels.insert("salt".to_owned(), called("Salt"));
    about.doses.push(DoseInterval {
        ingredient: Some("salt".to_owned()),
        what: Bounded::Dose { active: None },
        value: Q::int(5),
        unit: "g/kg".to_owned(),
        min: None,
        max: Some(Q::int(6)),
        interval: Interval {
            batch: Some((4.9, 5.1)),
            portion: Some((f64::NAN, 5.5)),
        },
    });
    let value = verified(&plan_document(&plan(&written), &about)).unwrap();
    assert_eq!(
        value["doses"],
        json!([{"ingredient": "salt", "what": "dose", "value": "5", "unit": "g/kg", "max": "6",
            "batch_low": 4.9, "batch_high": 5.1, "portion_high": 5.5}])
    );
    assert_eq!(value["given"]["ingredients"][7]["label"], "Salt");
}
