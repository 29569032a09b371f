//! A plan as a page of text, good enough to be read aloud over the telephone.

use trug_findings::{Finding, Severity};
use trug_model::Q;
use trug_plan::plan::{Batch, Plan, StepKind};

use super::masses::{column_of_kilograms, shown};
use super::sentence::sentence;
use super::weighing_table::{left, right, weighing_table};
use super::{DoseInterval, PlanAbout};
use crate::words::{bound, columns, count, hanging, lines_of, printable, quantity, statistic};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 72;
/// Figures of a dose: more than a laboratory can tell apart.
const FIGURES: usize = 4;
/// What the tool says of itself; it never calls a feed safe.
const DEFERS: &str = "Product label, veterinarian and local feed law decide what is fed. This plan \
only says how to weigh and mix it.";

/// The plan as a page of text.
#[must_use]
pub fn plan_text(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let banner = banner(plan, about, width);
    let mut sections: Vec<String> = banner.clone().into_iter().collect();
    sections.push(head(plan, about, width));
    sections.extend(warnings(about, width));
    for batch in &plan.batches {
        let times = times(plan, batch);
        let table = weighing_table(plan, batch, about, width);
        sections.push(format!("WEIGH{times}, in the order of work\n{table}"));
        sections.push(format!("MIX{times}\n{}", steps(plan, batch, about, width)));
        sections.push(totals(plan, batch, about, width));
    }
    sections.extend(doses(plan, about, width));
    sections.extend(findings(plan, about, width));
    sections.push(lines(DEFERS, width));
    sections.extend(banner);
    printable(&sections.join("\n")).into_owned()
}

fn lines(text: &str, width: usize) -> String {
    lines_of(text, width).join("\n") + "\n"
}

