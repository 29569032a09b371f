//! What may be typed after `trug trace`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `trug trace`
#[derive(Debug, Args)]
pub(crate) struct Trace {
    /// The text of the records, or a folder: every record in it; `-` is standard input
    #[arg(value_name = "FILE")]
    pub(crate) path: PathBuf,
    /// A lot, a record or a group, looked for in this order; `record R-7` where a name means several
    #[arg(value_name = "LOT|RECORD", num_args = 1..=2, required = true)]
    pub(crate) name: Vec<String>,
    /// How it is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: TraceForm,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
}

/// The forms of `trace`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TraceForm {
    /// To be read
    Text,
    /// One document, trace/0
    Json,
    /// A row for each lot in each record and group
    Csv,
    /// A page to print
    Html,
}
