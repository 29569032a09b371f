//! What a fuzzer begins with: texts of the suite, the examples and the starters, as the targets take them.

use crate::marked::{Marked, Suite};
use crate::repository;

/// A name, and the bytes.
pub type Seed = (String, Vec<u8>);

/// Folders whose texts make a farm.
const FARMS: [&str; 4] = [
    "examples/river-farm",
    "examples/small",
    "crates/trug/starters/small",
    "crates/trug/starters/co-op",
];
/// Where tables stand, each with what becomes of it below a line `---->`.
const TABLES: &str = "crates/trug-convert/tests/cases";

/// Farms: every section of the suite, every example and every starter.
#[must_use]
pub fn farms() -> Vec<Seed> {
    let mut seeds = Vec::new();
    for folder in FARMS {
        let mut bytes = String::new();
        for ending in [".trug", ".csv"] {
            for path in repository::files(folder, ending) {
                let inside = path.get(folder.len() + 1..).unwrap_or(&path);
                bytes.push_str(&format!("//- {inside}\n{}", repository::read(&path)));
            }
        }
        seeds.push((folder.replace('/', "-"), bytes.into_bytes()));
    }
    for path in repository::files("tests/suite", ".txt") {
        let family = path
            .trim_start_matches("tests/suite/")
            .trim_end_matches(".txt");
        let suite =
            Suite::read(&repository::read(&path)).unwrap_or_else(|why| panic!("{path}: {why}"));
        for section in suite.sections {
            let name = format!("{}-{}", family.replace('/', "-"), section.name);
            seeds.push((name, written(&section.texts)));
        }
    }
    seeds
}

fn written(texts: &[Marked]) -> Vec<u8> {
    let mut bytes = String::new();
    for marked in texts {
        if marked.is_named || 1 < texts.len() {
            bytes.push_str(&format!("//- {}\n", marked.path));
        }
        // The sign of an editor's cursor is none of the language.
        bytes.push_str(&marked.text.replace('|', ""));
    }
    bytes.into_bytes()
}

/// Tables: those of the tests of conversion, and of the examples.
#[must_use]
pub fn tables() -> Vec<Seed> {
    let mut seeds: Vec<Seed> = repository::files("examples", ".csv")
        .into_iter()
        .map(|path| (path.replace('/', "-"), repository::read(&path).into_bytes()))
        .collect();
    for path in repository::files(TABLES, ".txt") {
        let stem = path
            .get(TABLES.len() + 1..)
            .unwrap_or(&path)
            .trim_end_matches(".txt");
        for section in repository::read(&path).split("--- ").skip(1) {
            let (head, rest) = section.split_once('\n').unwrap_or((section, ""));
            let name = head.split_whitespace().next().unwrap_or_default();
            for (rank, part) in rest.split("---->\n").enumerate() {
                seeds.push((format!("{stem}-{name}-{rank}"), part.as_bytes().to_vec()));
            }
        }
    }
    seeds
}

/// Signs and figures beside the words of the language: what is written between them, and what is easily written wrong.
const SIGNS: [&str; 34] = [
    " .. ",
    "..",
    " ± ",
    " + ",
    " - ",
    " / ",
    "/",
    "-",
    " % ",
    "%",
    "\"",
    "\"\"",
    "#",
    "\n",
    "\n  ",
    "\r\n",
    "\t",
    "\u{a0}",
    "\u{feff}",
    "“",
    "…",
    "–",
    "e\u{301}",
    "🦆",
    "සහල්",
    "1,5",
    "0",
    "0.01",
    "99999999999999999999",
    "2026-11-25",
    "//- coop/store.trug\n",
    "use \"coop/store.trug\"\n",
    "use book poultry\n",
    "Content-Length: ",
];

/// The dictionary that a fuzzer draws from: every word of the language, a line of each kind, units, and signs.
#[must_use]
pub fn dictionary() -> String {
    let mut words: Vec<String> = SIGNS.map(str::to_owned).to_vec();
    for item in trug_syntax::words::ITEMS {
        words.push(format!("\n{}\n", item.example));
        for line in item.lines.iter().chain(item.otherwise) {
            words.push(format!("\n  {}\n", line.example));
            words.push(format!("  {} ", line.word));
        }
    }
    words.extend(
        trug_syntax::words::CLAUSES
            .iter()
            .map(|word| format!(" {word} ")),
    );
    words.extend(
        trug_model::quantity::unit_words()
            .iter()
            .map(|word| format!(" {word}")),
    );
    words.sort();
    words.dedup();
    words
        .iter()
        .map(|word| format!("\"{}\"\n", escaped(word)))
        .collect()
}

/// A word as a dictionary writes it: signs of its own form, and what is no letter of ASCII, by their numbers.
fn escaped(word: &str) -> String {
    let escaped = |byte: u8| match byte {
        b'"' | b'\\' => format!("\\{}", char::from(byte)),
        b' '..=b'~' => char::from(byte).to_string(),
        _ => format!("\\x{byte:02X}"),
    };
    word.bytes().map(escaped).collect()
}
