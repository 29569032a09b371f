//! `trug lsp` as an editor starts it: a process, its two streams, and how it ends.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::farm::{Farm, TRUG};

const STORE: &str = "ingredient maize\ningredient bran\n";
const OVER: &str =
    "use \"store.trug\"\n\nration mash\n  for mixing\n  batch 20 kg\n  maize 61 %\n  bran 40 %\n";

/// Nothing takes this long.
const PATIENCE: Duration = Duration::from_secs(20);

struct Editor {
    server: Child,
    input: Option<ChildStdin>,
    output: BufReader<ChildStdout>,
}

impl Editor {
    fn start(farm: &Farm) -> Editor {
        let mut server = farm
            .command(&["lsp"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        Editor {
            input: server.stdin.take(),
            output: BufReader::new(server.stdout.take().unwrap()),
            server,
        }
    }

    fn send(&mut self, message: &Value) {
        let body = message.to_string();
        let input = self.input.as_mut().unwrap();
        write!(input, "Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
        input.flush().unwrap();
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    fn ask(&mut self, method: &str, params: Value) -> Value {
        self.send(&json!({ "jsonrpc": "2.0", "id": 1, "method": method, "params": params }));
        loop {
            let message = self.read();
            if message.get("method").is_none() {
                return message["result"].clone();
            }
        }
    }

    fn read(&mut self) -> Value {
        let mut header = String::new();
        self.output.read_line(&mut header).unwrap();
        let length = header.trim().strip_prefix("Content-Length: ").unwrap();
        let mut body = vec![0; length.parse::<usize>().unwrap() + 2];
        self.output.read_exact(&mut body).unwrap();
        serde_json::from_slice(&body[2..]).unwrap()
    }

    fn hello(&mut self, farm: &Farm, process: Option<u32>) -> Value {
        let folder = format!("file://{}", farm.path("").display());
        let answer = self.ask(
            "initialize",
            json!({ "processId": process, "capabilities": {}, "rootUri": folder.trim_end_matches('/') }),
        );
        self.tell("initialized", json!({}));
        answer
    }

    fn shown(&mut self, name: &str) -> Vec<String> {
        loop {
            let message = self.read();
            let uri = message["params"]["uri"].as_str().unwrap_or_default();
            if message["method"] == "textDocument/publishDiagnostics" && uri.ends_with(name) {
                let shown = message["params"]["diagnostics"].as_array().unwrap().iter();
                return shown
                    .map(|one| one["code"].as_str().unwrap().to_owned())
                    .collect();
            }
        }
    }

    /// Waits for the end; gives the exit code and how long it took.
    fn ended(&mut self) -> (i32, Duration) {
        let start = Instant::now();
        loop {
            if let Some(status) = self.server.try_wait().unwrap() {
                return (status.code().unwrap(), start.elapsed());
            }
            assert!(start.elapsed() < PATIENCE, "the server goes on");
            std::thread::sleep(Duration::from_millis(2));
        }
    }
}

impl Drop for Editor {
    fn drop(&mut self) {
        drop(self.server.kill());
        drop(self.server.wait());
    }
}

fn farm() -> Farm {
    Farm::new(&[("store.trug", STORE), ("mash.trug", OVER)])
}

#[test]
fn an_editor_is_shown_what_is_found_on_the_disk_and_in_what_is_open() {
    let farm = farm();
    let mut editor = Editor::start(&farm);
    let hello = editor.hello(&farm, None);
    assert_eq!(hello["serverInfo"]["name"], "trug");
    assert_eq!(editor.shown("mash.trug"), ["sum/over"]);
    let uri = format!("file://{}", farm.path("mash.trug").display());
    let text = OVER.replace("61", "60");
    let document = json!({ "uri": uri, "languageId": "trug", "version": 1, "text": text });
    editor.tell("textDocument/didOpen", json!({ "textDocument": document }));
    assert_eq!(editor.shown("mash.trug"), Vec::<String>::new());
}

#[test]
fn it_ends_within_moments_of_exit_though_the_input_stays_open() {
    let farm = farm();
    let mut editor = Editor::start(&farm);
    editor.hello(&farm, Some(std::process::id()));
    assert_eq!(editor.ask("shutdown", Value::Null), Value::Null);
    editor.tell("exit", Value::Null);
    let (code, took) = editor.ended();
    assert_eq!(code, 0);
    assert!(took < Duration::from_secs(1), "{took:?}");
    let mut editor = Editor::start(&farm);
    editor.hello(&farm, None);
    editor.tell("exit", Value::Null);
    assert_eq!(editor.ended().0, 1);
}

#[test]
fn it_ends_with_its_input() {
    let farm = farm();
    let mut editor = Editor::start(&farm);
    editor.hello(&farm, None);
    editor.input = None;
    assert_eq!(editor.ended().0, 1);
    let mut editor = Editor::start(&farm);
    editor.input = None;
    assert_eq!(editor.ended().0, 1);
}

#[test]
fn it_ends_when_the_process_of_the_editor_is_gone() {
    let farm = farm();
    let mut other = Command::new("sleep").arg("100").spawn().unwrap();
    let mut editor = Editor::start(&farm);
    editor.hello(&farm, Some(other.id()));
    other.kill().unwrap();
    assert_eq!(editor.ended().0, 1);
    other.wait().unwrap();
}

#[test]
fn a_file_written_by_another_program_is_noticed() {
    let farm = farm();
    let mut editor = Editor::start(&farm);
    editor.hello(&farm, None);
    assert_eq!(editor.shown("mash.trug"), ["sum/over"]);
    farm.put("mash.trug", OVER.replace("61", "60"));
    assert_eq!(editor.shown("mash.trug"), Vec::<String>::new());
}

#[cfg(target_os = "linux")]
#[test]
fn by_hand_it_says_what_it_is() {
    let output = Command::new("script")
        .args([
            "--quiet",
            "--return",
            "--command",
            &format!("{TRUG} lsp"),
            "/dev/null",
        ])
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("this is the language server"), "{said}");
    assert_eq!(output.status.code(), Some(2));
}
