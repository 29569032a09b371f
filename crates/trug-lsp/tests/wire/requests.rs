//! Every request through the wire, its answer held to the protocol's own type. What is answered is tested elsewhere.

use serde_json::{Value, json};
use tower_lsp::lsp_types::*;

use crate::client::{Client, abilities, uri};
use crate::farms::{MASH, OVER, STORE};

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

/// The name `maize` in the ration.
const MAIZE: (u32, u32) = (5, 3);

async fn opened() -> Client {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", MASH).await;
    client
        .until(|client| {
            client
                .told
                .iter()
                .any(|told| told["params"]["value"]["kind"] == "end")
        })
        .await;
    client
}

fn at((line, character): (u32, u32)) -> Value {
    json!({ "textDocument": { "uri": uri("mash.trug") }, "position": { "line": line, "character": character } })
}

fn whole() -> Value {
    json!({ "textDocument": { "uri": uri("mash.trug") } })
}

fn ranged(lines: std::ops::Range<u32>) -> Value {
    let mut params = whole();
    params["range"] = json!({
        "start": { "line": lines.start, "character": 0 }, "end": { "line": lines.end, "character": 0 },
    });
    params
}

#[tokio::test]
async fn what_is_under_the_cursor() {
    let mut client = opened().await;
    let hover: Option<Hover> = client.ask_typed("textDocument/hover", at(MAIZE)).await;
    let hover = hover.unwrap();
    assert_eq!(hover.range.unwrap().start, Position::new(5, 2));
    assert!(matches!(hover.contents, HoverContents::Markup(text) if text.value.contains("maize")));
    let found: GotoDefinitionResponse =
        client.ask_typed("textDocument/definition", at(MAIZE)).await;
    let GotoDefinitionResponse::Array(found) = found else {
        panic!("{found:?}")
    };
    assert_eq!(
        (found[0].uri.as_str(), found[0].range.start),
        (uri("store.trug").as_str(), Position::new(0, 11))
    );
    let _: Option<GotoDefinitionResponse> = client
        .ask_typed("textDocument/typeDefinition", at(MAIZE))
        .await;
    let mut params = at(MAIZE);
    params["context"] = json!({ "includeDeclaration": true });
    let found: Vec<Location> = client.ask_typed("textDocument/references", params).await;
    assert_eq!(found.len(), 2, "{found:?}");
    let found: Vec<DocumentHighlight> = client
        .ask_typed("textDocument/documentHighlight", at(MAIZE))
        .await;
    assert_eq!(found.len(), 1, "{found:?}");
    client.end().await;
}

#[tokio::test]
async fn names_are_changed_in_every_text() {
    let mut client = opened().await;
    let prepared: PrepareRenameResponse = client
        .ask_typed("textDocument/prepareRename", at(MAIZE))
        .await;
    assert!(
        matches!(prepared, PrepareRenameResponse::RangeWithPlaceholder { placeholder, .. } if placeholder == "maize")
    );
    let mut params = at(MAIZE);
    params["newName"] = json!("corn");
    let edit: WorkspaceEdit = client
        .ask_typed("textDocument/rename", params.clone())
        .await;
    let Some(DocumentChanges::Edits(edits)) = edit.document_changes else {
        panic!("{edit:?}")
    };
    let versions: Vec<Option<i32>> = edits
        .iter()
        .map(|edit| edit.text_document.version)
        .collect();
    // The open text has its version; the one on the disk has none.
    assert_eq!(versions, [Some(1), None]);
    params["newName"] = json!("wheat-bran");
    let refused = client.ask("textDocument/rename", params).await.unwrap_err();
    assert_eq!(refused["code"], -32803, "{refused}");
    let nowhere = client.ask("textDocument/prepareRename", at((1, 0))).await;
    assert!(nowhere.is_err() || nowhere == Ok(Value::Null));
    let files =
        json!({ "files": [{ "oldUri": uri("store.trug"), "newUri": uri("coop/store.trug") }] });
    let edit: WorkspaceEdit = client.ask_typed("workspace/willRenameFiles", files).await;
    assert!(format!("{edit:?}").contains("coop/store.trug"), "{edit:?}");
    client.end().await;
}

#[tokio::test]
async fn what_can_be_written() {
    let mut client = opened().await;
    let text = MASH.to_owned() + "  wh\n";
    client.replace("mash.trug", 2, &text).await;
    let list: CompletionResponse = client
        .ask_typed("textDocument/completion", at((7, 4)))
        .await;
    let CompletionResponse::List(list) = list else {
        panic!("{list:?}")
    };
    let bran = list
        .items
        .iter()
        .find(|item| item.label == "wheat-bran")
        .unwrap();
    let Some(CompletionTextEdit::Edit(edit)) = &bran.text_edit else {
        panic!("{bran:?}")
    };
    assert_eq!(
        edit.range,
        Range::new(Position::new(7, 2), Position::new(7, 4))
    );
    let resolved: CompletionItem = client
        .ask_typed(
            "completionItem/resolve",
            serde_json::to_value(bran).unwrap(),
        )
        .await;
    assert!(resolved.documentation.is_some(), "{resolved:?}");
    client.end().await;
}

