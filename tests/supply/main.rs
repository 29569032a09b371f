//! Prints what a release tells of the work of others in it: `supply bill` the bill of materials, `supply licences` the texts.
//!
//! cargo is asked, and nothing is fetched that a build has not fetched already.

use std::collections::BTreeMap;
use std::fs;
use std::io::{Error, Result, Write};
use std::path::Path;
use std::process::{Command, ExitCode};

use serde_json::Value;
use trug_tests::repository;
use trug_tests::supply::{About, Crate, Texts, bill, crates, hashes, in_tree, third_party};

fn main() -> ExitCode {
    let wish = std::env::args().nth(1).unwrap_or_default();
    match page(&wish).and_then(|page| std::io::stdout().write_all(page.as_bytes())) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(std::io::stderr(), "supply: {error}");
            ExitCode::FAILURE
        }
    }
}

fn page(wish: &str) -> Result<String> {
    let tree = ["tree", "-p", "trug", "-e", "normal", "--prefix", "none"];
    let shipped = in_tree(&cargo(&[&tree[..], &["--format", "{p}"]].concat())?);
    let metadata: Value = serde_json::from_str(&cargo(&["metadata", "--format-version", "1"])?)?;
    let crates = crates(&metadata);
    match wish {
        "bill" => {
            let hashes = hashes(&repository::read("Cargo.lock"));
            let bill = bill(&shipped, &crates, &hashes, &made_at()?);
            Ok(serde_json::to_string_pretty(&bill)? + "\n")
        }
        "licences" => {
            let others = crates
                .into_iter()
                .filter(|(one, about)| about.source.is_some() && shipped.contains(one));
            let texts: Result<BTreeMap<Crate, Texts>> = others
                .map(|(one, about)| Ok((one, texts(about)?)))
                .collect();
            let fonts = repository::read("crates/trug-pdf/fonts/OFL.txt");
            Ok(third_party(&texts?, &fonts))
        }
        _ => Err(Error::other("say `bill` or `licences`")),
    }
}

fn cargo(words: &[&str]) -> Result<String> {
    let cargo = std::env::var_os("CARGO").unwrap_or("cargo".into());
    let mut command = Command::new(cargo);
    let asked = command
        .args(words)
        .arg("--locked")
        .current_dir(repository::root());
    let answer = asked.output()?;
    if !answer.status.success() {
        let said = String::from_utf8_lossy(&answer.stderr).into_owned();
        return Err(Error::other(said));
    }
    String::from_utf8(answer.stdout).map_err(Error::other)
}

/// The moment a release is of, so that two made of one state are alike.
fn made_at() -> Result<String> {
    let said = std::env::var("MADE_AT").ok();
    said.ok_or_else(|| Error::other("MADE_AT is not set: say a moment as 2026-11-26T06:00:00Z"))
}

/// The files of licences in a crate's folder.
fn texts(about: About) -> Result<Texts> {
    const BEGIN: [&str; 6] = [
        "license",
        "licence",
        "copying",
        "copyright",
        "notice",
        "unlicense",
    ];
    let folder = Path::new(&about.manifest)
        .parent()
        .unwrap_or(Path::new("."));
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().to_lowercase();
        if entry.file_type()?.is_file() && BEGIN.iter().any(|begin| name.starts_with(begin)) {
            paths.push(entry.path());
        }
    }
    paths.sort();
    let texts = paths.iter().map(|path| {
        let bytes = fs::read(path)?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    });
    Ok(Texts {
        licence: about.licence,
        texts: texts.collect::<Result<_>>()?,
    })
}
