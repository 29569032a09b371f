//! `trug plan`: how a batch is weighed and mixed.
//!
//! A plan is refused while the ration has an error. Every plan is held against the verifier before anything of it is
//! shown; one that breaks a rule is never printed.

mod draw;
mod outcome;

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use trug_findings::Finding;
use trug_model::ration::Ration;
use trug_model::{Q, refuses, to_be_weighed};
use trug_plan::plan::Plan;
use trug_plan::{Planned, Refusal, Request, plan_ration};
use trug_report::findings;
use trug_report::plan::{PlanAbout, plan_document, verified};

use crate::args::{self, PlanForm};
use crate::ending::{Ending, Failure, print, to_stderr};
use crate::load::{load_each, to_the_end};
use crate::mass::mass;
use crate::meant::{Choice, Meant, Opened, Wish, choose};
use crate::progress::Progress;
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};
use draw::{draw, speech};
use outcome::{Came, Outcome, Ready, refused, sorry};

/// Prints the plans of the rations meant.
pub(crate) fn plan(typed: &args::Plan, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let speech = speech(typed.language.as_deref())?;
    let request = Request {
        batch: typed.batch.as_deref().map(mass).transpose()?,
        group: typed.group.clone(),
        days: typed.days.map(|days| Q::int(i64::from(days))),
    };
    let loaded = to_the_end(load_each(&typed.path, setting)?);
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
        outcome.tell(typed.form.shows_findings(), setting);
    }
    let ready: Vec<&Ready<'_>> = outcomes.iter().filter_map(Outcome::ready).collect();
    if !ready.is_empty() {
        let plans = draw(&ready, typed, &speech, setting)?;
        match &typed.out {
            Some(path) => write_whole(path, &plans)?,
            None => print(&plans)?,
        }
    }
    let ending = outcomes.iter().map(|outcome| outcome.ending).max();
    Ok(loaded.ending.max(ending.unwrap_or(Ending::Clean)))
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
    let (came, ending) = match planned {
        Ok((planned, ration)) => {
            let today = setting.today.to_string();
            let mut about = PlanAbout::of(&planned, &ration, &found, meant.farm.sources(), &today);
            about.draft = typed.draft;
            verify(meant, planned.plan, about, typed)
        }
        Err(Refusal::NotKnown) if has_error => (Came::Refused(found), Ending::Wanting),
        Err(refusal) => (
            Came::Failed(refused(refusal, meant, request)),
            Ending::Partial,
        ),
    };
    Outcome {
        meant,
        came,
        ending,
    }
}

fn plan_meant(meant: &Meant<'_>, request: &Request) -> Result<(Planned, Arc<Ration>), Refusal> {
    let mut opened = Opened::default();
    let view = opened.view(meant);
    let ration = view.made_out(&meant.ration.name).ok_or(Refusal::NotKnown)?;
    let planned = plan_ration(view, &ration, request)?;
    Ok((planned, ration))
}

/// Holds a plan against the verifier.
fn verify<'a>(
    meant: &Meant<'_>,
    plan: Plan,
    about: PlanAbout<'a>,
    typed: &args::Plan,
) -> (Came<'a>, Ending) {
    let document = plan_document(&plan, &about);
    if let Err(breaches) = verified(&document) {
        return (Came::Failed(sorry(meant, &breaches)), Ending::Partial);
    }
    let ready = Ready {
        plan,
        about,
        document,
    };
    let ending = typed.deny.judge(&ready.found());
    let ending = ending.max(Ending::wanting(ready.is_draft()));
    (Came::Planned(Box::new(ready)), ending)
}
