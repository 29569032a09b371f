//! Phases: the ages that targets are for, how old a group is on a day, and by that what it eats when.
//!
//! An age is in days; day 0 is the day of hatching or birth. Both ends of a phase are among its days.

use std::cmp::Reverse;

use jiff::ToSpan;
use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use crate::Q;
use crate::farm::Namespace;
use crate::findings::data;
use crate::groups::Eats;
use crate::ration::Ration;
use crate::view::{View, day, number};

/// The ages that a ration is for, by the targets it meets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phase {
    /// The first day of age.
    pub from: u32,
    /// The last; none is on and on.
    pub to: Option<u32>,
    /// The targets that say so, and where.
    pub targets: Vec<(SmolStr, Place)>,
}

/// When the animals of a group came, and how old they were.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// The day they came.
    pub day: Date,
    /// How many days old they were on it.
    pub age: u32,
    /// Where that is written.
    pub place: Place,
}

impl Phase {
    /// Whether an age is one of it.
    #[must_use]
    pub fn holds(&self, age: i64) -> bool {
        i64::from(self.from) <= age && self.to.is_none_or(|to| age <= i64::from(to))
    }

    /// Whether an age is past it.
    #[must_use]
    pub fn is_past(&self, age: i64) -> bool {
        self.to.is_some_and(|to| i64::from(to) < age)
    }

    /// `day 0 to 21`, `day 22 on`.
    #[must_use]
    pub fn words(&self) -> String {
        match self.to {
            Some(to) if to == self.from => format!("day {to}"),
            Some(to) => format!("day {} to {to}", self.from),
            None => format!("day {} on", self.from),
        }
    }

    /// From the first day of either to the last.
    fn with(mut self, other: Phase) -> Phase {
        self.from = self.from.min(other.from);
        self.to = match (self.to, other.to) {
            (Some(one), Some(other)) => Some(one.max(other)),
            _ => None,
        };
        self.targets.extend(other.targets);
        self
    }
}

impl Placed {
    /// How many days old they are; none before they came.
    #[must_use]
    pub fn age_on(&self, day: Date) -> Option<i64> {
        (self.day <= day).then(|| i64::from(self.age) + i64::from((day - self.day).get_days()))
    }

    /// The day on which they are so old, be they here yet or not; the last of the calendar where it ends before.
    #[must_use]
    pub fn day_of(&self, age: i64) -> Date {
        let days = age.saturating_sub(i64::from(self.age));
        let end = if days < 0 { Date::MIN } else { Date::MAX };
        let span = jiff::Span::new().try_days(days);
        span.and_then(|span| self.day.checked_add(span))
            .unwrap_or(end)
    }

    /// The first day of a phase on which they are here.
    #[must_use]
    pub fn first_day(&self, phase: &Phase) -> Date {
        self.day_of(i64::from(phase.from)).max(self.day)
    }

    /// The last day of a phase; none where it has none.
    #[must_use]
    pub fn last_day(&self, phase: &Phase) -> Option<Date> {
        phase.to.map(|to| self.day_of(i64::from(to)))
    }
}

impl View<'_> {
    /// The ages that targets are for; none where they are for every age, or where that could not be read.
    #[must_use]
    pub fn phase_of_targets(&self, name: &str) -> Option<Phase> {
        let items = self.items(Namespace::Targets, name);
        // What the farm says of its own wins over the book.
        items.iter().rev().find_map(|(item_ref, item)| {
            let ItemBody::Targets(written) = &item.body else {
                return None;
            };
            let phase = written.phase.as_ref()?;
            let mut phase = ages(phase, item_ref.file, &mut Vec::new())?;
            let place = Place::new(item_ref.file, written.name.span);
            phase.targets.push((written.name.text.clone(), place));
            Some(phase)
        })
    }

    /// The ages that a ration is for: from the first day of the targets it meets to the last. Those for every age say nothing.
    #[must_use]
    pub fn phase_of(&self, ration: &Ration) -> Option<Phase> {
        let met = ration.meets.iter();
        met.filter_map(|(targets, _)| self.phase_of_targets(targets))
            .reduce(Phase::with)
    }

    /// When the animals of a group came. Says what is wrong with that line.
    pub(crate) fn placed(
        &self,
        written: &tree::Group,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed> {
        written.lines.iter().find_map(|line| {
            let Some(GroupStatement::Placed { date, age }) = &line.statement else {
                return None;
            };
            let age = match age {
                None => 0,
                Some(age) => age_in_days(age, file, findings)?,
            };
            Some(Placed {
                day: day(date)?,
                age,
                place: Place::new(file, line.span),
            })
        })
    }
}

