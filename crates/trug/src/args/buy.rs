//! What may be typed after `trug buy`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `trug buy`
#[derive(Debug, Args)]
pub(crate) struct Buy {
    /// Texts and folders whose groups are fed, and those of the texts they use; `-` is standard input
    ///
    /// Each group is seen from its own text: what that text and those it uses say of rations, prices and lots counts.
    #[arg(value_name = "PATH", default_value = ".")]
    pub(crate) paths: Vec<PathBuf>,
    /// For how many days, from today on
    ///
    /// A mix takes what it needs on its first day, so that is when the store must have it. A mix is made for the days that group
    /// and ration allow, the first one today or on the first day that is eaten, the last one for the days that are left.
    #[arg(long, value_name = "N", default_value = "30", value_parser = super::days)]
    pub(crate) days: u16,
    /// How it is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: BuyForm,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
}

/// The forms of `buy`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum BuyForm {
    /// To be read
    Text,
    /// One document, buy/0
    Json,
    /// A table: what to buy, what is enough, what expires
    Csv,
    /// A page to be printed and ticked, with the stock drawn over the days
    Html,
}
