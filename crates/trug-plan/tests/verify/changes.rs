//! Any one thing changed in a good plan is caught, save what the document alone cannot show to be wrong.

use serde_json::Value;
use trug_plan::verify::verify;

use crate::any_json::pointers;
use crate::good_plans;

/// What no rule can catch from the document alone, by the end of the pointer, and why.
///
/// All of it is what was given, what people read, or a bound that a small change does not cross. Every mass, ratio,
/// id, reference and sum of the batches is caught.
const FREE: [(&str, &str); 27] = [
    ("/ration", "a name"),
    ("/file", "a name"),
    ("/today", "another day is a day"),
    ("/draft", "a sound plan may be marked a draft"),
    ("/order/group", "a name"),
    ("/order/days", "how long is not weighed"),
    ("/given/method/name", "a name"),
    (
        "/given/method/small_percent",
        "the ration's line may set the class against it",
    ),
    (
        "/given/method/even_percent",
        "evenness is not in the document",
    ),
    (
        "/given/method/preblend_percent",
        "moves the pre-blend less than scales may",
    ),
    ("/given/method/dilutes", "no step comes near it"),
    (
        "/given/method/weigh_percent",
        "moves no reading by a division",
    ),
    ("/given/method/floor_g", "not crossed"),
    ("/given/method/lift_g", "not crossed"),
    ("/capacity_g", "not crossed"),
    ("/minimum_g", "not crossed"),
    ("/division_g", "a scale that weighs nothing here"),
    (
        "/accuracy_class",
        "loads are within the first band of each class",
    ),
    ("/count", "not crossed"),
    ("/litres", "of a vessel, not crossed"),
    ("/turns", "how often is the method's"),
    ("/portions", "how many is the method's"),
    ("/lot", "a name"),
    ("/on_hand_g", "not crossed"),
    ("/best_before", "in the same order either way"),
    ("/times", "of a pair, crossed or not"),
    ("/least", "not every fewest is proved"),
];

/// Whole subtrees of words for people.
const WORDS: [&str; 3] = ["/cautions", "/accepted", "/findings"];

/// What else is free in one plan, and why there.
const FREE_HERE: [(&str, &str, &str); 22] = [
    (
        "lots",
        "/given/ingredients/0/carrier",
        "there is nothing to carry",
    ),
    (
        "lots",
        "/given/ingredients/1/carrier",
        "there is nothing to carry",
    ),
    (
        "heap",
        "/given/ingredients/0/carrier",
        "there is nothing to carry",
    ),
    (
        "heap",
        "/given/ingredients/1/carrier",
        "there is nothing to carry",
    ),
    (
        "heap",
        "/given/ingredients/2/carrier",
        "there is nothing to carry",
    ),
    (
        "river-layer",
        "/batches/0/steps/3/id",
        "nothing takes the last step",
    ),
    (
        "river-layer",
        "/given/ingredients/3/carrier",
        "too small to carry either way",
    ),
    (
        "river-layer",
        "/given/ingredients/4/carrier",
        "too small to carry either way",
    ),
    (
        "liquids",
        "/batches/0/steps/4/id",
        "nothing takes the last step",
    ),
    (
        "apart",
        "/batches/0/steps/3/id",
        "nothing takes the last step",
    ),
    (
        "apart",
        "/given/ingredients/1/carrier",
        "too small to carry either way",
    ),
    (
        "apart",
        "/given/ingredients/2/carrier",
        "too small to carry either way",
    ),
    (
        "tops",
        "/batches/0/steps/3/id",
        "nothing takes the last step",
    ),
    (
        "tops",
        "/given/ingredients/4/g_per_litre",
        "always beside salt, whose density is unknown",
    ),
    (
        "tops",
        "/given/ingredients/6/g_per_litre",
        "always beside salt, whose density is unknown",
    ),
    (
        "heap",
        "/batches/0/steps/0/id",
        "named by weighings, all of them",
    ),
    (
        "pre-blend-is-the-batch",
        "/batches/0/steps/0/id",
        "named by weighings, all of them",
    ),
    (
        "pre-blend-is-the-batch",
        "/given/ingredients/0/carrier",
        "all of it goes in",
    ),
    (
        "coarse",
        "/batches/0/steps/3/id",
        "nothing takes the last step",
    ),
    (
        "coarse",
        "/batches/0/weighings/0/scale",
        "no scale is near enough, which a finding says",
    ),
    (
        "coarse",
        "/given/ingredients/1/carrier",
        "too small to carry either way",
    ),
    (
        "liquids",
        "/given/ingredients/1/carrier",
        "too small to carry either way",
    ),
];

/// A change in the last of twelve decimals is lost in a volume, and in a sum of thirds.
fn is_lost(pointer: &str, after: &Value) -> bool {
    (pointer.ends_with("/g_per_litre") || pointer == "/ordered_g")
        && after
            .as_str()
            .is_some_and(|it| it.ends_with("000000000001"))
}

fn is_free(pointer: &str) -> bool {
    let is_given = pointer.starts_with("/given");
    let is_batch = pointer.starts_with("/batches");
    if WORDS.iter().any(|start| pointer.starts_with(start)) {
        return true;
    }
    let is_of_batch = ["/turns", "/portions", "/lot", "/least"]
        .iter()
        .any(|end| pointer.ends_with(end));
    if is_batch {
        return is_of_batch;
    }
    // Unused names may be changed; used ones are caught by what refers to them.
    (is_given && pointer.ends_with("/name")) || FREE.iter().any(|(end, _)| pointer.ends_with(end))
}

