//! `trug plan`: how a batch is weighed and mixed.
//!
//! A plan is refused while the ration has an error. Every plan is held against the verifier before anything of it is
//! shown; one that breaks a rule is never printed.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use trug_findings::Finding;
use trug_model::ration::Ration;
use trug_model::{Q, refuses, to_be_weighed};
use trug_plan::plan::Plan;
use trug_plan::verify::Breach;
use trug_plan::{Planned, Refusal, Request, plan_ration};
use trug_report::plan::{PlanAbout, plan_csv, plan_document, plan_text, verified};
use trug_report::{findings, json};

use crate::args::{self, PlanForm};
use crate::ending::{Ending, Failure, print, say, shown, to_stderr};
use crate::load::load_each;
use crate::mass::mass;
use crate::meant::{Choice, Meant, Wish, choose, no_group};
use crate::progress::Progress;
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::write_whole;

/// Prints the plans of the rations meant.
pub(crate) fn plan(typed: &args::Plan, setting: &Setting) -> Result<Ending, Failure> {
    if let Some(path) = typed.out.as_ref().filter(|path| is_farm_text(path)) {
        let path = shown(path);
        return Err(Failure::new(format!("{path} would be a text of the farm"))
            .help("give the sheet another ending, such as .txt: no plan is written over a text"));
    }
    let request = Request {
        batch: typed.batch.as_deref().map(mass).transpose()?,
        group: typed.group.clone(),
        days: typed.days.map(|days| Q::int(i64::from(days))),
    };
    let loaded = load_each(&typed.path, setting)?;
    let wish = Wish {
        path: &typed.path,
        ration: typed.ration.as_deref(),
        group: typed.group.as_deref(),
        wants_one: typed.form == PlanForm::Json,
    };
    let meant = match choose(&wish, &loaded)? {
        Choice::Rations(meant) => meant,
        Choice::Unread(farm, findings) => {
            to_stderr(&findings::human(
                &findings,
                farm.sources(),
                &setting.style(Stream::Error),
            ));
            return Ok(loaded.ending.max(Ending::Wanting));
        }
    };
    let done = Arc::new(AtomicUsize::new(0));
    let progress = Progress::of("planning rations", Arc::clone(&done));
    let plan_one = |one| {
        let outcome = work(one, &request, typed, setting);
        done.fetch_add(1, Ordering::Relaxed);
        outcome
    };
    let mut outcomes: Vec<Outcome<'_>> = meant.par_iter().map(plan_one).collect();
    // The order of a day's work: what is medicated is mixed last.
    outcomes.sort_by_key(Outcome::is_medicated);
    drop(progress);
    for outcome in &outcomes {
        outcome.tell(setting);
    }
    let plans = joined(typed.form, outcomes.iter().filter_map(Outcome::drawn));
    if !plans.is_empty() {
        match &typed.out {
            Some(path) => write_whole(path, plans.as_bytes())?,
            None => print(plans.as_bytes())?,
        }
    }
    let ending = outcomes.iter().map(|outcome| outcome.ending).max();
    Ok(loaded.ending.max(ending.unwrap_or(Ending::Clean)))
}

/// Whether a path is that of a text of the farm, which a sheet must not take the place of.
fn is_farm_text(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "trug")
}

/// What came of one ration.
struct Outcome<'a> {
    meant: &'a Meant<'a>,
    result: Came,
    ending: Ending,
}

enum Came {
    /// A plan, drawn; and what the form it is drawn in does not show.
    Planned {
        drawn: String,
        untold: Vec<Finding>,
        is_draft: bool,
        is_medicated: bool,
    },
    /// Findings refuse it.
    Refused(Vec<Finding>),
    /// Something is missing to plan with, or the tool itself is wrong.
    Failed(Failure),
}

fn work<'a>(
    meant: &'a Meant<'a>,
    request: &Request,
    typed: &args::Plan,
    setting: &Setting,
) -> Outcome<'a> {
    let found: Vec<Finding> = meant.findings.iter().cloned().map(to_be_weighed).collect();
    let has_error = found.iter().any(refuses);
    let planned = if has_error && !typed.draft {
        Err(Refusal::NotKnown)
    } else {
        plan_meant(meant, request)
    };
    let (result, ending) = match planned {
        Ok((planned, ration)) => {
            let today = setting.today.to_string();
            let mut about = PlanAbout::of(&planned, &ration, &found, meant.farm.sources(), &today);
            about.draft = typed.draft;
            drawn(meant, &planned, &about, typed, setting)
        }
        Err(Refusal::NotKnown) if has_error => (Came::Refused(found), Ending::Wanting),
        Err(refusal) => (
            Came::Failed(refused(refusal, meant, request)),
            Ending::Partial,
        ),
    };
    Outcome {
        meant,
        result,
        ending,
    }
}

fn plan_meant(meant: &Meant<'_>, request: &Request) -> Result<(Planned, Arc<Ration>), Refusal> {
    let view = meant.farm.open(meant.file);
    let ration = view.made_out(&meant.ration.name).ok_or(Refusal::NotKnown)?;
    let planned = plan_ration(&view, &ration, request)?;
    Ok((planned, ration))
}

