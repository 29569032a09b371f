//! Judges how old a group is beside the ages that what it eats is for.

use jiff::civil::Date;
use trug_findings::{Finding, Place};
use trug_syntax::tree::{self, GroupStatement, Name};

use crate::findings::target::phase::{self, Fed};
use crate::groups::{Eats, Group};
use crate::phases::{Phase, Placed};
use crate::view::{View, day};

/// Says which line has the group eat what is for another age, once a line.
pub(super) fn group(
    view: &View<'_>,
    (item, written): (&tree::Item, &tree::Group),
    findings: &mut Vec<Finding>,
) {
    let is_eaten =
        |line: &tree::GroupLine| matches!(line.statement, Some(GroupStatement::Eats { .. }));
    if !written.lines.iter().any(is_eaten) {
        return;
    }
    let group = view.own_group(item, written);
    let is_placed =
        |line: &tree::GroupLine| matches!(line.statement, Some(GroupStatement::Placed { .. }));
    if !written.lines.iter().any(is_placed) {
        findings.extend(unplaced(&group));
    }
    judge(&group, view.farm().settings().today, findings);
}

/// The same of a group that says when it came.
pub(crate) fn judge(group: &Group, today: Option<Date>, findings: &mut Vec<Finding>) {
    let Some(placed) = &group.placed else {
        return;
    };
    for line in &group.eats {
        if let Some(phase) = line.phase.as_ref().filter(|_| line.has_dates()) {
            findings.extend(dated(&fed(group, line, phase, placed), line, today));
        }
    }
    if let Some(today) = today.filter(|today| placed.day <= *today) {
        findings.extend(uncovered(group, placed, today));
    }
}

fn unplaced(group: &Group) -> Option<Finding> {
    let eaten = group.eats.iter();
    let eaten: Vec<(&str, Phase, Place)> = eaten
        .filter_map(|line| Some((line.ration.as_str(), line.phase.clone()?, line.place)))
        .collect();
    (!eaten.is_empty()).then(|| phase::unplaced(group.place, &group.name, &eaten))
}

fn fed<'a>(group: &'a Group, line: &'a Eats, phase: &'a Phase, placed: &'a Placed) -> Fed<'a> {
    Fed {
        place: line.place,
        group: &group.name,
        ration: &line.ration,
        phase,
        placed,
    }
}

/// A line that names its days: they reach beyond the phase.
fn dated(fed: &Fed<'_>, line: &Eats, today: Option<Date>) -> Option<Finding> {
    let is_out = |day: &Date| {
        let age = fed.placed.age_on(*day);
        line.is_on(*day) && age.is_some_and(|age| !fed.phase.holds(age))
    };
    if let Some(today) = today.filter(is_out) {
        return Some(phase::today(fed, today));
    }
    let last = fed.placed.last_day(fed.phase);
    let is_too_long = last.is_some_and(|last| line.to.is_none_or(|to| last < to));
    if is_too_long {
        return Some(phase::too_long(fed, line.from, line.to));
    }
    let first = fed.placed.first_day(fed.phase);
    let from = line.from?.max(fed.placed.day);
    (from < first).then(|| phase::too_soon(fed, from))
}

/// Nothing is eaten on this day, because a phase is over or has not begun.
fn uncovered(group: &Group, placed: &Placed, today: Date) -> Option<Finding> {
    if group.eats.iter().any(|line| line.is_on(today)) {
        return None;
    }
    let ended = group.eats.iter().filter(|line| line.to < Some(today));
    let ended = ended.filter(|line| line.to.is_some());
    let ended = ended.max_by_key(|line| line.to);
    let coming = group.eats.iter().filter(|line| Some(today) < line.from);
    let coming = coming.min_by_key(|line| line.from);
    let next = coming.and_then(|line| line.from);
    if let Some(line) = ended.filter(|line| !line.names_to)
        && let Some(phase) = &line.phase
    {
        return Some(phase::over(&fed(group, line, phase, placed), today, next));
    }
    let line = coming.filter(|line| !line.names_from)?;
    let phase = line.phase.as_ref()?;
    Some(phase::not_yet(
        &fed(group, line, phase, placed),
        today,
        next?,
    ))
}

/// What a record says was fed, beside the age of the group on those days.
pub(super) fn fed_on(
    view: &View<'_>,
    of: &Name,
    (group, from, to): (&Name, Option<&tree::Date>, Option<&tree::Date>),
    findings: &mut Vec<Finding>,
) {
    let (from, to) = (from.and_then(day), to.and_then(day));
    let (Some(first), Some(last)) = (from.or(to), to.or(from)) else {
        return;
    };
    let found = view.group(&group.text).zip(view.ration(&of.text));
    let Some((fed_to, ration)) = found else {
        return;
    };
    let (Some(placed), Some(phase)) = (&fed_to.placed, view.phase_of(&ration)) else {
        return;
    };
    let ages = placed.age_on(first).zip(placed.age_on(last));
    if let Some((from, to)) = ages.filter(|(from, to)| from <= to)
        && !(phase.holds(from) && phase.holds(to))
    {
        let fed = Fed {
            place: view.place(group.span),
            group: &fed_to.name,
            ration: &ration.name,
            phase: &phase,
            placed,
        };
        findings.push(phase::was_fed(&fed, from, to));
    }
}
