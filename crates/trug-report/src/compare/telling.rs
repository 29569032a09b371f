//! A comparison with every word and number final: what all forms for people are drawn from.

use trug_compare::{
    Bounded, Comparison, FoundChange, GroupChange, Hindrance, RationChange, StandingChange, Turn,
};
use trug_findings::Severity;

use super::{Compared, causes, rows, sentences, values};
use crate::words::{count, quantity};

/// What is told.
pub(super) struct Telling {
    pub(super) title: String,
    /// What became of the rations, in one sentence.
    pub(super) summary: String,
    /// The reasons, a line each.
    pub(super) causes: Vec<String>,
    pub(super) rations: Vec<RationTold>,
    /// A line for each group and ration.
    pub(super) groups: Vec<String>,
    /// Findings of no ration that is told of.
    pub(super) elsewhere: Vec<String>,
    pub(super) closing: String,
}

/// A ration that changed.
pub(super) struct RationTold {
    pub(super) name: String,
    /// Where it stands, and whether it came or went.
    pub(super) about: String,
    /// In one sentence, for the beginning.
    pub(super) summary: String,
    /// What is worse now than it was: bounds newly missed, new errors.
    pub(super) worse: Vec<String>,
    /// What could not be compared.
    pub(super) notes: Vec<String>,
    pub(super) tables: Vec<Table>,
    /// Findings that came and went.
    pub(super) found: Vec<String>,
}

/// A table with its heading.
pub(super) struct Table {
    pub(super) heading: &'static str,
    pub(super) columns: Vec<&'static str>,
    pub(super) rows: Vec<Row>,
}

/// A row of a table; a loud one tells of something missed.
pub(super) struct Row {
    pub(super) cells: Vec<String>,
    pub(super) is_loud: bool,
}

const CHECKED: &str = "It says what was compared and checked, and calls no feed safe. Product label, veterinarian and local feed law decide.";
const NOTHING_CHANGED: &str = "Nothing changed.";
const ONLY_WRITING: &str =
    "The texts differ, but nothing changed in amounts, nutrients, doses, cost, work or findings.";

/// Makes every word of a comparison; `arrow` stands between before and after.
pub(super) fn tell(compared: &Compared<'_>, arrow: &str) -> Telling {
    let comparison = compared.comparison;
    let of = compared
        .ration
        .map_or_else(String::new, |ration| format!("{ration}: "));
    Telling {
        title: format!("{of}{} {arrow} {}", compared.before, compared.after),
        summary: summary(comparison),
        causes: causes::lines(&comparison.causes, arrow),
        rations: comparison
            .rations
            .iter()
            .map(|ration| told(ration, arrow))
            .collect(),
        groups: comparison
            .groups
            .iter()
            .flat_map(|group| group_lines(group, arrow))
            .collect(),
        elsewhere: comparison.elsewhere.iter().map(found_line).collect(),
        closing: match compared.today {
            Some(today) => format!("Judged for {today}. {CHECKED}"),
            None => CHECKED.to_owned(),
        },
    }
}

/// `2 rations changed, 1 is new; 5 are as they were.`
fn summary(comparison: &Comparison) -> String {
    if comparison.is_empty() {
        let alike = match comparison.alike {
            0 => String::new(),
            alike => format!(" {} compared.", count(alike, "ration was", "rations were")),
        };
        let says = if comparison.texts_differ {
            ONLY_WRITING
        } else {
            NOTHING_CHANGED
        };
        return format!("{says}{alike}");
    }
    let number = |is_one: &dyn Fn(&RationChange) -> bool| {
        comparison
            .rations
            .iter()
            .filter(|ration| is_one(ration))
            .count()
    };
    let added = number(&RationChange::is_added);
    let removed = number(&RationChange::is_removed);
    let changed = comparison.rations.len() - added - removed;
    let mut parts = Vec::new();
    if changed > 0 {
        parts.push(format!("{} changed", count(changed, "ration", "rations")));
    }
    if added > 0 {
        parts.push(count(added, "ration is new", "rations are new"));
    }
    if removed > 0 {
        parts.push(count(removed, "ration is gone", "rations are gone"));
    }
    if parts.is_empty() {
        parts.push("no ration changed".to_owned());
    }
    let missed: usize = comparison
        .rations
        .iter()
        .map(RationChange::newly_missed)
        .sum();
    if missed > 0 {
        parts.push(count(
            missed,
            "bound or dose is newly missed",
            "bounds and doses are newly missed",
        ));
    }
    let errors: usize = comparison
        .rations
        .iter()
        .map(RationChange::new_errors)
        .sum();
    if errors > 0 {
        parts.push(count(errors, "new error", "new errors"));
    }
    let alike = match comparison.alike {
        0 => String::new(),
        alike => format!("; {} as before", count(alike, "ration is", "rations are")),
    };
    let mut said = format!("{}{alike}.", parts.join(", "));
    if let Some(first) = said.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    said
}

