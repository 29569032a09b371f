//! `trug completions`: what a shell needs to complete commands, from the arguments themselves.

use clap::CommandFactory;

use crate::args::{Completions, Typed};
use crate::ending::{Ending, Failure, print};

/// Prints the completions for a shell.
pub(crate) fn completions(asked: &Completions) -> Result<Ending, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(asked.shell, &mut Typed::command(), "trug", &mut script);
    print(&script)?;
    Ok(Ending::Clean)
}
