//! What a group eats a day, in kg and money, until when, and what of it the store runs out of: at a glance, as the text sees it.

use trug_findings::FileId;
use trug_model::{Eats, Farm, Phase, Q, View};
use trug_report::words::{count, mass, money};
use trug_store::{Fed, Judged, Short, buying};
use trug_syntax::tree::{Group, GroupStatement, ItemBody};

use crate::lenses::{Command, Lens, LensKind};
use crate::markdown::{plain, typed};

/// So many days are looked at.
const DAYS: u32 = 30;
/// With more groups than this in sight, what the store runs out of is left to `trug buy`: a glance must be quick.
const MOST_GROUPS: usize = 12;

/// A lens above every group that eats something; it leads to the analysis of what it eats first, once it is resolved to that of
/// what it eats today.
pub(crate) fn lenses(farm: &Farm, file: FileId, text: &str) -> Vec<Lens> {
    let items = farm.tree(file).items.iter();
    let groups = items.filter_map(|item| match &item.body {
        ItemBody::Group(group) => Some(group),
        _ => None,
    });
    let lens = |group: &Group| {
        let mut eaten = group.lines.iter().filter_map(|line| match &line.statement {
            Some(GroupStatement::Eats { ration, .. }) => Some(ration),
            _ => None,
        });
        Some(Lens {
            span: group.name.span,
            of: group.name.text.clone(),
            kind: LensKind::Eaten,
            title: String::new(),
            command: Command {
                name: "trug.analyse",
                arguments: vec![text.to_owned(), eaten.next()?.text.to_string()],
            },
            places: Vec::new(),
        })
    };
    groups.filter_map(lens).collect()
}

/// In a line, for a lens.
pub(crate) fn in_words(view: &View<'_>, group: &str) -> String {
    let fed = glance(view, group);
    let now: Vec<&Fed> = fed.iter().filter(|fed| is_now(fed, view)).collect();
    if now.is_empty() {
        return not_now(view, group);
    }
    let daily: Q = now.iter().map(|fed| &fed.daily).sum();
    let mut told = Vec::new();
    told.extend(old(view, group));
    told.push(format!("eats {} a day", mass(&(&daily * &Q::int(1000)))));
    if let [only] = now.as_slice() {
        told.extend(cost(only));
    }
    let mut short: Vec<&Short> = now.iter().flat_map(|fed| &fed.short).collect();
    short.retain(|short| short.is_stock_known);
    short.sort_by_key(|short| short.day);
    if let Some(short) = short.first() {
        let name = short.label.as_deref().unwrap_or(&short.of);
        told.push(format!("short of {name} on {}", short.day));
    }
    told.join(" · ")
}

/// The ration that a group eats today.
pub(crate) fn eaten_today(view: &View<'_>, group: &str) -> Option<String> {
    let (group, today) = (view.group(group)?, view.farm().settings().today?);
    let now = group.eats.iter().find(|eats| eats.is_on(today))?;
    Some(now.ration.to_string())
}

/// What to say of a group of which nothing is counted today.
fn not_now(view: &View<'_>, group: &str) -> String {
    let (group, today) = (view.group(group), view.farm().settings().today);
    let (Some(group), Some(today)) = (group, today) else {
        return NOT_KNOWN.to_owned();
    };
    if group.eats.iter().any(|eats| eats.is_on(today)) {
        return NOT_KNOWN.to_owned();
    }
    let coming = group.eats.iter().filter_map(|eats| eats.from);
    let next = coming.filter(|from| today < *from).min();
    let eats = next.map_or_else(
        || "eats nothing any more".to_owned(),
        |day| format!("eats from {day}"),
    );
    let told: Vec<String> = old(view, &group.name).into_iter().chain([eats]).collect();
    told.join(" · ")
}

/// How old a group is, and of which phase what it eats today is.
fn old(view: &View<'_>, group: &str) -> Option<String> {
    let (group, today) = (view.group(group)?, view.farm().settings().today?);
    let age = group.placed?.age_on(today)?;
    let now = group.eats.iter().filter(|eats| eats.is_on(today));
    let phase = now.filter_map(|eats| eats.phase.as_ref()).next_back();
    let of = phase.map_or_else(String::new, |phase| format!(" (phase: {})", phase.words()));
    Some(format!("day {age}{of}"))
}

const NOT_KNOWN: &str = "what it eats is not known";

