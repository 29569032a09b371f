//! `trug balance --prices`: the same ration at the prices of many days.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use trug_balance::{Balance, Outcome, Settled, Watch, balance_found};
use trug_findings::Finding;
use trug_model::prices::{PriceDay, UnusedCell};
use trug_report::balance::{BalancedDays, BalancedRation, balance_document, days_html, days_text};
use trug_report::{findings, json};

use crate::args::{self, BalanceForm};
use crate::ending::{Ending, Failure, shown, to_stderr};
use crate::meant::Meant;
use crate::progress::Progress;
use crate::setting::Setting;
use crate::table::read_table;
use crate::terminal::Stream;

/// Balances each ration at the prices of each day; the result, and how that ends.
pub(super) fn balance_days(
    meant: &[Meant<'_>],
    table: &Path,
    typed: &args::Balance,
    setting: &Setting,
) -> Result<(String, Ending), Failure> {
    if typed.form == BalanceForm::Json {
        return Err(
            Failure::new("there is a document for every day, and this form holds one")
                .help("take --as jsonl"),
        );
    }
    let text = read_table(table)?;
    let mut pages: Vec<BalancedDays<'_>> = Vec::new();
    let mut ending = Ending::Clean;
    for one in meant {
        let view = one.farm.open(one.file);
        let days = view
            .price_days(&text)
            .map_err(|wrong| unusable(table, &wrong))?;
        if days.is_empty() {
            return Err(Failure::new(format!("{} has no day", shown(table)))
                .help("write a row a day: the day, then what each ingredient cost"));
        }
        let settled = at_each_day(one, &days).map_err(|found| open_errors(one, &found, setting))?;
        let Some(ration) = settled
            .first()
            .map(|(_, settled)| Arc::clone(&settled.ration))
        else {
            continue;
        };
        let balanced: Vec<(String, Balance)> = settled
            .into_iter()
            .map(|(day, settled)| (day, settled.balance))
            .collect();
        for (_, balance) in &balanced {
            ending = ending.max(match balance.outcome {
                Outcome::Balanced(_) => Ending::Clean,
                Outcome::Infeasible(_) => Ending::Wanting,
                Outcome::Unanswered(_) => Ending::Partial,
            });
        }
        pages.push(BalancedDays {
            ration: ration.name.to_string(),
            label: ration.label.clone(),
            place: ration.place,
            days: balanced,
            sources: one.farm.sources(),
        });
    }
    Ok((draw(&pages, typed.form, setting), ending))
}

fn at_each_day(
    meant: &Meant<'_>,
    days: &[PriceDay],
) -> Result<Vec<(String, Settled)>, Vec<Finding>> {
    let done = Arc::new(AtomicUsize::new(0));
    let progress = Progress::of("balancing days", Arc::clone(&done));
    let at = |day: &PriceDay| {
        let view = meant.farm.open(meant.file);
        let (name, watch) = (&meant.ration.name, Watch::usual(&|| false));
        let settled = balance_found(&view, name, &meant.findings, &day.prices, &watch)?;
        done.fetch_add(1, Ordering::Relaxed);
        Ok((day.day.to_string(), settled))
    };
    let settled = days.par_iter().map(at).collect();
    drop(progress);
    settled
}

fn unusable(table: &Path, wrong: &[UnusedCell]) -> Failure {
    let lines = wrong.iter().take(MOST_TOLD).map(|cell| {
        let (line, column) = (cell.line, cell.column);
        format!("\n  {}:{line}:{column}: {}", shown(table), cell.says)
    });
    let more = match wrong.len().saturating_sub(MOST_TOLD) {
        0 => String::new(),
        more => format!("\n  and {more} more"),
    };
    let told: String = lines.collect();
    Failure::new(format!("the prices could not all be read:{told}{more}"))
}

const MOST_TOLD: usize = 20;

fn open_errors(meant: &Meant<'_>, found: &[Finding], setting: &Setting) -> Failure {
    let errors: Vec<Finding> = found
        .iter()
        .filter(|finding| trug_model::refuses(finding))
        .cloned()
        .collect();
    if !errors.is_empty() {
        let style = setting.style(Stream::Error);
        to_stderr(&findings::human(&errors, meant.farm.sources(), &style));
    }
    let name = &meant.ration.name;
    Failure::new(if errors.is_empty() {
        format!("{name} is not balanced: a ration in it has open amounts; balance that first")
    } else {
        format!("{name} is not balanced: its errors stand in the way")
    })
}

fn draw(pages: &[BalancedDays<'_>], form: BalanceForm, setting: &Setting) -> String {
    let width = setting.style(Stream::Out).width;
    match form {
        BalanceForm::Text | BalanceForm::Json => {
            let texts: Vec<String> = pages.iter().map(|page| days_text(page, width)).collect();
            texts.join("\n\n")
        }
        BalanceForm::Html => days_html(pages),
        BalanceForm::Jsonl => pages
            .iter()
            .flat_map(|page| documents(page, setting))
            .collect(),
    }
}

fn documents<'a>(page: &'a BalancedDays<'_>, setting: &'a Setting) -> impl Iterator<Item = String> {
    page.days.iter().map(|(day, balance)| {
        let one = BalancedRation {
            balance: balance.clone(),
            sources: page.sources,
            today: Some(setting.today.to_string()),
            day: Some(day.clone()),
            label: page.label.clone(),
        };
        json::to_json_line(&balance_document(&one))
    })
}
