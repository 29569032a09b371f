//! Days on which a group that eats by its age has nothing to eat: bought for them is nothing, so they are said.

use trug_model::Group;

use crate::buying::Unfed;
use crate::mixes::{Day, Days};

/// The days of those asked for on which a group is here and no line of it holds, in spans.
pub(crate) fn of(group: &Group, days: &Days) -> Vec<Unfed> {
    let lines = group.eats.iter().chain(&group.never);
    let (Some(placed), true) = (
        &group.placed,
        lines.into_iter().any(|line| line.phase.is_some()),
    ) else {
        return Vec::new();
    };
    let held = |day: Day| {
        let date = days.date(day);
        date < placed.day || group.eats.iter().any(|line| line.is_on(date))
    };
    let mut spans: Vec<(Day, Day)> = Vec::new();
    for day in days.fed().filter(|day| !held(*day)) {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == day => *last = day,
            _ => spans.push((day, day)),
        }
    }
    // Where a line names its last day and nothing follows, the group was meant to be gone.
    let ended = group
        .eats
        .iter()
        .max_by_key(|line| line.to.unwrap_or(jiff::civil::Date::MAX));
    let is_gone = |from: Day| {
        ended.is_some_and(|line| line.names_to && line.to.is_some_and(|to| days.of(to) < from))
    };
    spans.retain(|(from, _)| !is_gone(*from));
    let spans = spans.into_iter().map(|(from, to)| Unfed {
        group: group.name.clone(),
        label: group.label.clone(),
        place: group.place,
        from: days.date(from),
        to: days.date(to),
        age: placed.age_on(days.date(from)).unwrap_or_default(),
    });
    spans.collect()
}
