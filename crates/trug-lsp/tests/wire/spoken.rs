//! Whatever the server says in a test, held to the meta model of the protocol: nothing missing, nothing of its own.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jsonschema::Validator;
use serde_json::{Map, Value};

/// Made from the meta model of LSP 3.17; `fixtures/README.md` says how.
const MESSAGES: &str = include_str!("../fixtures/messages-3.17.json");

/// What the server says that 3.17 does not know: 3.18 has the one, for clients that ask; the other is its own, for
/// clients that show the plan beside the text.
const BEYOND: [&str; 2] = [
    "answer workspace/textDocumentContent",
    "tell trug/planChanged",
];

static KNOWN: LazyLock<BTreeMap<String, Validator>> = LazyLock::new(|| {
    let model: Value = serde_json::from_str(MESSAGES).unwrap();
    assert_eq!(model["version"], "3.17.0");
    let messages = model["messages"].as_object().unwrap();
    let one = |(name, schema): (&String, &Value)| {
        let mut whole = Map::new();
        whole.insert("$defs".to_owned(), model["$defs"].clone());
        whole.insert("allOf".to_owned(), Value::Array(vec![schema.clone()]));
        let validator = jsonschema::validator_for(&Value::Object(whole)).unwrap();
        (name.clone(), validator)
    };
    messages.iter().map(one).collect()
});

/// Fails where the protocol does not know this.
fn hold(name: &str, value: &Value) {
    let Some(validator) = KNOWN.get(name) else {
        assert!(
            BEYOND.contains(&name),
            "{name} is no message of the protocol"
        );
        return;
    };
    let wrong: Vec<String> = validator
        .iter_errors(value)
        .map(|error| format!("{} {error}", error.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{name}\n{}\n{value:#}", wrong.join("\n"));
}

/// Holds the answer to a request of this method to the protocol.
pub(crate) fn hold_answer(method: &str, result: &Value) {
    hold(&format!("answer {method}"), result);
}

/// Holds what the server asks or tells by itself to the protocol.
pub(crate) fn hold_told(method: &str, params: &Value) {
    // A question without params says nothing that could be wrong.
    if !params.is_null() {
        hold(&format!("tell {method}"), params);
    }
}

#[test]
fn what_is_not_of_the_protocol_is_found() {
    let is = |name: &str, value: Value| KNOWN[name].is_valid(&value);
    let hover = "answer textDocument/hover";
    let text = serde_json::json!({ "kind": "markdown", "value": "maize" });
    assert!(is(hover, Value::Null));
    assert!(is(hover, serde_json::json!({ "contents": text })));
    assert!(!is(
        hover,
        serde_json::json!({ "contents": text, "colour": 1 })
    ));
    assert!(!is(hover, serde_json::json!({ "range": null })));
    let place = serde_json::json!({ "line": -1, "character": 0 });
    let range = serde_json::json!({ "start": place, "end": place });
    assert!(!is(
        "answer textDocument/definition",
        serde_json::json!([{ "uri": "file:///a", "range": range }])
    ));
}