fn told(ration: &RationChange, arrow: &str) -> RationTold {
    RationTold {
        name: ration.name.clone(),
        about: about(ration, arrow),
        summary: ration_summary(ration, arrow),
        worse: worse(ration, arrow),
        notes: notes(ration),
        tables: rows::tables(ration, arrow),
        found: found(ration),
    }
}

fn about(ration: &RationChange, arrow: &str) -> String {
    match (&ration.file.before, &ration.file.after) {
        (Some(before), Some(after)) if before != after => format!("{before} {arrow} {after}"),
        (Some(_), Some(file)) => file.clone(),
        (None, Some(file)) => format!("{file}, new"),
        (Some(file), None) => format!("{file}, gone"),
        (None, None) => String::new(),
    }
}

/// What a reviewer asks first: what is missed, what it costs, whether it can be mixed.
fn ration_summary(ration: &RationChange, arrow: &str) -> String {
    if ration.is_removed() {
        return "gone".to_owned();
    }
    let mut parts = Vec::new();
    if ration.is_added() {
        parts.push("new".to_owned());
    }
    let turned = |wanted: Turn| {
        let turned = ration
            .standings
            .iter()
            .filter(|change| change.turn() == wanted);
        let names: Vec<String> = turned.map(|change| values::bounded(&change.of)).collect();
        names.join(", ")
    };
    let (missed, met) = (turned(Turn::Missed), turned(Turn::Met));
    if !missed.is_empty() {
        parts.push(format!("missed now: {missed}"));
    }
    if !met.is_empty() {
        parts.push(format!("met now: {met}"));
    }
    if ration.new_errors() > 0 {
        parts.push(count(ration.new_errors(), "new error", "new errors"));
    }
    parts.extend(
        ration
            .cost
            .as_ref()
            .map(|cost| rows::cost_words(cost, arrow)),
    );
    if !ration.is_added() {
        if !ration.amounts.is_empty() {
            parts.push(format!(
                "{} changed",
                count(ration.amounts.len(), "amount", "amounts")
            ));
        }
        parts.extend(rows::steps_words(ration, arrow));
    }
    if parts.is_empty() {
        parts.push("see below".to_owned());
    }
    parts.join("; ")
}

fn worse(ration: &RationChange, arrow: &str) -> Vec<String> {
    let is_worse = |change: &&StandingChange| {
        let can_hurt = match &change.of {
            Bounded::Bound { kind, .. } => matches!(kind.word(), "harm" | "law"),
            Bounded::Dose { .. } => true,
        };
        change.turn() == Turn::Missed || (can_hurt && change.turn() == Turn::Undecided)
    };
    let turned = ration.standings.iter().filter(is_worse);
    let mut worse: Vec<String> = turned
        .map(|change| sentences::of_bound(change, arrow))
        .collect();
    if !ration.is_removed() {
        worse.extend(
            ration
                .found
                .iter()
                .filter(|change| is_new_error(change))
                .map(found_line),
        );
    }
    worse
}

fn is_new_error(change: &FoundChange) -> bool {
    change.is_new && !change.found.is_accepted && change.found.severity == Severity::Error
}

/// What only says in other words that a bound or a dose turned.
const TOLD_BY_STANDINGS: [&str; 6] = [
    "target/under",
    "target/over",
    "dose/under",
    "dose/over",
    "limit/under",
    "limit/over",
];

/// All findings that were not told among what is worse, nor by the tables.
fn found(ration: &RationChange) -> Vec<String> {
    if ration.is_removed() {
        return Vec::new();
    }
    let is_told = |change: &FoundChange| {
        let by_standings = TOLD_BY_STANDINGS.contains(&change.found.code);
        is_new_error(change) || (by_standings && !ration.standings.is_empty())
    };
    let rest = ration.found.iter().filter(|change| !is_told(change));
    rest.map(found_line).collect()
}