/// How old a group is today, and the phase of what it eats; nothing where it does not say when it came.
pub(crate) fn age(view: &View<'_>, group: &str) -> Vec<String> {
    let (group, today) = (view.group(group), view.farm().settings().today);
    let (Some(group), Some(today)) = (group, today) else {
        return Vec::new();
    };
    let Some(placed) = &group.placed else {
        return Vec::new();
    };
    let mut told = vec![match placed.age_on(today) {
        Some(age) => format!("{} old on {today}", count_days(age)),
        None => format!(
            "comes on {}, {} old",
            placed.day,
            count_days(placed.age.into())
        ),
    }];
    for eats in &group.eats {
        let (Some(phase), Some(from)) = (&eats.phase, eats.from) else {
            continue;
        };
        let until = eats
            .to
            .map_or_else(|| "on".to_owned(), |to| format!("to {to}"));
        let now = if eats.is_on(today) { ", now" } else { "" };
        told.push(format!(
            "{} for {}: from {from} {until}{now}",
            typed(&eats.ration),
            phase.words()
        ));
    }
    told
}

fn count_days(age: i64) -> String {
    count(usize::try_from(age).unwrap_or_default(), "day", "days")
}

/// So many groups are named on the card of targets.
const MOST_IN_PHASE: usize = 8;

/// The groups of the text, how old each is and whether it is in a phase.
pub(crate) fn in_phase(view: &View<'_>, targets: &str, phase: &Phase) -> Vec<String> {
    let Some(today) = view.farm().settings().today else {
        return Vec::new();
    };
    let groups = view.groups().into_iter();
    let placed = groups.filter_map(|group| {
        let is_of = |eats: &Eats| {
            let of = eats.phase.iter().flat_map(|phase| &phase.targets);
            of.into_iter().any(|(name, _)| name == targets)
        };
        let age = group.placed?.age_on(today)?;
        let is_fed = group.eats.iter().any(is_of);
        is_fed.then(|| {
            let stands = match (phase.holds(age), phase.is_past(age)) {
                (true, _) => "in this phase",
                (_, true) => "past this phase",
                _ => "not yet in this phase",
            };
            format!(
                "{} is {} old: {stands}",
                typed(&group.name),
                count_days(age)
            )
        })
    });
    placed.take(MOST_IN_PHASE).collect()
}

/// A point for each thing, for a card.
pub(crate) fn points(view: &View<'_>, group: &str) -> Vec<String> {
    let fed = glance(view, group);
    let mut told = Vec::new();
    for fed in fed.iter().filter(|fed| is_now(fed, view)) {
        let until = fed
            .to
            .map_or_else(String::new, |day| format!(", until {day}"));
        if let Some(cost) = cost(fed) {
            told.push(format!("{} costs {cost}{until}", typed(&fed.ration)));
        } else if let Some(day) = fed.to {
            told.push(format!("{} until {day}", typed(&fed.ration)));
        }
        let known = fed.short.iter().filter(|short| short.is_stock_known);
        told.extend(known.take(MOST_SHORT).map(|short| {
            let name = plain(short.label.as_deref().unwrap_or(&short.of));
            format!("the store is short of {name} for the mix of {}", short.day)
        }));
    }
    if !told.is_empty() {
        told.push("`trug buy` says what to buy by when".to_owned());
    }
    told
}

/// More of them are read in the shopping list.
const MOST_SHORT: usize = 5;

/// What a group eats.
fn glance(view: &View<'_>, group: &str) -> Vec<Fed> {
    let farm = view.farm();
    let (Some(today), Some(named)) = (farm.settings().today, view.group(group)) else {
        return Vec::new();
    };
    let own = named.place.file;
    let is_group =
        |item: &trug_syntax::tree::Item| matches!(item.body, trug_syntax::tree::ItemBody::Group(_));
    let in_sight = view.sees().iter().filter(|text| !farm.is_book(**text));
    let in_sight: Vec<FileId> = in_sight.copied().collect();
    let groups = in_sight.iter().map(|text| {
        let items = farm.tree(*text).items.iter();
        items.filter(|item| is_group(item)).count()
    });
    let is_whole = groups.sum::<usize>() <= MOST_GROUPS;
    let texts = if is_whole { in_sight } else { vec![own] };
    let only = (!is_whole).then_some(group);
    let buying = buying(farm, &texts, Judged::AtAGlance { only }, today, DAYS);
    let mut fed = buying.fed;
    fed.retain(|fed| fed.group == named.name && fed.place.file == own);
    if !is_whole {
        fed.iter_mut().for_each(|fed| fed.short.clear());
    }
    fed
}

fn is_now(fed: &Fed, view: &View<'_>) -> bool {
    let today = view.farm().settings().today;
    today.is_some_and(|today| {
        fed.from.is_none_or(|from| from <= today) && fed.to.is_none_or(|to| today <= to)
    })
}

fn cost(fed: &Fed) -> Option<String> {
    let cost = fed.cost.as_ref()?;
    let least = if cost.complete { "" } else { "at least " };
    let money = money(&cost.money.amount, &cost.money.currency);
    Some(format!("{least}{money} a day"))
}