/// The ages of a header, without the name of the targets. Says what is wrong with them.
pub(crate) fn ages(
    written: &tree::Phase,
    file: FileId,
    findings: &mut Vec<Finding>,
) -> Option<Phase> {
    let from = match &written.from {
        None => Some(0),
        Some(from) => age_in_days(from, file, findings),
    };
    let to = match &written.to {
        None => Some(None),
        Some(to) => age_in_days(to, file, findings).map(Some),
    };
    let (from, to) = (from?, to?);
    if let (Some(last), Some(written_to)) = (to, &written.to)
        && last < from
    {
        let first = written.from.as_ref().map_or(written.span, |from| from.span);
        findings.push(data::ages_backwards(
            Place::new(file, written_to.span),
            (from, Place::new(file, first)),
            last,
        ));
        return None;
    }
    Some(Phase {
        from,
        to,
        targets: Vec::new(),
    })
}

/// A whole number of days from 0 up.
fn age_in_days(written: &tree::Number, file: FileId, findings: &mut Vec<Finding>) -> Option<u32> {
    let value = number(written);
    let whole = (value.is_whole() && value <= Q::int(MOST_DAYS)).then(|| value.to_i64());
    let age = whole.flatten().and_then(|age| u32::try_from(age).ok());
    if age.is_none() {
        findings.push(data::no_age(
            Place::new(file, written.span),
            &written.digits,
        ));
    }
    age
}

/// A hundred years: no animal of a farm is older.
const MOST_DAYS: i64 = 36_525;

/// What is eaten when, where a group says when it came. What is eaten on no day of the group comes second.
///
/// A line that names no day holds on the days of its ration's phase, but for those on which a line that names one has the
/// group eat another phase. Of two that name none, the one whose phase begins later holds; of those that begin on one
/// day, the one that ends first. Where a line names one of its two days, the phase gives the other.
pub(crate) fn by_phase(lines: Vec<Eats>, placed: &Placed) -> (Vec<Eats>, Vec<Eats>) {
    let dated: Vec<Eats> = lines.into_iter().map(|line| filled(line, placed)).collect();
    let (mut held, mut never) = (Vec::new(), Vec::new());
    for line in &dated {
        let Some(phase) = line.phase.as_ref().filter(|_| !line.has_dates()) else {
            held.push(line.clone());
            continue;
        };
        let goes_before = |other: &&Eats| {
            other
                .phase
                .as_ref()
                .is_some_and(|of_other| other.has_dates() || rank(phase) < rank(of_other))
        };
        let mut left = vec![(line.from.unwrap_or(Date::MIN), line.to.unwrap_or(Date::MAX))];
        for other in dated.iter().filter(goes_before) {
            let taken = (
                other.from.unwrap_or(Date::MIN),
                other.to.unwrap_or(Date::MAX),
            );
            left = left.iter().flat_map(|days| without(*days, taken)).collect();
        }
        left.retain(|(first, last)| first <= last);
        if left.is_empty() {
            never.push(line.clone());
        }
        held.extend(left.into_iter().map(|(first, last)| Eats {
            from: Some(first),
            to: (last != Date::MAX).then_some(last),
            ..line.clone()
        }));
    }
    (held, never)
}

/// What begins later stands higher; of those that begin on one day, what ends first.
fn rank(phase: &Phase) -> (u32, Reverse<u32>) {
    (phase.from, Reverse(phase.to.unwrap_or(u32::MAX)))
}

/// A line with the days that it does not name itself.
fn filled(mut line: Eats, placed: &Placed) -> Eats {
    let (first, last) = match &line.phase {
        None => (placed.day, None),
        Some(phase) => (placed.first_day(phase), placed.last_day(phase)),
    };
    // A day of its own beyond the phase is meant: then the phase has no say in the other.
    let from = line
        .from
        .or_else(|| line.to.is_none_or(|to| first <= to).then_some(first));
    let to = line
        .to
        .or_else(|| last.filter(|last| line.from.is_none_or(|from| from <= *last)));
    (line.from, line.to) = (from, to);
    line
}

/// The days of a span before and after those of another.
fn without(days: (Date, Date), taken: (Date, Date)) -> Vec<(Date, Date)> {
    let (first, last) = days;
    if taken.1 < first || last < taken.0 || taken.1 < taken.0 {
        return vec![days];
    }
    let mut left = Vec::new();
    if let Ok(before) = taken.0.checked_sub(1.day())
        && first <= before
    {
        left.push((first, before));
    }
    if let Ok(after) = taken.1.checked_add(1.day())
        && after <= last
    {
        left.push((after, last));
    }
    left
}