/// What a draft says of itself, above and below.
fn banner(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> Option<String> {
    if !about.is_draft(plan) {
        return None;
    }
    let errors = about
        .all_findings(plan)
        .iter()
        .filter(|it| it.is_open() && it.severity == Severity::Error)
        .count();
    let why = match errors {
        0 => "it was asked for as one".to_owned(),
        some => format!("{} under FOUND", count(some, "error", "errors")),
    };
    Some(hanging(
        "DRAFT  ",
        &format!("Not to be mixed as it is: {why}."),
        width,
    ))
}

fn head(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> String {
    let order = &plan.order;
    let name = match &about.label {
        Some(label) => format!("{label} ({})", order.ration),
        None => order.ration.clone(),
    };
    let mut text = lines(&name, width);
    let done: u64 = plan
        .batches
        .iter()
        .map(|batch| u64::from(batch.times))
        .sum();
    let weighed = shown(&plan.weighed_g);
    let mass = match plan.batches.as_slice() {
        [batch] if done > 1 => format!("{weighed}: {done} batches of {}", shown(&batch.total_g)),
        _ => weighed,
    };
    text.push_str(&hanging("  mass    ", &mass, width));
    if plan.ordered_g != plan.weighed_g {
        text.push_str(&hanging("  ordered ", &shown(&plan.ordered_g), width));
    }
    let days = about.days.map(|days| count(days as usize, "day", "days"));
    let given = [about.group.clone(), days];
    let whom: Vec<String> = given.into_iter().flatten().collect();
    if !whom.is_empty() {
        text.push_str(&hanging("  for     ", &whom.join(", "), width));
    }
    text.push_str(&hanging("  day     ", &about.today, width));
    text.push_str(&hanging("  written ", &about.file, width));
    text
}

/// What to beware of with the feed as a whole; an ingredient's own stands where it is weighed.
fn warnings(about: &PlanAbout<'_>, width: usize) -> Option<String> {
    let whole = about
        .cautions
        .iter()
        .filter(|caution| caution.ingredient.is_none());
    let text: String = whole
        .map(|caution| hanging("! ", &caution.text, width))
        .collect();
    (!text.is_empty()).then_some(format!("BEWARE\n{text}"))
}

fn times(plan: &Plan, batch: &Batch) -> String {
    let which = if plan.batches.len() > 1 {
        format!(" batch {}", batch.number)
    } else {
        String::new()
    };
    if batch.times > 1 {
        format!("{which}, {} times over", batch.times)
    } else {
        which
    }
}

fn steps(plan: &Plan, batch: &Batch, about: &PlanAbout<'_>, width: usize) -> String {
    let mut text = String::new();
    let mut number = 0;
    let mut next = |words: &str| {
        number += 1;
        text.push_str(&hanging(&format!("{number:>2}. "), words, width));
    };
    for step in &batch.steps {
        next(&sentence(plan, batch, step, about));
    }
    let is_mixed = batch.steps.last().map(|step| step.kind);
    let name = if is_mixed == Some(StepKind::PreBlend) {
        "feed"
    } else {
        "heap"
    };
    next(&format!(
        "Take the sample: make the {name} a cone, flatten it, quarter it, keep two quarters that \
         face each other; do so again until what is left fits the sample bag."
    ));
    next(&format!(
        "Bag it, and label each bag: {}, {}, batch, lots, who mixed it.",
        plan.order.ration, about.today
    ));
    text
}

/// What of each ingredient goes into a batch; the column adds up.
fn totals(plan: &Plan, batch: &Batch, about: &PlanAbout<'_>, width: usize) -> String {
    let mut names: Vec<String> = Vec::new();
    let mut masses: Vec<&Q> = Vec::new();
    for amount in &batch.amounts {
        let is_top = plan
            .order
            .ingredients
            .get(amount.ingredient)
            .is_some_and(|it| it.on_top);
        let name = about.name_of(plan, amount.ingredient);
        names.push(if is_top {
            format!("{name}, on top")
        } else {
            name.to_owned()
        });
        masses.push(&amount.weighed_g);
    }
    names.push("together".to_owned());
    masses.push(&batch.total_g);
    let cells = column_of_kilograms(&masses);
    let wide = cells.iter().map(|cell| columns(cell)).max().unwrap_or(0);
    let room = width.saturating_sub(wide + 7);
    let names: Vec<Vec<String>> = names.iter().map(|name| lines_of(name, room)).collect();
    let name_wide = names
        .iter()
        .flatten()
        .map(|name| columns(name))
        .max()
        .unwrap_or(0);
    let mut text = format!("TOTALS of one batch{}\n", which(plan, batch));
    for (rank, (name, cell)) in names.iter().zip(&cells).enumerate() {
        if rank + 1 == cells.len() {
            text.push_str(&format!("  {}\n", "-".repeat(name_wide + wide + 5)));
        }
        let (last, first) = name
            .split_last()
            .map_or(("", [].as_slice()), |(last, first)| (last.as_str(), first));
        for line in first {
            text.push_str(&format!("  {line}\n"));
        }
        text.push_str(&format!(
            "  {}  {} kg\n",
            left(last, name_wide),
            right(cell, wide)
        ));
    }
    text
}

fn which(plan: &Plan, batch: &Batch) -> String {
    if plan.batches.len() > 1 {
        format!(", batch {}", batch.number)
    } else {
        String::new()
    }
}

fn doses(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> Option<String> {
    if about.doses.is_empty() {
        return None;
    }
    let mut text = "DOSES, and how far they can be off (two standard deviations)\n".to_owned();
    for dose in &about.doses {
        text.push_str(&hanging("  ", &dose_words(plan, about, dose), width));
    }
    Some(text)
}

fn dose_words(plan: &Plan, about: &PlanAbout<'_>, dose: &DoseInterval) -> String {
    let rank = plan
        .order
        .ingredients
        .iter()
        .position(|it| Some(&it.name) == dose.ingredient.as_ref());
    let mut words = match (rank, &dose.ingredient) {
        (Some(rank), _) => format!("{}, {}: ", about.name_of(plan, rank), dose.what),
        (None, Some(name)) => format!("{name}, {}: ", dose.what),
        (None, None) => format!("{}: ", dose.what),
    };
    words.push_str(&quantity(&dose.value.readable(FIGURES), &dose.unit));
    let bounds = bound(dose.min.as_ref(), dose.max.as_ref(), &dose.unit);
    if !bounds.is_empty() {
        words.push_str(&format!(" of {bounds}"));
    }
    let interval = |(low, high): (f64, f64)| {
        let low = statistic(low);
        quantity(&format!("{low} .. {}", statistic(high)), &dose.unit)
    };
    if let Some(batch) = dose.interval.batch {
        words.push_str(&format!("; a batch {}", interval(batch)));
    }
    if let Some(portion) = dose.interval.portion {
        words.push_str(&format!("; one portion {}", interval(portion)));
    }
    words
}

/// What was found, the worst first; then what was accepted, with the reason.
fn findings(plan: &Plan, about: &PlanAbout<'_>, width: usize) -> Option<String> {
    let mut all = about.all_findings(plan);
    all.sort_by(|a, b| {
        b.is_open()
            .cmp(&a.is_open())
            .then(b.severity.cmp(&a.severity))
    });
    let text: String = all
        .iter()
        .map(|finding| finding_words(finding, width))
        .collect();
    (!text.is_empty()).then_some(format!("FOUND\n{text}"))
}

fn finding_words(finding: &Finding, width: usize) -> String {
    let word = if finding.is_open() {
        finding.severity.word()
    } else {
        "accepted"
    };
    let headline = format!("{word}[{}] {}", finding.code.name, finding.message);
    let mut text = hanging("  ", &headline, width);
    if let Some(acceptance) = &finding.accepted {
        text.push_str(&hanging("    reason: ", &acceptance.reason, width));
    } else if let Some(help) = &finding.help {
        text.push_str(&hanging("    help: ", help, width));
    }
    text
}
