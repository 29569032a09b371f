//! What a group eats a day, in kg and money, until when, and what of it the store runs out of: at a glance, as the text sees it.

use trug_findings::FileId;
use trug_model::{Farm, Q, View};
use trug_report::words::{mass, money};
use trug_store::{Fed, Judged, Short, buying};
use trug_syntax::tree::{Group, GroupStatement, ItemBody};

use crate::lenses::{Command, Lens, LensKind};
use crate::markdown::{plain, typed};

/// So many days are looked at.
const DAYS: u32 = 30;
/// With more groups than this in sight, what the store runs out of is left to `trug buy`: a glance must be quick.
const MOST_GROUPS: usize = 12;

/// A lens above every group that eats something; it leads to the analysis of what it eats first.
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
    let mut told = vec![format!("eats {} a day", mass(&(&daily * &Q::int(1000))))];
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
    next.map_or_else(
        || "eats nothing any more".to_owned(),
        |day| format!("eats from {day}"),
    )
}

const NOT_KNOWN: &str = "what it eats is not known";

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
