//! A finding as the client is shown it.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::json;
use trug_findings::{Finding, Severity};

use crate::lsp::{
    CodeDescription, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag,
    NumberOrString,
};
use crate::naming::why_uri;
use crate::reports::Report;
use crate::snapshot::{AreaShot, Eye, Text};

/// The name under which findings are shown beside those of other tools.
const SOURCE: &str = "trug";

/// Judges a text of a farm, alone with what it uses. Books and tables have no report of their own.
pub(crate) fn judge(eye: &Eye, area: &AreaShot, name: &str) -> Report {
    let mut report = Report {
        revision: area.revision,
        parts: BTreeMap::new(),
    };
    let farm = &area.farm;
    let Some(file) = farm
        .file(name)
        .filter(|file| !farm.is_book(*file) && !farm.is_table(*file))
    else {
        return report;
    };
    let text = Text::of(eye, area, file);
    let mut parts: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
    for finding in trug_record::check_file(farm, file) {
        if !finding.is_open() || !eye.settings.shows(finding.severity) {
            continue;
        }
        if let Some(source) = area.source(finding.place.file) {
            let part = parts.entry(source.name().to_owned()).or_default();
            part.push(diagnostic(&finding, &text));
        }
    }
    report.parts = parts
        .into_iter()
        .map(|(name, part)| (name, Arc::new(part)))
        .collect();
    report
}

/// The finding, in the client's positions.
pub(crate) fn diagnostic(finding: &Finding, text: &Text<'_>) -> Diagnostic {
    let abilities = &text.eye.abilities;
    let mut message = finding.message.clone();
    let help = finding.help.as_ref().map(|help| format!("help: {help}"));
    let mut related = Vec::new();
    let mut tell = |place, message: String| {
        let location = text.location(place);
        related.extend(location.map(|location| DiagnosticRelatedInformation { location, message }));
    };
    if let Some(label) = &finding.label {
        tell(finding.place, label.clone());
    }
    for other in &finding.related {
        tell(other.place, other.message.clone());
    }
    match help {
        Some(help) if text.eye.settings.help_in_message || !abilities.has_related => {
            message = format!("{message}\n{help}");
        }
        Some(help) => tell(finding.place, help),
        None => {}
    }
    let link = why_uri(finding.code.name).filter(|_| abilities.has_code_links);
    Diagnostic {
        range: text.range_in(finding.place),
        severity: Some(match finding.severity {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            Severity::Note => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(finding.code.name.to_owned())),
        code_description: link.map(|href| CodeDescription { href }),
        source: Some(SOURCE.to_owned()),
        message,
        related_information: abilities
            .has_related
            .then_some(related)
            .filter(|all| !all.is_empty()),
        tags: tags(finding).filter(|_| abilities.has_tags),
        data: abilities
            .has_data
            .then(|| json!({ "code": finding.code.name, "help": finding.help })),
    }
}

/// What has no effect is drawn faded.
fn tags(finding: &Finding) -> Option<Vec<DiagnosticTag>> {
    finding
        .code
        .name
        .ends_with("/unused")
        .then(|| vec![DiagnosticTag::UNNECESSARY])
}
