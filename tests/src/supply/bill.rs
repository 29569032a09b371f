//! The bill of materials, in CycloneDX 1.5 (<https://cyclonedx.org/docs/1.5/json/>): the same bytes for the same crates.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value, json};

use super::{About, Crate};

/// The name of the binary's own crate.
const OURS: &str = "trug";

/// What the binary is made of: the crates in `shipped`, and the letters that sheets are set in.
#[must_use]
pub fn bill(
    shipped: &BTreeSet<Crate>,
    crates: &BTreeMap<Crate, About>,
    hashes: &BTreeMap<Crate, String>,
    made_at: &str,
) -> Value {
    let whole = shipped.iter().find(|one| one.name == OURS);
    let parts = shipped.iter().filter(|one| one.name != OURS);
    let mut components: Vec<Value> = parts
        .map(|one| component("library", one, crates.get(one), hashes.get(one)))
        .collect();
    components.push(fonts());
    let dependencies = shipped.iter().map(|one| {
        let uses = crates.get(one).map(|about| &about.uses);
        let uses = uses
            .into_iter()
            .flatten()
            .filter(|used| shipped.contains(used));
        let mut uses: Vec<String> = uses.map(reference).collect();
        if one.name == "trug-pdf" {
            uses.push(FONTS.to_owned());
        }
        json!({ "ref": reference(one), "dependsOn": uses })
    });
    let dependencies: Vec<Value> = dependencies.collect();
    json!({
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "version": 1,
        "metadata": {
            "timestamp": made_at,
            "component": whole.map(|one| component("application", one, crates.get(one), None)),
        },
        "components": components,
        "dependencies": dependencies,
    })
}

const FONTS: &str = "noto-fonts@20201225";

fn fonts() -> Value {
    json!({
        "type": "data",
        "bom-ref": FONTS,
        "name": "Noto fonts",
        "version": "20201225",
        "licenses": [{ "license": { "id": "OFL-1.1" } }],
        "externalReferences": [{ "type": "website", "url": "https://notofonts.github.io" }],
    })
}

fn component(kind: &str, one: &Crate, about: Option<&About>, hash: Option<&String>) -> Value {
    let mut component = json!({
        "type": kind,
        "bom-ref": reference(one),
        "name": one.name,
        "version": one.version,
    });
    let Some(fields) = component.as_object_mut() else {
        return component;
    };
    if about.is_some_and(|about| about.source.is_some()) {
        let (name, version) = (&one.name, one.version.replace('+', "%2B"));
        fields.insert(
            "purl".to_owned(),
            json!(format!("pkg:cargo/{name}@{version}")),
        );
    }
    if let Some(hash) = hash {
        fields.insert(
            "hashes".to_owned(),
            json!([{ "alg": "SHA-256", "content": hash }]),
        );
    }
    if let Some(about) = about {
        fields.insert(
            "licenses".to_owned(),
            json!([{ "expression": about.licence }]),
        );
        if let Some(url) = &about.repository {
            let reference = json!([{ "type": "vcs", "url": url }]);
            fields.insert("externalReferences".to_owned(), reference);
        }
    }
    component
}

fn reference(one: &Crate) -> String {
    format!("{}@{}", one.name, one.version)
}
