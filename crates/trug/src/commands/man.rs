//! `trug man`: the manual page, from the arguments themselves; the commands stand on the tool's own page.

use std::io::Error;

use clap::{Command, CommandFactory};
use clap_mangen::Man;

use crate::args::Typed;
use crate::ending::{Ending, Failure, print};

/// Prints the manual page.
pub(crate) fn man() -> Result<Ending, Failure> {
    let page =
        page().map_err(|error| Failure::new(format!("the page could not be written: {error}")))?;
    print(&page)?;
    Ok(Ending::Clean)
}

fn page() -> Result<Vec<u8>, Error> {
    let tool = Typed::command();
    let mut page = Vec::new();
    let man = Man::new(tool.clone().disable_help_subcommand(true));
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    for command in tool.get_subcommands() {
        page.extend(section(command.clone())?.into_bytes());
    }
    man.render_extra_section(&mut page)?;
    man.render_version_section(&mut page)?;
    Ok(page)
}

/// The section of one command. Its own headings go one level down; what holds everywhere is not said again.
fn section(command: Command) -> Result<String, Error> {
    let full_name = format!("trug {}", command.get_name());
    let man = Man::new(command.bin_name(&full_name).disable_help_flag(true));
    let mut lines = Vec::new();
    man.render_synopsis_section(&mut lines)?;
    man.render_description_section(&mut lines)?;
    man.render_options_section(&mut lines)?;
    let below = String::from_utf8_lossy(&lines).replace(".SH ", ".SS ");
    Ok(format!(".SH \"{}\"\n{below}", full_name.to_uppercase()))
}
