//! What may be typed after `trug convert`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `trug convert`
#[derive(Debug, Args)]
pub(crate) struct Convert {
    /// The table or the text; `-` is standard input
    ///
    /// A table has its ingredients in rows or in columns, or is a ration with masses, shares or parts. No unit is
    /// guessed: what could not be used is said with its line, its column and the reason.
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// What is made of it; unsaid, a table of a `.trug` text and a text of anything else that has an ending
    #[arg(long, value_name = "FORM")]
    pub(crate) to: Option<ConvertForm>,
    /// The ration of a text that has several; of a table, the heading above its amounts, any number of times
    #[arg(long, value_name = "NAME")]
    pub(crate) ration: Vec<String>,
    /// The unit of a heading that has none, such as "CP=%"; any number of times
    #[arg(long, value_name = "HEADING=UNIT", value_parser = unit_of_heading)]
    pub(crate) unit: Vec<(String, String)>,
    /// The animal that the rations of a table are for
    #[arg(long = "for", value_name = "ANIMAL")]
    pub(crate) animal: Option<String>,
    /// Write to this file, whole or not at all; a text that is there is never replaced
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
}

/// What `convert` makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ConvertForm {
    /// A table
    Csv,
    /// A text
    Trug,
}

fn unit_of_heading(typed: &str) -> Result<(String, String), String> {
    let parts = typed.rsplit_once('=');
    let parts =
        parts.filter(|(heading, unit)| !heading.trim().is_empty() && !unit.trim().is_empty());
    let parts = parts.map(|(heading, unit)| (heading.trim().to_owned(), unit.trim().to_owned()));
    parts.ok_or_else(|| "write the heading, `=` and its unit, such as \"CP=%\"".to_owned())
}
