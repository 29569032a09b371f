//! What may be typed after `trug compare`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `trug compare`
#[derive(Debug, Args)]
pub(crate) struct Compare {
    /// What was: a text, a folder, a git revision REV, or REV:PATH; `-` is standard input
    ///
    /// A path that is there wins over a revision of that name. A path in a revision is from the top of the repository,
    /// or from here where it begins with `./`. A revision without a path beside a side with one means the same path.
    #[arg(value_name = "A")]
    pub(crate) before: String,
    /// What is: the same forms
    #[arg(value_name = "B")]
    pub(crate) after: String,
    /// Only this ration and what it rests on
    #[arg(value_name = "RATION")]
    pub(crate) ration: Option<String>,
    /// How the comparison is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: CompareForm,
    /// Exit 1 where anything changed
    #[arg(long)]
    pub(crate) exit_code: bool,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
}

/// The forms of `compare`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum CompareForm {
    /// To be read
    Text,
    /// For a review comment: the short of it first, then tables
    Markdown,
    /// One document, compare/0
    Json,
    /// A page to be read or printed
    Html,
}
