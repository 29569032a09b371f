//! What may be typed. Completions and the manual page are made from this file and those below it alone.

mod balance;
mod buy;
mod compare;
mod convert;
mod evenness;
mod trace;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;

pub(crate) use balance::{Balance, BalanceForm};
pub(crate) use buy::{Buy, BuyForm};
pub(crate) use compare::{Compare, CompareForm};
pub(crate) use convert::{Convert, ConvertForm};
pub(crate) use evenness::{Evenness, EvennessForm};
pub(crate) use trace::{Trace, TraceForm};

/// From plain-text rations to feed that is mixed right.
///
/// trug reads `.trug` texts: what is in the store, what a ration is made of, and what there is to weigh and mix it
/// with. It says what is wrong with a ration, and plans how a batch is weighed and mixed by hand, step by step.
///
/// It never calls a feed safe; it says what it checked. The product label, a veterinarian and local feed law decide.
#[derive(Debug, Parser)]
#[command(name = "trug", version, after_help = EXITS)]
pub(crate) struct Typed {
    /// What is to be done.
    #[command(subcommand)]
    pub(crate) command: Command,
    /// What holds for every command.
    #[command(flatten)]
    pub(crate) surroundings: Surroundings,
}

const EXITS: &str = "Exit: 0 nothing stands in the way; 1 findings at or above the denied severity, a draft, an uneven \
    batch, a group that could not be counted, or texts that are not tidy; 2 the tool could not do its work.";

/// What holds for every command.
#[derive(Debug, Args)]
#[command(next_help_heading = "Everywhere")]
pub(crate) struct Surroundings {
    /// The farm's root: names are relative to it, and `use` does not leave it
    ///
    /// Unsaid, it is the nearest folder above with `.git` or a file `trug.root`, else the folder named.
    #[arg(long, value_name = "DIR", global = true)]
    pub(crate) root: Option<PathBuf>,
    /// Let `use` read texts outside the root
    #[arg(long, global = true)]
    pub(crate) allow_outside: bool,
    /// Print this day on plans and reports, such as 2026-11-25
    ///
    /// Unsaid, it is the day in the environment variable TRUG_TODAY, else the day it is.
    #[arg(long, value_name = "DATE", global = true, value_parser = day)]
    pub(crate) today: Option<Date>,
    /// Work with so many threads; the result is the same for any number
    ///
    /// Unsaid, it is the number in the environment variable TRUG_THREADS, else one for each processor.
    #[arg(long, value_name = "N", global = true, value_parser = threads)]
    pub(crate) threads: Option<u16>,
    /// Draw with plain ASCII characters only
    #[arg(long, global = true)]
    pub(crate) ascii: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make a farm to begin with: store, yard and rations that plan, editor settings, a git hook and a CI file
    Start(Start),
    /// Say everything there is to say about rations, store and yard
    Check(Check),
    /// Plan how a batch is weighed and mixed
    Plan(Plan),
    /// Work out composition, bounds, doses and cost of a ration
    Analyse(Analyse),
    /// Choose open amounts at least cost, and say why
    Balance(Balance),
    /// Say what changed between two files, folders or git revisions: amounts, nutrients, doses, cost, work
    Compare(Compare),
    /// List what to buy by when, in whole sacks, and what runs out or expires
    Buy(Buy),
    /// Judge how even a batch is by its samples, or say where to take them
    Evenness(Evenness),
    /// Follow a lot, a batch or a group's feed both ways: what went where, and which withdrawals still run
    Trace(Trace),
    /// Turn a spreadsheet saved as CSV into a text, and a text into CSV
    Convert(Convert),
    /// Lay texts out alike: values in one column, comments kept
    Tidy(Tidy),
    /// Print the page of a finding, or all that is written of a name and where it was read
    Why(Why),
    /// Print a bundled book of values: animals, nutrients, targets, ingredients, methods, law
    Book(Book),
    /// Print the JSON Schema of a document other programs read
    Schema(Schema),
    /// Serve an editor: the language server, on standard input and output
    Lsp(Lsp),
    /// Print the completions for a shell
    Completions(Completions),
    /// Print the manual page
    Man,
}

