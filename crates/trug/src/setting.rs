//! What holds for the whole run: what was typed, filled up from the environment and the clock.

use std::path::PathBuf;

use jiff::civil::Date;
use trug_report::findings::Style;

use crate::args::{self, Surroundings};
use crate::clock;
use crate::ending::Failure;
use crate::terminal::{Stream, style};

/// What holds for the whole run.
#[derive(Debug)]
pub(crate) struct Setting {
    /// The root, where one was named.
    pub(crate) root: Option<PathBuf>,
    /// Texts outside the root may be read.
    pub(crate) may_leave_root: bool,
    /// The day stock and prices are judged on.
    pub(crate) today: Date,
    /// The same, where it was said and is not the clock's.
    pub(crate) said_today: Option<Date>,
    wants_ascii: bool,
}

impl Setting {
    /// Fills up what was typed, and sets the number of threads.
    pub(crate) fn of(typed: Surroundings) -> Result<Setting, Failure> {
        let today = or_variable(typed.today, "TRUG_TODAY", args::day)?;
        if let Some(threads) = or_variable(typed.threads, "TRUG_THREADS", args::threads)? {
            use_threads(threads)?;
        }
        Ok(Setting {
            root: typed.root,
            may_leave_root: typed.allow_outside,
            today: today.unwrap_or_else(clock::day),
            said_today: today,
            wants_ascii: typed.ascii,
        })
    }

    /// What `stream` can show.
    pub(crate) fn style(&self, stream: Stream) -> Style {
        style(stream, self.wants_ascii)
    }
}

/// What was typed wins over the environment; a variable that is empty counts as not set.
fn or_variable<T>(
    typed: Option<T>,
    variable: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Result<Option<T>, Failure> {
    if typed.is_some() {
        return Ok(typed);
    }
    let Some(value) = std::env::var_os(variable).filter(|value| !value.is_empty()) else {
        return Ok(None);
    };
    let value = value.to_string_lossy();
    let refused = |help| {
        Failure::new(format!(
            "the environment has {variable}={}",
            value.escape_debug()
        ))
        .help(help)
    };
    read(&value).map(Some).map_err(refused)
}

/// The pool is made only when something asks for it, so a number is all that is set, except that it must be set before.
fn use_threads(threads: u16) -> Result<(), Failure> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads));
    let pool = if threads == 1 {
        pool.use_current_thread()
    } else {
        pool
    };
    pool.build_global()
        .map_err(|error| Failure::new(format!("{threads} threads could not be started: {error}")))
}
