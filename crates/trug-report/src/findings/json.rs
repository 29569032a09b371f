//! Findings as `findings/1`.

use trug_findings::{Finding, Fix, Place, Related, Severity, Source};

use super::order::{Tally, end_of, file_name, in_order, start_of};
use crate::json::finding::{
    AcceptedJson, CountsJson, EditJson, FORMAT, FindingJson, FindingsDocument, FixJson, PlaceJson,
    RelatedJson, SeverityJson,
};

/// The document of a run. `today` is given where something was judged by the day.
#[must_use]
pub fn findings_document(
    findings: &[Finding],
    sources: &[Source],
    today: Option<&str>,
) -> FindingsDocument {
    let tally = Tally::of(findings);
    FindingsDocument {
        format: FORMAT,
        today: today.map(str::to_owned),
        findings: in_order(findings, sources)
            .iter()
            .map(|placed| finding_json(placed.finding, sources))
            .collect(),
        counts: CountsJson {
            error: tally.errors,
            warning: tally.warnings,
            note: tally.notes,
        },
    }
}

/// One finding.
#[must_use]
pub fn finding_json(finding: &Finding, sources: &[Source]) -> FindingJson {
    FindingJson {
        code: finding.code.name.to_owned(),
        severity: severity(finding.severity),
        message: finding.message.clone(),
        help: finding.help.clone(),
        place: place_json(finding.place, sources),
        related: finding
            .related
            .iter()
            .map(|related| related_json(related, sources))
            .collect(),
        fixes: finding
            .fixes
            .iter()
            .map(|fix| fix_json(fix, sources))
            .collect(),
        accepted: finding.accepted.as_ref().map(|acceptance| AcceptedJson {
            reason: acceptance.reason.clone(),
        }),
    }
}

/// A place with the name of its text, in lines and columns.
#[must_use]
pub(super) fn place_json(place: Place, sources: &[Source]) -> PlaceJson {
    let start = start_of(place, sources);
    let end = end_of(place, sources);
    PlaceJson {
        file: file_name(place, sources).to_owned(),
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
    }
}

pub(super) fn severity(severity: Severity) -> SeverityJson {
    match severity {
        Severity::Error => SeverityJson::Error,
        Severity::Warning => SeverityJson::Warning,
        Severity::Note => SeverityJson::Note,
    }
}

fn related_json(related: &Related, sources: &[Source]) -> RelatedJson {
    RelatedJson {
        message: related.message.clone(),
        place: place_json(related.place, sources),
    }
}

fn fix_json(fix: &Fix, sources: &[Source]) -> FixJson {
    let edits = fix.edits.iter().map(|edit| EditJson {
        place: place_json(edit.place, sources),
        text: edit.text.clone(),
    });
    FixJson {
        title: fix.title.clone(),
        edits: edits.collect(),
    }
}