/// `trug start`
#[derive(Debug, Args)]
pub(crate) struct Start {
    /// The folder, made where it is not there yet
    ///
    /// Nothing that is there is overwritten: where a file of the farm would be, or cannot be written, nothing is made.
    #[arg(value_name = "DIR")]
    pub(crate) folder: PathBuf,
    /// What the farm is like
    #[arg(long, value_name = "KIND", default_value = "small")]
    pub(crate) like: Like,
}

/// `trug check`
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// Texts and folders; `-` is standard input
    ///
    /// In a folder every `.trug` text is read that `.gitignore` does not leave out; hidden files and links are passed
    /// over. A text that is named is read even so.
    #[arg(value_name = "PATH", default_value = ".")]
    pub(crate) paths: Vec<PathBuf>,
    /// How the findings are printed
    #[arg(long = "as", value_name = "FORM", default_value = "human")]
    pub(crate) form: FindingsForm,
    #[command(flatten)]
    pub(crate) deny: Deny,
}

/// `trug plan`
#[derive(Debug, Args)]
pub(crate) struct Plan {
    /// The text of the ration, or a folder: every ration in it; `-` is standard input
    #[arg(value_name = "PATH")]
    pub(crate) path: PathBuf,
    /// The ration, where the text has several
    #[arg(value_name = "RATION")]
    pub(crate) ration: Option<String>,
    /// How much is mixed, instead of the ration's own batch, such as 250kg
    #[arg(long, value_name = "MASS", conflicts_with = "group")]
    pub(crate) batch: Option<String>,
    /// Mix what this group eats in the days said
    #[arg(long = "for", value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// For how many days the group is fed; unsaid, as many as the group or the ration allows
    #[arg(long, value_name = "N", requires = "group", value_parser = days)]
    pub(crate) days: Option<u16>,
    /// Plan a ration that has errors; the plan is marked DRAFT
    #[arg(long)]
    pub(crate) draft: bool,
    /// How the plan is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: PlanForm,
    /// What a PDF is printed on
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) paper: Paper,
    /// The language of the sheet, such as fr or sw: en, es, fr, hi, pt, sw; of any other, the labels the text has
    #[arg(long = "in", value_name = "LANG")]
    pub(crate) language: Option<String>,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) deny: Deny,
}

/// `trug analyse`
#[derive(Debug, Args)]
pub(crate) struct Analyse {
    /// The text of the ration, or a folder: every ration in it; `-` is standard input
    #[arg(value_name = "PATH")]
    pub(crate) path: PathBuf,
    /// The ration, where the text has several
    #[arg(value_name = "RATION")]
    pub(crate) ration: Option<String>,
    /// The batch, instead of the ration's own, such as 250kg
    #[arg(long, value_name = "MASS")]
    pub(crate) batch: Option<String>,
    /// How the analysis is printed
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    pub(crate) form: AnalysisForm,
    /// Write to this file, whole or not at all
    #[arg(long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) deny: Deny,
}

/// `trug tidy`
#[derive(Debug, Args)]
pub(crate) struct Tidy {
    /// Texts and folders; `-` is standard input, tidied to standard output
    #[arg(value_name = "PATH", default_value = ".")]
    pub(crate) paths: Vec<PathBuf>,
    /// Change nothing: list the texts that are not tidy, and exit 1 if there are any
    #[arg(long)]
    pub(crate) check: bool,
}

/// `trug why`
#[derive(Debug, Args)]
pub(crate) struct Why {
    /// The code of a finding, such as sum/over; or the name of an ingredient, targets, an animal, a lot, a method
    #[arg(value_name = "CODE|NAME", required_unless_present = "list")]
    pub(crate) what: Option<String>,
    /// The text or folder that the name is looked up in; unsaid, this folder, then the bundled books
    #[arg(value_name = "PATH", conflicts_with = "list")]
    pub(crate) path: Option<PathBuf>,
    /// List every code with its severity and what it means
    #[arg(long, conflicts_with = "what")]
    pub(crate) list: bool,
}

