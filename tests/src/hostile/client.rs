//! A client of a few lines: it frames messages, answers what the server asks, and waits for answers.

use std::sync::{Arc, LazyLock};
use std::time::Duration;

use serde_json::{Value, json};
use tokio::io::{AsyncReadExt, AsyncWriteExt, DuplexStream, ReadHalf, WriteHalf};
use tokio::runtime::{Builder, Runtime};
use tokio::task::JoinHandle;
use tokio::time::timeout;
use trug_lsp::{Ended, serve_on};

use super::disk::{Disk, ROOT};

/// No answer takes this long.
const PATIENCE: Duration = Duration::from_secs(20);
/// Bytes on the way in either direction.
const HELD: usize = 1 << 20;
/// The code of an answer that tells of a mistake of the server's own.
const INTERNAL: i64 = -32603;

static RUNTIME: LazyLock<Option<Runtime>> = LazyLock::new(|| {
    Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .ok()
});

/// Runs a session to its end.
pub(super) fn run(session: impl Future<Output = ()>) {
    if let Some(runtime) = &*RUNTIME {
        runtime.block_on(session);
    }
}

/// A client and its server.
pub(super) struct Client {
    to_server: Option<WriteHalf<DuplexStream>>,
    from_server: ReadHalf<DuplexStream>,
    held: Vec<u8>,
    serving: JoinHandle<std::io::Result<Ended>>,
    last_id: i64,
    /// Answers that nobody has waited for yet.
    answers: Vec<Value>,
}

/// The address of a text.
pub(super) fn uri(name: &str) -> String {
    format!("file://{ROOT}/{name}")
}

impl Client {
    pub(super) fn new(disk: &Disk) -> Client {
        let (own, other) = tokio::io::duplex(HELD);
        let (input, output) = tokio::io::split(other);
        let serving = tokio::spawn(serve_on(input, output, Arc::new(disk.clone())));
        let (from_server, to_server) = tokio::io::split(own);
        Client {
            to_server: Some(to_server),
            from_server,
            held: Vec::new(),
            serving,
            last_id: 1_000_000,
            answers: Vec::new(),
        }
    }

    /// Sends bytes as they are; a server that is gone takes none.
    pub(super) async fn send_bytes(&mut self, bytes: &[u8]) {
        if let Some(to_server) = &mut self.to_server {
            drop(to_server.write_all(bytes).await);
        }
    }

    /// Sends what is between the headers of one message and those of the next.
    pub(super) async fn send_body(&mut self, body: &str) {
        let framed = format!("Content-Length: {}\r\n\r\n{body}", body.len());
        self.send_bytes(framed.as_bytes()).await;
    }

    pub(super) async fn tell(&mut self, method: &str, params: Value) {
        let message = json!({ "jsonrpc": "2.0", "method": method, "params": params });
        self.send_body(&message.to_string()).await;
    }

    /// Sends a request; gives its id.
    pub(super) async fn request(&mut self, method: &str, params: Value) -> Value {
        self.last_id += 1;
        let id = json!(self.last_id);
        let message = json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params });
        self.send_body(&message.to_string()).await;
        id
    }

    /// Sends a request and waits for its answer: all of it.
    pub(super) async fn ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.request(method, params).await;
        let Some(answer) = self.answer(&id).await else {
            panic!("the server is gone before it has answered {method}");
        };
        answer
    }

    /// Waits for the answer to a request; none where the server has gone.
    pub(super) async fn answer(&mut self, id: &Value) -> Option<Value> {
        let known = self.answers.iter().position(|answer| answer["id"] == *id);
        if let Some(rank) = known {
            return Some(self.answers.swap_remove(rank));
        }
        loop {
            let message = self.message().await?;
            if message.get("method").is_none() && message["id"] == *id {
                return Some(message);
            }
            if message.get("method").is_none() {
                self.answers.push(message);
            }
        }
    }

    /// The next message, or that the server has gone. What it asks is answered.
    pub(super) async fn message(&mut self) -> Option<Value> {
        let Ok(message) = timeout(PATIENCE, self.read()).await else {
            panic!(
                "the server is silent, with {:?} said",
                String::from_utf8_lossy(&self.held)
            );
        };
        let message = message?;
        assert!(
            message["error"]["code"] != json!(INTERNAL),
            "the server says it is wrong: {message}"
        );
        if let (Some(id), Some(_)) = (message.get("id"), message.get("method")) {
            let result = match message["params"]["items"].as_array() {
                Some(items) => json!(vec![Value::Null; items.len()]),
                None => Value::Null,
            };
            self.send_body(&json!({ "jsonrpc": "2.0", "id": id, "result": result }).to_string())
                .await;
        }
        Some(message)
    }

    /// Closes the wire and waits for the server to end.
    pub(super) async fn hang_up(mut self) -> Ended {
        if let Some(mut to_server) = self.to_server.take() {
            drop(to_server.shutdown().await);
        }
        let Ok(rest) = timeout(PATIENCE, self.ended()).await else {
            panic!("the server does not end");
        };
        rest
    }

    async fn ended(&mut self) -> Ended {
        let mut rest = Vec::new();
        let (_, ended) = tokio::join!(self.from_server.read_to_end(&mut rest), &mut self.serving);
        match ended {
            Ok(Ok(ended)) => ended,
            wrong => panic!("the server has ended wrongly: {wrong:?}"),
        }
    }

    async fn read(&mut self) -> Option<Value> {
        loop {
            if let Some(end) = self
                .held
                .windows(4)
                .position(|window| window == b"\r\n\r\n")
            {
                let headers = String::from_utf8_lossy(&self.held[..end]).into_owned();
                let length = headers.strip_prefix("Content-Length: ");
                let Some(length) = length.and_then(|length| length.parse::<usize>().ok()) else {
                    panic!("the server says {headers:?} above a message");
                };
                if end + 4 + length <= self.held.len() {
                    let rest = self.held.split_off(end + 4 + length);
                    let message = std::mem::replace(&mut self.held, rest);
                    let read = serde_json::from_slice(&message[end + 4..]);
                    return Some(
                        read.unwrap_or_else(|why| panic!("the server says no JSON: {why}")),
                    );
                }
            }
            if self.from_server.read_buf(&mut self.held).await.unwrap_or(0) == 0 {
                return None;
            }
        }
    }
}
