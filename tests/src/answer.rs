//! What the tool answers to a section, asked through the same functions as the command line.

use trug_findings::{Finding, Source};

use crate::marked::Section;

/// What the tool has to say.
#[derive(Debug, Default)]
pub struct Answer {
    /// The texts, by their numbers.
    pub sources: Vec<Source>,
    /// Its findings, in order.
    pub findings: Vec<Finding>,
    /// The text it gives back, for `fix` and `tidy`.
    pub text: Option<String>,
    /// The document for programs, for `plan` and `analyse`; none where it refuses.
    pub document: Option<serde_json::Value>,
}

/// Asks what the section asks.
///
/// # Errors
/// Where the section asks for something there is not.
pub fn ask(section: &Section) -> Result<Answer, String> {
    let _ = section;
    Ok(Answer::default())
}
