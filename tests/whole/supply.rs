//! What comes in from outside keeps to `.cargo/deny.toml`, without the tool that file is for; and what a release tells of it is
//! whole.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;
use trug_tests::repository;
use trug_tests::supply::{About, Crate, allows, bill, crates, expression, hashes, in_tree};

const CRATES_IO: &str = "registry+https://github.com/rust-lang/crates.io-index";

fn run(program: &str, words: &[&str]) -> String {
    let mut command = Command::new(program);
    let answer = command.args(words).current_dir(repository::root()).output();
    let answer = answer.unwrap();
    let said = String::from_utf8_lossy(&answer.stderr);
    assert!(answer.status.success(), "{program} {words:?}: {said}");
    String::from_utf8(answer.stdout).unwrap()
}

fn cargo(words: &[&str]) -> String {
    let cargo = std::env::var("CARGO").unwrap_or("cargo".to_owned());
    run(&cargo, &[words, &["--locked"]].concat())
}

/// Every crate that is built on this machine, for tests too.
fn all() -> BTreeMap<Crate, About> {
    let host = run("rustc", &["-vV"]);
    let host = host
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .unwrap();
    let words = [
        "metadata",
        "--format-version",
        "1",
        "--all-features",
        "--filter-platform",
        host,
    ];
    let metadata: Value = serde_json::from_str(&cargo(&words)).unwrap();
    crates(&metadata)
}

/// The crates that the binary is made with; `kinds` as `cargo tree -e` takes them.
fn of_the_binary(kinds: &str) -> BTreeSet<Crate> {
    let words = [
        "tree", "-p", "trug", "-e", kinds, "--prefix", "none", "--format", "{p}",
    ];
    in_tree(&cargo(&words))
}

/// What stands in quotes after `key` in a piece of the policy.
fn quoted<'a>(piece: &'a str, key: &str) -> Option<&'a str> {
    let after = piece.split_once(&format!("{key} = \""))?.1;
    Some(after.split_once('"')?.0)
}

/// The lines of a list of the policy.
fn list(key: &str) -> Vec<String> {
    let policy = repository::read(".cargo/deny.toml");
    let begins = format!("{key} = [");
    let lines = policy.lines().skip_while(|line| *line != begins).skip(1);
    let lines = lines
        .take_while(|line| *line != "]")
        .map(|line| line.trim().to_owned());
    let list: Vec<String> = lines.filter(|line| !line.starts_with('#')).collect();
    assert!(!list.is_empty(), "the policy has no list {key}");
    list
}

