//! The codes of findings: declared once each, beside the function that raises them.

use crate::finding::Finding;
use crate::place::Place;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Worth acting on; nothing is refused.
    Warning,
    /// A plan is refused while it stands.
    Error,
}

impl Severity {
    /// The word people and programs read.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Warning => "warning",
            Severity::Error => "error",
        }
    }
}

/// What kind of thing a code speaks of: the part before the slash.
pub type Family = &'static str;

/// The families whose findings a farmer may accept with a reason.
///
/// Amounts that can harm (`harm`) are not among them, nor is anything that would leave a sum or a name open.
const ACCEPTABLE: [Family; 9] = [
    "dose", "target", "limit", "law", "mix", "weigh", "vessel", "store", "cost",
];

/// One thing the tool can say: its name, its usual severity, and its page.
#[derive(Debug)]
pub struct Code {
    /// `family/slug`.
    pub name: &'static str,
    /// How much it usually weighs.
    pub severity: Severity,
    /// The page `why CODE` prints, in Markdown. Its first line is `# code`, its second paragraph says what it means.
    pub page: &'static str,
}

impl PartialEq for Code {
    fn eq(&self, other: &Code) -> bool {
        self.name == other.name
    }
}

impl Eq for Code {}

impl Code {
    /// A code whose findings refuse a plan.
    #[must_use]
    pub const fn error(name: &'static str, page: &'static str) -> Code {
        Code {
            name,
            severity: Severity::Error,
            page,
        }
    }

    /// A code whose findings warn.
    #[must_use]
    pub const fn warning(name: &'static str, page: &'static str) -> Code {
        Code {
            name,
            severity: Severity::Warning,
            page,
        }
    }

    /// A code whose findings inform.
    #[must_use]
    pub const fn note(name: &'static str, page: &'static str) -> Code {
        Code {
            name,
            severity: Severity::Note,
            page,
        }
    }

    /// The part before the slash.
    #[must_use]
    pub fn family(&self) -> Family {
        self.name
            .split_once('/')
            .map_or(self.name, |(family, _)| family)
    }

    /// Whether a line `accept CODE "reason"` may silence it.
    #[must_use]
    pub fn may_be_accepted(&self) -> bool {
        let family = self.family();
        ACCEPTABLE.contains(&family)
    }

    /// Starts a finding of this code.
    #[must_use]
    pub fn at(&'static self, place: Place) -> Finding {
        Finding::new(self, place)
    }
}
