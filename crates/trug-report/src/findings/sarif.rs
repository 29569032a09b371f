//! Findings as SARIF 2.1.0, for the services that show them beside a change.

use serde::{Serialize, Serializer};
use trug_findings::{Acceptance, Code, Finding, Fix, Place, Source};

use super::json::{place_json, severity};
use super::order::{Placed, in_order};
use crate::catalogue::summary;
use crate::json::finding::PlaceJson;
use crate::json::sarif::{
    ArtifactChange, ArtifactLocation, Configuration, Driver, Help, Location, Log, Mending, Message,
    Outcome, OutcomeProperties, PhysicalLocation, Region, Replacement, Rule, Run, RunProperties,
    Suppression, Tool,
};
use crate::json::to_json;

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
/// What file names are relative to, by the name such services know.
const ROOT: &str = "%SRCROOT%";

/// The log of a run: accepted findings are suppressed ones. `today` is given where something was judged by the day.
#[must_use]
pub fn sarif(findings: &[Finding], sources: &[Source], today: Option<&str>) -> String {
    let codes = codes_of(findings);
    let driver = Driver {
        name: "trug",
        version: env!("CARGO_PKG_VERSION"),
        rules: codes.iter().map(|code| rule(code)).collect(),
    };
    to_json(&Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool { driver },
            column_kind: "unicodeCodePoints",
            results: Outcomes {
                placed: in_order(findings, sources),
                sources,
                codes: &codes,
            },
            properties: today.map(|day| RunProperties {
                today: day.to_owned(),
            }),
        }],
    })
}

/// What was found, each made out when it is written: there may be a million, and an outcome is many times a finding.
struct Outcomes<'a> {
    placed: Vec<Placed<'a>>,
    sources: &'a [Source],
    codes: &'a [&'static Code],
}

impl Serialize for Outcomes<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let placed = self.placed.iter();
        let outcomes = placed.map(|placed| outcome(placed.finding, self.sources, self.codes));
        serializer.collect_seq(outcomes)
    }
}

/// The codes that were raised, by name.
fn codes_of(findings: &[Finding]) -> Vec<&'static Code> {
    let mut codes: Vec<&'static Code> = findings.iter().map(|finding| finding.code).collect();
    codes.sort_by_key(|code| code.name);
    codes.dedup();
    codes
}

fn rule(code: &'static Code) -> Rule {
    Rule {
        id: code.name,
        short_description: Message {
            text: summary(code),
        },
        help: Help {
            text: code.page,
            markdown: code.page,
        },
        default_configuration: Configuration {
            level: severity(code.severity),
        },
    }
}

fn outcome(finding: &Finding, sources: &[Source], codes: &[&'static Code]) -> Outcome {
    let related = finding.related.iter().enumerate();
    Outcome {
        rule_id: finding.code.name,
        rule_index: codes.partition_point(|code| code.name < finding.code.name),
        level: severity(finding.severity),
        message: Message {
            text: finding.message.clone(),
        },
        locations: [location(finding.place, sources)],
        related_locations: related
            .map(|(rank, related)| Location {
                id: Some(rank),
                message: Some(Message {
                    text: related.message.clone(),
                }),
                ..location(related.place, sources)
            })
            .collect(),
        fixes: finding
            .fixes
            .iter()
            .map(|fix| mending(fix, sources))
            .collect(),
        suppressions: finding
            .accepted
            .iter()
            .map(|acceptance| suppression(acceptance, sources))
            .collect(),
        properties: finding
            .help
            .as_ref()
            .map(|help| OutcomeProperties { help: help.clone() }),
    }
}

fn location(place: Place, sources: &[Source]) -> Location {
    let place = place_json(place, sources);
    Location {
        id: None,
        physical_location: PhysicalLocation {
            artifact_location: artifact(&place),
            region: region(&place),
        },
        message: None,
    }
}

fn region(place: &PlaceJson) -> Region {
    Region {
        start_line: place.line,
        start_column: place.column,
        end_line: place.end_line,
        end_column: place.end_column,
    }
}

/// A file is relative to the root; a bundled book is a name of its own.
fn artifact(place: &PlaceJson) -> ArtifactLocation {
    match place.file.strip_prefix("book:") {
        Some(book) => ArtifactLocation {
            uri: format!("book:{}", escaped(book)),
            uri_base_id: None,
        },
        None => ArtifactLocation {
            uri: escaped(&place.file),
            uri_base_id: Some(ROOT),
        },
    }
}

/// A name as the path of a URI (RFC 3986): anything but plain characters in percent signs.
fn escaped(name: &str) -> String {
    let mut uri = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            uri.push_str(&format!("%{byte:02X}"));
        }
    }
    uri
}

/// The edits of a fix, those in one file together.
fn mending(fix: &Fix, sources: &[Source]) -> Mending {
    let mut changes: Vec<ArtifactChange> = Vec::new();
    for edit in &fix.edits {
        let place = place_json(edit.place, sources);
        let artifact_location = artifact(&place);
        let replacement = Replacement {
            deleted_region: region(&place),
            inserted_content: Message {
                text: edit.text.clone(),
            },
        };
        let known = changes
            .iter_mut()
            .find(|change| change.artifact_location == artifact_location);
        match known {
            Some(change) => change.replacements.push(replacement),
            None => changes.push(ArtifactChange {
                artifact_location,
                replacements: vec![replacement],
            }),
        }
    }
    Mending {
        description: Message {
            text: fix.title.clone(),
        },
        artifact_changes: changes,
    }
}

fn suppression(acceptance: &Acceptance, sources: &[Source]) -> Suppression {
    Suppression {
        kind: "inSource",
        status: "accepted",
        location: location(acceptance.place, sources),
        justification: acceptance.reason.clone(),
    }
}
