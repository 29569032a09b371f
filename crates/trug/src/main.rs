//! The command line: what was typed becomes a setting and a command, a command becomes a result and an exit code.

mod args;
mod asked;
mod clock;
mod commands;
mod disk;
mod ending;
mod load;
mod mass;
mod meant;
mod near;
mod outside;
mod progress;
mod refusal;
mod refused;
mod revision;
mod root;
mod setting;
mod shell;
mod side;
mod starter;
mod table;
mod terminal;
mod write;

use std::process::ExitCode;

use clap::Parser;

use crate::args::{Command, Typed};
use crate::ending::{Ending, Failure};
use crate::setting::Setting;

/// A text becomes a million small things: that is a third quicker than with the allocators of most systems, and on several threads
/// more.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let typed = match Typed::try_parse() {
        Ok(typed) => typed,
        Err(refusal) => return refusal::tell(&refusal).code(),
    };
    run(typed)
        .unwrap_or_else(|failure| {
            failure.tell();
            Ending::Partial
        })
        .code()
}

fn run(typed: Typed) -> Result<Ending, Failure> {
    let setting = Setting::of(typed.surroundings)?;
    match typed.command {
        Command::Start(start) => commands::start(&start),
        Command::Check(check) => commands::check(&check, &setting),
        Command::Plan(plan) => commands::plan(&plan, &setting),
        Command::Analyse(analyse) => commands::analyse(&analyse, &setting),
        Command::Balance(balance) => commands::balance(&balance, &setting),
        Command::Compare(compare) => commands::compare(&compare, &setting),
        Command::Buy(buy) => commands::buy(&buy, &setting),
        Command::Evenness(evenness) => commands::evenness(&evenness, &setting),
        Command::Trace(trace) => commands::trace_of(&trace, &setting),
        Command::Convert(convert) => commands::convert(&convert, &setting),
        Command::Tidy(tidy) => commands::tidy(&tidy, &setting),
        Command::Why(why) => commands::why(&why, &setting),
        Command::Book(book) => commands::book(&book),
        Command::Schema(schema) => commands::schema(&schema),
        Command::Lsp(lsp) => commands::lsp(&lsp, &setting),
        Command::Completions(completions) => commands::completions(&completions),
        Command::Man => commands::man(),
    }
}
