//! What is found, pushed and pulled: fresh, complete, and only where it belongs.

use serde_json::{Value, json};
use tower_lsp::lsp_types::{DocumentDiagnosticReport, InitializeResult, WorkspaceDiagnosticReport};

use crate::client::{Client, abilities, checked, uri};
use crate::farms::{MASH, OVER, STORE};
use crate::memory::Memory;

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

fn pulling() -> Value {
    let mut abilities = abilities();
    abilities["textDocument"]["diagnostic"] = json!({ "relatedDocumentSupport": true });
    abilities
}

#[tokio::test]
async fn a_finding_has_all_the_protocol_has_room_for() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", OVER).await;
    let shown = client.shown_at("mash.trug", 1).await;
    assert_eq!(shown.len(), 1, "{shown:?}");
    let found = &shown[0];
    assert_eq!(found["severity"], 1);
    assert_eq!(found["source"], "trug");
    assert_eq!(found["code"], "sum/over");
    assert_eq!(found["codeDescription"]["href"], "trug:/why/sum/over.md");
    assert_eq!(
        found["range"]["start"],
        json!({ "line": 2, "character": 7 })
    );
    assert_eq!(found["message"], "mash adds up to 101 %: 1 % too much");
    assert!(
        found["relatedInformation"]
            .as_array()
            .is_some_and(|all| !all.is_empty()),
        "{found}"
    );
    assert_eq!(found["data"]["code"], "sum/over");
    let page = client.ask(
        "workspace/executeCommand",
        json!({ "command": "trug.why", "arguments": ["sum/over"] }),
    );
    assert!(
        page.await
            .unwrap()
            .as_str()
            .unwrap()
            .starts_with("# sum/over")
    );
    let page = client
        .ask(
            "workspace/textDocumentContent",
            json!({ "uri": "trug:/why/sum/over.md" }),
        )
        .await;
    assert!(
        page.unwrap()["text"]
            .as_str()
            .unwrap()
            .starts_with("# sum/over")
    );
    let book = client
        .ask(
            "workspace/textDocumentContent",
            json!({ "uri": "trug:/book/poultry.trug" }),
        )
        .await;
    assert!(book.unwrap()["text"].as_str().unwrap().contains("targets"));
    client.end().await;
}

#[tokio::test]
async fn an_open_text_lies_over_the_disk_and_its_readers_are_judged_by_it() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", MASH).await;
    client.open("store.trug", STORE).await;
    client.shown_at("mash.trug", 1).await;
    client.rest().await;
    client
        .replace("store.trug", 2, &STORE.replace("maize", "millet"))
        .await;
    client
        .until(|client| client.codes("mash.trug") == ["name/unknown"])
        .await;
    client.close("store.trug").await;
    client
        .until(|client| client.codes("mash.trug").is_empty())
        .await;
    client.end().await;
}

#[tokio::test]
async fn texts_that_are_not_open_are_judged_too_and_the_disk_is_watched() {
    let mut client =
        Client::ready(&[("store.trug", STORE), ("mash.trug", OVER)], abilities()).await;
    client
        .until(|client| client.codes("mash.trug") == ["sum/over"])
        .await;
    let registered = |client: &Client| {
        client
            .told
            .iter()
            .any(|told| told["method"] == "client/registerCapability")
    };
    client.until(registered).await;
    client.world.put("mash.trug", MASH);
    let changed =
        |name: &str, kind: u32| json!({ "changes": [{ "uri": uri(name), "type": kind }] });
    client
        .tell("workspace/didChangeWatchedFiles", changed("mash.trug", 2))
        .await;
    client
        .until(|client| client.codes("mash.trug").is_empty())
        .await;
    client.world.put("new.trug", OVER);
    client
        .tell("workspace/didChangeWatchedFiles", changed("new.trug", 1))
        .await;
    client
        .until(|client| client.codes("new.trug") == ["sum/over"])
        .await;
    client.world.remove("new.trug");
    client.world.remove("store.trug");
    client
        .tell("workspace/didChangeWatchedFiles", changed("new.trug", 3))
        .await;
    client
        .tell(
            "workspace/didDeleteFiles",
            json!({ "files": [{ "uri": uri("store.trug") }] }),
        )
        .await;
    client
        .until(|client| client.codes("new.trug").is_empty())
        .await;
    client
        .until(|client| client.codes("mash.trug") == ["use/missing"])
        .await;
    client.end().await;
}

#[tokio::test]
async fn a_client_that_does_not_watch_has_it_done() {
    let mut abilities = abilities();
    abilities["workspace"]["didChangeWatchedFiles"] = Value::Null;
    let mut client = Client::ready(&[("store.trug", STORE), ("mash.trug", OVER)], abilities).await;
    client
        .until(|client| client.codes("mash.trug") == ["sum/over"])
        .await;
    client.world.put("mash.trug", MASH);
    client
        .until(|client| client.codes("mash.trug").is_empty())
        .await;
    client.end().await;
}

