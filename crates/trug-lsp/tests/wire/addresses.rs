//! Addresses without a file: whatever the server links to is answered when it is asked for.

use serde_json::{Value, json};
use tower_lsp::lsp_types::DocumentLink;
use trug_report::catalogue;

use crate::client::{Client, abilities, uri};

async fn content(client: &mut Client, address: &str) -> Value {
    let params = json!({ "uri": address });
    let answer = client.ask("workspace/textDocumentContent", params).await;
    answer.unwrap()
}

#[tokio::test]
async fn every_code_has_an_address_and_a_command_with_the_same_page() {
    let mut client = Client::ready(&[], abilities()).await;
    for code in catalogue::codes() {
        let answer = content(&mut client, &format!("trug:/why/{}.md", code.name)).await;
        assert_eq!(answer, json!({ "text": code.page }));
        let params = json!({ "command": "trug.why", "arguments": [code.name] });
        let page = client.ask("workspace/executeCommand", params).await;
        assert_eq!(page.unwrap(), code.page);
    }
    client.end().await;
}

#[tokio::test]
async fn the_link_of_a_finding_leads_to_the_page_of_its_code() {
    let mut client = Client::ready(&[], abilities()).await;
    let mut followed = 0;
    for code in catalogue::codes() {
        // The first text of a page's own example of what is wrong.
        let (_, rest) = code.page.split_once("```trug wrong\n").unwrap();
        let (example, _) = rest.split_once("```").unwrap();
        let (text, _) = example.split_once("\n//- ").unwrap_or((example, ""));
        let name = format!("{}.trug", code.name.replace('/', "-"));
        client.open(&name, text).await;
        for found in client.shown_at(&name, 1).await {
            let address = found["codeDescription"]["href"]
                .as_str()
                .unwrap()
                .to_owned();
            let answer = content(&mut client, &address).await;
            let head = format!("# {}\n", found["code"].as_str().unwrap());
            let page = answer["text"].as_str().unwrap();
            assert!(page.starts_with(&head), "{address} leads to {page}");
            followed += 1;
        }
        client.close(&name).await;
    }
    assert!(60 < followed, "{followed}");
    client.end().await;
}

#[tokio::test]
async fn the_link_to_a_book_leads_to_it_and_no_other_address_to_anything() {
    let text = "use book poultry\n";
    let mut client = Client::ready(&[("mash.trug", text)], abilities()).await;
    client.open("mash.trug", text).await;
    let document = json!({ "textDocument": { "uri": uri("mash.trug") } });
    let links: Vec<DocumentLink> = client
        .ask_typed("textDocument/documentLink", document)
        .await;
    let address = links[0].target.as_ref().unwrap().as_str();
    let answer = content(&mut client, address).await;
    assert!(answer["text"].as_str().unwrap().contains("targets"));
    for nowhere in [
        "trug:/why/sum/none.md",
        "trug:/why/sum/over",
        "trug:/why/../book/poultry.trug",
        "trug:/book/",
        "trug:why",
        "file:///barn/mash.trug",
        "https://example.org/why/sum/over.md",
    ] {
        let answer = content(&mut client, nowhere).await;
        assert!(
            answer.is_null() || nowhere.contains(".."),
            "{nowhere}: {answer}"
        );
    }
    let refused = client
        .ask(
            "workspace/textDocumentContent",
            json!({ "uri": "no address" }),
        )
        .await;
    assert_eq!(refused.unwrap_err()["code"], -32602);
    client.end().await;
}
