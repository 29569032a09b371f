//! Which rations are meant by a path and perhaps a name.

use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;
use trug_findings::{FileId, Finding};
use trug_model::{Concerns, Farm, RationName, View, composed, refuses};

use crate::ending::{Failure, shown};
use crate::load::LoadedEach;
use crate::near::nearest;

/// What is meant: a path, perhaps a ration in it, perhaps only what a group eats.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wish<'a> {
    /// The path as typed.
    pub(crate) path: &'a std::path::Path,
    /// The ration's name, where one was typed.
    pub(crate) ration: Option<&'a str>,
    /// Only rations this group eats.
    pub(crate) group: Option<&'a str>,
    /// The form holds one ration and no more.
    pub(crate) wants_one: bool,
}

/// One ration in one reading.
pub(crate) struct Meant<'farm> {
    /// The text it is seen from, with all it uses.
    pub(crate) farm: &'farm Farm,
    /// That text.
    pub(crate) file: FileId,
    /// The ration.
    pub(crate) ration: RationName,
    /// What there is to say about it and about what it rests on.
    pub(crate) findings: Vec<Finding>,
    /// The text opened already; none where there are many texts, of which not all are kept open.
    pub(crate) views: Option<Views<'farm>>,
}

/// A text opened, as often as it is looked at from several sides at once: what one of them made out serves the next.
pub(crate) type Views<'farm> = Arc<Mutex<Vec<View<'farm>>>>;

/// The text last opened. Rations of one text stand together mostly, and share what is made out of it.
#[derive(Default)]
pub(crate) struct Opened<'farm>(Option<Open<'farm>>);

struct Open<'farm> {
    farm: &'farm Farm,
    file: FileId,
    view: View<'farm>,
    views: Option<Views<'farm>>,
}

impl<'farm> Opened<'farm> {
    /// The text that this ration is seen from.
    pub(crate) fn view(&mut self, meant: &Meant<'farm>) -> &View<'farm> {
        let is_it =
            |open: &Open<'farm>| std::ptr::eq(open.farm, meant.farm) && open.file == meant.file;
        let open = match self.0.take() {
            Some(open) if is_it(&open) => open,
            other => {
                give_back(other);
                Open {
                    farm: meant.farm,
                    file: meant.file,
                    view: taken(meant).unwrap_or_else(|| meant.farm.open(meant.file)),
                    views: meant.views.clone(),
                }
            }
        };
        &self.0.insert(open).view
    }
}

impl Drop for Opened<'_> {
    fn drop(&mut self) {
        give_back(self.0.take());
    }
}

fn taken<'farm>(meant: &Meant<'farm>) -> Option<View<'farm>> {
    let views = meant.views.as_ref()?;
    views.lock().unwrap_or_else(PoisonError::into_inner).pop()
}

fn give_back(open: Option<Open<'_>>) {
    if let Some(Open {
        view,
        views: Some(views),
        ..
    }) = open
    {
        let mut views = views.lock().unwrap_or_else(PoisonError::into_inner);
        views.push(view);
    }
}

/// A ration that could be meant, as one text sees it.
#[derive(Clone)]
struct Candidate<'farm> {
    farm: &'farm Farm,
    file: FileId,
    ration: RationName,
}

/// What a wish comes to.
pub(crate) enum Choice<'farm> {
    /// These rations, in the order of texts and lines.
    Rations(Vec<Meant<'farm>>),
    /// The ration could not be read; these findings say why. All are of one farm.
    Unread(&'farm Farm, Vec<Finding>),
}

/// Finds the rations meant.
pub(crate) fn choose<'farm>(
    wish: &Wish<'_>,
    loaded: &'farm LoadedEach,
) -> Result<Choice<'farm>, Failure> {
    let own = candidates(loaded, |declared_in, file| declared_in == file);
    let mut chosen = own.clone();
    chosen.retain(|one| is_named(one, wish));
    // A group may be kept in a text of its own, which uses those of the rations; a name may be of a text that is used.
    if wish.group.is_some() || (chosen.is_empty() && wish.ration.is_some()) {
        let used = candidates(loaded, |declared_in, file| declared_in != file);
        chosen.extend(used.into_iter().filter(|one| is_named(one, wish)));
    }
    if chosen.is_empty() {
        return unread(wish, loaded).map_or_else(|| Err(none(wish, &own)), Ok);
    }
    if let Some(group) = wish.group {
        chosen = eaten(group, wish.ration.is_none(), chosen)?;
    }
    let mut seen = BTreeSet::new();
    chosen.retain(|one| seen.insert((declared_in(one).to_owned(), one.ration.name.clone())));
    if wish.ration.is_none() && !loaded.has_folder {
        let fed: Vec<_> = chosen
            .iter()
            .filter(|one| !one.ration.for_mixing)
            .cloned()
            .collect();
        if fed.len() == 1 {
            chosen = fed;
        }
    }
    if wish.wants_one && 1 < chosen.len() {
        return Err(several(wish, &chosen));
    }
    Ok(Choice::Rations(with_findings(chosen, wish.group)))
}

/// The rations of each reading whose text and the reading's own text agree with `keeps`.
fn candidates(loaded: &LoadedEach, keeps: impl Fn(FileId, FileId) -> bool) -> Vec<Candidate<'_>> {
    let mut candidates = Vec::new();
    for (farm, file) in &loaded.texts {
        for declared_in in farm
            .files()
            .filter(|declared_in| keeps(*declared_in, *file))
        {
            for ration in farm.rations(declared_in) {
                candidates.push(Candidate {
                    farm,
                    file: *file,
                    ration,
                });
            }
        }
    }
    candidates
}

fn is_named(one: &Candidate<'_>, wish: &Wish<'_>) -> bool {
    wish.ration
        .is_none_or(|name| one.ration.name == *composed(name))
}

