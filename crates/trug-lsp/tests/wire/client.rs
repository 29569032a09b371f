//! A client of a few lines: frames messages, answers what the server asks, and knows what it was shown.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use tokio::io::{AsyncReadExt, AsyncWriteExt, DuplexStream, ReadHalf, WriteHalf};
use tokio::task::JoinHandle;
use tokio::time::timeout;
use trug_lsp::{Ended, serve_on};

use crate::memory::{Memory, ROOT, Shared};
use crate::spoken;

/// Nothing a test waits for takes this long.
pub(crate) const PATIENCE: Duration = Duration::from_secs(20);

/// A client and its server.
pub(crate) struct Client {
    pub(crate) to_server: WriteHalf<DuplexStream>,
    from_server: ReadHalf<DuplexStream>,
    held: Vec<u8>,
    pub(crate) serving: JoinHandle<std::io::Result<Ended>>,
    pub(crate) world: Arc<Memory>,
    last_id: i64,
    /// The method of every request, by its id.
    asked: BTreeMap<i64, String>,
    /// What the server asked or told, but findings, in its order.
    pub(crate) told: Vec<Value>,
    /// The findings of each text as last shown, with their version.
    pub(crate) shown: BTreeMap<String, (Vec<Value>, Option<i64>)>,
    /// Every version shown, by text, in the order of the wire.
    pub(crate) versions: Vec<(String, i64)>,
    /// Questions of the server are answered.
    pub(crate) answers: bool,
    /// What is answered to `workspace/configuration`.
    pub(crate) settings: Value,
}

/// The address of a text.
pub(crate) fn uri(name: &str) -> String {
    format!("file://{ROOT}/{name}")
}

/// What a full client can do, without pulling findings.
pub(crate) fn abilities() -> Value {
    json!({
        "general": { "positionEncodings": ["utf-16"] },
        "window": { "workDoneProgress": true },
        "workspace": {
            "configuration": true,
            "didChangeWatchedFiles": { "dynamicRegistration": true },
            "inlayHint": { "refreshSupport": true },
            "diagnostics": { "refreshSupport": true },
            "workspaceEdit": { "documentChanges": true },
        },
        "textDocument": {
            "publishDiagnostics": {
                "relatedInformation": true, "tagSupport": { "valueSet": [1] },
                "codeDescriptionSupport": true, "dataSupport": true,
            },
            "completion": { "completionItem": { "snippetSupport": true } },
        },
    })
}

impl Client {
    /// A server that was told nothing yet.
    pub(crate) fn silent(world: Memory) -> Client {
        let world = Arc::new(world);
        let (own, other) = tokio::io::duplex(1 << 20);
        let (input, output) = tokio::io::split(other);
        let serving = tokio::spawn(serve_on(
            input,
            output,
            Arc::new(Shared(Arc::clone(&world))),
        ));
        let (from_server, to_server) = tokio::io::split(own);
        Client {
            to_server,
            from_server,
            held: Vec::new(),
            serving,
            world,
            last_id: 0,
            asked: BTreeMap::new(),
            told: Vec::new(),
            shown: BTreeMap::new(),
            versions: Vec::new(),
            answers: true,
            settings: Value::Null,
        }
    }

    /// A server that is ready, with the root as its folder.
    pub(crate) async fn ready(texts: &[(&str, &str)], abilities: Value) -> Client {
        let mut client = Client::silent(Memory::new(texts));
        client.initialize(abilities, json!({})).await;
        client
    }

    /// Says hello; gives the server's answer.
    pub(crate) async fn initialize(&mut self, abilities: Value, more: Value) -> Value {
        let mut params = json!({
            "processId": null,
            "capabilities": abilities,
            "workspaceFolders": [{ "uri": format!("file://{ROOT}"), "name": "barn" }],
        });
        for (name, value) in more.as_object().unwrap() {
            params[name] = value.clone();
        }
        let answer = self.ask("initialize", params).await.unwrap();
        self.tell("initialized", json!({})).await;
        answer
    }

    /// Sends bytes as they are.
    pub(crate) async fn send_bytes(&mut self, bytes: &[u8]) {
        self.to_server.write_all(bytes).await.unwrap();
    }

    /// Sends a message.
    pub(crate) async fn send(&mut self, message: Value) {
        let body = message.to_string();
        let framed = format!("Content-Length: {}\r\n\r\n{body}", body.len());
        self.send_bytes(framed.as_bytes()).await;
    }

    /// Sends a notification.
    pub(crate) async fn tell(&mut self, method: &str, params: Value) {
        self.send(json!({ "jsonrpc": "2.0", "method": method, "params": params }))
            .await;
    }

