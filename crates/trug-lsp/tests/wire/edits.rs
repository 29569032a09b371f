//! Edits under load: whatever is typed, what is shown at the end is what `check` finds in the text that is left.

use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Value, json};
use trug_findings::{FileId, Source};
use trug_model::{Farm, InMemory, Settings};

use crate::client::{Client, PATIENCE, abilities, uri};
use crate::farms::STORE;

/// The texts that are edited: the first uses the second, and is edited more.
const NAMES: [&str; 2] = ["mash.trug", "store.trug"];

/// How many notifications a session sends: of one to three changes each, so that there are about a thousand.
const NOTIFICATIONS: std::ops::Range<usize> = 495..505;

/// Names in several scripts, marks that join the letter before, letters outside the first plane.
const BASE: &str = "use \"store.trug\"

ration mash \"සහල් 👩\u{200d}🌾\"
  for            mixing
  batch          20 kg
  maize          60 %
  wheat-bran     40 %

# 🦆 for the pe\u{301}tite de\u{301}jeune\u{301}e
ration pe\u{301}tite
  for            mixing
  batch          2 kg  # 𝒳
  mash           100 %

targets ducks
  for            duck
  protein        at least 15 %
";

/// One change: a range by its two ends, as parts of the text, and what comes in its place.
#[derive(Clone, Debug)]
struct Change {
    from: From,
    length: usize,
    text: String,
    /// A position behind the end of a line, or of the text, means that end.
    is_beyond: bool,
}

#[derive(Clone, Debug)]
enum From {
    Anywhere(Index),
    /// In what the change before has written, or just before it.
    Overlapping(Index),
    /// In the place of everything.
    Whole,
}

/// What is said at once about one of the texts.
#[derive(Clone, Debug)]
struct Notification {
    is_of_store: bool,
    changes: Vec<Change>,
}

fn notifications() -> impl Strategy<Value = Vec<Notification>> {
    let text = prop_oneof![
        Just("\n".to_owned()),
        Just("\r\n".to_owned()),
        Just("\r".to_owned()),
        Just("  maize  1 %\r\n".to_owned()),
        Just("ration e\u{301}té\n".to_owned()),
        Just("🦆".to_owned()),
        Just("\u{301}".to_owned()),
        Just("\"සහල් 👩\u{200d}🌾\"".to_owned()),
        Just("# 𝒳\n".to_owned()),
        Just("\u{feff}".to_owned()),
        Just(String::new()),
        "[a-z0-9 %.]{0,6}",
    ];
    let from = prop_oneof![
        50 => any::<Index>().prop_map(From::Anywhere),
        49 => any::<Index>().prop_map(From::Overlapping),
        1 => Just(From::Whole),
    ];
    let change = (from, 0_usize..12, text, any::<bool>());
    let change = change.prop_map(|(from, length, text, is_beyond)| Change {
        from,
        length,
        text,
        is_beyond,
    });
    let changes = prop::collection::vec(change, 1..4);
    let notification = (prop::bool::weighted(0.2), changes);
    let notification = notification.prop_map(|(is_of_store, changes)| Notification {
        is_of_store,
        changes,
    });
    prop::collection::vec(notification, NOTIFICATIONS)
}

/// Line and character of an offset, told letter by letter.
fn position(text: &str, offset: usize, is_utf16: bool) -> Value {
    let before = &text[..offset];
    let mut line = 0;
    let mut start = 0;
    for (at, letter) in before.char_indices() {
        let is_first_of_two = letter == '\r' && text[at + 1..].starts_with('\n');
        if letter == '\n' || (letter == '\r' && !is_first_of_two) {
            line += 1;
            start = at + 1;
        }
    }
    let part = &before[start..];
    let character = if is_utf16 {
        part.encode_utf16().count()
    } else {
        part.len()
    };
    json!({ "line": line, "character": character })
}

fn nearest(text: &str, mut offset: usize) -> usize {
    offset = offset.min(text.len());
    while !text.is_char_boundary(offset)
        || (text[..offset].ends_with('\r') && text[offset..].starts_with('\n'))
    {
        offset -= 1;
    }
    offset
}

/// A text that is edited, by hand.
struct Edited {
    name: &'static str,
    /// What it begins with, and what takes the place of everything.
    base: String,
    text: String,
    version: i64,
    /// What the last change has written.
    written: std::ops::Range<usize>,
}

impl Edited {
    fn new(name: &'static str, base: &str, is_crlf: bool) -> Edited {
        let base = match is_crlf {
            true => base.replace('\n', "\r\n"),
            false => base.to_owned(),
        };
        Edited {
            name,
            text: base.clone(),
            base,
            version: 1,
            written: 0..0,
        }
    }

