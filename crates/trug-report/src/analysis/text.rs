//! An analysis for a person: what is in the feed, which bounds it keeps, what it costs.

use trug_findings::Source;
use trug_model::Q;
use trug_model::analysis::{
    Analysis, BoundKind, BoundValue, Cost, DoseValue, NutrientValue, Sourced,
};

use super::table::{Group, Layout, Row, Side, tables};
use super::{Beside, Interval};
use crate::findings::{file_name, start_of};
use crate::words::{
    beside as figures_beside, bound as bound_words, hanging, lines_of, mass, money, printable,
    probability, quantity, read_in, statistic, unit_said,
};

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 60;
/// Figures of a content: more than a laboratory can tell apart.
pub(super) const FIGURES: usize = 4;
/// What the tool says of itself; it never calls a feed safe.
const CHECKED: &str = "These bounds were checked and no others. Product label, veterinarian and local feed law decide.";
const NOTHING_CHECKED: &str =
    "No bound was checked: the ration names no targets, and no dose or law applies to it.";

/// The analysis as a page of text.
#[must_use]
pub fn analysis_text(
    analysis: &Analysis,
    sources: &[Source],
    beside: &Beside<'_>,
    width: usize,
) -> String {
    let width = width.max(LEAST_WIDTH);
    let mut sections = vec![head(analysis, sources, beside, width)];
    sections.extend(composition(&analysis.nutrients, width));
    sections.extend(standings(analysis, sources, beside, width));
    sections.extend(sources_read(beside.origins, width));
    sections.push(lines_of(&closing(analysis), width).join("\n") + "\n");
    printable(&sections.join("\n")).into_owned()
}

/// The kinds of bound, what can hurt first.
pub(super) const KINDS: [(BoundKind, &str); 4] = [
    (BoundKind::Harm, "harm"),
    (BoundKind::Law, "law"),
    (BoundKind::Target, "targets"),
    (BoundKind::Limit, "limits"),
];

/// What is analysed, how much of it, and what it costs.
fn head(analysis: &Analysis, sources: &[Source], beside: &Beside<'_>, width: usize) -> String {
    let file = file_name(analysis.place, sources);
    let line = start_of(analysis.place, sources).line;
    let mut text = format!("{} ({file}:{line})\n", analysis.ration);
    if let Some(grams) = &analysis.mass_g {
        text.push_str(&hanging("  batch  ", &mass(grams), width));
    }
    text.push_str(&hanging("  cost   ", &cost_words(analysis), width));
    if let Some(today) = beside.today {
        text.push_str(&hanging("  day    ", today, width));
    }
    text
}

pub(super) fn cost_words(analysis: &Analysis) -> String {
    let Some(cost) = &analysis.cost else {
        return "unknown: no ingredient has a price".to_owned();
    };
    let per_kg = format!("{} a kg", money(&cost.per_kg, &cost.currency));
    let batch = analysis.mass_g.as_ref().map_or_else(String::new, |grams| {
        format!(", {} the batch", batch_cost(cost, grams))
    });
    let known = if cost.complete {
        ""
    } else {
        "; some prices are unknown"
    };
    format!("{per_kg}{batch}{known}")
}

fn batch_cost(cost: &Cost, grams: &Q) -> String {
    let kilograms = grams / &Q::int(1000);
    money(&(&cost.per_kg * &kilograms), &cost.currency)
}

/// As fed and of dry matter side by side.
fn composition(nutrients: &[NutrientValue], width: usize) -> Vec<String> {
    if nutrients.is_empty() {
        return Vec::new();
    }
    let has_scatter = nutrients.iter().any(|nutrient| nutrient.low.is_some());
    // Two standard deviations to either side: nineteen times in twenty.
    let likely = if has_scatter { "likely" } else { "" };
    let headings = ["contains", "as fed", "of dry matter", "", likely];
    let mut rows = vec![Row::new(headings.map(str::to_owned))];
    rows.extend(nutrients.iter().map(nutrient_row));
    let layout = Layout {
        sides: &[Side::Left, Side::Right, Side::Right, Side::Left, Side::Left],
        flexible: 0,
        width,
    };
    tables(&[Group { heading: "", rows }], &layout)
}

fn nutrient_row(nutrient: &NutrientValue) -> Row {
    let (unit, times) = unit_said(&nutrient.unit, &[&nutrient.value]);
    let said = |value: &Q| (value * &times).readable(FIGURES);
    let estimate = |value: f64| statistic(value * times.to_f64());
    let mut remarks = Vec::new();
    if let (Some(low), Some(high)) = (nutrient.low, nutrient.high) {
        remarks.push(format!("{} .. {}", estimate(low), estimate(high)));
    }
    if !nutrient.complete {
        remarks.push("part unknown".to_owned());
    }
    let dry = nutrient.value_dry_matter.as_ref();
    Row::new([
        called(nutrient),
        said(&nutrient.value),
        dry.map_or_else(String::new, said),
        unit.to_owned(),
        remarks.join(", "),
    ])
}

/// Its label, and the name the bounds below use.
pub(super) fn called(nutrient: &NutrientValue) -> String {
    match &nutrient.label {
        Some(label) if label.to_lowercase() != nutrient.name => {
            format!("{label} ({})", nutrient.name)
        }
        _ => nutrient.name.clone(),
    }
}

