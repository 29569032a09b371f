//! What may be typed after `trug evenness`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `trug evenness`
#[derive(Debug, Args)]
pub(crate) struct Evenness {
    /// The text of the records, or a folder: every record in it; `-` is standard input
    #[arg(value_name = "FILE")]
    pub(crate) path: PathBuf,
    /// The record, where the text has several
    #[arg(value_name = "RECORD")]
    pub(crate) record: Option<String>,
    /// Say where to take so many samples, and how to make each small
    #[arg(long, value_name = "N", value_parser = samples)]
    pub(crate) samples: Option<u16>,
    /// How it is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: EvennessForm,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
}

/// The forms of `evenness`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum EvennessForm {
    /// To be read
    Text,
    /// One document, evenness/1, of one analyte of one record
    Json,
    /// A document a line, of any number of them
    Jsonl,
    /// A page with the samples drawn, and a chart where a ration has several records
    Html,
}

fn samples(typed: &str) -> Result<u16, String> {
    typed
        .parse()
        .ok()
        .filter(|number| (2..=MOST_SAMPLES).contains(number))
        .ok_or_else(|| format!("write a number from 2 to {MOST_SAMPLES}"))
}

/// No laboratory is sent more.
const MOST_SAMPLES: u16 = 1000;
