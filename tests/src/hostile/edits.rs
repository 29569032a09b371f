//! Edits of open texts, and of texts on the disk: after each of them the server says what a fresh reading finds.

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use serde_json::{Value, json};
use trug_findings::Source;
use trug_model::{Farm, Settings};

use super::bytes::Bytes;
use super::client::{Client, run, uri};
use super::disk::{Disk, ROOT};
use crate::answer::TODAY;

/// Edits of one session.
const MOST_EDITS: usize = 24;
/// How often it is asked again after the disk has changed, and how long it is waited in between.
const MOST_LOOKS: usize = 1000;
const MOMENT: Duration = Duration::from_millis(3);
/// The texts that are edited.
const NAMES: [&str; 4] = ["mash.trug", "store.trug", "coop/feeds.trug", "prices.csv"];
/// What they begin with.
const TEXTS: [&str; 4] = [
    "use \"store.trug\"\n\nration mash \"සහල් 👩\u{200d}🌾\"\n  for            mixing\n  batch          20 kg\n  maize          60 %\n  wheat-bran     40 %\n\n# 🦆 for the pe\u{301}tite\r\nration pe\u{301}tite\n  for            mixing\n  mash           100 %  # 𝒳\n",
    "use \"coop/feeds.trug\"\nuse \"prices.csv\"\ningredient maize\n  price        0.30 EUR/kg\n",
    "ingredient wheat-bran \"𝒳 bran\"\r\n  protein      15 %\r\n",
    "ingredient,price EUR/kg\nmaize,0.31\n",
];
/// What is typed.
const PIECES: [&str; 24] = [
    "",
    "\n",
    "\r\n",
    "\r",
    "🦆",
    "\u{301}",
    "\u{feff}",
    "1,5 %",
    "  maize  1 %\n",
    "  maize  1 %\r\n",
    "ration e\u{301}t\u{e9}\n",
    "\"සහල් 👩\u{200d}🌾\"",
    "# 𝒳\n",
    "use \"store.trug\"\n",
    "use \"new.trug\"\n",
    "use \"coop/feeds.trug\"\n",
    "use \"../coop/feeds.trug\"\n",
    "ingredient rye\n  protein 9 %\n",
    "use book poultry\n",
    "animal hen\n",
    " ",
    "40 %",
    "rest",
    "\0",
];

/// Edits texts as the bytes say, in the encoding they say.
pub fn edits(bytes: &[u8]) {
    let mut bytes = Bytes::of(bytes);
    let encoding = bytes.one_of(
        &[Encoding::Utf16, Encoding::Utf8, Encoding::Utf32],
        Encoding::Utf16,
    );
    run(session(bytes, encoding));
}

/// In what a character of a position is counted.
#[derive(Clone, Copy, Debug)]
enum Encoding {
    Utf8,
    Utf16,
    Utf32,
}

impl Encoding {
    fn name(self) -> &'static str {
        match self {
            Encoding::Utf8 => "utf-8",
            Encoding::Utf16 => "utf-16",
            Encoding::Utf32 => "utf-32",
        }
    }

    fn length(self, text: &str) -> usize {
        match self {
            Encoding::Utf8 => text.len(),
            Encoding::Utf16 => text.encode_utf16().count(),
            Encoding::Utf32 => text.chars().count(),
        }
    }
}

async fn session(mut bytes: Bytes<'_>, encoding: Encoding) {
    let named: Vec<_> = NAMES.into_iter().zip(TEXTS).collect();
    let disk = Disk::of(&named);
    let mut editor = Editor {
        client: Client::new(&disk),
        disk,
        open: BTreeMap::new(),
        version: 0,
        is_listing: false,
        encoding,
    };
    editor.hello().await;
    editor.open(NAMES[0], TEXTS[0]).await;
    for _ in 0..MOST_EDITS {
        if !bytes.are_left() {
            break;
        }
        editor.edit(&mut bytes).await;
        editor.looks().await;
    }
    editor.looks().await;
    editor.client.ask("shutdown", Value::Null).await;
    editor.client.tell("exit", Value::Null).await;
    editor.client.hang_up().await;
}

/// A client with open texts, each kept here as its edits leave it.
struct Editor {
    client: Client,
    disk: Disk,
    open: BTreeMap<&'static str, String>,
    version: i64,
    /// A text of the disk has come or gone, and the server lists them anew beside its other work.
    is_listing: bool,
    encoding: Encoding,
}

