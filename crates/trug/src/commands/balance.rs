//! `trug balance`: chooses open amounts at least cost, and writes them into the text where that is asked for.

mod days;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use trug_balance::{Balance, Outcome, Watch, balance_found};
use trug_findings::{Edit, Finding, Severity};
use trug_model::prices::Prices;
use trug_model::{View, refuses};
use trug_report::balance::{BalancedRation, balance_document, balance_html, balance_text};
use trug_report::{findings, json};

use crate::args::{self, BalanceForm};
use crate::asked::STANDARD_INPUT;
use crate::ending::{Ending, Failure, print, say, to_stderr};
use crate::load::{LoadedEach, load_each, to_the_end};
use crate::meant::{Choice, Meant, Opened, Wish, choose};
use crate::progress::Progress;
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_edited, write_whole};

/// Balances the rations meant.
pub(crate) fn balance(typed: &args::Balance, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    if typed.write && typed.path.as_os_str() == STANDARD_INPUT {
        return Err(Failure::new("standard input cannot be written to")
            .help("name a file, or leave --write out"));
    }
    let loaded = to_the_end(load_each(&typed.path, setting)?);
    let wish = Wish {
        path: &typed.path,
        ration: typed.ration.as_deref(),
        group: None,
        wants_one: typed.form == BalanceForm::Json,
    };
    let style = setting.style(Stream::Error);
    let meant = match choose(&wish, &loaded)? {
        Choice::Rations(meant) => meant,
        Choice::Unread(farm, found) => {
            to_stderr(&findings::human(&found, farm.sources(), &style));
            return Ok(loaded.ending.max(Ending::Wanting));
        }
    };
    let is_named = typed.ration.is_some() || meant.len() == 1;
    let meant: Vec<Meant<'_>> = meant
        .into_par_iter()
        .map_init(Opened::default, |opened, one| {
            (is_named || has_choice(opened.view(&one), &one)).then_some(one)
        })
        .flatten()
        .collect();
    let meant = to_the_end(meant);
    if meant.is_empty() {
        say("every amount is written: there is nothing to choose");
        return Ok(loaded.ending);
    }
    if let Some(table) = &typed.prices {
        let (result, ending) = days::balance_days(&meant, table, typed, setting)?;
        put(&result, typed)?;
        return Ok(loaded.ending.max(ending));
    }
    let done = Arc::new(AtomicUsize::new(0));
    let progress = Progress::of("balancing rations", Arc::clone(&done));
    let works: Vec<Work> = meant
        .par_iter()
        .map_init(Opened::default, |opened, one| {
            let work = work(opened.view(one), one);
            done.fetch_add(1, Ordering::Relaxed);
            work
        })
        .collect();
    drop(progress);
    let mut ending = loaded.ending;
    let mut balanced: Vec<BalancedRation<'_>> = Vec::new();
    let mut edits: Edits = BTreeMap::new();
    for (one, work) in meant.iter().zip(works) {
        ending = ending.max(tell(one, &work, typed, setting));
        if let Some(balance) = work.balance {
            keep_edits(one, &balance, &mut edits);
            balanced.push(BalancedRation {
                balance,
                sources: one.farm.sources(),
                today: Some(setting.today.to_string()),
                day: None,
                label: work.label,
            });
        }
    }
    if typed.write {
        ending = ending.max(write(&edits, &loaded));
    }
    if !balanced.is_empty() {
        put(&draw(&balanced, typed.form, setting), typed)?;
    }
    Ok(ending)
}

/// Puts the result where it is wanted.
fn put(result: &str, typed: &args::Balance) -> Result<(), Failure> {
    match &typed.out {
        Some(path) => write_whole(path, result.as_bytes()),
        None => print(result.as_bytes()),
    }
}

/// What came of one ration.
struct Work {
    balance: Option<Balance>,
    label: Option<String>,
    found: Vec<Finding>,
}

/// The text that was read, and what is to change in it, by its name.
type Edits = BTreeMap<String, (Arc<str>, Vec<Edit>)>;

fn has_choice(view: &View<'_>, meant: &Meant<'_>) -> bool {
    let ration = view.made_out(&meant.ration.name);
    ration.is_none_or(|ration| ration.has_choice())
}

fn work(view: &View<'_>, meant: &Meant<'_>) -> Work {
    let (name, watch) = (&meant.ration.name, Watch::usual(&|| false));
    match balance_found(view, name, &meant.findings, &Prices::default(), &watch) {
        Ok(settled) => Work {
            balance: Some(settled.balance),
            label: settled.ration.label.clone(),
            found: settled.found,
        },
        Err(found) => Work {
            balance: None,
            label: None,
            found,
        },
    }
}

/// Says what was found, and how that ends.
fn tell(meant: &Meant<'_>, work: &Work, typed: &args::Balance, setting: &Setting) -> Ending {
    let is_told = |finding: &&Finding| {
        finding.is_open() && (Severity::Note < finding.severity || typed.deny.denies(finding))
    };
    let told: Vec<Finding> = work.found.iter().filter(is_told).cloned().collect();
    if !told.is_empty() {
        let style = setting.style(Stream::Error);
        to_stderr(&findings::human(&told, meant.farm.sources(), &style));
    }
    let ending = typed.deny.judge(&work.found);
    let Some(balance) = &work.balance else {
        let name = &meant.ration.name;
        let is_said = told.iter().any(refuses);
        say(&if is_said {
            format!("{name} is not balanced: its errors stand in the way")
        } else {
            format!("{name} is not balanced: a ration in it has open amounts; balance that first")
        });
        return ending.max(if is_said {
            Ending::Wanting
        } else {
            Ending::Partial
        });
    };
    match &balance.outcome {
        Outcome::Balanced(_) => ending,
        Outcome::Infeasible(_) => ending.max(Ending::Wanting),
        Outcome::Unanswered(_) => Ending::Partial,
    }
}

fn keep_edits(meant: &Meant<'_>, balance: &Balance, edits: &mut Edits) {
    let Outcome::Balanced(balanced) = &balance.outcome else {
        return;
    };
    for edit in &balanced.edits {
        let Some(source) = meant.farm.sources().get(edit.place.file.index()) else {
            continue;
        };
        let (_, edits) = edits
            .entry(source.name().to_owned())
            .or_insert_with(|| (source.shared_text(), Vec::new()));
        edits.push(edit.clone());
    }
}

/// Writes the amounts into the texts. What cannot be written is said, and the others are.
fn write(edits: &Edits, loaded: &LoadedEach) -> Ending {
    let mut ending = Ending::Clean;
    for (name, (text, edits)) in edits {
        match write_edited(&loaded.root.join(name), text, edits) {
            Ok(()) => say(&format!("{} is written", name.escape_debug())),
            Err(failure) => {
                failure.tell();
                ending = Ending::Partial;
            }
        }
    }
    ending
}

/// All rations as one result.
fn draw(balanced: &[BalancedRation<'_>], form: BalanceForm, setting: &Setting) -> String {
    let width = setting.style(Stream::Out).width;
    let all = balanced.par_iter();
    match form {
        BalanceForm::Text => {
            let texts: Vec<String> = all.map(|one| balance_text(one, width)).collect();
            texts.join("\n\n")
        }
        BalanceForm::Json => all
            .map(|one| json::to_json(&balance_document(one)))
            .collect(),
        BalanceForm::Jsonl => all
            .map(|one| json::to_json_line(&balance_document(one)))
            .collect(),
        BalanceForm::Html => balance_html(balanced),
    }
}
