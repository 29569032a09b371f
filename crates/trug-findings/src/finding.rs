//! A finding: one sentence about one place, what else matters there, and how it can be mended.

use crate::code::{Code, Severity};
use crate::place::Place;

/// Something the tool says about a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Which of the things it can say.
    pub code: &'static Code,
    /// How much it weighs here.
    pub severity: Severity,
    /// A fact in the user's own names, both numbers with their units; no full stop.
    pub message: String,
    /// The place at fault.
    pub place: Place,
    /// What is seen at that place, where the message does not say it.
    pub label: Option<String>,
    /// Other places that matter, the bound's own line first.
    pub related: Vec<Related>,
    /// What to do, beginning with a verb.
    pub help: Option<String>,
    /// Edits that would mend it. An amount that can harm has none.
    pub fixes: Vec<Fix>,
    /// Set where the text accepts this finding.
    pub accepted: Option<Acceptance>,
}

/// Another place, and what it has to do with the finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// Where.
    pub place: Place,
    /// What this place contributed.
    pub message: String,
}

/// A way to mend a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What it does, beginning with a verb.
    pub title: String,
    /// Edits that belong together; none overlaps another.
    pub edits: Vec<Edit>,
    /// Whether it can be applied unseen, with all others of its kind.
    pub sure: bool,
}

/// One replacement of a range by a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What goes.
    pub place: Place,
    /// What comes.
    pub text: String,
}

/// Why a finding was accepted, and where that is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Acceptance {
    /// The user's reason.
    pub reason: String,
    /// The `accept` clause or line.
    pub place: Place,
}

impl Finding {
    /// A finding of `code` at `place` that says nothing yet.
    #[must_use]
    pub fn new(code: &'static Code, place: Place) -> Finding {
        Finding {
            code,
            severity: code.severity,
            message: String::new(),
            place,
            label: None,
            related: Vec::new(),
            help: None,
            fixes: Vec::new(),
            accepted: None,
        }
    }

    /// Sets the sentence.
    #[must_use]
    pub fn says(mut self, message: impl Into<String>) -> Finding {
        self.message = message.into();
        self
    }

    /// Says what is seen at the place itself.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Finding {
        self.label = Some(label.into());
        self
    }

    /// Adds another place that matters.
    #[must_use]
    pub fn also(mut self, place: Place, message: impl Into<String>) -> Finding {
        self.related.push(Related {
            place,
            message: message.into(),
        });
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Finding {
        self.help = Some(help.into());
        self
    }

    /// Weighs it other than its code usually does.
    #[must_use]
    pub fn weighing(mut self, severity: Severity) -> Finding {
        self.severity = severity;
        self
    }

    /// Adds a fix of one edit that may be applied unseen.
    #[must_use]
    pub fn fix(self, title: impl Into<String>, place: Place, text: impl Into<String>) -> Finding {
        self.mend(title, place, text, true)
    }

    /// Adds a fix of one edit that wants the user's eye.
    #[must_use]
    pub fn offer(self, title: impl Into<String>, place: Place, text: impl Into<String>) -> Finding {
        self.mend(title, place, text, false)
    }

    /// Adds a fix of several edits that wants the user's eye.
    #[must_use]
    pub fn offer_all(mut self, title: impl Into<String>, edits: Vec<Edit>) -> Finding {
        self.fixes.push(Fix {
            title: title.into(),
            edits,
            sure: false,
        });
        self
    }

    fn mend(
        mut self,
        title: impl Into<String>,
        place: Place,
        text: impl Into<String>,
        sure: bool,
    ) -> Finding {
        self.fixes.push(Fix {
            title: title.into(),
            edits: vec![Edit {
                place,
                text: text.into(),
            }],
            sure,
        });
        self
    }

    /// Whether it still asks something of the user.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.accepted.is_none()
    }
}

/// Puts findings in the order people and programs read them: file, place, code; equal ones once.
///
/// Files rank by their number, so a farm numbers its files in path order.
pub fn sort(findings: &mut Vec<Finding>) {
    findings.sort_by(|a, b| {
        let key = |finding: &Finding| (finding.place.file, finding.place.span.start);
        key(a)
            .cmp(&key(b))
            .then_with(|| a.code.name.cmp(b.code.name))
            .then_with(|| a.message.cmp(&b.message))
    });
    findings.dedup();
}