    /// Applies a change, and says it in the protocol's words.
    fn apply(&mut self, change: &Change, is_utf16: bool) -> Value {
        let text = &mut self.text;
        let start = match &change.from {
            From::Anywhere(at) => at.index(text.len() + 1),
            From::Overlapping(at) => {
                let from = self.written.start.saturating_sub(4);
                from + at.index(self.written.end - from + 1)
            }
            From::Whole => {
                text.clone_from(&self.base);
                self.written = 0..text.len();
                return json!({ "text": text });
            }
        };
        let start = nearest(text, start);
        let end = nearest(text, start + change.length).max(start);
        let mut last = position(text, end, is_utf16);
        if change.is_beyond && end == text.len() {
            last["line"] = json!(last["line"].as_u64().unwrap() + 1000);
        } else if change.is_beyond && text[end..].starts_with(['\r', '\n']) {
            last["character"] = json!(last["character"].as_u64().unwrap() + 1000);
        }
        let range = json!({ "start": position(text, start, is_utf16), "end": last });
        text.replace_range(start..end, &change.text);
        self.written = start..start + change.text.len();
        json!({ "range": range, "text": change.text })
    }
}

/// What `check` finds in each of the texts: code, severity, range and message.
fn expected(texts: &[Edited; 2], is_utf16: bool) -> [Vec<String>; 2] {
    let named = texts.each_ref().map(|one| (one.name, one.text.as_str()));
    let settings = Settings {
        today: Some(jiff::civil::date(2026, 11, 25)),
        may_leave_root: false,
        ..trug_model::Settings::default()
    };
    let farm = Farm::read(&NAMES.map(str::to_owned), &InMemory::new(named), settings);
    let found = farm.check();
    texts.each_ref().map(|one| {
        let file: FileId = farm.file(one.name).unwrap();
        let text = farm.sources().get(file.index()).map_or("", Source::text);
        let at = |offset: u32| position(text, nearest(text, offset as usize), is_utf16);
        let found = found
            .iter()
            .filter(|finding| finding.place.file == file && finding.is_open());
        let found = found.map(|finding| {
            let span = finding.place.span;
            json!([
                finding.code.name,
                3 - finding.severity as u8,
                at(span.start),
                at(span.end),
                finding.message
            ])
        });
        sorted(found)
    })
}

/// What the client is shown of a text, in the same words.
fn shown(client: &Client, name: &str) -> Vec<String> {
    let (shown, _) = &client.shown[&uri(name)];
    let found = shown.iter().map(|one| {
        json!([
            one["code"],
            one["severity"],
            one["range"]["start"],
            one["range"]["end"],
            one["message"]
        ])
    });
    sorted(found)
}

fn sorted(values: impl Iterator<Item = Value>) -> Vec<String> {
    let mut told: Vec<String> = values.map(|value| value.to_string()).collect();
    told.sort();
    told.dedup();
    told
}

/// Waits until both texts are shown as they are, and holds what is shown to what `check` finds.
async fn look(client: &mut Client, texts: &[Edited; 2], is_utf16: bool) {
    let expected = expected(texts, is_utf16);
    for (one, expected) in texts.iter().zip(expected) {
        client.shown_at(one.name, one.version).await;
        // What an edit of the other text has changed in this one comes when the typing stops.
        let is_there = |client: &Client| shown(client, one.name) == expected;
        let waited = tokio::time::timeout(PATIENCE, client.until(is_there)).await;
        assert!(
            waited.is_ok(),
            "of {} is shown {:#?}, and not {expected:#?}, in {:?}",
            one.name,
            shown(client, one.name),
            one.text
        );
    }
}

async fn run(notifications: &[Notification], is_utf16: bool, is_crlf: bool) {
    let mut abilities = abilities();
    abilities["general"]["positionEncodings"] = json!([if is_utf16 { "utf-16" } else { "utf-8" }]);
    let mut client = Client::ready(&[], abilities).await;
    let mut texts = [
        Edited::new(NAMES[0], BASE, is_crlf),
        Edited::new(NAMES[1], STORE, is_crlf),
    ];
    for one in &texts {
        client.open(one.name, &one.text).await;
    }
    for (rank, notification) in notifications.iter().enumerate() {
        let edited = &mut texts[usize::from(notification.is_of_store)];
        edited.version += 1;
        let said: Vec<Value> = notification
            .changes
            .iter()
            .map(|change| edited.apply(change, is_utf16))
            .collect();
        let (name, version) = (edited.name, edited.version);
        client.change(name, version, Value::from(said)).await;
        // Now and then the client looks before it goes on.
        if rank % 97 == 96 {
            look(&mut client, &texts, is_utf16).await;
        }
    }
    look(&mut client, &texts, is_utf16).await;
    for one in &texts {
        let uri = uri(one.name);
        let versions = client.versions.iter().filter(|(of, _)| *of == uri);
        let versions: Vec<i64> = versions.map(|(_, version)| *version).collect();
        assert!(versions.is_sorted(), "{versions:?}");
    }
    // Nothing older comes after it.
    client.rest().await;
    for (one, expected) in texts.iter().zip(expected(&texts, is_utf16)) {
        assert_eq!(shown(&client, one.name), expected);
        assert_eq!(client.shown[&uri(one.name)].1, Some(one.version));
    }
    client.end().await;
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2, max_shrink_iters: 200, ..ProptestConfig::default() })]
    #[test]
    fn what_is_shown_is_what_check_finds_in_the_texts_that_are_left(notifications in notifications(), is_crlf in any::<bool>()) {
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
        for is_utf16 in [true, false] {
            runtime.block_on(run(&notifications, is_utf16, is_crlf));
            runtime.block_on(run(&notifications, is_utf16, !is_crlf));
        }
        runtime.shutdown_background();
    }
}
