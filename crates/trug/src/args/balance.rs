//! What may be typed after `trug balance`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::Deny;

/// `trug balance`
#[derive(Debug, Args)]
pub(crate) struct Balance {
    /// The text of the ration, or a folder: every ration in it with open amounts; `-` is standard input
    #[arg(value_name = "PATH")]
    pub(crate) path: PathBuf,
    /// The ration, where the text has several
    #[arg(value_name = "RATION")]
    pub(crate) ration: Option<String>,
    /// Write the amounts into the text, as `17.3 % within 12 .. 24 %`, and touch nothing else
    #[arg(long)]
    pub(crate) write: bool,
    /// Balance at the prices of many days: a table whose headings are `day`, `maize LKR/kg` and so on, with a row a day
    #[arg(long, value_name = "FILE.csv", conflicts_with = "write")]
    pub(crate) prices: Option<PathBuf>,
    /// How the result is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: BalanceForm,
    /// Write the result to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) deny: Deny,
}

/// The forms of `balance`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum BalanceForm {
    /// To be read
    Text,
    /// One document, balance/1, of one ration
    Json,
    /// A document a line, of any number of rations
    Jsonl,
    /// A page to be read or printed
    Html,
}
