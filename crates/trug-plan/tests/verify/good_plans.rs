//! Plans made by hand from the rules, each with what it is there for; all keep every rule.

use serde_json::Value;
use trug_plan::verify::verify;

/// Name and text of each plan.
const PLANS: [(&str, &str); 8] = [
    // Eight ingredients, three small; two carriers in equal parts; carrier enters early, or no step would do.
    ("river-layer", include_str!("../plans/river-layer.json")),
    // Two liquids, one worked into bran first; a step and a heap at exactly 1 in 20.
    ("liquids", include_str!("../plans/liquids.json")),
    // A pair apart, by separate pre-blends that make up the 20 % together.
    ("apart", include_str!("../plans/apart.json")),
    // Two batches done alike, thirds that do not end, a top, and a density not known.
    ("tops", include_str!("../plans/tops.json")),
    // Nothing small: a heap and nothing else.
    ("heap", include_str!("../plans/heap.json")),
    // More small than bulk: the pre-blend is the batch.
    (
        "pre-blend-is-the-batch",
        include_str!("../plans/pre-blend-is-the-batch.json"),
    ),
    // A scale too coarse for the salt, which a finding says.
    ("coarse", include_str!("../plans/coarse.json")),
    // Two batches, the second from two lots of maize: the first lot holds 40.3 kg of the 60 kg they take.
    ("lots", include_str!("../plans/lots.json")),
];

/// All of them.
pub(crate) fn all() -> Vec<(&'static str, Value)> {
    PLANS
        .iter()
        .map(|(name, text)| (*name, serde_json::from_str(text).unwrap()))
        .collect()
}

/// One of them.
pub(crate) fn plan(name: &str) -> Value {
    let found = all().into_iter().find(|(its, _)| *its == name);
    found.unwrap().1
}

#[test]
fn plans_made_by_hand_keep_every_rule() {
    for (name, plan) in all() {
        assert_eq!(verify(&plan), [], "{name}");
    }
}

#[test]
fn fields_added_later_are_passed_over() {
    for (name, mut plan) in all() {
        plan["weather"] = Value::from("fine");
        plan["batches"][0]["steps"][0]["by"] = Value::from("N.");
        assert_eq!(verify(&plan), [], "{name}");
    }
}
