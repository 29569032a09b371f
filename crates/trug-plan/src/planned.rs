//! Plans a ration of a farm: order, plan, bounds judged again with what will be weighed, cautions.

use trug_findings::{Finding, Place, Severity};
use trug_model::analysis::Analysis;
use trug_model::ration::Ration;
use trug_model::{Acceptances, Q, View};

use crate::doses::{Expectations, expectations};
use crate::findings::keeping;
use crate::from_ration::{Refusal, Request, Wanted, merged, order, out_of_reach, wanted};
use crate::lots;
use crate::phases::{self, FedDays};
use crate::plan::Plan;

/// A plan with all that is to stand on its sheet.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The plan. Its findings are the planner's and what only the snapping to scales misses; accepted ones are marked.
    pub plan: Plan,
    /// The group it is for.
    pub group: Option<String>,
    /// What people call the group.
    pub group_called: Option<String>,
    /// How many animals it has.
    pub head: Option<Q>,
    /// What people call the animal the ration is for.
    pub animal: Option<String>,
    /// For how many days.
    pub days: Option<Q>,
    /// On which days it is eaten, where the group eats it by its age.
    pub fed: Option<FedDays>,
    /// How long the feed keeps, in days.
    pub keeps: Option<Q>,
    /// What the ration holds.
    pub analysis: Analysis,
    /// What its doses and bounds can be.
    pub expectations: Expectations,
    /// What to beware of.
    pub cautions: Vec<Caution>,
    /// It is not fed as it is.
    pub for_mixing: bool,
    /// It holds something with a withdrawal: mixed last, and cleaned up after.
    pub is_medicated: bool,
}

/// Something to beware of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What.
    pub hazard: Hazard,
    /// The ingredient it comes with.
    pub ingredient: Option<String>,
    /// Where it is written.
    pub place: Place,
}

/// What there is to beware of. How it is said is the report's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hazard {
    /// A caution of the text, in its words.
    Written(String),
    /// The ration is mixed into others and never fed as it is.
    NotAFeed,
    /// The ration names no animal, so that harm and law were not judged.
    NoAnimal,
    /// It holds something with a withdrawal: mixed last, and cleaned up after.
    Medicated,
    /// What the animals give is not for people for a time.
    Withdrawal {
        /// What they give.
        product: String,
        /// How long, in days.
        days: Q,
    },
    /// An animal that must never get it.
    KeepFrom {
        /// Which, by its name.
        animal: String,
        /// Why, where the text says.
        reason: Option<String>,
    },
}

/// Plans a ration. The caller has judged it: a plan is refused while the ration has an error.
///
/// # Errors
/// Says why there is nothing to plan.
pub fn plan_ration(
    view: &View<'_>,
    ration: &Ration,
    request: &Request,
) -> Result<Planned, Refusal> {
    if !ration.is_known() {
        return Err(Refusal::NotKnown);
    }
    let wanted = wanted(view, ration, request)?;
    let order = order(view, ration, &wanted);
    if let Some(refusal) = out_of_reach(&order) {
        return Err(refusal);
    }
    let mut plan = crate::plan(order);
    let mut findings = std::mem::take(&mut plan.findings);
    let as_written = view.judge(ration);
    let snapped = as_weighed(view, ration, &plan, &as_written);
    findings.extend(lots::verdicts::judge(
        view,
        ration,
        &plan,
        &[&as_written, &snapped],
    ));
    findings.extend(snapped);
    findings.extend(lots::judge::judge(
        view,
        ration,
        &plan,
        (&wanted, request.group.as_deref()),
        &as_written,
    ));
    findings.extend(too_long(ration, &wanted));
    findings.extend(phases::judge(view, ration, (request, &wanted)));
    settle(view, ration, &as_written, &mut findings);
    plan.findings = findings;
    let analysis = view.analyse(ration);
    let even = plan.order.method.even.clone();
    Ok(Planned {
        expectations: expectations(ration, &analysis, even.as_ref(), Some(&plan)),
        analysis,
        cautions: cautions(ration),
        animal: ration
            .animal
            .as_deref()
            .map(|name| view.animal_called(name)),
        group_called: wanted.group.as_ref().and_then(|group| group.label.clone()),
        head: wanted.group.as_ref().map(|group| group.head.clone()),
        fed: phases::fed_days(view, &wanted),
        group: request.group.clone(),
        days: wanted.days,
        keeps: ration.keeps.clone(),
        for_mixing: ration.for_mixing,
        is_medicated: is_medicated(ration),
        plan,
    })
}