impl Editor {
    async fn hello(&mut self) {
        let abilities = json!({
            "general": { "positionEncodings": [self.encoding.name()] },
            "workspace": { "diagnostics": { "refreshSupport": true } },
            "textDocument": { "diagnostic": { "relatedDocumentSupport": true }, "publishDiagnostics": { "relatedInformation": true } },
        });
        let folders = json!([{ "uri": format!("file://{ROOT}"), "name": "barn" }]);
        let params =
            json!({ "processId": null, "capabilities": abilities, "workspaceFolders": folders });
        let answer = self.client.ask("initialize", params).await;
        let agreed = answer["result"]["capabilities"]["positionEncoding"].as_str();
        assert_eq!(agreed.unwrap_or("utf-16"), self.encoding.name());
        self.client.tell("initialized", json!({})).await;
    }

    async fn open(&mut self, name: &'static str, text: &str) {
        self.version += 1;
        let document = json!({ "uri": uri(name), "languageId": "trug", "version": self.version, "text": text });
        self.client
            .tell("textDocument/didOpen", json!({ "textDocument": document }))
            .await;
        self.open.insert(name, text.to_owned());
    }

    async fn edit(&mut self, bytes: &mut Bytes<'_>) {
        let kind = bytes.byte() % 16;
        let name = bytes.one_of(&NAMES, NAMES[0]);
        let text = piece(bytes);
        match kind {
            0 if self.open.contains_key(name) => {
                self.open.remove(name);
                let document = json!({ "textDocument": { "uri": uri(name) } });
                self.client.tell("textDocument/didClose", document).await;
            }
            1 => {
                self.disk.put("new.trug", &text);
                self.changed("new.trug", 1).await;
            }
            2 => {
                self.disk.remove("new.trug");
                self.changed("new.trug", 3).await;
            }
            3 => {
                self.disk.put(name, &text);
                self.changed(name, 2).await;
            }
            4 => {
                self.disk.remove(name);
                self.changed(name, 3).await;
            }
            _ if !self.open.contains_key(name) => {
                let held = self.disk.all().get(name).map(|text| text.to_string());
                self.open(name, &held.unwrap_or(text)).await;
            }
            5 => self.change(name, vec![json!({ "text": text })]).await,
            _ => {
                let mut changes = Vec::new();
                for _ in 0..1 + bytes.byte() % 3 {
                    changes.push(self.some_change(name, bytes));
                }
                self.change(name, changes).await;
            }
        }
    }

    /// One change of a range somewhere in the text, or out of it.
    fn some_change(&self, name: &str, bytes: &mut Bytes<'_>) -> Value {
        let text = self.open.get(name).map_or("", String::as_str);
        let lines = text.split('\n').count();
        let mut position = || {
            let (line, character) = (bytes.below(lines + 2), bytes.byte());
            let far = u32::MAX;
            match character {
                254 => json!({ "line": line, "character": far }),
                255 => json!({ "line": far, "character": far }),
                _ => json!({ "line": line, "character": character % 48 }),
            }
        };
        let (start, end) = (position(), position());
        json!({ "range": { "start": start, "end": end }, "text": piece(bytes) })
    }

    async fn change(&mut self, name: &'static str, changes: Vec<Value>) {
        let encoding = self.encoding;
        if let Some(text) = self.open.get_mut(name) {
            for change in &changes {
                applied(text, change, encoding);
            }
        }
        self.version += 1;
        let document = json!({ "uri": uri(name), "version": self.version });
        let params = json!({ "textDocument": document, "contentChanges": changes });
        self.client.tell("textDocument/didChange", params).await;
    }

    /// Says that a text on the disk has come (1), is another (2), or has gone (3).
    async fn changed(&mut self, name: &str, kind: u8) {
        self.is_listing = true;
        let changes = json!([{ "uri": uri(name), "type": kind }]);
        self.client
            .tell(
                "workspace/didChangeWatchedFiles",
                json!({ "changes": changes }),
            )
            .await;
    }

    /// Of every open text the server says what a fresh reading of all texts finds in it: at once after an edit, and soon
    /// after the disk has changed.
    async fn looks(&mut self) {
        let farm = self.fresh();
        let open: Vec<_> = self.open.keys().copied().collect();
        for name in open.into_iter().filter(|name| name.ends_with(".trug")) {
            let expected = self.expected(&farm, name);
            let mut shown = self.shown(name).await;
            let mut left = if self.is_listing { MOST_LOOKS } else { 0 };
            while shown != expected && 0 < left {
                left -= 1;
                tokio::time::sleep(MOMENT).await;
                shown = self.shown(name).await;
            }
            assert_eq!(shown, expected, "of {name}: {:?}", self.open);
        }
    }

