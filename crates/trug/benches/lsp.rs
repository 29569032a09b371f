//! The language server as an editor feels it: the built binary over its two streams.
//!
//! Prints how long it takes from an edit to fresh findings, and to a completion and a hover, in a farm of 30 texts and
//! in a repository of 10,000; how long reading that takes, and how much memory; and what 100,000 edits do to it.
#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a bench that cannot set itself up has failed, and its results are printed"
)]

use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// Texts of the repository, edits of each measurement, and edits of the soak.
const TEXTS: usize = 10_000;
const EDITS: usize = 500;
const SOAK: usize = 100_000;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let is_asked = |name: &str| {
        let named: Vec<&String> = arguments
            .iter()
            .skip(1)
            .filter(|one| !one.starts_with('-'))
            .collect();
        named.is_empty() || named.iter().any(|one| *one == name)
    };
    if is_asked("farm") {
        measure("a farm of 30 texts, a text of 1,000 lines", 29, 0);
    }
    if is_asked("repository") {
        measure(
            "a repository of 10,000 texts, a text of 1,000 lines",
            TEXTS - 1,
            0,
        );
    }
    if is_asked("soak") {
        measure("a farm of 30 texts, 100,000 edits", 29, SOAK);
    }
}

fn measure(what: &str, others: usize, soak: usize) {
    let folder = tempfile::tempdir().unwrap();
    let text = lay_out(folder.path(), others);
    println!("{what}");
    let start = Instant::now();
    let mut editor = Editor::start(folder.path());
    editor.until(|message| message["params"]["value"]["kind"] == "end");
    println!("  read within {}", shown(start.elapsed()));
    editor.open("long.trug", &text);
    editor.rest();
    println!("  memory when all is judged {} MB", editor.memory());
    if 0 < soak {
        editor.soak(&text, soak);
        return;
    }
    let mut edits = Vec::new();
    let mut completions = Vec::new();
    let mut hovers = Vec::new();
    let mut lenses = Vec::new();
    let mut resolved = Vec::new();
    for version in 2..EDITS as i64 + 2 {
        // Now one line is too much, now it is not; an edit comes when the findings of the last are there.
        edits.push(editor.edit(&text, version));
        let at = json!({ "line": 20 + version % 900, "character": 4 });
        completions.push(editor.timed("textDocument/completion", &at));
        hovers.push(editor.timed("textDocument/hover", &at));
        let (places, each) = editor.lenses(version);
        lenses.push(places);
        resolved.push(each);
    }
    print("edit to findings", edits);
    print("completion", completions);
    print("hover", hovers);
    print("where lenses stand", lenses);
    print("what a lens says", resolved);
    println!("  memory at the end {} MB", editor.memory());
}

/// A text of 1,000 lines, one more that it uses, and others beside them; gives the long text.
fn lay_out(folder: &Path, others: usize) -> String {
    let write = |name: &str, text: &str| std::fs::write(folder.join(name), text).unwrap();
    write("trug.root", "");
    let mut store = String::new();
    for number in 0..40 {
        store.push_str(&format!(
            "ingredient feed-{number}\n  protein      {} %\n  price        0.{} EUR/kg\n\n",
            8 + number % 30,
            10 + number
        ));
    }
    write("store.trug", &store);
    for number in 1..others {
        let share = 100.0 / 20.0;
        let mut text =
            format!("use \"store.trug\"\n\nration mash-{number}\n  batch        50 kg\n");
        for line in 0..20 {
            text.push_str(&format!("  feed-{:<7} {share} %\n", (line + number) % 40));
        }
        write(&format!("mash-{number}.trug"), &text);
    }
    let mut long = "use \"store.trug\"\n\n".to_owned();
    for number in 0..43 {
        long.push_str(&format!("ration long-{number}\n  batch        50 kg\n"));
        for line in 0..20 {
            long.push_str(&format!("  feed-{:<7} 5 %\n", (line + number) % 40));
        }
        long.push('\n');
    }
    while long.lines().count() < 1000 {
        long.push_str("# a remark\n");
    }
    write("long.trug", &long);
    long
}

struct Editor {
    server: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    folder: String,
    last: i64,
}

impl Editor {
    fn start(folder: &Path) -> Editor {
        let mut server = Command::new(env!("CARGO_BIN_EXE_trug"))
            .arg("lsp")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut editor = Editor {
            input: server.stdin.take().unwrap(),
            output: BufReader::new(server.stdout.take().unwrap()),
            server,
            folder: format!("file://{}", folder.display()),
            last: 0,
        };
        let abilities = json!({
            "window": { "workDoneProgress": true },
            "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } },
            "textDocument": { "publishDiagnostics": { "relatedInformation": true } },
        });
        let params =
            json!({ "processId": null, "capabilities": abilities, "rootUri": editor.folder });
        let id = editor.ask("initialize", params);
        editor.until(|message| message["id"] == id && message.get("method").is_none());
        editor.tell("initialized", json!({}));
        editor
    }

