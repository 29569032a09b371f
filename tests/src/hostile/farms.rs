//! Bytes as the texts of a farm: a line `//- coop/store.trug` starts a further one, as in `suite/`.

use std::collections::{BTreeMap, BTreeSet};

use trug_model::{Farm, InMemory, Settings};

use crate::answer::TODAY;
use crate::marked::FIRST_PATH;

/// Bytes that are looked at; what comes after is left out.
const MOST_BYTES: usize = 16 * 1024;
/// Texts of one farm.
const MOST_TEXTS: usize = 6;
/// Letters of a path.
const LONGEST_PATH: usize = 40;

/// A path and the text that stands there.
pub(super) type Text = (String, String);

/// The bytes as one text: what is no letter is one that stands for it.
pub(super) fn letters(bytes: &[u8]) -> String {
    let bytes = bytes.get(..MOST_BYTES).unwrap_or(bytes);
    String::from_utf8_lossy(bytes).into_owned()
}

/// The texts in these bytes.
pub(super) fn texts(bytes: &[u8]) -> Vec<Text> {
    let mut texts = vec![(FIRST_PATH.to_owned(), String::new())];
    // A text with a NUL is none at all, and nothing else would be asked of it.
    let letters = letters(bytes).replace('\0', "\u{1}");
    for line in letters.split_inclusive('\n') {
        match path(line).filter(|_| texts.len() < MOST_TEXTS) {
            // A path that opens the bytes names the first text.
            Some(path) if texts.len() == 1 && texts[0].1.is_empty() => {
                path.clone_into(&mut texts[0].0)
            }
            Some(path) => texts.push((path.to_owned(), String::new())),
            None => {
                if let Some((_, text)) = texts.last_mut() {
                    text.push_str(line);
                }
            }
        }
    }
    texts
}

/// The path that a line starts a text with.
fn path(line: &str) -> Option<&str> {
    let path = line.strip_prefix("//- ")?.trim_end();
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "-_./".contains(letter);
    let parts = || path.split('/');
    let fits = path.len() <= LONGEST_PATH
        && path.chars().all(is_plain)
        && parts().all(|part| !part.is_empty() && part != "." && part != "..");
    fits.then_some(path)
}

/// The farm of these texts.
pub(super) fn farm(texts: &[Text]) -> Farm {
    let settings = Settings {
        today: TODAY.parse().ok(),
        ..Settings::default()
    };
    Farm::read(&names(texts), &in_memory(texts), settings)
}

/// The farm of these texts, made from what it was with others.
pub(super) fn farm_again(before: &Farm, old: &[Text], new: &[Text]) -> Farm {
    // Of two texts at one path the last is there.
    let there = |texts: &[Text]| -> BTreeMap<String, String> { texts.iter().cloned().collect() };
    let (old, now) = (there(old), there(new));
    let is_other = |path: &&String| old.get(*path) != now.get(*path);
    let paths = old.keys().chain(now.keys());
    let changed: BTreeSet<String> = paths.filter(is_other).cloned().collect();
    before.reread(&names(new), &in_memory(new), &changed)
}

/// The texts that are asked for: tables are only used.
fn names(texts: &[Text]) -> Vec<String> {
    let names = texts.iter().map(|(path, _)| path.clone());
    let mut names: Vec<String> = names.filter(|path| path.ends_with(".trug")).collect();
    names.sort();
    names.dedup();
    names
}

fn in_memory(texts: &[Text]) -> InMemory {
    let borrowed = texts
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()));
    InMemory::new(borrowed)
}
