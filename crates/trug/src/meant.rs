//! Which rations are meant by a path and perhaps a name.

use trug_findings::{FileId, Finding};
use trug_model::{Farm, RationName};

use crate::concerns::{Items, composed, refuses};
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
    /// The text that declares it, with all it uses.
    pub(crate) farm: &'farm Farm,
    /// The ration.
    pub(crate) ration: RationName,
    /// What there is to say about it and about what it rests on.
    pub(crate) findings: Vec<Finding>,
}

/// What a wish comes to.
pub(crate) enum Choice<'farm> {
    /// These rations, in the order of texts and lines.
    Rations(Vec<Meant<'farm>>),
    /// The ration could not be read; these findings say why. All are of one farm.
    Unread(&'farm Farm, Vec<Finding>),
}

/// Finds the rations meant.
pub(crate) fn choose<'farm>(wish: &Wish<'_>, loaded: &'farm LoadedEach) -> Result<Choice<'farm>, Failure> {
    let declared: Vec<(&Farm, FileId, RationName)> = loaded
        .texts
        .iter()
        .flat_map(|(farm, file)| farm.rations(*file).into_iter().map(move |ration| (farm, *file, ration)))
        .collect();
    let mut chosen = declared.clone();
    if let Some(name) = wish.ration {
        let name = composed(name);
        chosen.retain(|(_, _, ration)| ration.name == *name);
    }
    if chosen.is_empty() {
        return unread(wish, loaded).map_or_else(|| Err(none(wish, &declared)), Ok);
    }
    if let Some(group) = wish.group.filter(|_| wish.ration.is_none()) {
        chosen = eaten(group, chosen)?;
    }
    if wish.ration.is_none() && !loaded.has_folder {
        let fed: Vec<_> = chosen.iter().filter(|(_, _, ration)| !ration.for_mixing).cloned().collect();
        if fed.len() == 1 {
            chosen = fed;
        }
    }
    if wish.wants_one && 1 < chosen.len() {
        return Err(several(wish, &chosen));
    }
    Ok(Choice::Rations(with_findings(chosen, wish.group)))
}

fn with_findings<'farm>(
    chosen: Vec<(&'farm Farm, FileId, RationName)>,
    group: Option<&str>,
) -> Vec<Meant<'farm>> {
    let mut meant: Vec<Meant<'farm>> = Vec::new();
    let mut known: Option<(FileId, &'farm Farm, Items<'farm>, Vec<Finding>)> = None;
    for (farm, file, ration) in chosen {
        // Rations of one text stand together, so one reading at a time is judged.
        let (_, _, items, findings) = match known.take() {
            Some(same) if std::ptr::eq(same.1, farm) => known.insert(same),
            _ => known.insert((file, farm, Items::of(farm), farm.check())),
        };
        let findings = items.concerning(&ration, group, findings);
        meant.push(Meant { farm, ration, findings });
    }
    meant
}

/// The rations a group eats. A group that is unknown in every text is no group.
fn eaten<'farm>(
    group: &str,
    rations: Vec<(&'farm Farm, FileId, RationName)>,
) -> Result<Vec<(&'farm Farm, FileId, RationName)>, Failure> {
    let mut is_known = false;
    let mut chosen = Vec::new();
    for (farm, file, ration) in rations {
        let view = farm.open(file);
        is_known |= view.knows_group(group);
        let made = view.made_out(&ration.name);
        // One that cannot be made out stays, so that its findings are said.
        if made.is_none_or(|made| view.order_of(group, &made).is_some()) {
            chosen.push((farm, file, ration));
        }
    }
    if !is_known {
        return Err(no_group(group));
    }
    if chosen.is_empty() {
        return Err(Failure::new(format!("{} eats no ration of these texts", group.escape_debug()))
            .help("add a line `eats` to the group"));
    }
    Ok(chosen)
}

/// There is no such group.
pub(crate) fn no_group(group: &str) -> Failure {
    Failure::new(format!("there is no group {}", group.escape_debug()))
        .help("name a group of the ration's text, or of one it uses")
}

/// A text whose errors may hide the ration: one that is no text, or has an item whose header could not be read.
fn unread<'farm>(wish: &Wish<'_>, loaded: &'farm LoadedEach) -> Option<Choice<'farm>> {
    let wanted = wish.ration.map(composed);
    loaded.texts.iter().find_map(|(farm, file)| {
        let errors: Vec<Finding> =
            farm.check().into_iter().filter(|finding| finding.place.file == *file && refuses(finding)).collect();
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

fn none(wish: &Wish<'_>, declared: &[(&Farm, FileId, RationName)]) -> Failure {
    let place = shown(wish.path);
    let Some(name) = wish.ration.filter(|_| !declared.is_empty()) else {
        return Failure::new(format!("there is no ration in {place}")).help("name a text that has one");
    };
    let failure = Failure::new(format!("there is no ration {} in {place}", name.escape_debug()));
    let near = nearest(name, declared.iter().map(|(_, _, ration)| ration.name.as_str()));
    match near.as_slice() {
        [] => failure.help(format!("name one of {}", names(declared))),
        near => failure.help(format!("try {}", near.join(", "))),
    }
}

fn several(wish: &Wish<'_>, chosen: &[(&Farm, FileId, RationName)]) -> Failure {
    let place = shown(wish.path);
    Failure::new(format!("there are {} rations in {place}, and this form holds one", chosen.len()))
        .help(format!("name one of {}, or take --as jsonl", names(chosen)))
}

/// The names of rations, each once; the first few where there are many.
fn names(rations: &[(&Farm, FileId, RationName)]) -> String {
    let mut names: Vec<&str> = rations.iter().map(|(_, _, ration)| ration.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let others = names.len().saturating_sub(MOST_NAMES);
    names.truncate(MOST_NAMES);
    let listed = names.join(", ");
    if others == 0 { listed } else { format!("{listed} and {others} others") }
}

const MOST_NAMES: usize = 20;
