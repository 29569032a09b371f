//! What is said about a conversion: what could not be used, what was left out, and how headings were read.

use trug_findings::Span;

/// A remark on a place of what was converted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// Where.
    pub span: Span,
    /// How much it weighs.
    pub weight: Weight,
    /// The sentence, without a full stop.
    pub says: String,
    /// What to do; empty where there is nothing to do.
    pub help: String,
}

/// How much a remark weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// How something was read.
    Read,
    /// Left out because it is nothing that the result has.
    LeftOut,
    /// Meant for the result, and could not be used.
    Lost,
}

impl Remark {
    /// How something was read.
    pub(crate) fn read(span: Span, says: impl Into<String>) -> Remark {
        Remark::new(span, Weight::Read, says, "")
    }

    /// What the result does not have.
    pub(crate) fn left_out(span: Span, says: impl Into<String>, help: impl Into<String>) -> Remark {
        Remark::new(span, Weight::LeftOut, says, help)
    }

    /// What could not be used.
    pub(crate) fn lost(span: Span, says: impl Into<String>, help: impl Into<String>) -> Remark {
        Remark::new(span, Weight::Lost, says, help)
    }

    fn new(span: Span, weight: Weight, says: impl Into<String>, help: impl Into<String>) -> Remark {
        Remark {
            span,
            weight,
            says: says.into(),
            help: help.into(),
        }
    }
}

/// What a user wrote, at most forty letters of its first line.
pub(crate) fn short(text: &str) -> String {
    let text = text.trim();
    let line = text.lines().next().unwrap_or_default();
    match line.char_indices().nth(40) {
        Some((cut, _)) => format!("{}…", line.get(..cut).unwrap_or_default()),
        None if line.len() < text.len() => format!("{line} …"),
        None => line.to_owned(),
    }
}

/// Why nothing could be converted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The sentence, without a full stop.
    pub says: String,
    /// What to do.
    pub help: String,
}

impl Refusal {
    pub(crate) fn new(says: impl Into<String>, help: impl Into<String>) -> Refusal {
        Refusal {
            says: says.into(),
            help: help.into(),
        }
    }
}

/// A conversion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Converted {
    /// The result.
    pub text: String,
    /// What is said about it, in the order of what was converted.
    pub remarks: Vec<Remark>,
}