/// `trug book`
#[derive(Debug, Args)]
pub(crate) struct Book {
    /// The book, such as poultry
    #[arg(value_name = "NAME", required_unless_present = "list")]
    pub(crate) name: Option<String>,
    /// The year of its edition; unsaid, the newest
    #[arg(value_name = "YEAR")]
    pub(crate) year: Option<u16>,
    /// List every book with the years there are
    #[arg(long, conflicts_with_all = ["name", "year"])]
    pub(crate) list: bool,
}

/// `trug schema`
#[derive(Debug, Args)]
pub(crate) struct Schema {
    /// The document, such as plan
    #[arg(value_name = "NAME", required_unless_present = "list")]
    pub(crate) name: Option<String>,
    /// List the documents there are
    #[arg(long, conflicts_with = "name")]
    pub(crate) list: bool,
}

/// `trug lsp`
#[derive(Debug, Args)]
pub(crate) struct Lsp {
    /// Talk over standard input and output, which is the only way there is: editors may say so
    #[arg(long, hide = true)]
    pub(crate) stdio: bool,
}

/// `trug completions`
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell
    #[arg(value_name = "SHELL")]
    pub(crate) shell: clap_complete::Shell,
}

/// The farms to begin with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Like {
    /// A smallholding: one store, one yard, one ration
    Small,
    /// A co-operative's store and targets, and two farms that use them
    CoOp,
}

/// Which findings end the tool with exit code 1.
#[derive(Debug, Args)]
pub(crate) struct Deny {
    /// Exit 1 where a finding weighs this much or more
    #[arg(long = "deny", value_name = "SEVERITY", default_value = "error")]
    pub(crate) severity: DeniedSeverity,
}

/// A severity, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum DeniedSeverity {
    /// A plan is refused while it stands
    Error,
    /// Worth acting on
    Warning,
    /// Worth knowing
    Note,
}

/// The forms of `check`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum FindingsForm {
    /// With the lines they concern
    Human,
    /// One document, findings/1
    Json,
    /// SARIF 2.1.0, for code hosts
    Sarif,
    /// One line each: file:line:column: severity[code] message
    Lines,
}

/// The forms of `plan`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PlanForm {
    /// To be read and followed
    Text,
    /// One document, plan/1, of one ration
    Json,
    /// A document a line, of any number of rations
    Jsonl,
    /// A page to be printed, or ticked on a phone
    Html,
    /// The same to be printed, without a browser
    Pdf,
    /// A table of weighings
    Csv,
}

/// Sizes of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 inches
    Letter,
}

impl PlanForm {
    /// Whether what was found stands in the result itself.
    pub(crate) fn shows_findings(self) -> bool {
        self != PlanForm::Csv
    }
}

/// The forms of `analyse`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum AnalysisForm {
    /// To be read
    Text,
    /// One document, analysis/1, of one ration
    Json,
    /// A document a line, of any number of rations
    Jsonl,
    /// A page with bounds and doses as bars, to be read or printed
    Html,
}

/// Reads a day as the texts write it: four digits, two, two.
pub(crate) fn day(typed: &str) -> Result<Date, String> {
    let is_plain = typed.len() == 10
        && typed
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'-');
    typed
        .parse()
        .ok()
        .filter(|_| is_plain)
        .ok_or_else(|| "write an existing day as 2026-11-25".to_owned())
}

/// Reads a number of threads.
pub(crate) fn threads(typed: &str) -> Result<u16, String> {
    number(typed, MOST_THREADS)
}

fn days(typed: &str) -> Result<u16, String> {
    number(typed, MOST_DAYS)
}

fn number(typed: &str, most: u16) -> Result<u16, String> {
    typed
        .parse()
        .ok()
        .filter(|number| (1..=most).contains(number))
        .ok_or_else(|| format!("write a number from 1 to {most}"))
}

/// No mixed feed keeps for ten years.
const MOST_DAYS: u16 = 3650;

/// More would cost memory and gain nothing.
const MOST_THREADS: u16 = 256;
