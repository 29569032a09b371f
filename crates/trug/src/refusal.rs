//! What was typed and cannot be understood, in words a farmer reads.

use std::error::Error as _;
use std::io::ErrorKind::BrokenPipe;
use std::io::{Write, stdout};

use clap::Error;
use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::ending::{Ending, Failure, to_stderr, unprinted};
use crate::near::nearest;

/// Says why the arguments cannot be followed; or prints the help or the version, where that was asked for.
pub(crate) fn tell(refusal: &Error) -> Ending {
    if !refusal.use_stderr() {
        let printed = refusal.print().and_then(|()| stdout().flush());
        return match printed {
            Err(error) if error.kind() != BrokenPipe => {
                unprinted(&error).tell();
                Ending::Partial
            }
            _ => Ending::Clean,
        };
    }
    match words(refusal) {
        Some(failure) => {
            failure.tell();
            to_stderr(&closing(refusal));
        }
        // The help itself says what may be typed.
        None => drop(refusal.print()),
    }
    Ending::Partial
}

fn words(refusal: &Error) -> Option<Failure> {
    let failure = match refusal.kind() {
        ErrorKind::UnknownArgument => {
            let typed = text(refusal, ContextKind::InvalidArg)?;
            let kind = if typed.starts_with('-') {
                "there is no option"
            } else {
                "nothing more can follow:"
            };
            Failure::new(format!("{kind} {typed}"))
        }
        ErrorKind::InvalidSubcommand => Failure::new(format!(
            "there is no command {}",
            text(refusal, ContextKind::InvalidSubcommand)?
        )),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => value(refusal)?,
        ErrorKind::MissingRequiredArgument => Failure::new(format!(
            "{} is missing",
            all(refusal, ContextKind::InvalidArg)?
        )),
        ErrorKind::ArgumentConflict => conflict(refusal)?,
        ErrorKind::InvalidUtf8 => Failure::new("what was typed is not UTF-8"),
        _ => return None,
    };
    Some(match near(refusal) {
        Some(near) => failure.help(format!("write {near}, if that is what is meant")),
        None => failure,
    })
}

/// What is spelled much like what was typed.
fn near(refusal: &Error) -> Option<String> {
    let kinds = [
        (ContextKind::InvalidArg, ContextKind::SuggestedArg),
        (
            ContextKind::InvalidSubcommand,
            ContextKind::SuggestedSubcommand,
        ),
    ];
    kinds.into_iter().find_map(|(typed, suggested)| {
        let typed = text(refusal, typed)?;
        let known = match refusal.get(suggested)? {
            ContextValue::String(text) => std::slice::from_ref(text),
            ContextValue::Strings(texts) => texts,
            _ => return None,
        };
        nearest(&typed, known.iter().map(String::as_str))
            .first()
            .map(|&near| near.to_owned())
    })
}

fn value(refusal: &Error) -> Option<Failure> {
    let shown = text(refusal, ContextKind::InvalidArg)?;
    let option = shown.split(" <").next()?;
    let typed = text(refusal, ContextKind::InvalidValue)?;
    let failure = if typed.is_empty() {
        Failure::new(format!("{option} has no value"))
    } else {
        Failure::new(format!("{typed} is nothing that {option} can be"))
    };
    let choices =
        all(refusal, ContextKind::ValidValue).map(|choices| format!("write one of {choices}"));
    let why = refusal.source().map(ToString::to_string);
    Some(match choices.or(why) {
        Some(help) => failure.help(help),
        None => failure,
    })
}

fn conflict(refusal: &Error) -> Option<Failure> {
    let option = text(refusal, ContextKind::InvalidArg)?;
    let other = all(refusal, ContextKind::PriorArg)?;
    Some(if option == other {
        Failure::new(format!("{option} can be said once"))
    } else {
        Failure::new(format!("{option} and {other} do not go together"))
    })
}

/// The usage line where there is one, and where the rest is said.
fn closing(refusal: &Error) -> String {
    let usage = match refusal.get(ContextKind::Usage) {
        Some(ContextValue::StyledStr(usage)) => {
            format!("  {}\n", usage.to_string().replace('\n', "\n  "))
        }
        _ => String::new(),
    };
    format!("{usage}  `trug --help` says what there is\n")
}

fn text(refusal: &Error, kind: ContextKind) -> Option<String> {
    match refusal.get(kind)? {
        ContextValue::String(text) => Some(text.replace(char::is_control, "\u{fffd}")),
        _ => None,
    }
}

fn all(refusal: &Error, kind: ContextKind) -> Option<String> {
    match refusal.get(kind)? {
        ContextValue::String(text) => Some(text.clone()),
        ContextValue::Strings(texts) if !texts.is_empty() => Some(texts.join(", ")),
        _ => None,
    }
}
