//! What came of planning one ration, and how it is told.

use trug_findings::Finding;
use trug_model::Q;
use trug_plan::plan::Plan;
use trug_plan::verify::Breach;
use trug_plan::{Refusal, Request};
use trug_report::findings;
use trug_report::json::plan::PlanDocument;
use trug_report::plan::PlanAbout;

use crate::ending::{Ending, Failure, say, to_stderr};
use crate::meant::{Meant, no_group};
use crate::setting::Setting;
use crate::terminal::Stream;

/// What came of one ration.
pub(super) struct Outcome<'a> {
    pub(super) meant: &'a Meant<'a>,
    pub(super) came: Came<'a>,
    pub(super) ending: Ending,
}

/// What planning came to.
pub(super) enum Came<'a> {
    /// A plan that keeps every rule.
    Planned(Box<Ready<'a>>),
    /// Findings refuse it.
    Refused(Vec<Finding>),
    /// Something is missing to plan with, or the tool itself is wrong.
    Failed(Failure),
}

/// A plan that may be shown.
pub(super) struct Ready<'a> {
    pub(super) plan: Plan,
    pub(super) about: PlanAbout<'a>,
    pub(super) document: PlanDocument,
}

impl Ready<'_> {
    pub(super) fn is_draft(&self) -> bool {
        self.about.is_draft(&self.plan)
    }

    /// Everything found, in the ration and in planning it.
    pub(super) fn found(&self) -> Vec<Finding> {
        let findings = self.about.findings.iter().chain(&self.plan.findings);
        findings.cloned().collect()
    }
}

pub(super) fn refused(refusal: Refusal, meant: &Meant<'_>, request: &Request) -> Failure {
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
        Refusal::TooMuch(kg, most) => Failure::new(format!(
            "{} kg of {ration} are more than is ever mixed by hand",
            kg.readable(6)
        ))
        .help(format!(
            "look at the unit of the batch; at most {most} kg are planned, in up to {} batches",
            u32::MAX
        )),
        Refusal::Both(ingredient) => Failure::new(format!(
            "{ingredient} is in the 100 % of {ration} and on top as well"
        ))
        .help("write it on one line, in the one way or the other: a plan weighs it as one"),
        Refusal::TooLittle(ingredient, least) => Failure::new(format!(
            "{ingredient} of {ration} would weigh less than any scale shows"
        ))
        .help(format!(
            "mix more at a time, or leave {ingredient} out: what is under {} mg is not planned",
            (least * Q::int(1000)).readable(6)
        )),
    }
}

/// A mistake of ours: nothing of the plan is shown.
pub(super) fn sorry(meant: &Meant<'_>, breaches: &[Breach]) -> Failure {
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

impl<'a> Outcome<'a> {
    /// The plan, where there is one to show.
    pub(super) fn ready(&self) -> Option<&Ready<'a>> {
        match &self.came {
            Came::Planned(ready) => Some(ready),
            _ => None,
        }
    }

    /// What is medicated is mixed last.
    pub(super) fn is_medicated(&self) -> bool {
        self.ready().is_some_and(|ready| ready.about.is_medicated)
    }

    /// Says on standard error what does not stand in the result.
    pub(super) fn tell(&self, shows_findings: bool, setting: &Setting) {
        let ration = &self.meant.ration.name;
        match &self.came {
            Came::Planned(ready) => {
                if !shows_findings {
                    self.show(&ready.found(), setting);
                }
                if ready.is_draft() {
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