/// Small changes of one value.
fn changed(value: &Value) -> Vec<Value> {
    match value {
        Value::Null => vec![Value::from("0"), Value::from(1), Value::from("bench")],
        Value::Bool(is) => vec![Value::from(!is), Value::Null],
        Value::Number(number) => {
            let number = number.as_f64().unwrap();
            let mut all = vec![Value::Null, Value::from(number.to_string())];
            for by in [-1.0, 1.0, 0.001, -0.001] {
                all.push(Value::from(number + by));
            }
            if number.fract() == 0.0 {
                all.push(Value::from(number as i64 + 1));
                all.push(Value::from(number as i64 - 1));
            }
            all
        }
        Value::String(text) => changed_text(text),
        Value::Array(items) => changed_list(items),
        Value::Object(fields) => fields
            .keys()
            .filter(|name| !OPTIONAL.contains(&name.as_str()))
            .map(|name| {
                let mut fewer = fields.clone();
                fewer.remove(name);
                Value::Object(fewer)
            })
            .collect(),
    }
}

/// Fields a plan need not have.
const OPTIONAL: [&str; 14] = [
    "group",
    "days",
    "even_percent",
    "floor_g",
    "accuracy_class",
    "lot",
    "turns",
    "portions",
    "ingredient",
    "accepted",
    "g_per_litre",
    "lots",
    "on_hand_g",
    "best_before",
];

fn changed_text(text: &str) -> Vec<Value> {
    let mut all = vec![
        Value::Null,
        Value::from(""),
        Value::from(format!("{text}x")),
        Value::from(format!("-{text}")),
    ];
    if text.parse::<f64>().is_ok() {
        all.push(Value::from(text.parse::<f64>().unwrap()));
        let decimals = text
            .split_once('.')
            .map_or(0, |(_, decimals)| decimals.len());
        for by in ["1", "10", "0.001", "0.00000001"] {
            all.extend([1i128, -1].iter().filter_map(|sign| moved(text, by, *sign)));
        }
        if decimals < 12 {
            all.extend(moved(text, "0.000000000001", 1));
        }
    }
    all
}

/// `text` and `sign` times `by`, exactly, as it would be printed.
fn moved(text: &str, by: &str, sign: i128) -> Option<Value> {
    let scaled = |text: &str| -> Option<i128> {
        let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
        format!("{whole}{decimals:0<12}").parse().ok()
    };
    let sum = scaled(text)? + sign * scaled(by)?;
    let size = format!("{:013}", sum.abs());
    let (whole, decimals) = size.split_at(size.len() - 12);
    let decimals = decimals.trim_end_matches('0');
    let sign = if sum < 0 { "-" } else { "" };
    let point = if decimals.is_empty() { "" } else { "." };
    Some(Value::from(format!("{sign}{whole}{point}{decimals}")))
}

fn changed_list(items: &[Value]) -> Vec<Value> {
    let mut all = vec![Value::Null];
    for index in 0..items.len() {
        let mut fewer = items.to_vec();
        fewer.remove(index);
        all.push(Value::from(fewer));
        let mut more = items.to_vec();
        more.push(items[index].clone());
        all.push(Value::from(more));
        if index > 0 && items[index - 1] != items[index] {
            let mut swapped = items.to_vec();
            swapped.swap(index - 1, index);
            all.push(Value::from(swapped));
        }
    }
    all
}

/// A list whose order or members the document cannot show to be wrong.
fn is_loose(pointer: &str, before: &Value, after: &Value) -> bool {
    let sizes = (
        before.as_array().map(Vec::len),
        after.as_array().map(Vec::len),
    );
    let (Some(before), Some(after)) = sizes else {
        return false;
    };
    // Scales and vessels stand in any order, one that is not used can go, and so can a pair.
    let is_given = ["/given/scales", "/given/vessels"].contains(&pointer) && after <= before;
    let is_pair = pointer.ends_with("/apart");
    // Loads, and steps that come into a step, in any order.
    let is_order =
        (pointer.ends_with("/loads_g") || pointer.ends_with("/inputs")) && after == before;
    is_given || is_pair || is_order
}

#[test]
fn any_one_thing_changed_is_caught() {
    let mut missed = Vec::new();
    let mut tried = 0;
    for (name, plan) in good_plans::all() {
        for pointer in pointers(&plan) {
            let is_here = FREE_HERE
                .iter()
                .any(|(plan, place, _)| *plan == name && *place == pointer);
            if is_here || is_free(&pointer) {
                continue;
            }
            let before = plan.pointer(&pointer).unwrap();
            for after in changed(before) {
                if after == *before
                    || is_loose(&pointer, before, &after)
                    || is_lost(&pointer, &after)
                {
                    continue;
                }
                let mut other = plan.clone();
                *other.pointer_mut(&pointer).unwrap() = after.clone();
                tried += 1;
                if verify(&other).is_empty() {
                    missed.push(format!("{name}{pointer}: {before} -> {after}"));
                }
            }
        }
    }
    assert!(tried > 10_000, "{tried}");
    assert!(
        missed.is_empty(),
        "{} of {tried}:\n{}",
        missed.len(),
        missed.join("\n")
    );
}

/// Every exception is one: each has a place in some plan where a change passes.
#[test]
fn what_is_let_pass_is_there() {
    let plans = good_plans::all();
    for (end, why) in FREE {
        let is_there = plans
            .iter()
            .any(|(_, plan)| pointers(plan).iter().any(|pointer| pointer.ends_with(end)));
        assert!(is_there, "{end}: {why}");
    }
}
