//! What can be said of a group's age beside the ages that its rations are for.

use jiff::ToSpan;
use jiff::civil::Date;
use trug_findings::{Finding, Place, Severity};

use super::PHASE;
use crate::findings::listed;
use crate::phases::{Phase, Placed};

/// A group, what it eats, and the ages that this is for.
#[derive(Clone, Copy, Debug)]
pub struct Fed<'a> {
    /// Where the line says that it is eaten.
    pub place: Place,
    /// The group.
    pub group: &'a str,
    /// The ration.
    pub ration: &'a str,
    /// The ages it is for.
    pub phase: &'a Phase,
    /// When the group came.
    pub placed: &'a Placed,
}

impl Fed<'_> {
    fn says(&self, said: String) -> Finding {
        let Placed { day, age, place } = self.placed;
        let finding = PHASE.at(self.place).says(said);
        let finding = self.written(finding);
        finding.also(*place, format!("on {day} it was {}", days(i64::from(*age))))
    }

    /// Where the phase is written.
    fn written(&self, finding: Finding) -> Finding {
        let targets = self.phase.targets.iter();
        targets.fold(finding, |finding, (name, place)| {
            let words = self.phase.words();
            let says = match self.phase.targets.len() {
                1 => format!("{name}: {words}"),
                _ => format!("{name} is met too: {words} in all"),
            };
            finding.also(*place, says)
        })
    }

    /// From when on it is past: the day after its last.
    fn past_from(&self) -> String {
        let last = self.placed.last_day(self.phase);
        let next = last.and_then(|last| last.checked_add(1.day()).ok());
        match (next, self.phase.to) {
            (Some(next), Some(to)) => format!("from {next} on it is past day {to}"),
            _ => String::new(),
        }
    }

    /// How a line is mended that reaches beyond the phase.
    fn mended(&self, is_past: bool) -> String {
        if is_past {
            let last = self.placed.last_day(self.phase).unwrap_or(Date::MAX);
            let past = self.past_from();
            format!("end this line on {last} and write what is eaten next: {past}")
        } else {
            let first = self.placed.first_day(self.phase);
            format!("begin this line on {first} and write what is eaten before")
        }
    }
}

/// On this day a group eats what is for another age.
#[must_use]
pub fn today(fed: &Fed<'_>, today: Date) -> Finding {
    let age = fed.placed.age_on(today).unwrap_or_default();
    fed.says(format!(
        "{} is {} and eats {}, for {}",
        fed.group,
        days(age),
        fed.ration,
        fed.phase.words()
    ))
    .help(fed.mended(fed.phase.is_past(age)))
}

/// A line has a group eat something longer than it is for.
pub(crate) fn too_long(fed: &Fed<'_>, from: Option<Date>, to: Option<Date>) -> Finding {
    let eaten = match (to, from) {
        (Some(to), _) => format!("to {to}"),
        (None, Some(from)) => format!("from {from} on"),
        (None, None) => "on and on".to_owned(),
    };
    let last = fed.placed.last_day(fed.phase).unwrap_or(Date::MAX);
    fed.says(format!(
        "{} is eaten {eaten}; day {} of {} is {last}",
        fed.ration,
        fed.phase.to.unwrap_or_default(),
        fed.group
    ))
    .help(fed.mended(true))
}

/// A line has a group eat something sooner than it is for.
pub(crate) fn too_soon(fed: &Fed<'_>, from: Date) -> Finding {
    let first = fed.placed.first_day(fed.phase);
    fed.says(format!(
        "{} is eaten from {from}; day {} of {} is {first}",
        fed.ration, fed.phase.from, fed.group
    ))
    .help(fed.mended(false))
}

/// The last phase is over, and nothing follows it today.
pub(crate) fn over(fed: &Fed<'_>, today: Date, next: Option<Date>) -> Finding {
    let age = fed.placed.age_on(today).unwrap_or_default();
    let last = fed.placed.last_day(fed.phase).unwrap_or(today);
    let follows = match next {
        None => "nothing follows".to_owned(),
        Some(next) => format!("the next begins on {next}"),
    };
    fed.says(format!(
        "{} is {}, past {} of {}; {follows}",
        fed.group,
        days(age),
        fed.phase.words(),
        fed.ration
    ))
    .help(format!(
        "write what it eats now; if it is gone, end the line on the day it left, as `to {last}`"
    ))
}

/// It is too young for all that it eats.
pub(crate) fn not_yet(fed: &Fed<'_>, today: Date, from: Date) -> Finding {
    let age = fed.placed.age_on(today).unwrap_or_default();
    fed.says(format!(
        "{} is {} and eats nothing yet; {} is for {}",
        fed.group,
        days(age),
        fed.ration,
        fed.phase.words()
    ))
    .help(format!(
        "write what it eats until {from}, or begin this line sooner, as `from {today}`"
    ))
}

/// How old a group is nobody says, and what it eats is for some ages only.
pub(crate) fn unplaced(place: Place, group: &str, eaten: &[(&str, Phase, Place)]) -> Finding {
    let what: Vec<String> = eaten
        .iter()
        .map(|(ration, phase, _)| format!("{ration} is for {}", phase.words()))
        .collect();
    let finding = PHASE
        .at(place)
        .weighing(Severity::Note)
        .says(format!(
            "{group} does not say how old it is; {}",
            listed(&what)
        ))
        .help("write the day it came, and how old it was: `placed on 2026-11-01 at day 1`");
    eaten.iter().fold(finding, |finding, (ration, _, line)| {
        finding.also(*line, format!("{ration} is eaten here"))
    })
}

/// A batch was fed at an age it is not for.
pub(crate) fn was_fed(fed: &Fed<'_>, from: i64, to: i64) -> Finding {
    let ages = if from == to {
        format!("day {from}")
    } else {
        format!("day {from} to {to}")
    };
    fed.says(format!(
        "{} was fed to {} on {ages}; it is for {}",
        fed.ration,
        fed.group,
        fed.phase.words()
    ))
    .help("check the days; if they are right, watch the animals and ask the veterinarian where it matters")
}

/// What is planned for a group is for another age.
#[must_use]
pub fn not_for(fed: &Fed<'_>, age: i64) -> Finding {
    fed.says(format!(
        "{} is for {}; {} is {}",
        fed.ration,
        fed.phase.words(),
        fed.group,
        days(age)
    ))
    .help("plan the ration of its age: the one that is planned where none is named")
}

/// An order is for fewer days than were asked for, because the group eats something else after them.
#[must_use]
pub fn fewer_days(fed: &Fed<'_>, (first, last): (Date, Date), asked: &str) -> Finding {
    let planned = (last - first).get_days() + 1;
    let noun = if planned == 1 { "day" } else { "days" };
    let next = last.checked_add(1.day()).unwrap_or(Date::MAX);
    fed.says(format!(
        "{} eats {} to {last}: planned for {planned} {noun}, not {asked}",
        fed.group, fed.ration
    ))
    .weighing(Severity::Note)
    .help(format!(
        "feed it from {first} to {last}, and plan what is eaten from {next} on"
    ))
}

/// An order is for days to come.
#[must_use]
pub fn later(fed: &Fed<'_>, first: Date, age: i64) -> Finding {
    fed.says(format!(
        "{} eats {} from {first} on, at day {age}: planned for then",
        fed.group, fed.ration
    ))
    .weighing(Severity::Note)
    .help(format!("feed none of it before {first}"))
}

/// `1 day old`, `25 days old`.
fn days(age: i64) -> String {
    if age == 1 {
        "1 day old".to_owned()
    } else {
        format!("{age} days old")
    }
}