#[tokio::test]
async fn how_a_text_is_built() {
    let mut client = opened().await;
    let found: DocumentSymbolResponse = client
        .ask_typed("textDocument/documentSymbol", whole())
        .await;
    // This client knows no trees.
    assert!(
        matches!(found, DocumentSymbolResponse::Flat(found) if found.iter().any(|one| one.name == "mash"))
    );
    let found: Vec<SymbolInformation> = client
        .ask_typed("workspace/symbol", json!({ "query": "bran" }))
        .await;
    assert_eq!(found[0].location.uri.as_str(), uri("store.trug"));
    let folds: Vec<FoldingRange> = client.ask_typed("textDocument/foldingRange", whole()).await;
    assert!(folds.iter().any(|fold| fold.start_line == 2));
    let mut params = whole();
    params["positions"] = json!([{ "line": 5, "character": 3 }, { "line": 99, "character": 0 }]);
    let ranges: Vec<SelectionRange> = client
        .ask_typed("textDocument/selectionRange", params)
        .await;
    assert_eq!(ranges.len(), 2);
    assert_eq!(ranges[0].range.start, Position::new(5, 2));
    assert!(ranges[0].parent.is_some());
    let links: Vec<DocumentLink> = client.ask_typed("textDocument/documentLink", whole()).await;
    assert_eq!(
        links[0].target.as_ref().map(Url::as_str),
        Some(uri("store.trug").as_str())
    );
    client.end().await;
}

#[tokio::test]
async fn tokens_are_told_whole_in_part_and_as_they_change() {
    let mut client = opened().await;
    let all: SemanticTokensResult = client
        .ask_typed("textDocument/semanticTokens/full", whole())
        .await;
    let SemanticTokensResult::Tokens(all) = all else {
        panic!("{all:?}")
    };
    assert!(5 < all.data.len());
    let part: SemanticTokensRangeResult = client
        .ask_typed("textDocument/semanticTokens/range", ranged(2..4))
        .await;
    let SemanticTokensRangeResult::Tokens(part) = part else {
        panic!("{part:?}")
    };
    assert!(!part.data.is_empty() && part.data.len() < all.data.len());
    client
        .replace("mash.trug", 2, &format!("# new\n{MASH}"))
        .await;
    let mut params = whole();
    params["previousResultId"] = json!(all.result_id);
    let delta: SemanticTokensFullDeltaResult = client
        .ask_typed("textDocument/semanticTokens/full/delta", params.clone())
        .await;
    let SemanticTokensFullDeltaResult::TokensDelta(delta) = delta else {
        panic!("{delta:?}")
    };
    let now: SemanticTokensResult = client
        .ask_typed("textDocument/semanticTokens/full", whole())
        .await;
    let SemanticTokensResult::Tokens(now) = now else {
        panic!("{now:?}")
    };
    let mut patched = all.data.clone();
    for edit in &delta.edits {
        let (start, count) = (edit.start as usize / 5, edit.delete_count as usize / 5);
        patched.splice(start..start + count, edit.data.clone().unwrap_or_default());
    }
    assert_eq!(patched, now.data);
    assert_eq!(delta.result_id, now.result_id);
    params["previousResultId"] = json!("forgotten");
    let delta: SemanticTokensFullDeltaResult = client
        .ask_typed("textDocument/semanticTokens/full/delta", params)
        .await;
    assert!(
        matches!(delta, SemanticTokensFullDeltaResult::Tokens(_)),
        "{delta:?}"
    );
    client.end().await;
}

#[tokio::test]
async fn values_stand_beside_and_above_the_lines_and_can_be_switched_off() {
    let mut client = opened().await;
    let hints: Vec<InlayHint> = client
        .ask_typed("textDocument/inlayHint", ranged(0..99))
        .await;
    assert!(
        hints
            .iter()
            .any(|hint| format!("{:?}", hint.label).contains("12 kg")),
        "{hints:?}"
    );
    let lenses: Vec<CodeLens> = client.ask_typed("textDocument/codeLens", whole()).await;
    assert!(
        lenses
            .iter()
            .all(|lens| lens.command.is_some() != lens.data.is_some()),
        "{lenses:?}"
    );
    let plan = lenses
        .iter()
        .filter_map(|lens| lens.command.as_ref())
        .find(|one| one.command == "trug.plan")
        .unwrap();
    let page = json!({ "command": plan.command, "arguments": plan.arguments });
    let page = client.ask("workspace/executeCommand", page).await.unwrap();
    assert!(page.as_str().unwrap().contains("<html"));
    let analysis = json!({ "command": "trug.analyse", "arguments": [uri("mash.trug"), "mash"] });
    let page = client
        .ask("workspace/executeCommand", analysis)
        .await
        .unwrap();
    assert!(page.as_str().unwrap().contains("<html"));
    let off = json!({ "settings": { "trug": { "hints": { "mass": false, "sum": false, "nutrient": false, "cost": false } } } });
    client.tell("workspace/didChangeConfiguration", off).await;
    let hints: Vec<InlayHint> = client
        .ask_typed("textDocument/inlayHint", ranged(0..99))
        .await;
    assert!(hints.is_empty(), "{hints:?}");
    client
        .until(|client| {
            client
                .told
                .iter()
                .any(|told| told["method"] == "workspace/inlayHint/refresh")
        })
        .await;
    client.end().await;
}

