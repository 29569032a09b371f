//! What a client says of itself, made readable: one thing that is not understood must not hide all the others.

use serde_json::{Map, Value};

use crate::lsp::ClientCapabilities;

/// The parameters of `initialize` without what nobody could read.
pub(crate) fn readable(mut params: Value) -> Value {
    let Some(said) = params.as_object_mut() else {
        return params;
    };
    // Some clients have words for it that the protocol has not, and nothing depends on it.
    said.remove("trace");
    let empty = || Value::Object(Map::new());
    let Some(abilities) = said
        .entry("capabilities")
        .or_insert_with(empty)
        .as_object_mut()
    else {
        said.insert("capabilities".to_owned(), empty());
        return params;
    };
    // The protocol's own name for it has one letter more than the types have.
    if let Some(workspace) = abilities
        .get_mut("workspace")
        .and_then(Value::as_object_mut)
        && let Some(pulled) = workspace.remove("diagnostics")
    {
        workspace.insert("diagnostic".to_owned(), pulled);
    }
    abilities.retain(|name, part| {
        if let Some(part) = part.as_object_mut() {
            part.retain(|inner, value| {
                is_read(
                    name,
                    Value::Object(Map::from_iter([(inner.clone(), value.clone())])),
                )
            });
        }
        is_read(name, part.clone())
    });
    params
}

fn is_read(name: &str, part: Value) -> bool {
    let alone = Value::Object(Map::from_iter([(name.to_owned(), part)]));
    serde_json::from_value::<ClientCapabilities>(alone).is_ok()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn what_is_not_understood_is_left_out_alone() {
        let said = json!({
            "trace": "compact",
            "capabilities": {
                "workspace": { "diagnostics": { "refreshSupport": true }, "symbol": 7 },
                "textDocument": { "hover": { "contentFormat": ["sound"] }, "diagnostic": {} },
                "window": [],
                "experimental": { "any": "thing" },
            },
        });
        let wanted = json!({ "capabilities": {
            "workspace": { "diagnostic": { "refreshSupport": true } },
            "textDocument": { "diagnostic": {} },
            "experimental": { "any": "thing" },
        } });
        assert_eq!(readable(said), wanted);
        assert_eq!(
            readable(json!({ "capabilities": 1 })),
            json!({ "capabilities": {} })
        );
        assert_eq!(readable(json!({})), json!({ "capabilities": {} }));
    }
}
