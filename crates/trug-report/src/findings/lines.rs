//! Findings as lines: one each, in the form editors and scripts take apart.

use trug_findings::{Finding, Source};

use super::order::in_order;
use crate::words::printable;

/// `file:line:column: severity[code] message`, one line a finding; the reason follows an accepted one in brackets.
#[must_use]
pub fn lines(findings: &[Finding], sources: &[Source]) -> String {
    let mut text = String::new();
    for placed in in_order(findings, sources) {
        let finding = placed.finding;
        let place = format!(
            "{}:{}:{}",
            placed.file, placed.start.line, placed.start.column
        );
        let says = format!(
            "{}[{}] {}",
            finding.severity.word(),
            finding.code.name,
            finding.message
        );
        let accepted = finding
            .accepted
            .as_ref()
            .map(|acceptance| format!(" (accepted: {})", acceptance.reason))
            .unwrap_or_default();
        let line = format!("{place}: {says}{accepted}");
        text.push_str(&printable(&line).replace('\n', " "));
        text.push('\n');
    }
    text
}
