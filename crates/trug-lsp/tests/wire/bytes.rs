//! Any bytes on the wire: each message is answered or passed over, and the session goes on.

use serde_json::{Value, json};

use crate::client::{Client, abilities, uri};
use crate::farms::{MASH, OVER, STORE};
use crate::memory::Memory;

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

async fn still_works(mut client: Client) {
    client.open("mash.trug", OVER).await;
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.end().await;
}

async fn error(client: &mut Client) -> (i64, Value) {
    loop {
        let message = client.message().await;
        if let Some(error) = message.get("error") {
            return (error["code"].as_i64().unwrap(), message["id"].clone());
        }
    }
}

#[tokio::test]
async fn what_is_no_message_is_answered_so() {
    let mut client = Client::ready(&FARM, abilities()).await;
    let wrong: [&[u8]; 6] = [
        b"Content-Length: 5\r\n\r\n{\"a\":",
        b"Content-Length: 2\r\n\r\n\xff\xfe",
        b"Content-Length: 18446744073709551616\r\n\r\n",
        b"Content-Length: 9999999999999\r\n\r\n{}",
        b"Content-Length: nine\r\n\r\n",
        b"GET / HTTP/1.1\r\n\r\n",
    ];
    for bytes in wrong {
        client.send_bytes(bytes).await;
        // What comes next begins a new message.
        client.tell("$/ping", json!({})).await;
        assert_eq!(error(&mut client).await, (-32700, Value::Null));
    }
    for wrong in [
        json!([]),
        json!({}),
        json!(3),
        json!({ "jsonrpc": "1.0", "method": "x", "id": 1 }),
    ] {
        client.send(wrong).await;
        assert_eq!(error(&mut client).await.0, -32600);
    }
    client.send_bytes(b"Content-Length: 0\r\n\r\n").await;
    assert_eq!(error(&mut client).await.0, -32700);
    still_works(client).await;
}

#[tokio::test]
async fn methods_that_are_not_known_are_refused_or_passed_over() {
    let mut client = Client::ready(&FARM, abilities()).await;
    let answer = client.ask("textDocument/paint", json!({})).await;
    assert_eq!(answer.unwrap_err()["code"], -32601);
    client.tell("textDocument/didPaint", json!({})).await;
    client.tell("$/anything", json!([1])).await;
    let answer = client
        .ask(
            "workspace/executeCommand",
            json!({ "command": "trug.paint" }),
        )
        .await;
    assert_eq!(answer.unwrap_err()["code"], -32602);
    let answer = client
        .ask("textDocument/diagnostic", json!({ "nothing": true }))
        .await;
    assert_eq!(answer.unwrap_err()["code"], -32602);
    client
        .tell("textDocument/didChange", json!({ "nothing": true }))
        .await;
    client.replace("never-opened.trug", 3, OVER).await;
    client.close("never-opened.trug").await;
    still_works(client).await;
}

#[tokio::test]
async fn before_hello_and_after_goodbye_requests_are_refused() {
    let mut client = Client::silent(Memory::new(&FARM));
    let answer = client
        .ask("workspace/diagnostic", json!({ "previousResultIds": [] }))
        .await;
    assert_eq!(answer.unwrap_err()["code"], -32002);
    client.open("mash.trug", OVER).await;
    client.initialize(abilities(), json!({})).await;
    let again = client
        .ask("initialize", json!({ "capabilities": {} }))
        .await;
    assert_eq!(again.unwrap_err()["code"], -32600);
    client.ask("shutdown", Value::Null).await.unwrap();
    let answer = client
        .ask("workspace/diagnostic", json!({ "previousResultIds": [] }))
        .await;
    assert_eq!(answer.unwrap_err()["code"], -32600);
    client.tell("exit", Value::Null).await;
}

#[tokio::test]
async fn positions_out_of_range_mean_the_nearest_that_is_in() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", OVER).await;
    let most = u32::MAX;
    let wild = [
        json!({ "start": { "line": most, "character": most }, "end": { "line": 0, "character": most } }),
        json!({ "start": { "line": 2, "character": 4 }, "end": { "line": 1, "character": 0 } }),
        json!({ "start": { "line": 999, "character": 0 }, "end": { "line": most, "character": 0 } }),
    ];
    for (rank, range) in wild.iter().enumerate() {
        client
            .change(
                "mash.trug",
                rank as i64 + 2,
                json!([{ "range": range, "text": "🦆" }]),
            )
            .await;
    }
    client.shown_at("mash.trug", 4).await;
    client.close("mash.trug").await;
    still_works(client).await;
}

#[tokio::test]
async fn a_text_of_ten_megabytes_is_judged_and_one_above_is_said_to_be_too_large() {
    let mut client = Client::ready(&FARM, abilities()).await;
    let line = "# a remark that is of no use to anybody but takes up room in the text\n";
    let text = line.repeat(9 * 1024 * 1024 / line.len()) + OVER;
    client.open("mash.trug", &text).await;
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client
        .replace("mash.trug", 2, &line.repeat(11 * 1024 * 1024 / line.len()))
        .await;
    client.shown_at("mash.trug", 2).await;
    assert_eq!(client.codes("mash.trug"), ["syntax/text"]);
    client.replace("mash.trug", 3, "ration\0").await;
    client.shown_at("mash.trug", 3).await;
    assert_eq!(client.codes("mash.trug"), ["syntax/text"]);
    client.close("mash.trug").await;
    still_works(client).await;
}

#[tokio::test]
async fn addresses_of_any_kind_are_taken() {
    let mut client = Client::ready(&FARM, abilities()).await;
    for uri in [
        "untitled:Untitled-1",
        "trug:/book/poultry.trug",
        "trug:/book/none.trug",
        "http://a/b.trug",
        "file:///",
    ] {
        let document = json!({ "uri": uri, "languageId": "trug", "version": 1, "text": OVER });
        client
            .tell("textDocument/didOpen", json!({ "textDocument": document }))
            .await;
        let params = json!({ "textDocument": { "uri": uri, "version": 2 }, "contentChanges": [{ "text": MASH }] });
        client.tell("textDocument/didChange", params).await;
    }
    client
        .tell(
            "textDocument/didOpen",
            json!({ "textDocument": { "uri": "no address" } }),
        )
        .await;
    let wanted = "untitled:Untitled-1".to_owned();
    client
        .until(|client| client.shown.contains_key(&wanted))
        .await;
    assert_eq!(uri("a"), "file:///barn/a");
    still_works(client).await;
}
