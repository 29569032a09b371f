//! The bytes that come in, before the protocol's own reader sees them.
//!
//! That reader ends the session at the first message it cannot read. So every message is looked at here first, and one
//! that is none is replaced by a notification that [`crate::guard`] answers as the protocol asks. The session's end is
//! seen here too, in the order of the wire: after `exit` nothing is read on.

use serde::Deserialize;
use serde_json::{Value, json};
use tokio::io::{AsyncRead, AsyncReadExt, AsyncWrite, AsyncWriteExt};
use tower_lsp::jsonrpc::{Request, Response};

/// The notification that stands for what could not be read.
pub(crate) const UNREADABLE: &str = "trug/unreadable";

/// The longest message that is read, in bytes: a text of 10 MiB may be written six times as long in JSON.
const LONGEST: usize = 128 * 1024 * 1024;

/// Bytes of headers of one message.
const LONGEST_HEADERS: usize = 8 * 1024;

const READ_AT_ONCE: usize = 64 * 1024;

const LENGTH: &[u8] = b"content-length:";

/// How a session came to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The client had asked for it by `shutdown`.
    InOrder,
    /// The client went away without a word.
    Abandoned,
}

/// A message, or what else stands at the head of the input.
#[derive(Debug, PartialEq, Eq)]
enum Head {
    /// More bytes are needed to tell.
    Partial,
    /// Headers of this length, and the length of the message after them.
    Message { headers: usize, length: usize },
    /// This many bytes are no message.
    Rubbish(usize),
}

/// Passes on what can be read, until `exit`, the end of the input, or of the reader.
pub(crate) async fn sift(
    mut from: impl AsyncRead + Unpin,
    mut to: impl AsyncWrite + Unpin,
) -> Ended {
    let mut held: Vec<u8> = Vec::new();
    let mut had_shutdown = false;
    let mut was_rubbish = false;
    loop {
        match head(&held) {
            Head::Partial => {
                if more(&mut from, &mut held).await.is_none() {
                    break;
                }
            }
            Head::Rubbish(length) => {
                held.drain(..length);
                // A stretch that is no message is answered once, however it comes in.
                if !was_rubbish && !pass_on(&mut to, &unreadable(-32700, Value::Null)).await {
                    break;
                }
                was_rubbish = true;
            }
            Head::Message { headers, length } => {
                while held.len() < headers + length {
                    if more(&mut from, &mut held).await.is_none() {
                        return ended(had_shutdown);
                    }
                }
                was_rubbish = false;
                let rest = held.split_off(headers + length);
                let message = std::mem::replace(&mut held, rest);
                let body = message.get(headers..).unwrap_or_default();
                let (method, fine) = look(body);
                let is_passed = match fine {
                    Ok(()) => pass_on(&mut to, body).await,
                    Err(instead) => pass_on(&mut to, &instead).await,
                };
                had_shutdown |= method == "shutdown";
                if !is_passed || method == "exit" {
                    break;
                }
            }
        }
    }
    ended(had_shutdown)
}

fn ended(had_shutdown: bool) -> Ended {
    if had_shutdown {
        Ended::InOrder
    } else {
        Ended::Abandoned
    }
}

async fn more(from: &mut (impl AsyncRead + Unpin), held: &mut Vec<u8>) -> Option<()> {
    held.reserve(READ_AT_ONCE);
    let read = from.read_buf(held).await.ok()?;
    (0 < read).then_some(())
}

async fn pass_on(to: &mut (impl AsyncWrite + Unpin), body: &[u8]) -> bool {
    let headers = format!("Content-Length: {}\r\n\r\n", body.len());
    to.write_all(headers.as_bytes()).await.is_ok() && to.write_all(body).await.is_ok()
}

/// What stands at the head of these bytes.
fn head(bytes: &[u8]) -> Head {
    let searched = bytes.get(..LONGEST_HEADERS).unwrap_or(bytes);
    let Some((headers, after)) = split_headers(searched) else {
        return if searched.len() < bytes.len() {
            // Headers that end here begin no earlier than that, so what lies before is passed over in one step.
            let end = split_headers(bytes).map_or(bytes.len(), |(headers, _)| headers.len());
            Head::Rubbish(resume(bytes, end.saturating_sub(LONGEST_HEADERS)))
        } else {
            Head::Partial
        };
    };
    match length(headers) {
        Some(length) if length <= LONGEST => Head::Message {
            headers: after,
            length,
        },
        _ => Head::Rubbish(resume(bytes, 0)),
    }
}

/// The headers, and where what follows them begins. A bare newline is taken for a line's end.
fn split_headers(bytes: &[u8]) -> Option<(&[u8], usize)> {
    let ends = |mark: &[u8]| {
        let at = bytes
            .windows(mark.len())
            .position(|window| window == mark)?;
        Some((at, at + mark.len()))
    };
    let (end, after) = match (ends(b"\r\n\r\n"), ends(b"\n\n")) {
        (Some(one), Some(other)) => one.min(other),
        (one, other) => one.or(other)?,
    };
    Some((bytes.get(..end)?, after))
}

fn length(headers: &[u8]) -> Option<usize> {
    let headers = std::str::from_utf8(headers).ok()?;
    headers.lines().find_map(|line| {
        let (name, value) = line.split_once(':')?;
        let is_length = name.trim().eq_ignore_ascii_case("content-length");
        is_length.then(|| value.trim().parse().ok())?
    })
}

