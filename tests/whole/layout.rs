//! What must be true of the files themselves: sizes, first lines, and which crate knows which.

use trug_tests::repository;

/// The crates in the order of the data's flow: each may use those before it, and no other.
const ORDER: [&str; 15] = [
    "trug-findings",
    "trug-syntax",
    "trug-model",
    "trug-convert",
    "trug-plan",
    "trug-store",
    "trug-record",
    "trug-evenness",
    "trug-balance",
    "trug-compare",
    "trug-report",
    "trug-pdf",
    "trug-ide",
    "trug-lsp",
    "trug",
];

/// What only one crate may know.
const KNOWN_BY_ONE: [(&str, &str); 10] = [
    ("pest", "trug-syntax"),
    ("pest_derive", "trug-syntax"),
    ("miette", "trug-report"),
    ("schemars", "trug-report"),
    ("tower-lsp", "trug-lsp"),
    ("tower", "trug-lsp"),
    ("tokio", "trug-lsp"),
    ("clap", "trug"),
    ("ignore", "trug"),
    ("tempfile", "trug"),
];

/// Ways to the world that stay at the rim, in the crate of the command line.
const RIM_ONLY: [&str; 6] = [
    "std::fs",
    "std::env",
    "SystemTime",
    "Instant::now",
    "std::process",
    "Zoned::now",
];

/// Lines of a file without its tests.
const MOST_LINES: usize = 400;

fn rust_files() -> Vec<String> {
    let mut files = repository::files("crates", ".rs");
    files.extend(repository::files("tests", ".rs"));
    assert!(files.len() > 20, "the repository was not found");
    files
}

/// What stands above the tests of a file.
fn without_tests(text: &str) -> &str {
    let end = text.find("\n#[cfg(test)]\n").unwrap_or(text.len());
    &text[..end]
}

fn nothing_wrong(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_file_says_first_what_it_is() {
    let says = |path: &String| repository::read(path).starts_with("//! ");
    let silent: Vec<_> = rust_files()
        .into_iter()
        .filter(|path| !says(path))
        .collect();
    nothing_wrong(&silent);
}

#[test]
fn no_file_is_too_long_to_read() {
    let mut wrong = Vec::new();
    for path in rust_files() {
        let is_test = path.contains("/tests/") || path.contains("/benches/");
        let lines = without_tests(&repository::read(&path)).lines().count();
        if !is_test && lines > MOST_LINES {
            wrong.push(format!("{path} has {lines} lines without its tests"));
        }
    }
    nothing_wrong(&wrong);
}

#[test]
fn no_line_ends_in_blanks() {
    let mut wrong = Vec::new();
    for ending in [".rs", ".md", ".toml", ".trug", ".pest"] {
        for path in repository::files("", ending) {
            let text = repository::read(&path);
            for (number, line) in text.lines().enumerate() {
                if line.ends_with([' ', '\t']) {
                    wrong.push(format!("{path}:{}", number + 1));
                }
            }
            if !text.is_empty() && !text.ends_with('\n') {
                wrong.push(format!("{path} ends without a newline"));
            }
        }
    }
    nothing_wrong(&wrong);
}

#[test]
fn nothing_gives_up_outside_tests() {
    let ways = [
        ".unwrap()",
        ".expect(",
        "panic!(",
        "todo!(",
        "unimplemented!(",
        "unreachable!(",
    ];
    let mut wrong = Vec::new();
    for path in repository::files("crates", ".rs") {
        let is_of_tests = path.contains("/tests/") || path.contains("/benches/");
        let text = repository::read(&path);
        for (number, line) in without_tests(&text).lines().enumerate() {
            let is_comment = line.trim_start().starts_with("//");
            let gives_up = ways.iter().any(|way| line.contains(way));
            if gives_up && !is_comment && !is_of_tests && !is_test_file(&path) {
                wrong.push(format!("{path}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    nothing_wrong(&wrong);
}

/// A module that is only compiled for tests.
fn is_test_file(path: &str) -> bool {
    path.ends_with("/tests.rs")
}

#[test]
fn tests_are_neither_switched_off_nor_made_to_fail() {
    let marks = [concat!("#[", "ignore"), concat!("should_", "panic")];
    let mut wrong = Vec::new();
    for path in rust_files() {
        let text = repository::read(&path);
        if let Some(mark) = marks.iter().find(|mark| text.contains(*mark)) {
            wrong.push(format!("{path} has {mark}"));
        }
    }
    nothing_wrong(&wrong);
}

#[test]
fn lints_are_only_lifted_with_a_reason() {
    let bare = concat!("#[", "allow(");
    let has = |path: &String| repository::read(path).contains(bare);
    let wrong: Vec<_> = rust_files().into_iter().filter(has).collect();
    nothing_wrong(&wrong);
}

#[test]
fn crates_use_only_those_before_them() {
    let folders: Vec<String> = repository::files("crates", "Cargo.toml")
        .iter()
        .filter_map(|path| path.split('/').nth(1).map(str::to_owned))
        .collect();
    let rank = |name: &str| ORDER.iter().position(|known| *known == name);
    let mut wrong = Vec::new();
    for folder in &folders {
        let Some(own) = rank(folder) else {
            wrong.push(format!("{folder} has no place in the order"));
            continue;
        };
        for dependency in dependencies(folder) {
            if dependency == "trug" || dependency.starts_with("trug-") {
                if rank(&dependency).is_none_or(|other| own <= other) {
                    wrong.push(format!("{folder} uses {dependency}"));
                }
                if folder == "trug-plan" && dependency == "trug-syntax" {
                    wrong.push("trug-plan knows no text".to_owned());
                }
            }
            let alone = KNOWN_BY_ONE.iter().find(|(known, _)| *known == dependency);
            if let Some((_, owner)) = alone.filter(|(_, owner)| owner != folder) {
                wrong.push(format!("{folder} knows {dependency}, which is {owner}'s"));
            }
        }
    }
    assert_eq!(folders.len(), ORDER.len(), "{folders:?}");
    nothing_wrong(&wrong);
}

/// The names under `[dependencies]`, not those that only tests need.
fn dependencies(folder: &str) -> Vec<String> {
    let manifest = repository::read(&format!("crates/{folder}/Cargo.toml"));
    let names = manifest
        .lines()
        .skip_while(|line| line.trim() != "[dependencies]")
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split(['.', ' ', '=']).next())
        .filter(|name| !name.is_empty() && !name.starts_with('#'));
    names.map(str::to_owned).collect()
}

/// The README's first command names no binary, so there may be one only.
#[test]
fn a_bare_run_is_the_tool() {
    let mut mains = repository::files("crates", "main.rs");
    mains.extend(repository::files("tests", "main.rs"));
    mains.retain(|path| path.ends_with("/src/main.rs"));
    assert_eq!(mains, ["crates/trug/src/main.rs"]);
    let manifests = repository::files("crates", "Cargo.toml");
    for manifest in manifests
        .iter()
        .map(String::as_str)
        .chain(["tests/Cargo.toml"])
    {
        assert!(
            !repository::read(manifest).contains("[[bin]]"),
            "{manifest}"
        );
    }
}

#[test]
fn the_world_is_met_at_the_rim() {
    let mut wrong = Vec::new();
    for path in repository::files("crates", ".rs") {
        let inside = path.contains("/src/") && !path.starts_with("crates/trug/");
        let text = repository::read(&path);
        let way = RIM_ONLY
            .iter()
            .find(|way| without_tests(&text).contains(*way));
        if let Some(way) = way.filter(|_| inside) {
            wrong.push(format!("{path} has {way}"));
        }
    }
    nothing_wrong(&wrong);
}
