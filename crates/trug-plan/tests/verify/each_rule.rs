//! For every rule, changes in a good plan that break it, told by that rule's name.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use trug_plan::verify::{Rule, verify};

use crate::broken_amounts::{AMOUNTS, Case};
use crate::broken_steps::STEPS;
use crate::good_plans;

/// All of them.
fn cases() -> impl Iterator<Item = &'static Case> {
    AMOUNTS.iter().chain(STEPS)
}

fn changed(name: &str, changes: &[(&str, &str)]) -> Value {
    let mut plan = good_plans::plan(name);
    for (pointer, value) in changes {
        let (parent, last) = pointer.rsplit_once('/').unwrap();
        let parent = plan.pointer_mut(parent).unwrap();
        match parent {
            Value::Object(fields) if *value == "-" => {
                fields.remove(last).unwrap();
            }
            Value::Object(fields) => {
                fields.insert(last.to_owned(), serde_json::from_str(value).unwrap());
            }
            Value::Array(items) if *value == "-" => {
                items.remove(last.parse::<usize>().unwrap());
            }
            Value::Array(items) => {
                items[last.parse::<usize>().unwrap()] = serde_json::from_str(value).unwrap();
            }
            _ => panic!("{pointer} is not in {name}"),
        }
    }
    plan
}

#[test]
fn each_change_is_told_by_its_rule() {
    let mut missed = Vec::new();
    for (name, changes, rule) in cases() {
        let breaches = verify(&changed(name, changes));
        if !breaches.iter().any(|breach| breach.rule == *rule) {
            missed.push(format!("{name} {changes:?}: {rule:?}, but {breaches:#?}"));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_rule_is_broken_by_some_change() {
    let told: BTreeSet<Rule> = cases().map(|(_, _, rule)| *rule).collect();
    let names: BTreeSet<&str> = told.iter().map(|rule| rule.name()).collect();
    assert_eq!(names.len(), told.len(), "two rules of one name");
    // The last rule in the list of them counts them all.
    assert_eq!(told.len(), Rule::Draft as usize + 1, "{told:?}");
}

#[test]
fn a_breach_says_where_and_with_which_numbers() {
    let plan = changed(
        "river-layer",
        &[("/batches/0/steps/0/output_g", r#""1701""#)],
    );
    let breach = verify(&plan).swap_remove(0);
    assert_eq!(breach.place, "batch 1, step s1");
    assert_eq!(breach.says, "its inputs are 1700 g, its output 1701 g");
}

#[test]
fn what_a_finding_owns_up_to_may_be_printed() {
    let mut plan = changed("river-layer", &[("/given/method/dilutes", r#""14.1""#)]);
    let finding = json!({
        "code": "mix/steep", "severity": "warning", "message": "14.167 times in one step", "file": "a.trug",
        "line": 1, "column": 1, "end_line": 1, "end_column": 2, "related": [], "fixes": [],
    });
    plan["findings"] = json!([finding]);
    assert_eq!(verify(&plan), []);
    plan["findings"][0]["code"] = json!("mix/evenness");
    assert!(!verify(&plan).is_empty());
}