    /// Sends a request; gives its id.
    pub(crate) async fn request(&mut self, method: &str, params: Value) -> i64 {
        self.last_id += 1;
        let id = self.last_id;
        self.asked.insert(id, method.to_owned());
        self.send(json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }))
            .await;
        id
    }

    /// Sends a request and waits for its answer: the result, or the error.
    pub(crate) async fn ask(&mut self, method: &str, params: Value) -> Result<Value, Value> {
        let id = self.request(method, params).await;
        self.answer(id).await
    }

    /// The same, with the answer in the protocol's own type, which must hold all of it.
    pub(crate) async fn ask_typed<T: Serialize + DeserializeOwned>(
        &mut self,
        method: &str,
        params: Value,
    ) -> T {
        let answer = self.ask(method, params).await.unwrap();
        let typed: T = serde_json::from_value(answer.clone()).unwrap();
        assert_eq!(serde_json::to_value(&typed).unwrap(), answer, "{method}");
        typed
    }

    /// Waits for the answer to a request.
    pub(crate) async fn answer(&mut self, id: i64) -> Result<Value, Value> {
        loop {
            let message = self.message().await;
            if message.get("method").is_none() && message["id"] == json!(id) {
                return match message.get("error") {
                    Some(error) => Err(error.clone()),
                    None => Ok(message["result"].clone()),
                };
            }
        }
    }

    /// The next message; the server's questions are answered, and what it shows is noted.
    pub(crate) async fn message(&mut self) -> Value {
        let message = timeout(PATIENCE, self.read())
            .await
            .expect("the server is silent")
            .expect("the server is gone");
        self.note(&message).await;
        message
    }

    /// Waits until the server has been silent for a while.
    pub(crate) async fn rest(&mut self) {
        while let Ok(Some(message)) = timeout(Duration::from_millis(400), self.read()).await {
            self.note(&message).await;
        }
    }

    /// Waits until the findings of a text are shown for its version.
    pub(crate) async fn shown_at(&mut self, name: &str, version: i64) -> Vec<Value> {
        let uri = uri(name);
        loop {
            if let Some((shown, Some(known))) = self.shown.get(&uri)
                && *known == version
            {
                return shown.clone();
            }
            self.message().await;
        }
    }

    /// Waits until something that was shown is as wanted.
    pub(crate) async fn until(&mut self, wanted: impl Fn(&Client) -> bool) {
        while !wanted(self) {
            self.message().await;
        }
    }

    /// The codes shown of a text.
    pub(crate) fn codes(&self, name: &str) -> Vec<String> {
        let shown = self
            .shown
            .get(&uri(name))
            .map(|(shown, _)| shown.as_slice())
            .unwrap_or_default();
        shown
            .iter()
            .map(|one| one["code"].as_str().unwrap().to_owned())
            .collect()
    }

    /// Opens a text.
    pub(crate) async fn open(&mut self, name: &str, text: &str) {
        let document =
            json!({ "uri": uri(name), "languageId": "trug", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }))
            .await;
    }

    /// Replaces a text.
    pub(crate) async fn replace(&mut self, name: &str, version: i64, text: &str) {
        self.change(name, version, json!([{ "text": text }])).await;
    }

    /// Changes a text.
    pub(crate) async fn change(&mut self, name: &str, version: i64, changes: Value) {
        let document = json!({ "uri": uri(name), "version": version });
        let params = json!({ "textDocument": document, "contentChanges": changes });
        self.tell("textDocument/didChange", params).await;
    }

    /// Closes a text.
    pub(crate) async fn close(&mut self, name: &str) {
        self.tell(
            "textDocument/didClose",
            json!({ "textDocument": { "uri": uri(name) } }),
        )
        .await;
    }

    /// Ends the session as a client should.
    pub(crate) async fn end(mut self) -> Ended {
        self.ask("shutdown", Value::Null).await.unwrap();
        self.tell("exit", Value::Null).await;
        timeout(PATIENCE, self.serving)
            .await
            .unwrap()
            .unwrap()
            .unwrap()
    }

    async fn read(&mut self) -> Option<Value> {
        loop {
            if let Some(end) = self
                .held
                .windows(4)
                .position(|window| window == b"\r\n\r\n")
            {
                let headers = std::str::from_utf8(&self.held[..end]).unwrap();
                let length: usize = headers
                    .strip_prefix("Content-Length: ")
                    .unwrap()
                    .parse()
                    .unwrap();
                if end + 4 + length <= self.held.len() {
                    let rest = self.held.split_off(end + 4 + length);
                    let message = std::mem::replace(&mut self.held, rest);
                    return Some(serde_json::from_slice(&message[end + 4..]).unwrap());
                }
            }
            if self.from_server.read_buf(&mut self.held).await.unwrap_or(0) == 0 {
                return None;
            }
        }
    }

    async fn note(&mut self, message: &Value) {
        let Some(method) = message.get("method").and_then(Value::as_str) else {
            let asked = message["id"].as_i64().and_then(|id| self.asked.get(&id));
            if let (Some(method), Some(result)) = (asked, message.get("result")) {
                spoken::hold_answer(method, result);
            }
            return;
        };
        let params = &message["params"];
        spoken::hold_told(method, params);
        if method == "textDocument/publishDiagnostics" {
            checked::<tower_lsp::lsp_types::PublishDiagnosticsParams>(params);
            let uri = params["uri"].as_str().unwrap().to_owned();
            let version = params["version"].as_i64();
            self.versions
                .extend(version.map(|version| (uri.clone(), version)));
            let shown = params["diagnostics"].as_array().unwrap().clone();
            self.shown.insert(uri, (shown, version));
            return;
        }
        self.told.push(message.clone());
        if let Some(id) = message.get("id").filter(|_| self.answers) {
            let result = match method {
                "workspace/configuration" => json!([self.settings]),
                _ => Value::Null,
            };
            let id = id.clone();
            self.send(json!({ "jsonrpc": "2.0", "id": id, "result": result }))
                .await;
        }
    }
}

/// Holds a value to a type of the protocol: nothing of it may be unknown to that.
pub(crate) fn checked<T: Serialize + DeserializeOwned>(value: &Value) -> T {
    let typed: T = serde_json::from_value(value.clone()).unwrap();
    assert_eq!(&serde_json::to_value(&typed).unwrap(), value);
    typed
}
