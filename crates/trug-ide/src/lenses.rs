//! What stands above a ration: its plan, its analysis, its cost and its least cost, and who uses it; above a lot: what is left of
//! it, how long it keeps, and who uses it; above a group what it eats; and above a record what became of the batch.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::{FileId, Place, Span};
use trug_model::ration::Ration;
use trug_model::{Farm, Namespace, RationName, View};
use trug_report::words::count;
use trug_syntax::tree::{AmountForm, Item, ItemBody, RationLine, RationStatement};

use crate::balance::{balanced, in_words};
use crate::cards::{became, keeps, on_hand, rests_on};
use crate::fed;
use crate::hints::cost;
use crate::parts::{self, Part};

/// A line above a ration, a lot or a group that says something, and what happens when it is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lens {
    /// The name of the ration, lot, group or record it is about.
    pub span: Span,
    /// That name.
    pub of: SmolStr,
    /// Which of them it is.
    pub kind: LensKind,
    /// What it says; empty until [`resolve_lens`] has worked it out.
    pub title: String,
    /// What it does.
    pub command: Command,
    /// The places to be shown, for a lens that counts uses or says what became of a batch.
    pub places: Vec<Place>,
}

/// What a lens tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LensKind {
    /// How to mix it.
    Plan,
    /// How it stands to its bounds.
    Analysis,
    /// What a kg costs.
    Cost,
    /// What it would cost at least, where amounts can be chosen.
    Balance,
    /// Who uses it.
    Used,
    /// What is left of a lot, how long it keeps, and who uses it.
    Lot,
    /// What a group eats.
    Eaten,
    /// What became of the batch of a record.
    Record,
}

impl LensKind {
    /// Whether it leads to places: those that use something, or those that what it says rests on.
    #[must_use]
    pub fn shows_places(self) -> bool {
        self.counts_uses() || self == LensKind::Record
    }

    fn counts_uses(self) -> bool {
        matches!(self, LensKind::Used | LensKind::Lot)
    }
}

/// What an editor is to do, as plain data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Command {
    /// `trug.plan`, `trug.analyse`, `trug.balance`, `trug.used`.
    pub name: &'static str,
    /// The name of the text, and of the ration, lot or record; of the ration that a group eats today, else of its first.
    pub arguments: Vec<String>,
}

/// What is used where: by name, the places and who uses it there.
type Uses = BTreeMap<(Namespace, SmolStr), Vec<(Place, User)>>;

#[derive(Clone, Copy, PartialEq, Eq)]
enum User {
    Ration,
    Group,
    Record,
}

/// Where lenses stand: above every ration, lot, group and record of a text, with no title yet where that has to be worked out.
#[must_use]
pub fn lens_places(farm: &Farm, file: FileId) -> Vec<Lens> {
    let Some(source) = farm.sources().get(file.index()) else {
        return Vec::new();
    };
    if farm.is_book(file) || farm.is_table(file) {
        return Vec::new();
    }
    let mut lenses = Vec::new();
    for ration in farm.rations(file) {
        for (kind, command, title) in [
            (LensKind::Plan, "trug.plan", "plan"),
            (LensKind::Analysis, "trug.analyse", ""),
            (LensKind::Cost, "trug.analyse", ""),
            (LensKind::Balance, "trug.balance", ""),
            (LensKind::Used, "trug.used", ""),
        ] {
            if kind == LensKind::Balance && !may_choose(farm, file, &ration) {
                continue;
            }
            let about = (ration.place.span, &ration.name);
            lenses.push(lens(source.name(), about, kind, (command, title)));
        }
    }
    for item in &farm.tree(file).items {
        if let ItemBody::Lot(lot) = &item.body {
            let about = (lot.name.span, &lot.name.text);
            lenses.push(lens(source.name(), about, LensKind::Lot, ("trug.used", "")));
        }
    }
    lenses.extend(fed::lenses(farm, file, source.name()));
    lenses.extend(farm.records(file).into_iter().map(|record| Lens {
        span: record.place.span,
        of: record.name.clone(),
        kind: LensKind::Record,
        title: String::new(),
        command: Command {
            name: "trug.used",
            arguments: vec![source.name().to_owned(), record.name.to_string()],
        },
        places: Vec::new(),
    }));
    lenses
}