    fn send(&mut self, message: &Value) {
        let body = message.to_string();
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
        self.input.flush().unwrap();
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    fn ask(&mut self, method: &str, params: Value) -> i64 {
        self.last += 1;
        let id = self.last;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }));
        id
    }

    fn until(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            let message = self.read();
            if let (Some(id), Some(_)) = (message.get("id"), message.get("method")) {
                let id = id.clone();
                self.send(&json!({ "jsonrpc": "2.0", "id": id, "result": null }));
            }
            if wanted(&message) {
                return message;
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

    fn open(&mut self, name: &str, text: &str) {
        let uri = format!("{}/{name}", self.folder);
        let document = json!({ "uri": uri, "languageId": "trug", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
        self.until_shown(1);
    }

    fn until_shown(&mut self, version: i64) {
        self.until(|message| {
            message["params"]["version"] == version
                && message["method"] == "textDocument/publishDiagnostics"
        });
    }

    /// Waits until the background has nothing more to do: what is asked for last is answered last.
    fn rest(&mut self) {
        let mut before = self.time();
        loop {
            std::thread::sleep(Duration::from_millis(300));
            let now = self.time();
            if now == before {
                return;
            }
            before = now;
        }
    }

    /// Processor time of the server, in the system's ticks.
    fn time(&self) -> u64 {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", self.server.id())).unwrap();
        let fields = stat
            .rsplit_once(')')
            .unwrap()
            .1
            .split_whitespace()
            .skip(11)
            .take(2);
        fields.map(|field| field.parse::<u64>().unwrap()).sum()
    }

    fn memory(&self) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.server.id())).unwrap();
        let line = status
            .lines()
            .find(|line| line.starts_with("VmRSS"))
            .unwrap();
        line.split_whitespace()
            .nth(1)
            .unwrap()
            .parse::<u64>()
            .unwrap()
            / 1024
    }

    fn change(&mut self, text: &str, version: i64) {
        // The first share of one of the rations goes up and down again.
        let ration = usize::try_from(version / 2).unwrap() % 43;
        let line = text
            .lines()
            .position(|line| line == format!("ration long-{ration}"))
            .unwrap()
            + 2;
        let share = if version % 2 == 0 { "6" } else { "5" };
        let character = "  feed-0       ".len();
        let range = json!({ "start": { "line": line, "character": character }, "end": { "line": line, "character": character + 1 } });
        let document = json!({ "uri": format!("{}/long.trug", self.folder), "version": version });
        let changes = json!([{ "range": range, "text": share }]);
        self.tell(
            "textDocument/didChange",
            json!({ "textDocument": document, "contentChanges": changes }),
        );
    }

    fn edit(&mut self, text: &str, version: i64) -> Duration {
        let start = Instant::now();
        self.change(text, version);
        self.until_shown(version);
        start.elapsed()
    }

    fn timed(&mut self, method: &str, at: &Value) -> Duration {
        let start = Instant::now();
        let document = json!({ "uri": format!("{}/long.trug", self.folder) });
        let id = self.ask(method, json!({ "textDocument": document, "position": at }));
        self.until(|message| message["id"] == id && message.get("method").is_none());
        start.elapsed()
    }

    /// Where the lenses of the text stand, and what one of them says.
    fn lenses(&mut self, version: i64) -> (Duration, Duration) {
        let start = Instant::now();
        let document = json!({ "uri": format!("{}/long.trug", self.folder) });
        let places = self.answer("textDocument/codeLens", json!({ "textDocument": document }));
        let (places, took) = (places.as_array().unwrap().clone(), start.elapsed());
        let unsaid: Vec<Value> = places
            .into_iter()
            .filter(|lens| lens["command"].is_null())
            .collect();
        let lens = unsaid[usize::try_from(version).unwrap() % unsaid.len()].clone();
        let start = Instant::now();
        let said = self.answer("codeLens/resolve", lens);
        assert!(said["command"]["title"].is_string(), "{said}");
        (took, start.elapsed())
    }

    fn answer(&mut self, method: &str, params: Value) -> Value {
        let id = self.ask(method, params);
        let answer = self.until(|message| message["id"] == id && message.get("method").is_none());
        answer["result"].clone()
    }

    fn soak(&mut self, text: &str, edits: usize) {
        let edits = edits as i64;
        for version in 2..edits + 2 {
            self.change(text, version);
            if version % 100 == 0 {
                self.until_shown(version);
            }
            if version % (edits / 10) == 0 {
                println!("  memory after {version} edits {} MB", self.memory());
            }
        }
    }
}

impl Drop for Editor {
    fn drop(&mut self) {
        drop(self.server.kill());
        drop(self.server.wait());
    }
}

fn print(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |percent: usize| shown(times[(times.len() - 1) * percent / 100]);
    println!("  {what}: p50 {}, p99 {}, most {}", at(50), at(99), at(100));
}

fn shown(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1000.0)
}
