//! A document read into a sheet: every name looked up, every field of its kind, or a breach that says which is not.

use std::collections::BTreeMap;

use serde_json::Value;

use super::batch::batch;
use super::document::{CautionPart, FindingPart, PlanPart, part};
use super::given;
use super::sheet::{Remark, Sheet};
use super::{Breaches, Rule};

/// Ranks by name.
pub(super) type Ranks = BTreeMap<String, usize>;

/// Reads the whole; none where the rules could not be asked of it.
pub(super) fn sheet(plan: &Value, found: &mut Breaches) -> Option<Sheet> {
    let head: PlanPart = part(plan, "the plan", found)?;
    check_head(&head, found);
    let before = found.list.len();
    let scales = given::scales(&head.given.scales, found);
    let vessels = given::vessels(&head.given.vessels, found);
    let ingredients = given::ingredients(&head.given.ingredients, found);
    let method = given::method(&head.given.method, found);
    let names = Names {
        ingredients: ranks(ingredients.iter().map(|it| it.name.as_str())),
        scales: ranks(scales.iter().map(|it| it.name.as_str())),
        vessels: ranks(vessels.iter().map(|it| it.name.as_str())),
    };
    check_cautions(&head.cautions, &names, found);
    let open = remarks(&head.findings, "finding", found);
    let accepted = remarks(&head.accepted, "accepted finding", found);
    if found.list.len() > before {
        return None;
    }
    let mut batches = Vec::new();
    for (index, value) in head.batches.iter().enumerate() {
        let classes: Vec<_> = ingredients.iter().map(|it| given::word(it.class)).collect();
        batches.push(batch(value, index, &names, &classes, found)?);
    }
    if batches.is_empty() {
        found.add(Rule::Form, "the plan", "has no batch");
        return None;
    }
    Some(Sheet {
        draft: head.draft,
        ordered: head.ordered_g,
        weighed: head.weighed_g,
        method,
        scales,
        vessels,
        ingredients,
        batches,
        open,
        accepted,
    })
}

/// Ranks of what may be named.
pub(super) struct Names {
    pub(super) ingredients: Ranks,
    pub(super) scales: Ranks,
    pub(super) vessels: Ranks,
}

fn check_head(head: &PlanPart, found: &mut Breaches) {
    let mut wrong = |says: &str| found.add(Rule::Form, "the plan", says);
    if head.format != "trug.plan/1" {
        wrong("its format is not trug.plan/1");
    }
    if head.ration.is_empty() {
        wrong("its ration has no name");
    }
    if head.file.is_empty() {
        wrong("its file has no name");
    }
    if !is_day(&head.today) {
        wrong("today is not a day");
    }
    if head.given.method.name.is_empty() {
        wrong("its method has no name");
    }
    if head.order.group.as_deref() == Some("") {
        wrong("its group has no name");
    }
    if head.order.days == Some(0) {
        wrong("it is for no days");
    }
}

/// `2026-11-25`.
pub(super) fn is_day(text: &str) -> bool {
    let fields: Vec<&str> = text.split('-').collect();
    let [year, month, day] = fields.as_slice() else {
        return false;
    };
    let read = |field: &str, width: usize| -> Option<u32> {
        let is_plain = field.len() == width && field.bytes().all(|b| b.is_ascii_digit());
        is_plain.then(|| field.parse().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (read(year, 4), read(month, 2), read(day, 2)) else {
        return false;
    };
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let last = match month {
        2 if is_leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    1 <= day && day <= last
}

pub(super) fn ranks<'a>(names: impl Iterator<Item = &'a str>) -> Ranks {
    names
        .enumerate()
        .map(|(rank, name)| (name.to_owned(), rank))
        .collect()
}

fn check_cautions(values: &[Value], names: &Names, found: &mut Breaches) {
    for (index, value) in values.iter().enumerate() {
        let place = format!("caution {}", index + 1);
        let Some(caution) = part::<CautionPart>(value, &place, found) else {
            continue;
        };
        if caution.text.is_empty() || caution.file.is_empty() || caution.line == 0 {
            found.add(Rule::Form, &place, "has no text, file or line");
        }
        if let Some(name) = &caution.ingredient
            && !names.ingredients.contains_key(name)
        {
            let says = format!("{name} is not an ingredient of the plan");
            found.add(Rule::Reference, &place, says);
        }
    }
}

fn remarks(values: &[Value], what: &str, found: &mut Breaches) -> Vec<Remark> {
    let mut remarks = Vec::new();
    for (index, value) in values.iter().enumerate() {
        let place = format!("{what} {}", index + 1);
        let Some(finding) = part::<FindingPart>(value, &place, found) else {
            continue;
        };
        if let Some(says) = wrong_finding(&finding) {
            found.add(Rule::Form, &place, says);
        }
        remarks.push(Remark {
            is_error: finding.severity == "error",
            is_note: finding.severity == "note",
            code: finding.code,
        });
    }
    remarks
}

fn wrong_finding(finding: &FindingPart) -> Option<&'static str> {
    let starts = (finding.line, finding.column);
    let ends = (finding.end_line, finding.end_column);
    if !["error", "warning", "note"].contains(&finding.severity.as_str()) {
        return Some("its severity is not error, warning or note");
    }
    if !finding.code.contains('/') || finding.message.is_empty() || finding.file.is_empty() {
        return Some("has no code, message or file");
    }
    if starts.0 == 0 || starts.1 == 0 || ends < starts {
        return Some("its lines and columns do not count from 1, or end before they start");
    }
    let is_list_of_objects = |list: &[Value]| list.iter().all(Value::is_object);
    if !is_list_of_objects(&finding.related) || !is_list_of_objects(&finding.fixes) {
        return Some("its related places or fixes are not objects");
    }
    None
}

#[cfg(test)]
mod tests {
    use super::is_day;

    #[test]
    fn days_are_days() {
        for day in ["2026-11-25", "2024-02-29", "2000-02-29"] {
            assert!(is_day(day), "{day}");
        }
        for day in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-1-1",
            "2026-11-00",
            "today",
            "",
        ] {
            assert!(!is_day(day), "{day}");
        }
    }
}
