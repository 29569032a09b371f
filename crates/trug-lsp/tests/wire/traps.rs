//! What the protocol's stack stumbles over, each through the wire.

use std::time::Duration;

use serde_json::{Value, json};
use tokio::time::timeout;
use trug_lsp::Ended;

use crate::client::{Client, PATIENCE, abilities, uri};
use crate::farms::{MASH, OVER, STORE};
use crate::memory::Memory;

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

fn pulling() -> Value {
    let mut abilities = abilities();
    abilities["textDocument"]["diagnostic"] = json!({ "relatedDocumentSupport": true });
    abilities
}

fn document(name: &str) -> Value {
    json!({ "textDocument": { "uri": uri(name) } })
}

#[tokio::test]
async fn edits_apply_in_their_order_and_a_question_sees_all_before_it() {
    let mut client = Client::ready(&FARM, pulling()).await;
    client.open("mash.trug", "").await;
    let mut text = String::new();
    for (rank, letter) in MASH.chars().enumerate() {
        // Each edit appends, so that any other order leaves another text.
        let end = json!({ "line": 1000, "character": 0 });
        let change = json!([{ "range": { "start": end, "end": end }, "text": letter.to_string() }]);
        client.change("mash.trug", rank as i64 + 2, change).await;
        text.push(letter);
    }
    let answer = client
        .ask("textDocument/diagnostic", document("mash.trug"))
        .await
        .unwrap();
    assert_eq!(
        (text.as_str(), &answer["items"]),
        (MASH, &json!([])),
        "{answer}"
    );
    client.replace("mash.trug", 9000, OVER).await;
    let answer = client
        .ask("textDocument/diagnostic", document("mash.trug"))
        .await
        .unwrap();
    assert_eq!(answer["items"][0]["code"], "sum/over", "{answer}");
    client.end().await;
}

#[tokio::test]
async fn questions_to_the_client_that_wait_do_not_keep_its_messages_from_being_read() {
    let mut client = Client::silent(Memory::new(&FARM));
    client.answers = false;
    client.initialize(abilities(), json!({})).await;
    client.open("mash.trug", MASH).await;
    // Each asks the client for its settings, and none is answered.
    for _ in 0..40 {
        client
            .tell(
                "workspace/didChangeConfiguration",
                json!({ "settings": null }),
            )
            .await;
    }
    for version in 2..400 {
        client
            .replace(
                "mash.trug",
                version,
                if version % 2 == 0 { OVER } else { MASH },
            )
            .await;
    }
    client.replace("mash.trug", 400, OVER).await;
    client.shown_at("mash.trug", 400).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}

#[tokio::test]
async fn it_ends_on_exit_though_the_input_stays_open() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.ask("shutdown", Value::Null).await.unwrap();
    client.tell("exit", Value::Null).await;
    let ended = timeout(Duration::from_secs(5), &mut client.serving)
        .await
        .unwrap();
    assert_eq!(ended.unwrap().unwrap(), Ended::InOrder);
    let mut client = Client::ready(&FARM, abilities()).await;
    client.tell("exit", Value::Null).await;
    let ended = timeout(Duration::from_secs(5), &mut client.serving)
        .await
        .unwrap();
    assert_eq!(ended.unwrap().unwrap(), Ended::Abandoned);
}

#[tokio::test]
async fn it_ends_when_the_input_ends_or_the_process_of_the_client_is_gone() {
    let mut client = Client::ready(&FARM, abilities()).await;
    tokio::io::AsyncWriteExt::shutdown(&mut client.to_server)
        .await
        .unwrap();
    let ended = timeout(Duration::from_secs(5), &mut client.serving)
        .await
        .unwrap();
    assert_eq!(ended.unwrap().unwrap(), Ended::Abandoned);
    let mut client = Client::silent(Memory::new(&FARM));
    client
        .initialize(abilities(), json!({ "processId": 77 }))
        .await;
    client.world.kill(77);
    let ended = timeout(Duration::from_secs(6), &mut client.serving)
        .await
        .unwrap();
    assert_eq!(ended.unwrap().unwrap(), Ended::Abandoned);
}

#[tokio::test]
async fn params_may_be_null_or_missing() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.tell("initialized", Value::Null).await;
    client.open("mash.trug", OVER).await;
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.ask("shutdown", Value::Null).await, Ok(Value::Null));
    client
        .send(json!({ "jsonrpc": "2.0", "method": "exit" }))
        .await;
    assert_eq!(
        timeout(PATIENCE, client.serving)
            .await
            .unwrap()
            .unwrap()
            .unwrap(),
        Ended::InOrder
    );
}