/// Judges every bound again with the weighed amounts; what only the snapping misses is a note.
fn as_weighed(view: &View<'_>, ration: &Ration, plan: &Plan, before: &[Finding]) -> Vec<Finding> {
    let Some(inclusions) = weighed_inclusions(ration, plan) else {
        return Vec::new();
    };
    let is_new = |finding: &Finding| {
        !before.iter().any(|known| {
            known.code == finding.code
                && known.place == finding.place
                && known.related == finding.related
        })
    };
    let mut findings = view.judge(&ration.with_inclusions(&inclusions));
    findings.retain(is_new);
    for finding in &mut findings {
        finding.severity = Severity::Note;
        finding.message = format!("as weighed, {}", finding.message);
        finding.fixes.clear();
    }
    findings
}

/// The inclusion of every line as it will be weighed; every batch weighs the same.
pub(crate) fn weighed_inclusions(ration: &Ration, plan: &Plan) -> Option<Vec<Q>> {
    let batch = plan.batches.first()?;
    let weighed_main: Q = batch
        .amounts
        .iter()
        .filter(|amount| !plan.order.ingredients[amount.ingredient].on_top)
        .map(|amount| &amount.weighed_g)
        .sum();
    let mut inclusions: Vec<Q> = ration.lines.iter().map(|line| line.low.clone()).collect();
    for (amount, ranks) in batch.amounts.iter().zip(merged(ration)) {
        let share = amount.weighed_g.over(&weighed_main).unwrap_or_default();
        let written: Q = ranks.iter().map(|&rank| &ration.lines[rank].low).sum();
        for rank in ranks {
            let part = ration.lines[rank].low.over(&written).unwrap_or_default();
            inclusions[rank] = &share * part;
        }
    }
    Some(inclusions)
}

/// More days than the feed keeps, or than the group's mix may be made for.
fn too_long(ration: &Ration, wanted: &Wanted) -> Option<Finding> {
    let days = wanted.days.as_ref()?;
    let group = wanted.group.as_ref()?;
    if let Some(keeps) = ration.keeps.as_ref().filter(|keeps| days > *keeps) {
        return Some(keeping::keeps(ration.place, &ration.name, days, keeps));
    }
    let mix_for = group.mix_for.as_ref().filter(|mix_for| days > *mix_for)?;
    Some(keeping::too_many_days(group.place, days, mix_for))
}

/// Marks what the text accepts, and says which acceptances of planning silence nothing.
fn settle(view: &View<'_>, ration: &Ration, judged: &[Finding], findings: &mut Vec<Finding>) {
    if let Some(named) = view.farm().ration_named_at(ration.place) {
        let places = judged.iter().chain(findings.iter()).map(|it| it.place);
        let places = places.chain([ration.place]);
        Acceptances::around(view.farm(), ration.file, places)
            .settle_planned(named.item, judged, findings);
    }
    trug_findings::sort(findings);
}

/// Whether it holds something with a withdrawal.
fn is_medicated(ration: &Ration) -> bool {
    let ingredients = ration.ingredients();
    ingredients.iter().any(|one| !one.withdrawals.is_empty())
}

fn cautions(ration: &Ration) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let whole = |hazard: Hazard| Caution {
        hazard,
        ingredient: None,
        place: ration.place,
    };
    if ration.for_mixing {
        cautions.push(whole(Hazard::NotAFeed));
    } else if ration.animal.is_none() {
        cautions.push(whole(Hazard::NoAnimal));
    }
    if is_medicated(ration) {
        cautions.push(whole(Hazard::Medicated));
    }
    for ingredient in ration.ingredients() {
        let own = |hazard: Hazard, place: Place| Caution {
            hazard,
            ingredient: Some(ingredient.name.to_string()),
            place,
        };
        let written = ingredient.cautions.iter();
        cautions.extend(written.map(|(text, place)| own(Hazard::Written(text.clone()), *place)));
        for withdrawal in &ingredient.withdrawals {
            let hazard = Hazard::Withdrawal {
                product: withdrawal.product.to_string(),
                days: withdrawal.days.clone(),
            };
            cautions.push(own(hazard, withdrawal.place));
        }
        for never in &ingredient.never_for {
            let hazard = Hazard::KeepFrom {
                animal: never.other.to_string(),
                reason: never.reason.clone(),
            };
            cautions.push(own(hazard, never.place));
        }
    }
    cautions
}