#[tokio::test]
async fn what_can_be_done_is_offered_by_kind() {
    let mut client = opened().await;
    client.replace("mash.trug", 2, OVER).await;
    let mut params = ranged(2..6);
    params["context"] = json!({ "diagnostics": [] });
    let found: CodeActionResponse = client
        .ask_typed("textDocument/codeAction", params.clone())
        .await;
    assert!(!found.is_empty());
    for action in &found {
        let CodeActionOrCommand::CodeAction(action) = action else {
            panic!("{action:?}")
        };
        assert!(
            action.edit.is_some() && action.kind != Some(CodeActionKind::new("source.fixAll.trug"))
        );
    }
    params["context"]["only"] = json!(["source"]);
    let found: CodeActionResponse = client.ask_typed("textDocument/codeAction", params).await;
    assert!(
        found
            .iter()
            .all(|action| format!("{action:?}").contains("source.fixAll")),
        "{found:?}"
    );
    client.end().await;
}

#[tokio::test]
async fn texts_are_laid_out_whole_in_part_and_as_one_types() {
    let mut client = opened().await;
    client
        .replace(
            "mash.trug",
            2,
            &MASH.replace("  maize          60", " maize 60"),
        )
        .await;
    let options = json!({ "tabSize": 2, "insertSpaces": true });
    let mut params = whole();
    params["options"] = options.clone();
    let edits: Vec<TextEdit> = client.ask_typed("textDocument/formatting", params).await;
    assert!(
        !edits.is_empty() && edits.iter().all(|edit| edit.range.start.line == 5),
        "{edits:?}"
    );
    let mut params = ranged(0..3);
    params["options"] = options.clone();
    let edits: Vec<TextEdit> = client
        .ask_typed("textDocument/rangeFormatting", params)
        .await;
    assert_eq!(edits, []);
    let mut params = at((6, 0));
    params["ch"] = json!("\n");
    params["options"] = options;
    let edits: Vec<TextEdit> = client
        .ask_typed("textDocument/onTypeFormatting", params)
        .await;
    assert!(
        edits.iter().any(|edit| edit.range.start.line == 5),
        "{edits:?}"
    );
    client.end().await;
}

#[tokio::test]
async fn what_takes_what() {
    let mut client = opened().await;
    let items: Vec<CallHierarchyItem> = client
        .ask_typed("textDocument/prepareCallHierarchy", at((2, 8)))
        .await;
    assert_eq!(items[0].name, "mash");
    let params = json!({ "item": items[0] });
    let taken: Vec<CallHierarchyOutgoingCall> = client
        .ask_typed("callHierarchy/outgoingCalls", params)
        .await;
    assert_eq!(taken.len(), 2, "{taken:?}");
    assert_eq!(taken[0].from_ranges[0].start, Position::new(5, 2));
    let params = json!({ "item": taken[0].to });
    let takers: Vec<CallHierarchyIncomingCall> = client
        .ask_typed("callHierarchy/incomingCalls", params)
        .await;
    assert_eq!(
        (takers[0].from.name.as_str(), takers[0].from.uri.as_str()),
        ("mash", uri("mash.trug").as_str())
    );
    client.end().await;
}

#[tokio::test]
async fn whatever_is_asked_about_nothing_is_answered() {
    let mut client = opened().await;
    let nowhere = json!({ "uri": uri("never.trug") });
    let position = json!({ "line": u32::MAX, "character": u32::MAX });
    let methods = [
        "hover",
        "definition",
        "typeDefinition",
        "references",
        "documentHighlight",
        "prepareRename",
        "completion",
        "documentSymbol",
        "foldingRange",
        "documentLink",
        "semanticTokens/full",
        "semanticTokens/range",
        "inlayHint",
        "codeLens",
        "codeAction",
        "formatting",
        "rangeFormatting",
        "onTypeFormatting",
        "selectionRange",
        "prepareCallHierarchy",
        "diagnostic",
        "rename",
    ];
    for document in [
        nowhere,
        json!({ "uri": uri("mash.trug") }),
        json!({ "uri": "untitled:x" }),
    ] {
        for method in methods {
            let params = json!({
                "textDocument": document, "position": position, "positions": [position], "newName": "x", "ch": "\n",
                "range": { "start": position, "end": { "line": 0, "character": 0 } },
                "context": { "includeDeclaration": true, "diagnostics": [], "triggerKind": 1 },
                "options": { "tabSize": 2, "insertSpaces": true },
            });
            let answer = client.ask(&format!("textDocument/{method}"), params).await;
            if let Err(error) = answer {
                assert_eq!(error["code"], -32803, "{method}: {error}");
            }
        }
    }
    client.end().await;
}