#[tokio::test]
async fn a_panic_is_an_answer_and_not_the_end() {
    let mut world = Memory::new(&[
        ("store.trug", STORE),
        ("cursed.trug", MASH),
        ("mash.trug", MASH),
    ]);
    world.cursed = Some("cursed.trug");
    let mut client = Client::silent(world);
    client.initialize(pulling(), json!({})).await;
    // Reading the folder panics in the background, and so does closing a text that goes back to the disk's.
    client.open("cursed.trug", OVER).await;
    client.close("cursed.trug").await;
    client.open("mash.trug", OVER).await;
    let answer = client
        .ask("textDocument/diagnostic", document("mash.trug"))
        .await;
    assert_eq!(answer.unwrap()["items"][0]["code"], "sum/over");
    client.end().await;
}

#[tokio::test]
async fn what_is_cancelled_is_answered_so() {
    let mut texts = vec![("store.trug".to_owned(), STORE.to_owned())];
    texts.extend((0..400).map(|number| (format!("mash-{number}.trug"), OVER.to_owned())));
    let texts: Vec<(&str, &str)> = texts
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let mut client = Client::ready(&texts, pulling()).await;
    let mut cancelled = 0;
    for _ in 0..20 {
        let id = client
            .request("workspace/diagnostic", json!({ "previousResultIds": [] }))
            .await;
        client.tell("$/cancelRequest", json!({ "id": id })).await;
        match client.answer(id).await {
            Err(error) => {
                assert_eq!(error["code"], -32800);
                cancelled += 1;
            }
            Ok(answer) => assert!(answer["items"].is_array()),
        }
    }
    assert!(0 < cancelled);
    // The session goes on.
    let all = client
        .ask("workspace/diagnostic", json!({ "previousResultIds": [] }))
        .await
        .unwrap();
    assert!(all["items"].is_array());
    client.end().await;
}

#[tokio::test]
async fn what_is_cancelled_while_texts_are_read_is_answered_so() {
    let mut client = Client::silent(Memory::new(&FARM));
    client.world.hold("store.trug");
    client.initialize(abilities(), json!({})).await;
    let begun = |client: &Client| {
        client
            .told
            .iter()
            .any(|told| told["params"]["value"]["kind"] == "begin")
    };
    client.until(begun).await;
    // A text that needs nothing of the disk is answered about, and its findings are shown, while the rest is read.
    client.open("alone.trug", "ration alone\n").await;
    client.shown_at("alone.trug", 1).await;
    let mut params = document("alone.trug");
    params["position"] = json!({ "line": 0, "character": 8 });
    let answer = client.ask("textDocument/hover", params.clone()).await;
    assert!(answer.unwrap()["contents"].is_object());
    // This one needs what is held: whatever is asked waits, and can be cancelled.
    client.open("mash.trug", OVER).await;
    let mut ids = Vec::new();
    for method in ["hover", "completion", "definition", "codeLens", "hover"] {
        let id = client
            .request(&format!("textDocument/{method}"), params.clone())
            .await;
        ids.push(id);
    }
    let kept = ids.pop().unwrap();
    for id in &ids {
        client.tell("$/cancelRequest", json!({ "id": id })).await;
    }
    for id in ids {
        assert_eq!(client.answer(id).await.unwrap_err()["code"], -32800);
    }
    client.world.let_go();
    assert!(client.answer(kept).await.unwrap()["contents"].is_object());
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}

#[tokio::test]
async fn reading_that_the_user_stops_ends_and_what_is_open_goes_on() {
    let mut client = Client::silent(Memory::new(&FARM));
    client.world.hold("store.trug");
    client.initialize(abilities(), json!({})).await;
    let kind = |client: &Client, kind: &str| {
        let found = client
            .told
            .iter()
            .find(|told| told["params"]["value"]["kind"] == kind);
        found.map(|told| told["params"]["token"].clone())
    };
    client.until(|client| kind(client, "begin").is_some()).await;
    let token = kind(&client, "begin").unwrap();
    let stop = json!({ "token": token });
    client.tell("window/workDoneProgress/cancel", stop).await;
    client.until(|client| kind(client, "end").is_some()).await;
    assert_eq!(kind(&client, "end"), Some(token));
    client.world.let_go();
    client.open("mash.trug", OVER).await;
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}

#[tokio::test]
async fn what_follows_hello_at_once_is_not_lost() {
    let mut client = Client::silent(Memory::new(&FARM));
    let hello = json!({ "processId": null, "capabilities": abilities(), "workspaceFolders": null });
    let id = client.request("initialize", hello).await;
    client.tell("initialized", json!({})).await;
    client.open("mash.trug", OVER).await;
    client.answer(id).await.unwrap();
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}
