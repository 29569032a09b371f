//! How the tool ends, and the two streams it writes to: results to one, everything else to the other.

use std::io::{Error, ErrorKind, Write};
use std::path::Path;
use std::process::ExitCode;

use crate::refused::why;

/// How work that was done came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Ending {
    /// Nothing stands in the way: exit 0.
    Clean,
    /// Denied findings, a draft, or something not tidy: exit 1.
    Wanting,
    /// Part of the work could not be done, and that was said: exit 2.
    Partial,
}

impl Ending {
    /// `Wanting` where something is.
    pub(crate) fn wanting(is_wanting: bool) -> Ending {
        if is_wanting {
            Ending::Wanting
        } else {
            Ending::Clean
        }
    }

    /// The exit code.
    pub(crate) fn code(self) -> ExitCode {
        ExitCode::from(match self {
            Ending::Clean => 0,
            Ending::Wanting => 1,
            Ending::Partial => 2,
        })
    }
}

/// Why the tool could not do its work: exit 2.
#[derive(Debug)]
pub(crate) struct Failure {
    says: String,
    help: Option<String>,
}

impl Failure {
    /// A failure that is a fact in the user's words.
    pub(crate) fn new(says: impl Into<String>) -> Failure {
        Failure {
            says: says.into(),
            help: None,
        }
    }

    /// Says what to do; begins with a verb.
    pub(crate) fn help(mut self, help: impl Into<String>) -> Failure {
        self.help = Some(help.into());
        self
    }

    /// Tells the user.
    pub(crate) fn tell(&self) {
        say(&self.says);
        if let Some(help) = &self.help {
            to_stderr(&format!("  help: {help}\n"));
        }
    }
}

/// Writes a result to standard output. A reader that has gone away, as `head` does, is not an error.
pub(crate) fn print(result: &[u8]) -> Result<(), Failure> {
    let mut stdout = std::io::stdout().lock();
    match stdout.write_all(result).and_then(|()| stdout.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(unprinted(&error)),
        _ => Ok(()),
    }
}

/// The result could not be printed.
pub(crate) fn unprinted(error: &Error) -> Failure {
    Failure::new(format!(
        "standard output could not be written: {}",
        why(error)
    ))
}

/// Says a sentence on standard error, under the tool's name.
pub(crate) fn say(sentence: &str) {
    to_stderr(&format!("trug: {sentence}\n"));
}

/// Writes to standard error. There is nobody to tell where that fails.
pub(crate) fn to_stderr(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// A path as it can be shown: what is not text, or would steer a terminal, is replaced.
pub(crate) fn shown(path: &Path) -> String {
    let steers = |letter: char| letter.is_control();
    path.to_string_lossy().replace(steers, "\u{fffd}")
}