#[test]
fn every_licence_is_one_that_may_come_in() {
    let allowed = list("allow");
    let allowed: Vec<&str> = allowed
        .iter()
        .map(|line| line.trim_matches(['"', ',']))
        .collect();
    let exceptions = list("exceptions");
    let excepted = |one: &Crate, licence: &str| {
        exceptions.iter().any(|line| {
            let allowed = line
                .split_once("allow = [\"")
                .and_then(|(_, after)| after.split_once('"'));
            quoted(line, "crate") == Some(&one.name) && allows(licence, &[allowed.unwrap().0])
        })
    };
    let mut wrong = Vec::new();
    let all = all();
    assert!(100 < all.len());
    for (one, about) in &all {
        if !allows(&about.licence, &allowed) && !excepted(one, &about.licence) {
            wrong.push(format!("{} {}: {:?}", one.name, one.version, about.licence));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn an_expression_is_read_as_spdx_has_it() {
    for (licence, is_allowed) in [
        ("MIT", true),
        ("GPL-3.0", false),
        ("MIT/GPL-3.0", true),
        ("GPL-3.0 OR MIT AND ISC", true),
        ("(GPL-3.0 OR MIT) AND Unicode-3.0", false),
        ("(GPL-3.0 OR MIT) AND ISC", true),
        ("MIT WITH LLVM-exception", false),
        ("MIT AND", false),
        ("(MIT", false),
        ("MIT ISC", false),
        ("", false),
    ] {
        assert_eq!(
            allows(&expression(licence), &["MIT", "ISC"]),
            is_allowed,
            "{licence}"
        );
    }
}

#[test]
fn everything_is_from_one_registry_or_ours() {
    let root = repository::root();
    for (one, about) in all() {
        match about.source.as_deref() {
            None => assert!(
                about.manifest.starts_with(root.to_str().unwrap()),
                "{one:?}"
            ),
            Some(source) => assert_eq!(source, CRATES_IO, "{one:?}"),
        }
    }
}

#[test]
fn a_crate_in_two_versions_is_named_with_its_reason() {
    let mut versions: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for one in of_the_binary("normal,build") {
        versions.entry(one.name).or_default().push(one.version);
    }
    versions.retain(|_, versions| 1 < versions.len());
    let skipped = list("skip");
    for line in &skipped {
        assert!(
            quoted(line, "reason").is_some_and(|reason| 10 < reason.len()),
            "{line}"
        );
        let (name, version) = quoted(line, "crate").unwrap().split_once('@').unwrap();
        let is_older = |found: &Vec<String>| {
            let found: Vec<&String> = found
                .iter()
                .filter(|one| one.starts_with(&format!("{version}.")))
                .collect();
            found.len() == 1
        };
        assert!(
            versions.get(name).is_some_and(is_older),
            "{line} is no longer needed"
        );
    }
    let left: Vec<&String> = versions
        .keys()
        .filter(|name| {
            !skipped
                .iter()
                .any(|line| line.contains(&format!("\"{name}@")))
        })
        .collect();
    assert!(
        left.is_empty(),
        "in two versions without a reason: {left:?}"
    );
}

#[test]
fn what_is_banned_is_not_in_the_binary() {
    let shipped = of_the_binary("normal,build");
    for line in list("deny") {
        let name = quoted(&line, "crate").unwrap();
        assert!(quoted(&line, "reason").is_some(), "{line}");
        assert!(!shipped.iter().any(|one| one.name == name), "{line}");
    }
}

#[test]
fn no_crate_of_ours_has_unsafe_code() {
    let workspace = repository::read("Cargo.toml");
    assert!(workspace.contains("\n[workspace.lints.rust]\nunsafe_code = \"forbid\"\n"));
    let mut manifests = repository::files("crates", "Cargo.toml");
    manifests.push("tests/Cargo.toml".to_owned());
    assert!(15 < manifests.len());
    for manifest in manifests {
        let text = repository::read(&manifest);
        assert!(text.contains("\n[lints]\nworkspace = true\n"), "{manifest}");
        assert!(!text.contains("unsafe_code"), "{manifest}");
    }
}

#[test]
fn the_bill_of_materials_names_every_crate_once_and_where_it_is_from() {
    let shipped = of_the_binary("normal");
    let bill = bill(
        &shipped,
        &all(),
        &hashes(&repository::read("Cargo.lock")),
        "2026-11-26T00:00:00Z",
    );
    let components = bill["components"].as_array().unwrap();
    let whole = &bill["metadata"]["component"];
    let named: Vec<Crate> = components
        .iter()
        .chain([whole])
        .filter(|component| component["type"] != "data")
        .map(|component| Crate {
            name: component["name"].as_str().unwrap().to_owned(),
            version: component["version"].as_str().unwrap().to_owned(),
        })
        .collect();
    let once: BTreeSet<Crate> = named.iter().cloned().collect();
    assert_eq!((once.len(), once), (named.len(), shipped));
    let references: Vec<&Value> = components
        .iter()
        .chain([whole])
        .map(|component| &component["bom-ref"])
        .collect();
    for component in components {
        let is_ours = component["name"].as_str().unwrap().starts_with("trug");
        let is_hashed = component["hashes"][0]["content"]
            .as_str()
            .is_some_and(|hash| hash.len() == 64);
        let is_found = component["purl"]
            .as_str()
            .is_some_and(|purl| purl.starts_with("pkg:cargo/"));
        let is_data = component["type"] == "data";
        assert!(is_ours || is_data || (is_hashed && is_found), "{component}");
        assert!(!component["licenses"][0].is_null(), "{component}");
    }
    for dependency in bill["dependencies"].as_array().unwrap() {
        assert!(references.contains(&&dependency["ref"]), "{dependency}");
        let uses = dependency["dependsOn"].as_array().unwrap();
        assert!(
            uses.iter().all(|used| references.contains(&used)),
            "{dependency}"
        );
    }
}