fn lens(
    text: &str,
    (span, about): (Span, &SmolStr),
    kind: LensKind,
    (command, title): (&'static str, &str),
) -> Lens {
    Lens {
        span,
        of: about.clone(),
        kind,
        title: title.to_owned(),
        command: Command {
            name: command,
            arguments: vec![text.to_owned(), about.to_string()],
        },
        places: Vec::new(),
    }
}

/// Whether a ration may have open amounts, as far as its own lines tell.
fn may_choose(farm: &Farm, file: FileId, ration: &RationName) -> bool {
    let items = farm.tree(file).items.iter();
    let mut written = items.filter_map(|item| match &item.body {
        ItemBody::Ration(written) if written.name.text == ration.name => Some(written),
        _ => None,
    });
    written.any(|written| {
        let is_open = |line: &RationLine| match &line.statement {
            RationStatement::Amount(amount) => {
                matches!(amount.form, AmountForm::Open(_)) || amount.clauses.within.is_some()
            }
            _ => false,
        };
        written.like.is_some() || written.lines.iter().any(is_open)
    })
}

/// A lens with what it says.
#[must_use]
pub fn resolve_lens(farm: &Farm, file: FileId, lens: Lens) -> Lens {
    if farm.sources().get(file.index()).is_none() {
        return lens;
    }
    let uses = if lens.kind.counts_uses() {
        uses(farm, file)
    } else {
        Uses::new()
    };
    told(&farm.open(file), &uses, lens)
}

/// The lenses above the rations, lots, groups and records of a text, with what they say; those with nothing to say are left out.
#[must_use]
pub fn lenses(farm: &Farm, file: FileId) -> Vec<Lens> {
    let places = lens_places(farm, file);
    if places.is_empty() {
        return places;
    }
    let (view, uses) = (farm.open(file), uses(farm, file));
    let told = places.into_iter().map(|lens| told(&view, &uses, lens));
    let says = |lens: &Lens| match lens.kind {
        LensKind::Cost => lens.title != NO_COST,
        LensKind::Used => !lens.places.is_empty(),
        LensKind::Balance => lens.title != NO_CHOICE,
        LensKind::Plan
        | LensKind::Analysis
        | LensKind::Lot
        | LensKind::Eaten
        | LensKind::Record => true,
    };
    told.filter(says).collect()
}

const NO_COST: &str = "cost unknown";
const NO_CHOICE: &str = "nothing to choose";

fn told(view: &View<'_>, uses: &Uses, mut lens: Lens) -> Lens {
    let name = lens.command.arguments.last().cloned().unwrap_or_default();
    let made = || {
        view.made_out(&name)
            .filter(|made| made.is_sound && !made.lines.is_empty())
    };
    match lens.kind {
        LensKind::Plan => {}
        LensKind::Analysis => {
            lens.title = made().map_or_else(|| "analysis".to_owned(), |made| stands(view, &made))
        }
        LensKind::Cost => {
            let cost = made()
                .map(|made| cost(view, &made).0)
                .filter(|cost| !cost.is_empty());
            lens.title = cost.unwrap_or_else(|| NO_COST.to_owned());
        }
        LensKind::Balance => {
            let balance = made().and_then(|made| balanced(view, &made));
            lens.title = balance
                .as_ref()
                .map_or_else(|| NO_CHOICE.to_owned(), in_words);
        }
        LensKind::Eaten => {
            lens.title = fed::in_words(view, &lens.of);
            let now = fed::eaten_today(view, &lens.of);
            if let (Some(ration), Some(analysed)) = (now, lens.command.arguments.last_mut()) {
                *analysed = ration;
            }
        }
        LensKind::Used => {
            let used = used(uses, Namespace::Feed, &name);
            lens.places = used.iter().map(|(place, _)| *place).collect();
            lens.title = used_by(used);
        }
        LensKind::Lot => {
            let used = used(uses, Namespace::Lot, &name);
            lens.places = used.iter().map(|(place, _)| *place).collect();
            let lot = view.delivery(&name).map(|(lot, _)| lot);
            let today = view.farm().settings().today;
            let told = lot.map(|lot| [on_hand(&lot), keeps(&lot, today)]);
            let told = told.into_iter().flatten().flatten();
            // A plan may take from it all the same.
            let used = match used {
                [] => "named nowhere".to_owned(),
                used => used_by(used),
            };
            let told: Vec<String> = told.chain([used]).collect();
            lens.title = told.join(" · ");
        }
        LensKind::Record => {
            if let Some(record) = view.record_called(&name) {
                lens.title = became(view, &record);
                lens.places = rests_on(view, &record);
            }
        }
    }
    lens
}

fn used<'a>(uses: &'a Uses, namespace: Namespace, name: &str) -> &'a [(Place, User)] {
    let used = uses.get(&(namespace, SmolStr::new(name)));
    used.map_or(&[][..], Vec::as_slice)
}

/// How a ration stands to its bounds.
fn stands(view: &View<'_>, ration: &Ration) -> String {
    let met: Vec<Option<bool>> = view
        .additions(ration)
        .iter()
        .map(|bound| bound.met)
        .collect();
    let of = |wanted: Option<bool>| met.iter().filter(|met| **met == wanted).count();
    match (met.len(), of(Some(false)), of(None)) {
        (0, ..) => "analysis".to_owned(),
        (all, 0, 0) => format!("analysis: all {all} bounds met"),
        (all, 0, undecided) => format!("analysis: {undecided} of {all} bounds undecided"),
        (all, missed, _) => format!("analysis: {missed} of {all} bounds missed"),
    }
}

/// Every place that names a ration or a lot of this text: in it, and in the texts that read it.
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
        if let Part::Name(namespace @ (Namespace::Feed | Namespace::Lot), name) = part {
            let places = uses.entry((namespace, name.text.clone())).or_default();
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
    match told.is_empty() {
        true => "used nowhere".to_owned(),
        false => format!("used by {}", told.join(", ")),
    }
}
