//! What the user sets: each is followed as it changes, and stays as it is until it does.

use serde_json::{Value, json};
use tower_lsp::lsp_types::InlayHint;

use crate::client::{Client, abilities, uri};
use crate::farms::{MASH, OVER, STORE};
use crate::memory::Memory;

#[tokio::test]
async fn settings_are_followed_as_they_change() {
    let accepted = MASH.replace(
        "  maize          60 %",
        "  maize        60 %\n  target protein at least 10 %",
    );
    let mut client = Client::silent(Memory::new(&[
        ("store.trug", STORE),
        ("mash.trug", &accepted),
    ]));
    client
        .initialize(
            abilities(),
            json!({ "initializationOptions": { "severity": "error" } }),
        )
        .await;
    client.open("mash.trug", OVER).await;
    client.shown_at("mash.trug", 1).await;
    assert_eq!(client.codes("mash.trug"), ["sum/over"]);
    client.settings = json!({ "severity": "loud" });
    client
        .tell(
            "workspace/didChangeConfiguration",
            json!({ "settings": null }),
        )
        .await;
    let said = |client: &Client| {
        client.told.iter().any(|told| {
            told["method"] == "window/logMessage"
                && told["params"]["message"]
                    .as_str()
                    .unwrap()
                    .contains("trug.severity")
        })
    };
    client.until(said).await;
    let help = json!({ "settings": { "trug": { "helpInMessage": true } } });
    client.tell("workspace/didChangeConfiguration", help).await;
    client
        .until(|client| {
            let (shown, _) = &client.shown[&uri("mash.trug")];
            shown
                .iter()
                .any(|one| one["message"].as_str().unwrap().contains("\nhelp: "))
        })
        .await;
    client.end().await;
}

async fn set(client: &mut Client, settings: Value) {
    let settings = json!({ "settings": { "trug": settings } });
    client
        .tell("workspace/didChangeConfiguration", settings)
        .await;
}

async fn until_shown(client: &mut Client, codes: &[&str]) {
    client
        .until(|client| client.codes("mash.trug") == codes)
        .await;
}

async fn hints(client: &mut Client) -> String {
    let lines =
        json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 99, "character": 0 } });
    let params = json!({ "textDocument": { "uri": uri("mash.trug") }, "range": lines });
    let hints: Vec<InlayHint> = client.ask_typed("textDocument/inlayHint", params).await;
    let labels = hints.iter().map(|hint| format!("{:?}", hint.label));
    labels.collect::<Vec<_>>().join(" ")
}

fn helps(client: &Client) -> bool {
    let (shown, _) = &client.shown[&uri("mash.trug")];
    shown
        .iter()
        .any(|one| one["message"].as_str().unwrap().contains("\nhelp: "))
}

async fn is_planned_on(client: &mut Client, day: &str) -> bool {
    let params = json!({ "command": "trug.plan", "arguments": [uri("mash.trug"), "mash"] });
    let page = client.ask("workspace/executeCommand", params).await;
    page.unwrap().as_str().unwrap().contains(day)
}

#[tokio::test]
async fn what_is_not_said_stays_and_null_puts_back() {
    // A note that the unit is spelt otherwise.
    let text = MASH.replace("20 kg", "20 Kg");
    let mut client = Client::silent(Memory::new(&[("store.trug", STORE), ("mash.trug", &text)]));
    let first = json!({ "initializationOptions": {
        "hints": { "cost": false }, "today": "2027-01-01", "severity": "warning",
    } });
    client.initialize(abilities(), first).await;
    client.open("mash.trug", &text).await;
    client.shown_at("mash.trug", 1).await;
    until_shown(&mut client, &[]).await;
    let all = hints(&mut client).await;
    assert!(!all.contains("EUR a kg") && all.contains("12 kg"), "{all}");
    assert!(is_planned_on(&mut client, "2027-01-01").await);

    // One setting after the other, each alone: the others stay.
    set(&mut client, json!({ "helpInMessage": true })).await;
    until_shown(&mut client, &[]).await;
    set(&mut client, json!({ "hints": { "mass": false } })).await;
    let some = hints(&mut client).await;
    assert!(
        !some.contains("EUR a kg") && !some.contains("12 kg"),
        "{some}"
    );
    set(&mut client, json!({ "today": "2027-02-02" })).await;
    assert!(is_planned_on(&mut client, "2027-02-02").await);
    set(&mut client, json!({ "severity": "note" })).await;
    until_shown(&mut client, &["syntax/spelling"]).await;
    client.until(helps).await;
    assert!(is_planned_on(&mut client, "2027-02-02").await);

    // What cannot be followed changes nothing.
    set(&mut client, json!({ "today": "soon", "severity": "loud" })).await;
    assert!(is_planned_on(&mut client, "2027-02-02").await);
    set(&mut client, json!({ "severity": "error" })).await;
    until_shown(&mut client, &[]).await;

    // And back, one by one.
    set(&mut client, json!({ "severity": null })).await;
    until_shown(&mut client, &["syntax/spelling"]).await;
    set(&mut client, json!({ "hints": { "cost": null } })).await;
    let some = hints(&mut client).await;
    assert!(
        some.contains("EUR a kg") && !some.contains("12 kg"),
        "{some}"
    );
    set(&mut client, json!({ "hints": null, "helpInMessage": null })).await;
    assert!(hints(&mut client).await.contains("12 kg"));
    client.until(|client| !helps(client)).await;
    assert!(is_planned_on(&mut client, "2027-02-02").await);
    set(&mut client, json!({ "today": null })).await;
    assert!(is_planned_on(&mut client, "2026-11-25").await);
    client.end().await;
}