/// Every bound and dose with where the ration stands in it, by kind.
fn standings(
    analysis: &Analysis,
    sources: &[Source],
    beside: &Beside<'_>,
    width: usize,
) -> Vec<String> {
    let bounds_of = |kind: BoundKind| {
        let ranked = analysis.bounds.iter().enumerate();
        ranked
            .filter(|(_, bound)| bound.kind == kind)
            .map(|(rank, bound)| bound_row(bound, sources, beside.bounds.get(rank)))
            .collect()
    };
    let mut groups: Vec<Group<'_>> = KINDS
        .iter()
        .map(|(kind, heading)| Group {
            heading,
            rows: bounds_of(*kind),
        })
        .collect();
    let ranked = analysis.doses.iter().enumerate();
    groups.push(Group {
        heading: "doses",
        rows: ranked
            .map(|(rank, dose)| dose_row(dose, beside.doses.get(rank)))
            .collect(),
    });
    let layout = Layout {
        sides: &[Side::Left, Side::Left, Side::Right, Side::Left],
        flexible: 1,
        width,
    };
    tables(&groups, &layout)
}

fn bound_row(bound: &BoundValue, sources: &[Source], interval: Option<&Interval>) -> Row {
    let ends: Vec<&Q> = bound.min.iter().chain(&bound.max).collect();
    let value = bound.value.as_ref();
    let mut row = Row::new([
        verdict(bound.met).to_owned(),
        bound.what.clone(),
        value.map_or_else(|| "?".to_owned(), |value| figures_beside(value, &ends)),
        bound_words(bound.min.as_ref(), bound.max.as_ref(), &bound.unit),
    ]);
    let mut remarks = Vec::new();
    if bound.basis != "as fed" && !bound.basis.is_empty() {
        remarks.push(bound.basis.clone());
    }
    if let Some(likely) = bound.probability {
        remarks.push(format!("kept with {} probability", probability(likely)));
    }
    remarks.extend(
        interval
            .into_iter()
            .flat_map(|interval| interval_words(interval, &bound.unit)),
    );
    if bound.met != Some(true) {
        let line = start_of(bound.place, sources).line;
        remarks.push(format!("set at {}:{line}", file_name(bound.place, sources)));
    }
    if !remarks.is_empty() {
        row.below.push(remarks.join("; "));
    }
    row
}

/// Words that need no colour.
pub(super) fn verdict(met: Option<bool>) -> &'static str {
    match met {
        Some(true) => "met",
        Some(false) => "MISSED",
        None => "undecided",
    }
}

fn interval_words(interval: &Interval, unit: &str) -> Vec<String> {
    let ends = [("a batch", interval.batch), ("a portion", interval.portion)];
    let known = ends
        .into_iter()
        .filter_map(|(of, ends)| ends.map(|ends| (of, ends)));
    known
        .map(|(of, (low, high))| {
            let range = format!("{} .. {}", statistic(low), statistic(high));
            format!("in {of} {}", quantity(&range, unit))
        })
        .collect()
}

fn dose_row(dose: &DoseValue, interval: Option<&Interval>) -> Row {
    let ends: Vec<&Q> = dose
        .min
        .iter()
        .chain(&dose.max)
        .chain(&dose.ceiling)
        .collect();
    let what = match &dose.nutrient {
        Some(nutrient) => format!("{nutrient} of {}", dose.ingredient),
        None => dose.ingredient.clone(),
    };
    let ceiling = dose
        .ceiling
        .as_ref()
        .map(|ceiling| quantity(&ceiling.to_string(), &dose.unit));
    let label = bound_words(dose.min.as_ref(), dose.max.as_ref(), &dose.unit);
    let mut remarks = Vec::new();
    let bound = match ceiling {
        Some(ceiling) if label.is_empty() => format!("ceiling {ceiling}"),
        Some(ceiling) => {
            remarks.push(format!("harm is possible above {ceiling}"));
            label
        }
        None => label,
    };
    remarks.extend(
        interval
            .into_iter()
            .flat_map(|interval| interval_words(interval, &dose.unit)),
    );
    let value = dose.value.as_ref();
    let mut row = Row::new([
        verdict(dose.met).to_owned(),
        what,
        value.map_or_else(|| "?".to_owned(), |value| figures_beside(value, &ends)),
        bound,
    ]);
    if !remarks.is_empty() {
        row.below.push(remarks.join("; "));
    }
    row
}

/// Where the values were read.
fn sources_read(origins: &[Sourced], width: usize) -> Option<String> {
    let mut text = "read in\n".to_owned();
    for origin in origins {
        text.push_str(&hanging("  ", &source_words(origin), width));
        for (of, whats) in &origin.values {
            let told = format!("{of}: {}", whats.join(", "));
            text.push_str(&hanging("      ", &told, width));
        }
    }
    (!origins.is_empty()).then_some(text)
}

/// A source, and whether the values were read in it.
pub(super) fn source_words(origin: &Sourced) -> String {
    read_in(origin.source.as_deref(), origin.unverified)
}

/// How many were met, and what that is worth.
pub(super) fn closing(analysis: &Analysis) -> String {
    let verdicts: Vec<Option<bool>> = analysis
        .bounds
        .iter()
        .map(|bound| bound.met)
        .chain(analysis.doses.iter().map(|dose| dose.met))
        .collect();
    if verdicts.is_empty() {
        return NOTHING_CHECKED.to_owned();
    }
    let number = |met: Option<bool>| verdicts.iter().filter(|known| **known == met).count();
    let (met, missed, open) = (number(Some(true)), number(Some(false)), number(None));
    format!("{met} met, {missed} missed, {open} undecided. {CHECKED}")
}
