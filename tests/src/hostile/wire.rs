//! The wire of the server: bytes of any kind, then messages of any kind. It answers every request, and ends when it is told to.

use serde_json::{Value, json};
use trug_lsp::Ended;

use super::client::{Client, run, uri};
use super::disk::Disk;

/// Bytes that are sent.
const MOST_BYTES: usize = 8 * 1024;
/// Messages that are sent.
const MOST_MESSAGES: usize = 24;
const STORE: &str = "ingredient maize\n  price        0.30 EUR/kg\ningredient wheat-bran\n  price        0.20 EUR/kg\n";
const MASH: &str = "use \"store.trug\"\n\nration mash \"සහල් 🦆\"\n  for            mixing\n  batch          20 kg\n\
                    \u{20}\u{20}maize          61 %\n  wheat-bran     40 %\n";

/// Speaks to a server: bytes that begin with `{` are messages, one a line, that only want their headers; others are sent
/// as they are.
pub fn wire(bytes: &[u8]) {
    let bytes = bytes.get(..MOST_BYTES).unwrap_or(bytes);
    let disk = Disk::of(&[("store.trug", STORE), ("mash.trug", MASH)]);
    if bytes.first() == Some(&b'{') {
        let text = String::from_utf8_lossy(bytes).into_owned();
        run(messages(&disk, &text));
    } else {
        run(raw(&disk, bytes));
    }
}

/// Whatever was sent, the server ends when the wire is closed.
async fn raw(disk: &Disk, bytes: &[u8]) {
    let mut client = Client::new(disk);
    client.send_bytes(bytes).await;
    client.hang_up().await;
}

/// Every request is answered, then the session goes on, and ends in order.
async fn messages(disk: &Disk, text: &str) {
    let mut client = Client::new(disk);
    let mut asked = Vec::new();
    let mut has_shut_down = false;
    for line in text.lines().take(MOST_MESSAGES) {
        let message: Value = serde_json::from_str(line).unwrap_or_default();
        let method = message["method"].as_str().unwrap_or_default();
        if method == "exit" {
            break;
        }
        has_shut_down |= method == "shutdown";
        client.send_body(line).await;
        let id = &message["id"];
        if message["jsonrpc"] == json!("2.0")
            && !method.is_empty()
            && (id.is_i64() || id.is_string())
        {
            asked.push(id.clone());
        }
    }
    for id in asked {
        assert!(
            client.answer(&id).await.is_some(),
            "the server is gone before it has answered {id}"
        );
    }
    if !has_shut_down {
        is_still_there(&mut client).await;
    }
    client.ask("shutdown", Value::Null).await;
    client.tell("exit", Value::Null).await;
    assert_eq!(client.hang_up().await, Ended::InOrder);
}

/// After whatever was said, a text that is opened is still judged.
async fn is_still_there(client: &mut Client) {
    // Where a hello has been said already, this is refused and nothing comes of it.
    let folder = json!([{ "uri": uri(""), "name": "barn" }]);
    client
        .ask(
            "initialize",
            json!({ "processId": null, "capabilities": {}, "workspaceFolders": folder }),
        )
        .await;
    client.tell("initialized", json!({})).await;
    let document = json!({ "uri": uri("still-there.trug"), "languageId": "trug", "version": 1, "text": "ration a\n  1,5 %\n" });
    client
        .tell("textDocument/didOpen", json!({ "textDocument": document }))
        .await;
    let document = json!({ "textDocument": { "uri": uri("still-there.trug") } });
    let answer = client.ask("textDocument/diagnostic", document).await;
    let found = answer["result"]["items"].as_array().map_or(0, Vec::len);
    assert!(
        0 < found,
        "nothing is found in a text that is wrong: {answer}"
    );
}