fn drawn(
    meant: &Meant<'_>,
    planned: &Planned,
    about: &PlanAbout<'_>,
    typed: &args::Plan,
    setting: &Setting,
) -> (Came, Ending) {
    let plan = &planned.plan;
    let drawn = match draw(plan, about, typed.form, setting) {
        Ok(drawn) => drawn,
        Err(breaches) => return (Came::Failed(sorry(meant, &breaches)), Ending::Partial),
    };
    let is_draft = about.is_draft(plan);
    let all: Vec<Finding> = about
        .findings
        .iter()
        .chain(&plan.findings)
        .cloned()
        .collect();
    let ending = typed.deny.judge(&all).max(Ending::wanting(is_draft));
    let untold = if typed.form == PlanForm::Csv {
        all
    } else {
        Vec::new()
    };
    (
        Came::Planned {
            drawn,
            untold,
            is_draft,
            is_medicated: planned.is_medicated,
        },
        ending,
    )
}

fn draw(
    plan: &Plan,
    about: &PlanAbout<'_>,
    form: PlanForm,
    setting: &Setting,
) -> Result<String, Vec<Breach>> {
    let document = plan_document(plan, about);
    verified(&document)?;
    Ok(match form {
        PlanForm::Text => {
            let style = setting.style(Stream::Out);
            let text = plan_text(plan, about, style.width);
            if style.ascii {
                text.replace('→', "=>")
            } else {
                text
            }
        }
        PlanForm::Json => json::to_json(&document),
        PlanForm::Jsonl => json::to_json_line(&document),
        PlanForm::Csv => plan_csv(plan, about),
    })
}

/// Several plans as one result: a table has one heading, sheets a blank line between them.
fn joined<'a>(form: PlanForm, plans: impl Iterator<Item = &'a str>) -> String {
    let mut result = String::new();
    for plan in plans {
        match form {
            PlanForm::Csv if !result.is_empty() => {
                result.push_str(plan.split_once('\n').map_or("", |(_, rows)| rows));
            }
            PlanForm::Text if !result.is_empty() => {
                result.push_str("\n\n");
                result.push_str(plan);
            }
            _ => result.push_str(plan),
        }
    }
    result
}

fn refused(refusal: Refusal, meant: &Meant<'_>, request: &Request) -> Failure {
    let ration = &meant.ration.name;
    let group = request.group.as_deref().unwrap_or_default().escape_debug();
    match refusal {
        Refusal::NotKnown => Failure::new(format!(
            "{ration} cannot be planned: its amounts are not known"
        ))
        .help("see what `trug check` says of it"),
        Refusal::HowMuch => Failure::new(format!("nobody says how much of {ration} to mix"))
            .help("add --batch 250kg, or a line `batch` to the ration"),
        Refusal::NoGroup => no_group(&group.to_string()),
        Refusal::NotEaten => Failure::new(format!("{group} does not eat {ration}"))
            .help(format!("add a line `eats {ration}` to the group")),
        Refusal::NoIntake => Failure::new(format!(
            "nobody says how much {ration} an animal of {group} eats"
        ))
        .help("add the amount to the line `eats`, or a line `intake` to the ration"),
        Refusal::NoDays => Failure::new(format!("nobody says for how many days {group} is fed"))
            .help("add --days 14"),
    }
}

/// A mistake of ours: nothing of the plan is shown.
fn sorry(meant: &Meant<'_>, breaches: &[Breach]) -> Failure {
    let broken: Vec<String> = breaches
        .iter()
        .map(|breach| {
            format!(
                "\n  rule {}: {}: {}",
                breach.rule.name(),
                breach.place,
                breach.says
            )
        })
        .collect();
    Failure::new(format!(
        "sorry: the plan made for {} breaks a rule that plans keep, so it is not shown{}",
        meant.ration.name,
        broken.concat()
    ))
    .help("weigh by a plan of your own, and report this with the text of the ration: it is a mistake in trug")
}

impl Outcome<'_> {
    fn is_medicated(&self) -> bool {
        matches!(
            self.result,
            Came::Planned {
                is_medicated: true,
                ..
            }
        )
    }

    fn drawn(&self) -> Option<&str> {
        match &self.result {
            Came::Planned { drawn, .. } => Some(drawn),
            _ => None,
        }
    }

    /// Says on standard error what does not stand in the result.
    fn tell(&self, setting: &Setting) {
        let ration = &self.meant.ration.name;
        match &self.result {
            Came::Planned {
                untold, is_draft, ..
            } => {
                self.show(untold, setting);
                if *is_draft {
                    say(&format!(
                        "the plan of {ration} is a DRAFT: do not mix by it"
                    ));
                }
            }
            Came::Refused(findings) => {
                self.show(findings, setting);
                say(&format!("{ration} is not planned while it has an error"));
            }
            Came::Failed(failure) => failure.tell(),
        }
    }

    fn show(&self, findings: &[Finding], setting: &Setting) {
        if !findings.is_empty() {
            to_stderr(&findings::human(
                findings,
                self.meant.farm.sources(),
                &setting.style(Stream::Error),
            ));
        }
    }
}
