//! Edits under load: whatever is typed, what is shown at the end is what `check` finds in the text that is left.

use proptest::prelude::*;
use serde_json::{Value, json};
use trug_findings::Source;
use trug_model::{Farm, InMemory, Settings};

use crate::client::{Client, abilities, uri};
use crate::farms::{MASH, STORE};

/// One change: a range by its two ends, as parts of the text, and what comes in its place.
#[derive(Clone, Debug)]
struct Change {
    from: prop::sample::Index,
    length: usize,
    text: String,
    is_whole: bool,
}

fn changes() -> impl Strategy<Value = Vec<Vec<Change>>> {
    let text = prop_oneof![
        Just("\n".to_owned()),
        Just("\r\n".to_owned()),
        Just("  maize  1 %\r\n".to_owned()),
        Just("ration e\u{301}té\n".to_owned()),
        Just("🦆".to_owned()),
        Just("\"සහල් 👩\u{200d}🌾\"".to_owned()),
        Just("# 𝒳\n".to_owned()),
        Just("\u{feff}".to_owned()),
        Just(String::new()),
        "[a-z0-9 %.]{0,6}",
    ];
    let change = (
        any::<prop::sample::Index>(),
        0_usize..12,
        text,
        prop::bool::weighted(0.01),
    );
    let change = change.prop_map(|(from, length, text, is_whole)| Change {
        from,
        length,
        text,
        is_whole,
    });
    prop::collection::vec(prop::collection::vec(change, 1..4), 480..520)
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

/// Applies a change by hand, and says it in the protocol's words.
fn apply(text: &mut String, change: &Change, is_utf16: bool) -> Value {
    if change.is_whole {
        *text = MASH.replace('\n', "\r\n");
        return json!({ "text": text });
    }
    let start = nearest(text, change.from.index(text.len() + 1));
    let end = nearest(text, start + change.length).max(start);
    let range =
        json!({ "start": position(text, start, is_utf16), "end": position(text, end, is_utf16) });
    text.replace_range(start..end, &change.text);
    json!({ "range": range, "text": change.text })
}

/// What `check` finds in the text: code, range and message, in its order.
fn expected(text: &str, is_utf16: bool) -> Vec<Value> {
    let texts = InMemory::new([("mash.trug", text), ("store.trug", STORE)]);
    let today = Some(jiff::civil::date(2026, 11, 25));
    let settings = Settings {
        today,
        may_leave_root: false,
    };
    let farm = Farm::read(
        &["mash.trug".to_owned(), "store.trug".to_owned()],
        &texts,
        settings,
    );
    let file = farm.file("mash.trug").unwrap();
    let text = farm.sources().get(file.index()).map_or("", Source::text);
    let at = |offset: u32| position(text, nearest(text, offset as usize), is_utf16);
    let found = farm
        .check()
        .into_iter()
        .filter(|finding| finding.place.file == file && finding.is_open());
    let found = found.map(|finding| {
        let span = finding.place.span;
        json!([
            finding.code.name,
            at(span.start),
            at(span.end),
            finding.message
        ])
    });
    found.collect()
}

fn sorted(mut values: Vec<Value>) -> Vec<String> {
    values.sort_by_key(ToString::to_string);
    values.dedup();
    values.iter().map(ToString::to_string).collect()
}

async fn run(notifications: &[Vec<Change>], is_utf16: bool) {
    let mut abilities = abilities();
    abilities["general"]["positionEncodings"] = json!([if is_utf16 { "utf-16" } else { "utf-8" }]);
    let mut client = Client::ready(&[("store.trug", STORE)], abilities).await;
    let mut text = MASH.to_owned();
    client.open("mash.trug", &text).await;
    let mut version = 1;
    for (rank, changes) in notifications.iter().enumerate() {
        version += 1;
        let said: Vec<Value> = changes
            .iter()
            .map(|change| apply(&mut text, change, is_utf16))
            .collect();
        client.change("mash.trug", version, Value::from(said)).await;
        // Now and then the client looks before it goes on.
        if rank % 97 == 96 {
            let shown = client.shown_at("mash.trug", version).await;
            assert_shown(&shown, &text, is_utf16);
        }
    }
    let shown = client.shown_at("mash.trug", version).await;
    assert_shown(&shown, &text, is_utf16);
    let uri = uri("mash.trug");
    let versions: Vec<i64> = client
        .versions
        .iter()
        .filter(|(of, _)| *of == uri)
        .map(|(_, version)| *version)
        .collect();
    assert!(
        versions.windows(2).all(|pair| pair[0] <= pair[1]),
        "{versions:?}"
    );
    client.rest().await;
    assert_eq!(client.shown[&uri].1, Some(version));
    assert_shown(&client.shown[&uri].0.clone(), &text, is_utf16);
    client.end().await;
}

fn assert_shown(shown: &[Value], text: &str, is_utf16: bool) {
    let of = |one: &Value| {
        json!([
            one["code"],
            one["range"]["start"],
            one["range"]["end"],
            one["message"]
        ])
    };
    let shown = shown.iter().map(of).collect();
    assert_eq!(
        sorted(shown),
        sorted(expected(text, is_utf16)),
        "in {text:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4, max_shrink_iters: 200, ..ProptestConfig::default() })]
    #[test]
    fn what_is_shown_is_what_check_finds_in_the_text_that_is_left(notifications in changes(), is_utf16 in any::<bool>()) {
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
        runtime.block_on(run(&notifications, is_utf16));
        runtime.shutdown_background();
    }
}