/// `new error: harm/ceiling, …`
fn found_line(change: &FoundChange) -> String {
    let found = &change.found;
    let state = if change.is_new { "new" } else { "gone" };
    let accepted = if found.is_accepted { ", accepted" } else { "" };
    format!(
        "{state} {}{accepted}: {} ({}, {}:{})",
        found.severity.word(),
        found.message,
        found.code,
        found.file,
        found.line
    )
}

fn notes(ration: &RationChange) -> Vec<String> {
    let of = |hindrances: &Option<Vec<Hindrance>>| hindrances.clone().unwrap_or_default();
    let (before, after) = (of(&ration.hindrances.before), of(&ration.hindrances.after));
    let mut all = [before.clone(), after.clone()].concat();
    all.sort();
    all.dedup();
    let is_one_sided = ration.is_added() || ration.is_removed();
    let note = |hindrance: &Hindrance| {
        let when = match (before.contains(hindrance), after.contains(hindrance)) {
            _ if is_one_sided => "",
            (true, true) => " on both sides",
            (true, false) => " before",
            _ => " now",
        };
        match hindrance {
            Hindrance::Unread => format!("It could not be made out{when}, so it is not compared"),
            Hindrance::NotWhole => {
                format!(
                    "Its amounts are not known whole{when}: contents, doses and cost are not compared"
                )
            }
            Hindrance::Open => format!(
                "Amounts are open{when}: contents, doses and cost count them at the middle of their ranges, and nothing is planned"
            ),
            Hindrance::Errors => format!("It has errors{when}, so its work is not planned"),
            Hindrance::NoBatch => format!("No batch is named{when}, so its work is not planned"),
        }
    };
    all.iter().map(note).collect()
}

/// `pond-house eats 52.8 kg/day of river-layer -> 54 kg/day; 5000 LKR/day -> 5100 LKR/day`.
fn group_lines(group: &GroupChange, arrow: &str) -> Vec<String> {
    let there = match (&group.file.before, &group.file.after) {
        (None, _) => " (new)",
        (_, None) => " (gone)",
        _ => "",
    };
    if group.eats.is_empty() {
        return vec![format!("{}{there}", group.name)];
    }
    let line = |change: &trug_compare::EatenChange| {
        let eaten = &change.eaten;
        let kg = eaten.map(|eaten| eaten.kg.clone());
        let (before, after) = (kg.before.flatten(), kg.after.flatten());
        let kg = trug_compare::Pair { before, after };
        let shown = values::both(&values::refs(&kg));
        let mut parts = Vec::new();
        if kg.differs() {
            parts.push(between(shown.before, shown.after, "kg/day", arrow));
        } else {
            parts.extend(shown.after.map(|kg| quantity(&kg, "kg/day")));
        }
        let head = eaten.map(|eaten| eaten.head.clone());
        if head.differs() {
            let shown = values::both(&values::refs(&head));
            parts.push(between(shown.before, shown.after, "animals", arrow));
        }
        parts.extend(daily_cost(eaten, arrow));
        format!(
            "{}{there}, {}: {}",
            group.name,
            change.ration,
            parts.join("; ")
        )
    };
    group.eats.iter().map(line).collect()
}

fn daily_cost(eaten: &trug_compare::Pair<trug_compare::Eaten>, arrow: &str) -> Option<String> {
    let cost = |eaten: &Option<trug_compare::Eaten>| {
        let (amount, currency) = eaten.as_ref()?.cost.as_ref()?;
        Some(crate::words::money(amount, currency))
    };
    let (before, after) = (cost(&eaten.before), cost(&eaten.after));
    if before == after {
        return None;
    }
    let or_nothing = |cost: Option<String>| cost.unwrap_or_else(|| values::NOTHING.to_owned());
    Some(format!(
        "{} {arrow} {} a day",
        or_nothing(before),
        or_nothing(after)
    ))
}

fn between(before: Option<String>, after: Option<String>, unit: &str, arrow: &str) -> String {
    let said = |value: Option<String>| {
        value.map_or_else(
            || values::NOTHING.to_owned(),
            |value| quantity(&value, unit),
        )
    };
    format!("{} {arrow} {}", said(before), said(after))
}
