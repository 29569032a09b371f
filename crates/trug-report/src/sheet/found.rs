//! What was found, and what was accepted. Findings are told in English, as everywhere.

use trug_findings::{Finding, Severity};

use super::writing::Writing;
use super::{Draft, Section};
use crate::speech::Part;

impl Writing<'_> {
    /// What was found, the worst first; then what was accepted, with the reason.
    pub(super) fn found(&self) -> Option<Section> {
        let mut all = self.about.all_findings(self.plan);
        all.sort_by(|a, b| {
            b.is_open()
                .cmp(&a.is_open())
                .then(b.severity.cmp(&a.severity))
        });
        let lines: Vec<String> = all.iter().map(|finding| self.finding(finding)).collect();
        (!lines.is_empty()).then(|| Section {
            heading: self.speech.say("found"),
            lines,
        })
    }

    fn finding(&self, finding: &Finding) -> String {
        let word = self.speech.say(if finding.is_open() {
            match finding.severity {
                Severity::Error => "severity-error",
                Severity::Warning => "severity-warning",
                Severity::Note => "severity-note",
            }
        } else {
            "accepted"
        });
        let headline = format!("{word}[{}] {}", finding.code.name, finding.message);
        let (phrase, text) = match (&finding.accepted, &finding.help) {
            (Some(acceptance), _) => ("reason", &acceptance.reason),
            (None, Some(help)) => ("help", help),
            (None, None) => return headline,
        };
        format!("{headline}\n{}", self.speech.say_one(phrase, "text", text))
    }

    /// What a draft says of itself.
    pub(super) fn draft(&self) -> Option<Draft> {
        if !self.about.is_draft(self.plan) {
            return None;
        }
        let all = self.about.all_findings(self.plan);
        let is_error = |it: &&Finding| it.is_open() && it.severity == Severity::Error;
        let why = match all.iter().filter(is_error).count() {
            0 => self.speech.say("draft-asked"),
            errors => self
                .speech
                .say_of("draft-errors", &[("count", Part::Count(errors))]),
        };
        Some(Draft {
            word: self.speech.say("draft"),
            why,
        })
    }
}
