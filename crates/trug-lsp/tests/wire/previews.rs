//! Plans and analyses beside the text: the client is told when one has to be asked for anew, and only then.

use serde_json::{Value, json};

use crate::client::{Client, abilities, uri};
use crate::farms::{MASH, OVER, STORE};

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

#[tokio::test]
async fn a_text_that_is_used_reaches_the_pages_of_its_readers() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", MASH).await;
    client.open("store.trug", STORE).await;
    let plan = json!({ "command": "trug.plan", "arguments": [uri("mash.trug"), "mash"] });
    let page = client
        .ask("workspace/executeCommand", plan.clone())
        .await
        .unwrap();
    assert!(page.as_str().unwrap().contains("<html") && page.as_str().unwrap().contains("mash"));
    client.rest().await;
    client
        .replace("store.trug", 2, &STORE.replace("0.30", "0.40"))
        .await;
    let told = |client: &Client| {
        client.told.iter().any(|told| {
            told["method"] == "trug/planChanged" && told["params"]["uri"] == uri("mash.trug")
        })
    };
    client.until(told).await;
    client.replace("mash.trug", 2, OVER).await;
    let page = client.ask("workspace/executeCommand", plan).await.unwrap();
    assert!(page.as_str().unwrap().contains("sum/over"), "{page}");
    client.end().await;
}

/// How often the client was told of each text.
fn told(client: &Client) -> Vec<&Value> {
    let told = client.told.iter();
    told.filter(|told| told["method"] == "trug/planChanged")
        .map(|told| &told["params"])
        .collect()
}

async fn page(client: &mut Client, command: &str) -> String {
    let params = json!({ "command": command, "arguments": [uri("mash.trug"), "mash"] });
    let page = client.ask("workspace/executeCommand", params).await;
    page.unwrap().as_str().unwrap().to_owned()
}

#[tokio::test]
async fn a_page_that_is_shown_is_told_of_once_the_typing_stops() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", MASH).await;
    client.open("store.trug", STORE).await;
    client.replace("mash.trug", 2, OVER).await;
    client.rest().await;
    assert_eq!(told(&client), Vec::<&Value>::new(), "nothing is shown yet");
    for command in ["trug.plan", "trug.analyse"] {
        client.told.clear();
        page(&mut client, command).await;
        client.rest().await;
        assert_eq!(told(&client), Vec::<&Value>::new(), "nothing was edited");
        for version in 3..40 {
            let text = MASH.replace("20 kg", &format!("{version} kg"));
            client.replace("mash.trug", version, &text).await;
        }
        client.until(|client| !told(client).is_empty()).await;
        assert!(page(&mut client, command).await.contains("39 kg"));
        client.rest().await;
        assert_eq!(told(&client), [&json!({ "uri": uri("mash.trug") })]);
    }
    client.end().await;
}

#[tokio::test]
async fn a_page_follows_what_its_text_uses_when_that_is_closed() {
    let mut client = Client::ready(&FARM, abilities()).await;
    client.open("mash.trug", MASH).await;
    client.open("store.trug", STORE).await;
    page(&mut client, "trug.plan").await;
    client.close("mash.trug").await;
    client.rest().await;
    client.told.clear();
    client.replace("store.trug", 2, "").await;
    client.until(|client| !told(client).is_empty()).await;
    assert_eq!(told(&client), [&json!({ "uri": uri("mash.trug") })]);
    assert!(
        page(&mut client, "trug.plan")
            .await
            .contains("name/unknown")
    );
    client.end().await;
}