/// The name of the text that declares a ration.
fn declared_in<'farm>(one: &Candidate<'farm>) -> &'farm str {
    let source = one.farm.sources().get(one.ration.place.file.index());
    source.map_or("", |source| source.name())
}

fn with_findings<'farm>(chosen: Vec<Candidate<'farm>>, group: Option<&str>) -> Vec<Meant<'farm>> {
    // Rations of one reading stand together mostly, so it is judged once; readings are judged side by side.
    let mut readings: Vec<Vec<Candidate<'farm>>> = Vec::new();
    for one in chosen {
        match readings.last_mut() {
            Some(same)
                if same
                    .first()
                    .is_some_and(|first| std::ptr::eq(first.farm, one.farm)) =>
            {
                same.push(one);
            }
            _ => readings.push(vec![one]),
        }
    }
    let is_only_one = readings.len() == 1;
    let judged = readings.into_par_iter().map(|reading| {
        let Some((farm, file)) = reading.first().map(|one| (one.farm, one.file)) else {
            return Vec::new();
        };
        let items = Concerns::of(farm);
        let (findings, views) = if is_only_one {
            let (findings, view) = farm.check_and_open(file);
            (findings, Some(Views::new(Mutex::new(vec![view]))))
        } else {
            (farm.check(), None)
        };
        let meant = reading.into_iter().map(|Candidate { farm, file, ration }| {
            let findings = items.concerning(&ration, group, &findings);
            Meant {
                farm,
                file,
                ration,
                findings,
                views: views.clone(),
            }
        });
        meant.collect()
    });
    let judged: Vec<Vec<Meant<'farm>>> = judged.collect();
    judged.into_iter().flatten().collect()
}

/// The rations a group eats, as the texts see it that know the group; where none was named, those of its age.
fn eaten<'farm>(
    group: &str,
    is_any: bool,
    mut rations: Vec<Candidate<'farm>>,
) -> Result<Vec<Candidate<'farm>>, Failure> {
    rations.retain(|one| one.farm.open(one.file).knows_group(group));
    if rations.is_empty() {
        return Err(no_group(group));
    }
    let names: BTreeSet<String> = rations
        .iter()
        .map(|one| one.ration.name.to_string())
        .collect();
    rations.retain(|one| {
        let view = one.farm.open(one.file);
        let made = view.made_out(&one.ration.name);
        // One that cannot be made out stays, so that its findings are said.
        made.is_none_or(|made| view.order_of(group, &made).is_some())
    });
    if is_any {
        // A group that goes by its age is mixed what it eats today.
        rations.retain(|one| {
            let meant = one.farm.open(one.file).eaten_by_age(group);
            meant.is_none_or(|names| names.contains(&one.ration.name))
        });
    }
    if rations.is_empty() {
        let names: Vec<String> = names.into_iter().collect();
        let failure = Failure::new(format!(
            "{} does not eat {}",
            group.escape_debug(),
            names.join(" or ")
        ));
        return Err(failure.help("add a line `eats` to the group"));
    }
    Ok(rations)
}

/// There is no such group.
pub(crate) fn no_group(group: &str) -> Failure {
    Failure::new(format!("there is no group {}", group.escape_debug()))
        .help("name the text that declares the group, or `use` it in the text of the ration")
}

/// A text whose errors may hide the ration: one that is no text, or has an item whose header could not be read.
pub(crate) fn unread<'farm>(wish: &Wish<'_>, loaded: &'farm LoadedEach) -> Option<Choice<'farm>> {
    let wanted = wish.ration.map(composed);
    loaded.texts.iter().find_map(|(farm, file)| {
        let errors: Vec<Finding> = farm
            .check()
            .into_iter()
            .filter(|finding| finding.place.file == *file && refuses(finding))
            .collect();
        let tree = farm.tree(*file);
        let hides = tree.items.iter().any(|item| match &item.body {
            trug_syntax::tree::ItemBody::Unread(unread) => {
                let name = unread.name.as_ref().map(|name| name.text.as_str());
                name.is_none() || wanted.is_none() || name == wanted.as_deref()
            }
            _ => false,
        });
        let is_possible = hides || tree.items.is_empty();
        (is_possible && !errors.is_empty()).then_some(Choice::Unread(farm, errors))
    })
}

fn none(wish: &Wish<'_>, declared: &[Candidate<'_>]) -> Failure {
    let place = shown(wish.path);
    let Some(name) = wish.ration.filter(|_| !declared.is_empty()) else {
        return Failure::new(format!("there is no ration in {place}"))
            .help("name a text that has one");
    };
    let failure = Failure::new(format!(
        "there is no ration {} in {place}",
        name.escape_debug()
    ));
    let near = nearest(name, declared.iter().map(|one| one.ration.name.as_str()));
    match near.as_slice() {
        [] => failure.help(format!("name one of {}", names(declared))),
        near => failure.help(format!("try {}", near.join(", "))),
    }
}

fn several(wish: &Wish<'_>, chosen: &[Candidate<'_>]) -> Failure {
    let place = shown(wish.path);
    Failure::new(format!(
        "there are {} rations in {place}, and this form holds one",
        chosen.len()
    ))
    .help(format!("name one of {}, or take --as jsonl", names(chosen)))
}

/// The names of rations, each once; the first few where there are many.
fn names(rations: &[Candidate<'_>]) -> String {
    let mut names: Vec<&str> = rations.iter().map(|one| one.ration.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let others = names.len().saturating_sub(MOST_NAMES);
    names.truncate(MOST_NAMES);
    let listed = names.join(", ");
    if others == 0 {
        listed
    } else {
        format!("{listed} and {others} others")
    }
}

const MOST_NAMES: usize = 20;