    /// What the server says of a text.
    async fn shown(&mut self, name: &str) -> BTreeSet<String> {
        let document = json!({ "textDocument": { "uri": uri(name) } });
        let answer = self.client.ask("textDocument/diagnostic", document).await;
        let Some(items) = answer["result"]["items"].as_array() else {
            panic!("no findings in {answer}")
        };
        let told = items.iter().map(|it| {
            let range = &it["range"];
            json!([
                it["code"],
                it["severity"],
                range["start"],
                range["end"],
                it["message"]
            ])
        });
        told.map(|it| it.to_string()).collect()
    }

    /// All texts, read afresh: what is open lies over what is on the disk.
    fn fresh(&self) -> Farm {
        let texts = Disk::default();
        for (name, text) in self.disk.all() {
            texts.put(&name, &text);
        }
        for (name, text) in &self.open {
            texts.put(name, text);
        }
        let names = texts
            .all()
            .into_keys()
            .filter(|name| name.ends_with(".trug"));
        let names: Vec<String> = names.collect();
        let settings = Settings {
            today: TODAY.parse().ok(),
            ..Settings::default()
        };
        Farm::read(&names, &texts, settings)
    }

    fn expected(&self, farm: &Farm, name: &str) -> BTreeSet<String> {
        let Some(file) = farm.file(name) else {
            return BTreeSet::new();
        };
        let text = farm.sources().get(file.index()).map_or("", Source::text);
        let found = trug_record::check_file(farm, file);
        let here = found
            .iter()
            .filter(|it| it.place.file == file && it.is_open());
        let shown = here.map(|it| {
            let at = |offset: u32| position_of(text, offset as usize, self.encoding);
            let span = it.place.span;
            json!([
                it.code.name,
                3 - it.severity as u8,
                at(span.start),
                at(span.end.max(span.start)),
                it.message
            ])
        });
        shown.map(|it| it.to_string()).collect()
    }
}

/// Something to type.
fn piece(bytes: &mut Bytes<'_>) -> String {
    match bytes.byte() {
        own @ 200.. => bytes.letters(usize::from(own - 199)),
        rank => PIECES[usize::from(rank) % PIECES.len()].to_owned(),
    }
}

/// The lines of a text as the protocol counts them: where each starts, and where it ends before what ends it.
fn lines_of(text: &str) -> Vec<(usize, usize)> {
    let mut lines = Vec::new();
    let mut start = 0;
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        let is_double = letter == '\r' && letters.peek().is_some_and(|(_, next)| *next == '\n');
        if is_double {
            letters.next();
        }
        if letter == '\n' || letter == '\r' {
            lines.push((start, at));
            start = at + 1 + usize::from(is_double);
        }
    }
    lines.push((start, text.len()));
    lines
}

/// The offset that a position means: the nearest there is.
fn offset_of(text: &str, position: &Value, encoding: Encoding) -> usize {
    let part = |name: &str| {
        position[name]
            .as_u64()
            .and_then(|it| usize::try_from(it).ok())
            .unwrap_or_default()
    };
    let lines = lines_of(text);
    let Some((start, end)) = lines.get(part("line")) else {
        return text.len();
    };
    let line = text.get(*start..*end).unwrap_or_default();
    let wanted = part("character");
    let ends = line.char_indices().map(|(at, _)| at).chain([line.len()]);
    let reached = ends.filter(|at| {
        line.get(..*at)
            .is_some_and(|it| encoding.length(it) <= wanted)
    });
    start + reached.last().unwrap_or_default()
}

fn position_of(text: &str, mut offset: usize, encoding: Encoding) -> Value {
    offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    let lines = lines_of(text);
    let rank = lines
        .iter()
        .rposition(|(start, _)| *start <= offset)
        .unwrap_or_default();
    let (start, end) = lines.get(rank).copied().unwrap_or_default();
    let before = text.get(start..offset.min(end)).unwrap_or_default();
    json!({ "line": rank, "character": encoding.length(before) })
}

fn applied(text: &mut String, change: &Value, encoding: Encoding) {
    let comes = change["text"].as_str().unwrap_or_default();
    let Some(range) = change.get("range") else {
        comes.clone_into(text);
        return;
    };
    let one = offset_of(text, &range["start"], encoding);
    let other = offset_of(text, &range["end"], encoding);
    text.replace_range(one.min(other)..one.max(other), comes);
}
