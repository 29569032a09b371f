//! Whatever JSON the verifier is handed, it answers.

use proptest::prelude::*;
use serde_json::{Value, json};
use trug_plan::verify::verify;

use crate::good_plans;

fn leaf() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        "\\PC{0,8}".prop_map(Value::from),
        "-?[0-9]{1,45}(\\.[0-9]{1,14})?".prop_map(Value::from),
        prop::sample::select(vec![
            "0", "-1", "floor", "heap", "s1", "w1", "hook", "small", "III"
        ])
        .prop_map(Value::from),
    ]
}

fn any_json() -> impl Strategy<Value = Value> {
    leaf().prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map("[a-z_]{1,9}", inner, 0..6)
                .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
}

/// The places of a document, as pointers.
pub(crate) fn pointers(value: &Value) -> Vec<String> {
    fn walk(value: &Value, at: String, found: &mut Vec<String>) {
        match value {
            Value::Object(fields) => {
                for (name, field) in fields {
                    walk(field, format!("{at}/{name}"), found);
                }
            }
            Value::Array(items) => {
                for (index, item) in items.iter().enumerate() {
                    walk(item, format!("{at}/{index}"), found);
                }
            }
            _ => {}
        }
        found.push(at);
    }
    let mut found = Vec::new();
    walk(value, String::new(), &mut found);
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn no_document_makes_it_panic(document in any_json()) {
        prop_assert!(!verify(&document).is_empty());
    }

    #[test]
    fn nothing_put_anywhere_makes_it_panic(
        which in 0..7usize,
        places in prop::collection::vec((any::<prop::sample::Index>(), any_json()), 1..4),
    ) {
        let mut plan = good_plans::all().swap_remove(which).1;
        for (place, value) in places {
            let pointers = pointers(&plan);
            let pointer = place.get(&pointers);
            *plan.pointer_mut(pointer).unwrap() = value;
        }
        let _ = verify(&plan);
    }
}

#[test]
fn odd_documents_break_the_form() {
    for odd in [
        json!(null),
        json!([]),
        json!({}),
        json!({"format": "trug.plan/1"}),
    ] {
        assert!(!verify(&odd).is_empty(), "{odd}");
    }
}
