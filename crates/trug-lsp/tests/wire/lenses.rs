//! Lenses: where they stand is answered at once, what each says when it is asked for.

use serde_json::json;
use tower_lsp::lsp_types::{CodeLens, InitializeResult, Location, Position};

use crate::client::{Client, abilities, checked, uri};
use crate::farms::{MASH, STORE};
use crate::memory::Memory;

const FARM: [(&str, &str); 2] = [("store.trug", STORE), ("mash.trug", MASH)];

#[tokio::test]
async fn what_it_says_is_worked_out_when_it_is_asked_for() {
    let twice = MASH.to_owned() + "\nration more\n  for mixing\n  mash 100 %\n";
    let mut client = Client::silent(Memory::new(&FARM));
    let hello: InitializeResult = checked(&client.initialize(abilities(), json!({})).await);
    let provider = hello.capabilities.code_lens_provider.unwrap();
    assert_eq!(provider.resolve_provider, Some(true));
    client.open("mash.trug", &twice).await;
    let document = json!({ "textDocument": { "uri": uri("mash.trug") } });
    let lenses: Vec<CodeLens> = client.ask_typed("textDocument/codeLens", document).await;
    let mut said = Vec::new();
    for lens in &lenses {
        let told: CodeLens = client.ask_typed("codeLens/resolve", json!(lens)).await;
        assert_eq!((told.range, &told.data), (lens.range, &lens.data));
        let command = told.command.unwrap();
        assert!(!command.title.is_empty());
        assert_eq!(
            command.arguments.as_ref().unwrap()[0],
            uri("mash.trug").as_str()
        );
        said.push((told.range.start.line, command));
    }
    let titles: Vec<(u32, &str)> = said
        .iter()
        .map(|(line, command)| (*line, command.title.as_str()))
        .collect();
    assert_eq!(
        titles,
        [
            (2, "plan"),
            (2, "analysis"),
            (2, "0.26 EUR a kg"),
            (2, "used by 1 ration"),
            (8, "plan"),
            (8, "analysis"),
            (8, "0.26 EUR a kg"),
            (8, "used nowhere"),
        ]
    );
    // A lens that counts uses leads to them; the others name their ration.
    let arguments = |rank: usize| said[rank].1.arguments.clone().unwrap();
    let places: Vec<Location> = serde_json::from_value(arguments(3)[2].clone()).unwrap();
    assert_eq!(places.len(), 1, "{places:?}");
    assert_eq!(places[0].range.start, Position::new(10, 2));
    assert_eq!(arguments(5)[1], "more");
    assert_eq!(arguments(7)[2], json!([]));
    // A lens is asked about after its ration is gone, or is another server's.
    client.replace("mash.trug", 2, "").await;
    let gone = client.ask("codeLens/resolve", json!(lenses[1])).await;
    assert_eq!(gone.unwrap_err()["code"], -32801);
    let mut foreign = json!(lenses[1]);
    foreign["data"] = json!(5);
    let refused = client.ask("codeLens/resolve", foreign).await;
    assert_eq!(refused.unwrap_err()["code"], -32602);
    client.end().await;
}