/// How many bytes to pass over: up to where another message may begin, and at least one; none begins before `from`.
fn resume(bytes: &[u8], from: usize) -> usize {
    let from = from.max(1);
    let is_length = |window: &[u8]| window.eq_ignore_ascii_case(LENGTH);
    let mut windows = bytes.windows(LENGTH.len()).skip(from);
    windows.position(is_length).map_or_else(
        || bytes.len().saturating_sub(LENGTH.len()).max(from),
        |at| from + at,
    )
}

/// The method of a message, and what is passed on in its place where it is none.
fn look(body: &[u8]) -> (String, Result<(), Vec<u8>>) {
    let is_answer = || serde_json::from_slice::<Response>(body).is_ok();
    match serde_json::from_slice::<Request>(body) {
        // What is a request and an answer too would be taken for an answer, and whoever asked would wait for ever.
        Ok(request) if request.id().is_none() || request.method().is_empty() || !is_answer() => {
            return (request.method().to_owned(), Ok(()));
        }
        Err(_) if is_answer() => return (String::new(), Ok(())),
        Ok(_) | Err(_) => {}
    }
    let instead = match serde_json::from_slice::<Value>(body) {
        Err(_) => unreadable(-32700, Value::Null),
        Ok(value) => unreadable(-32600, id(&value)),
    };
    (String::new(), Err(instead))
}

/// The id of what looks like a request, so that whoever waits for an answer gets one.
fn id(value: &Value) -> Value {
    match value.get("id") {
        Some(id) if value.get("method").is_some() && (id.is_string() || id.is_i64()) => id.clone(),
        _ => Value::Null,
    }
}

fn unreadable(code: i64, id: Value) -> Vec<u8> {
    let params = json!({ "code": code, "id": id });
    json!({ "jsonrpc": "2.0", "method": UNREADABLE, "params": params })
        .to_string()
        .into_bytes()
}

/// What [`UNREADABLE`] says: the code to answer with, and the id.
#[derive(Debug, Deserialize)]
pub(crate) struct Unreadable {
    pub(crate) code: i64,
    #[serde(default)]
    pub(crate) id: tower_lsp::jsonrpc::Id,
}

#[cfg(test)]
mod tests {
    use super::*;

    async fn sifted(input: &[u8]) -> (Ended, String) {
        let mut out = Vec::new();
        let ended = sift(input, &mut out).await;
        (ended, String::from_utf8_lossy(&out).into_owned())
    }

    fn framed(body: &str) -> String {
        format!("Content-Length: {}\r\n\r\n{body}", body.len())
    }

    #[tokio::test]
    async fn messages_pass_as_they_are() {
        let one = framed(r#"{"jsonrpc":"2.0","method":"x","id":1}"#);
        let two = framed(r#"{"jsonrpc":"2.0","id":7,"result":null}"#);
        let both = format!("{one}{two}");
        assert_eq!(sifted(both.as_bytes()).await, (Ended::Abandoned, both));
    }

    #[tokio::test]
    async fn headers_may_be_written_otherwise() {
        let body = r#"{"jsonrpc":"2.0","method":"x"}"#;
        let input = format!("content-LENGTH:{}\nContent-Type: any\n\n{body}", body.len());
        assert_eq!(sifted(input.as_bytes()).await.1, framed(body));
    }

    #[tokio::test]
    async fn what_is_no_message_is_replaced_and_the_next_is_read() {
        let next = framed(r#"{"jsonrpc":"2.0","method":"x"}"#);
        let wrong = [
            "Content-Length: 99999999999999999999999\r\n\r\n{}".to_owned(),
            "Content-Length: 999999999999\r\n\r\n{}".to_owned(),
            "Content-Length: -1\r\n\r\n".to_owned(),
            "\0\0\0 hello \r\n\r\n".to_owned(),
            framed("{\"jsonrpc\":"),
            framed(&"[".repeat(9000)),
            "x".repeat(20_000),
        ];
        for wrong in wrong {
            let (_, out) = sifted(format!("{wrong}{next}").as_bytes()).await;
            assert_eq!(
                out.matches(r#""code":-32700"#).count(),
                1,
                "{wrong:.60} gave {out}"
            );
            assert!(out.ends_with(&next), "{wrong:.60} gave {out}");
        }
        let (_, out) = sifted(framed(r#"{"id":"a","method":5}"#).as_bytes()).await;
        assert!(
            out.contains("-32600") && out.contains(r#""id":"a""#),
            "{out}"
        );
        let bytes = b"Content-Length: 2\r\n\r\n\xff\xfe";
        assert!(sifted(bytes).await.1.contains("-32700"));
    }

    #[tokio::test]
    async fn a_request_that_is_an_answer_too_is_neither() {
        for answer in [r#""result":null"#, r#""error":{"code":1,"message":"x"}"#] {
            let body = format!(r#"{{"jsonrpc":"2.0","method":"x","id":7,{answer}}}"#);
            let (_, out) = sifted(framed(&body).as_bytes()).await;
            assert!(out.contains("-32600") && out.contains(r#""id":7"#), "{out}");
        }
    }

    #[tokio::test]
    async fn nothing_is_read_after_exit() {
        let shutdown = framed(r#"{"jsonrpc":"2.0","method":"shutdown","id":1}"#);
        let exit = framed(r#"{"jsonrpc":"2.0","method":"exit"}"#);
        let all = format!("{shutdown}{exit}");
        let input = format!("{all}{shutdown}");
        assert_eq!(sifted(input.as_bytes()).await, (Ended::InOrder, all));
        assert_eq!(sifted(exit.as_bytes()).await, (Ended::Abandoned, exit));
    }
}
