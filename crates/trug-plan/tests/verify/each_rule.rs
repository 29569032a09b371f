//! For every rule, changes in a good plan that break it, told by that rule's name.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use trug_plan::verify::{Rule, verify};

use crate::good_plans;
use crate::whole_changes::{
    ALL_SMALL, RICHER_HEAP, SWAPPED_BULK, THICK_LIQUID, THREE_FIGURES, UNEQUAL_CARRIERS,
};

/// A plan, what is put where, and the rule that must say so.
type Case = (&'static str, &'static [(&'static str, &'static str)], Rule);

/// Values are JSON; `-` takes the place away.
const CASES: &[Case] = &[
    ("heap", &[("/format", r#""trug.plan/2""#)], Rule::Form),
    ("heap", &[("/today", r#""2026-02-30""#)], Rule::Form),
    ("heap", &[("/given/method/lift_g", "-")], Rule::Form),
    (
        "heap",
        &[("/batches/0/weighings/0/mass_g", "25000")],
        Rule::Form,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/mass_g", r#""25000.0""#)],
        Rule::Form,
    ),
    ("heap", &[("/batches/0/times", "0")], Rule::Form),
    ("heap", &[("/batches/0/number", "2")], Rule::Form),
    ("heap", &[("/batches", "[]")], Rule::Form),
    ("heap", &[("/given/method/dilutes", r#""1""#)], Rule::Form),
    (
        "river-layer",
        &[("/batches/0/weighings/1/id", r#""w1""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/id", r#""s1""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/ingredients/1/name", r#""broken-rice""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/scales/1/name", r#""bench""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/vessels/1/name", r#""basin""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/scale", r#""beam""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/step", r#""s9""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/ingredient", r#""chalk""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""drum""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/inputs/0/step", r#""s9""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/ingredient", r#""rice-bran""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/cautions/0/ingredient", r#""chalk""#)],
        Rule::Reference,
    ),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/from", r#""choline-60""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/share_percent", r#""0.6""#)],
        Rule::Shares,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/on_top", "true")],
        Rule::Shares,
    ),
    (
        "tops",
        &[("/given/ingredients/1/exact", r#""297/15""#)],
        Rule::Shares,
    ),
    (
        "tops",
        &[("/given/ingredients/1/exact", r#""592/30""#)],
        Rule::Shares,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/ordered_g", r#""48001""#)],
        Rule::Ordered,
    ),
    (
        "tops",
        &[("/batches/0/amounts/1/ordered_g", r#""49333.333333333332""#)],
        Rule::Ordered,
    ),
    (
        "river-layer",
        &[("/given/method/floor_g", r#""119999""#)],
        Rule::Batches,
    ),
    (
        "tops",
        &[("/given/method/floor_g", r#""500000""#)],
        Rule::Batches,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/weighed_g", r#""48080""#)],
        Rule::Sums,
    ),
    (
        "river-layer",
        &[("/batches/0/total_g", r#""120100""#)],
        Rule::Sums,
    ),
    ("tops", &[("/weighed_g", r#""250375""#)], Rule::Sums),
    ("tops", &[("/batches/0/times", "3")], Rule::Sums),
    ("heap", &RICHER_HEAP, Rule::Snapped),
    ("heap", &SWAPPED_BULK, Rule::Snapped),
    (
        "river-layer",
        &[("/batches/0/weighings/1/scale", r#""bench""#)],
        Rule::Scale,
    ),
    (
        "liquids",
        &[("/given/scales/2/capacity_g", r#""650""#)],
        Rule::Scale,
    ),
    (
        "coarse",
        &[
            ("/batches/0/weighings/3/scale", "null"),
            ("/findings", "[]"),
        ],
        Rule::Scale,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/4/scale", r#""pocket""#)],
        Rule::Capacity,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/scale", r#""hook""#)],
        Rule::Minimum,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/3/scale", r#""hook""#)],
        Rule::Division,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/1/from_g", r#""294.05""#)],
        Rule::Division,
    ),
    (
        "river-layer",
        &[("/given/method/lift_g", r#""24000""#)],
        Rule::Lift,
    ),
    (
        "river-layer",
        &[("/given/scales/1/capacity_g", r#""24000""#)],
        Rule::Capacity,
    ),
    (
        "river-layer",
        &[("/given/scales/1/minimum_g", r#""6100""#)],
        Rule::Minimum,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/6/loads_g", r#"["18300", "18100"]"#)],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/1/loads_g", r#"["8000", "7000"]"#)],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/1/loads_g", "[]")],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/error_g", r#""200""#)],
        Rule::PossibleError,
    ),
    (
        "heap",
        &[("/given/scales/1/accuracy_class", r#""IIII""#)],
        Rule::PossibleError,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/from_g", r#""24400""#)],
        Rule::Window,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/to_g", r#""25600""#)],
        Rule::Window,
    ),
    (
        "heap",
        &[("/given/method/weigh_percent", r#""3""#)],
        Rule::Window,
    ),
    ("coarse", &[("/findings", "[]")], Rule::Accuracy),
    (
        "coarse",
        &[("/findings/0/severity", r#""note""#)],
        Rule::Accuracy,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/step", r#""s2""#)],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/inputs/1/weighing", r#""w7""#)],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/3/inputs/0", "-")],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[(
            "/batches/0/steps/0/inputs/0",
            r#"{"step": "s2", "mass_g": "600"}"#,
        )],
        Rule::Order,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/output_g", r#""1701""#)],
        Rule::StepSum,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/inputs/0/mass_g", r#""601""#)],
        Rule::StepSum,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/3/output_g", r#""119999""#)],
        Rule::Last,
    ),
    (
        "river-layer",
        &[("/batches/0/steps", "[]")],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/kind", r#""together""#)],
        Rule::Kind,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/kind", r#""dilute""#)],
        Rule::Kind,
    ),
    (
        "liquids",
        &[("/batches/0/steps/0/kind", r#""dilute""#)],
        Rule::Kind,
    ),
    (
        "liquids",
        &[("/batches/0/steps/2/kind", r#""heap""#)],
        Rule::Kind,
    ),
    ("heap", &[("/batches/0/steps/0/portions", "4")], Rule::Kind),
    (
        "river-layer",
        &[("/batches/0/weighings/0/class", r#""bulk""#)],
        Rule::Class,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/class", r#""bulk""#)],
        Rule::Class,
    ),
    ("pre-blend-is-the-batch", &ALL_SMALL, Rule::Class),
    (
        "river-layer",
        &[("/given/ingredients/0/carrier", "false")],
        Rule::Kind,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/carrier", "true")],
        Rule::Carrier,
    ),
    ("river-layer", &UNEQUAL_CARRIERS, Rule::Carrier),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/from", r#""maize""#)],
        Rule::Carrier,
    ),
    ("river-layer", &THREE_FIGURES, Rule::Carrier),
    (
        "river-layer",
        &[("/given/method/preblend_percent", r#""25""#)],
        Rule::PreBlend,
    ),
    (
        "river-layer",
        &[("/given/method/preblend_percent", r#""15""#)],
        Rule::PreBlend,
    ),
    (
        "pre-blend-is-the-batch",
        &[
            ("/given/ingredients/1/class", r#""bulk""#),
            ("/batches/0/weighings/1/class", r#""bulk""#),
        ],
        Rule::PreBlend,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/ratio", "14.168")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/ratio", "null")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/2/ratio", "5.0")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/given/method/dilutes", r#""14.1""#)],
        Rule::Dilutes,
    ),
    (
        "liquids",
        &[("/given/method/dilutes", r#""19.9""#)],
        Rule::Dilutes,
    ),
    (
        "liquids",
        &[("/given/ingredients/0/class", r#""liquid""#)],
        Rule::Carrier,
    ),
    ("liquids", &THICK_LIQUID, Rule::Liquid),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/times", r#""10.1""#)],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[(
            "/given/ingredients/5/apart",
            r#"[{"from": "salt", "times": "2"}]"#,
        )],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[(
            "/given/ingredients/5/apart",
            r#"[{"from": "soya-meal", "times": "300"}]"#,
        )],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/litres", r#""2.0376""#)],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/litres", "null")],
        Rule::Litres,
    ),
    (
        "tops",
        &[("/batches/0/steps/0/litres", r#""5""#)],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/g_per_litre", "-")],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""floor""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/given/vessels/1/litres", r#""2.9""#)],
        Rule::Vessel,
    ),
    (
        "tops",
        &[("/batches/0/steps/0/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    ("tops", &[("/findings", "[]")], Rule::Vessel),
    (
        "apart",
        &[("/given/vessels/0/count", "1")],
        Rule::VesselTwice,
    ),
    ("river-layer", &[("/batches/0/least", "false")], Rule::Least),
    (
        "coarse",
        &[("/findings/0/severity", r#""error""#)],
        Rule::Draft,
    ),
];

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
    for (name, changes, rule) in CASES {
        let breaches = verify(&changed(name, changes));
        if !breaches.iter().any(|breach| breach.rule == *rule) {
            missed.push(format!("{name} {changes:?}: {rule:?}, but {breaches:#?}"));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_rule_is_broken_by_some_change() {
    let told: BTreeSet<Rule> = CASES.iter().map(|(_, _, rule)| *rule).collect();
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
