//! What of others goes into the binary: which crates, under which licences, from where.
//!
//! Everything here is made out from what cargo says (`cargo metadata`, `cargo tree`, `Cargo.lock`), handed in as text.

mod bill;
mod licence;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

pub use bill::bill;
pub use licence::{Texts, allows, expression, third_party};

/// A crate, by its name and version.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Crate {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
}

/// What is known of a crate.
#[derive(Clone, Debug)]
pub struct About {
    /// Its licence, as an SPDX expression; empty where it names none.
    pub licence: String,
    /// Where it comes from; none for ours.
    pub source: Option<String>,
    /// Where its texts are kept.
    pub repository: Option<String>,
    /// Its manifest on this machine.
    pub manifest: String,
    /// What it uses, whatever for.
    pub uses: BTreeSet<Crate>,
}

/// Every crate that `cargo metadata` tells of.
#[must_use]
pub fn crates(metadata: &Value) -> BTreeMap<Crate, About> {
    let packages = metadata["packages"].as_array().into_iter().flatten();
    let by_id: BTreeMap<&str, &Value> = packages
        .filter_map(|package| Some((package["id"].as_str()?, package)))
        .collect();
    let named = |id: &Value| by_id.get(id.as_str()?).map(|package| of(package));
    let nodes = metadata["resolve"]["nodes"]
        .as_array()
        .into_iter()
        .flatten();
    let uses: BTreeMap<&str, BTreeSet<Crate>> = nodes
        .filter_map(|node| {
            let used = node["dependencies"].as_array().into_iter().flatten();
            Some((node["id"].as_str()?, used.filter_map(named).collect()))
        })
        .collect();
    let about = |(id, package): (&&str, &&Value)| {
        let text = |field: &str| package[field].as_str().map(str::to_owned);
        let about = About {
            licence: expression(&text("license").unwrap_or_default()),
            source: text("source"),
            repository: text("repository"),
            manifest: text("manifest_path").unwrap_or_default(),
            uses: uses.get(*id).cloned().unwrap_or_default(),
        };
        (of(package), about)
    };
    by_id.iter().map(about).collect()
}

/// The crates in what `cargo tree --prefix none --format {p}` prints.
#[must_use]
pub fn in_tree(tree: &str) -> BTreeSet<Crate> {
    let named = |line: &str| {
        let mut words = line.split(' ');
        let name = words.next().filter(|name| !name.is_empty())?.to_owned();
        let version = words.next()?.strip_prefix('v')?.to_owned();
        Some(Crate { name, version })
    };
    tree.lines().filter_map(named).collect()
}

/// The hash of each crate of a registry, as `Cargo.lock` has it.
#[must_use]
pub fn hashes(lock: &str) -> BTreeMap<Crate, String> {
    let value = |entry: &str, key: &str| {
        let line = entry.lines().find_map(|line| line.strip_prefix(key))?;
        Some(line.strip_prefix(" = \"")?.strip_suffix('"')?.to_owned())
    };
    let entry = |entry: &str| {
        let (name, version) = (value(entry, "name")?, value(entry, "version")?);
        Some((Crate { name, version }, value(entry, "checksum")?))
    };
    lock.split("[[package]]").filter_map(entry).collect()
}

fn of(package: &Value) -> Crate {
    let text = |field: &str| package[field].as_str().unwrap_or_default().to_owned();
    Crate {
        name: text("name"),
        version: text("version"),
    }
}
