//! What stands above a ration: its plan, its analysis, its cost, and who uses it.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::{FileId, Place, Span};
use trug_model::{Farm, Namespace, View};
use trug_report::words::count;
use trug_syntax::tree::{Item, ItemBody};

use crate::hints::{cost, standing};
use crate::parts::{self, Part};

/// A line above an item that says something, and what happens when it is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lens {
    /// The name it is about.
    pub span: Span,
    /// What it says.
    pub title: String,
    /// What it does.
    pub command: Command,
    /// The places to be shown, for a lens that counts uses.
    pub places: Vec<Place>,
}

/// What an editor is to do, as plain data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Command {
    /// `trug.plan`, `trug.analyse`, `trug.used`.
    pub name: &'static str,
    /// The name of the text, and of the ration.
    pub arguments: Vec<String>,
}

/// What is used where: by name, the places and whether a group or a record uses it.
type Uses = BTreeMap<SmolStr, Vec<(Place, User)>>;

#[derive(Clone, Copy, PartialEq, Eq)]
enum User {
    Ration,
    Group,
    Record,
}

/// The lenses above the rations of a text.
#[must_use]
pub fn lenses(farm: &Farm, file: FileId) -> Vec<Lens> {
    let Some(source) = farm.sources().get(file.index()) else {
        return Vec::new();
    };
    let has_rations = !farm.rations(file).is_empty();
    if farm.is_book(file) || farm.is_table(file) || !has_rations {
        return Vec::new();
    }
    let view = farm.open(file);
    let uses = uses(farm, file);
    let mut lenses = Vec::new();
    for item in &farm.tree(file).items {
        if let ItemBody::Ration(ration) = &item.body {
            let name = &ration.name;
            let command = |command: &'static str| Command {
                name: command,
                arguments: vec![source.name().to_owned(), name.text.to_string()],
            };
            let mut push = |title: String, command: Command, places: Vec<Place>| {
                lenses.push(Lens {
                    span: name.span,
                    title,
                    command,
                    places,
                });
            };
            push("plan".to_owned(), command("trug.plan"), Vec::new());
            let (analysis, cost) = told(&view, &name.text);
            push(analysis, command("trug.analyse"), Vec::new());
            if !cost.is_empty() {
                push(cost, command("trug.analyse"), Vec::new());
            }
            let used = uses.get(&name.text).map_or(&[][..], Vec::as_slice);
            if !used.is_empty() {
                let places = used.iter().map(|(place, _)| *place).collect();
                push(used_by(used), command("trug.used"), places);
            }
        }
    }
    lenses
}

/// How a ration stands to its bounds, and what a kg costs.
fn told(view: &View<'_>, name: &str) -> (String, String) {
    let made = view
        .made_out(name)
        .filter(|made| made.is_sound && !made.lines.is_empty());
    let Some(made) = made else {
        return ("analysis".to_owned(), String::new());
    };
    let met: Vec<Option<bool>> = view
        .additions(&made)
        .iter()
        .map(|bound| bound.met)
        .collect();
    let (stands, _) = standing(&met, " bounds");
    let analysis = match stands.is_empty() {
        true => "analysis".to_owned(),
        false => format!("analysis: {stands}"),
    };
    (analysis, cost(view, &made).0)
}

/// Every place that names a ration of this text: in it, and in the texts that read it.
fn uses(farm: &Farm, file: FileId) -> Uses {
    let mut uses = Uses::new();
    for reader in farm.readers_of(file) {
        for item in &farm.tree(reader).items {
            uses_in(item, reader, &mut uses);
        }
    }
    uses
}

fn uses_in(item: &Item, file: FileId, uses: &mut Uses) {
    let user = match &item.body {
        ItemBody::Ration(_) => User::Ration,
        ItemBody::Group(_) => User::Group,
        ItemBody::Record(_) => User::Record,
        _ => return,
    };
    let lines = parts::lines(&item.body)
        .into_iter()
        .flat_map(|line| line.parts());
    for part in parts::header(&item.body).into_iter().chain(lines) {
        if let Part::Name(Namespace::Feed, name) = part {
            let places = uses.entry(name.text.clone()).or_default();
            places.push((Place::new(file, name.span), user));
        }
    }
}

fn used_by(used: &[(Place, User)]) -> String {
    let of = |user: User| used.iter().filter(|(_, by)| *by == user).count();
    let told = [
        (of(User::Ration), "ration", "rations"),
        (of(User::Group), "group", "groups"),
        (of(User::Record), "record", "records"),
    ];
    let told = told.into_iter().filter(|(many, ..)| *many > 0);
    let told: Vec<String> = told
        .map(|(many, one, more)| count(many, one, more))
        .collect();
    format!("used by {}", told.join(", "))
}