#[tokio::test]
async fn what_is_found_in_a_table_is_shown_in_the_table() {
    const USES: &str = "use \"prices.csv\"\nnutrient protein in share\ningredient maize\n";
    const TABLE: &str = "ingredient,price EUR/kg\nmaize,0.30\n";
    let texts = [
        ("prices.csv", TABLE),
        ("one.trug", USES),
        ("two.trug", USES),
    ];
    let mut client = Client::ready(&texts, abilities()).await;
    client.open("prices.csv", TABLE).await;
    client.shown_at("prices.csv", 1).await;
    client
        .replace("prices.csv", 2, "ingredient,price EUR/kg\nmaize,dear\n")
        .await;
    client
        .until(|client| !client.codes("prices.csv").is_empty())
        .await;
    // Both texts that use it say the same, which is shown once.
    client.rest().await;
    assert_eq!(
        client.codes("prices.csv").len(),
        1,
        "{:?}",
        client.codes("prices.csv")
    );
    assert_eq!(client.shown[&uri("prices.csv")].1, Some(2));
    client.replace("prices.csv", 3, TABLE).await;
    assert_eq!(client.shown_at("prices.csv", 3).await, Vec::<Value>::new());
    client.end().await;
}

#[tokio::test]
async fn findings_can_be_pulled_and_are_not_sent_twice() {
    let mut client = Client::silent(Memory::new(&FARM));
    let hello: InitializeResult = checked(&client.initialize(pulling(), json!({})).await);
    assert!(hello.capabilities.diagnostic_provider.is_some());
    client.open("mash.trug", OVER).await;
    let document = json!({ "textDocument": { "uri": uri("mash.trug") } });
    let report: DocumentDiagnosticReport = client
        .ask_typed("textDocument/diagnostic", document.clone())
        .await;
    let DocumentDiagnosticReport::Full(report) = report else {
        panic!("{report:?}")
    };
    let report = report.full_document_diagnostic_report;
    assert_eq!(report.items.len(), 1);
    let again = json!({ "textDocument": { "uri": uri("mash.trug") }, "previousResultId": report.result_id });
    let again: DocumentDiagnosticReport = client.ask_typed("textDocument/diagnostic", again).await;
    assert!(
        matches!(again, DocumentDiagnosticReport::Unchanged(_)),
        "{again:?}"
    );
    let all = json!({ "previousResultIds": [{ "uri": uri("gone.trug"), "value": "x" }] });
    let all: WorkspaceDiagnosticReport = client.ask_typed("workspace/diagnostic", all).await;
    assert_eq!(all.items.len(), 2, "{all:?}");
    client.rest().await;
    assert!(client.shown.is_empty(), "{:?}", client.shown);
    // An edit of a text that is used asks for the findings of its reader to be pulled again.
    client.open("store.trug", STORE).await;
    client.replace("store.trug", 2, "").await;
    let refreshed = |client: &Client| {
        client
            .told
            .iter()
            .any(|told| told["method"] == "workspace/diagnostic/refresh")
    };
    client.until(refreshed).await;
    let report = client
        .ask("textDocument/diagnostic", document)
        .await
        .unwrap();
    assert_eq!(report["items"][0]["code"], "name/unknown", "{report}");
    client.end().await;
}

#[tokio::test]
async fn several_folders_and_single_texts_are_read_apart() {
    let texts = [("store.trug", STORE), ("mash.trug", MASH)];
    let mut client = Client::silent(Memory::new(&texts));
    let folders = json!([{ "uri": "file:///barn", "name": "barn" }, { "uri": "file:///hill", "name": "hill" }]);
    client
        .initialize(abilities(), json!({ "workspaceFolders": folders }))
        .await;
    for uri in ["file:///hill/mash.trug", "file:///valley/mash.trug"] {
        let document = json!({ "uri": uri, "languageId": "trug", "version": 1, "text": MASH });
        client
            .tell("textDocument/didOpen", json!({ "textDocument": document }))
            .await;
        client.until(|client| client.shown.contains_key(uri)).await;
        // There is a store only in the barn.
        assert_eq!(client.shown[uri].0[0]["code"], "use/missing");
    }
    client.open("mash.trug", MASH).await;
    assert_eq!(client.shown_at("mash.trug", 1).await, Vec::<Value>::new());
    let change =
        json!({ "event": { "removed": [{ "uri": "file:///barn", "name": "barn" }], "added": [] } });
    client
        .tell("workspace/didChangeWorkspaceFolders", change)
        .await;
    client.replace("mash.trug", 2, OVER).await;
    client.shown_at("mash.trug", 2).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}

#[tokio::test]
async fn reading_shows_how_far_it_is() {
    let mut client = Client::ready(&FARM, abilities()).await;
    let kinds = |client: &Client| -> Vec<Value> {
        let told = client
            .told
            .iter()
            .filter(|told| told["method"] == "$/progress");
        told.map(|told| told["params"]["value"]["kind"].clone())
            .collect()
    };
    client
        .until(|client| kinds(client).last() == Some(&json!("end")))
        .await;
    assert_eq!(kinds(&client)[0], "begin");
    client.end().await;
}
