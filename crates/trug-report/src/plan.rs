//! A plan drawn for the person with the shovel, for a spreadsheet, and for programs.

mod about;
mod csv;
mod json;

use std::collections::BTreeMap;

use serde_json::Value;
use trug_findings::{Finding, Place, Severity, Source};
use trug_model::Q;
use trug_plan::plan::Plan;
use trug_plan::verify::{Breach, Rule, verify};
use trug_plan::{FedDays, Hazard};

use crate::analysis::Interval;
use crate::json::plan::PlanDocument;

pub use about::intervals;
pub(crate) use about::labels;
pub use csv::plan_csv;
pub use json::plan_document;

/// What a plan does not know by itself: where the ration stands, for whom it is, and what else was found.
#[derive(Clone, Debug, Default)]
pub struct PlanAbout<'a> {
    /// The texts, by their number.
    pub sources: &'a [Source],
    /// The text the ration is named in, relative to the root.
    pub file: String,
    /// What people call the ration.
    pub label: Option<String>,
    /// The day the plan is made for.
    pub today: String,
    /// The group it is for, where it was ordered by one.
    pub group: Option<String>,
    /// What people call that group.
    pub group_called: Option<String>,
    /// How many animals the group has.
    pub head: Option<Q>,
    /// What people call the animal the ration is for.
    pub animal: Option<String>,
    /// On which days it is eaten, where the group eats it by its age.
    pub fed: Option<FedDays>,
    /// How long the feed keeps, in days.
    pub keeps: Option<Q>,
    /// It is mixed into other rations and not fed as it is.
    pub for_mixing: bool,
    /// It holds something with a withdrawal.
    pub is_medicated: bool,
    /// For how many days, where it was ordered so.
    pub days: Option<u32>,
    /// It was asked for in spite of errors.
    pub draft: bool,
    /// What to beware of, in the order it is to be read.
    pub cautions: Vec<Caution>,
    /// What was found in the ration, accepted findings among it; the planner's own come from the plan.
    pub findings: Vec<Finding>,
    /// What doses and bounds come to in this plan.
    pub doses: Vec<DoseInterval>,
    /// What people call the ingredients, by their names.
    pub labels: BTreeMap<String, Labels>,
}

/// What people call one ingredient.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Labels {
    /// Whatever the language.
    pub plain: Option<String>,
    /// By the tag of the language.
    pub by_language: BTreeMap<String, String>,
}

/// Something to beware of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What.
    pub hazard: Hazard,
    /// The ingredient it belongs to; none where it is about the whole.
    pub ingredient: Option<String>,
    /// What it comes with inside that ingredient, which was mixed beforehand.
    pub mixed_in: Option<String>,
    /// Where it is written.
    pub place: Place,
}

/// What a dose, a target, a law or a harm bound comes to, and how far it can be off.
#[derive(Clone, Debug, PartialEq)]
pub struct DoseInterval {
    /// The ingredient whose dose it is; none for a bound on the whole feed.
    pub ingredient: Option<String>,
    /// What is bounded.
    pub what: Bounded,
    /// What the plan comes to.
    pub value: Q,
    /// The unit of all these numbers.
    pub unit: String,
    /// The lower bound.
    pub min: Option<Q>,
    /// The upper bound.
    pub max: Option<Q>,
    /// Two standard deviations to either side.
    pub interval: Interval,
}

/// What a bound of the sheet is on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bounded {
    /// The dose of a product, or of the active it gives.
    Dose {
        /// The active.
        active: Option<String>,
    },
    /// A nutrient, or an expression of nutrients, as a target of the ration.
    Target(String),
    /// The same by law.
    Law(String),
    /// The same, where harm begins.
    Harm(String),
}

impl PlanAbout<'_> {
    /// Whether the plan may not be mixed as it is: asked for in spite of errors, or with an error that stands.
    #[must_use]
    pub fn is_draft(&self, plan: &Plan) -> bool {
        self.draft
            || self
                .all_findings(plan)
                .iter()
                .any(|finding| finding.is_open() && finding.severity == Severity::Error)
    }

    /// The ration's findings and the planner's.
    pub(crate) fn all_findings(&self, plan: &Plan) -> Vec<Finding> {
        self.findings
            .iter()
            .chain(&plan.findings)
            .cloned()
            .collect()
    }
}

/// The plan's own verifier asked of the document; a plan that breaks a rule is never printed.
///
/// # Errors
/// Names every rule that the plan breaks.
pub fn verified(document: &PlanDocument) -> Result<Value, Vec<Breach>> {
    let value = serde_json::to_value(document).map_err(|why| {
        vec![Breach {
            rule: Rule::Form,
            place: "the plan".to_owned(),
            says: why.to_string(),
        }]
    })?;
    let breaches = verify(&value);
    if breaches.is_empty() {
        Ok(value)
    } else {
        Err(breaches)
    }
}
