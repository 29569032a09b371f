//! What a name asks about: a lot, a record or a group.

use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::composed;

use crate::ledger::{Ledger, PartSource};

/// What can be followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A delivery.
    Lot,
    /// A batch that was made.
    Record,
    /// Animals.
    Group,
}

impl Kind {
    /// The kinds in the order in which a name is looked up.
    pub const ALL: [Kind; 3] = [Kind::Lot, Kind::Record, Kind::Group];

    /// The word that opens such an item.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Kind::Lot => "lot",
            Kind::Record => "record",
            Kind::Group => "group",
        }
    }
}

/// What was asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Start {
    /// What it is.
    pub kind: Kind,
    /// Its name.
    pub name: SmolStr,
    /// Where it is declared: once for each farm that has one of that name; nowhere where records alone name it.
    pub places: Vec<Place>,
    /// What else goes by that name.
    pub also: Vec<Kind>,
    /// Its ranks in the ledger.
    pub(crate) ranks: Vec<usize>,
}

/// What a name means, as the kind wanted or as the first kind that has it. None where nothing goes by it.
#[must_use]
pub fn find(ledger: &Ledger, wanted: Option<Kind>, name: &str) -> Option<Start> {
    let name = composed(name);
    let mut found: Vec<Start> = Vec::new();
    for kind in Kind::ALL {
        if wanted.is_some_and(|wanted| wanted != kind) {
            continue;
        }
        let declared = declared(ledger, kind);
        let own = declared.iter().enumerate().filter(|(_, it)| *it.0 == *name);
        let (ranks, places): (Vec<usize>, Vec<Place>) =
            own.map(|(rank, (_, place))| (rank, *place)).unzip();
        if !ranks.is_empty() || is_named(ledger, kind, &name) {
            found.push(Start {
                kind,
                name: SmolStr::new(&*name),
                places,
                also: Vec::new(),
                ranks,
            });
        }
    }
    // What is declared goes before what is only spoken of.
    found.sort_by_key(|start| start.ranks.is_empty());
    let kinds: Vec<Kind> = found.iter().skip(1).map(|start| start.kind).collect();
    let mut first = found.into_iter().next()?;
    first.also = kinds;
    Some(first)
}

/// Every name that can be asked about, each once.
#[must_use]
pub fn names(ledger: &Ledger, wanted: Option<Kind>) -> Vec<SmolStr> {
    let kinds = Kind::ALL.into_iter();
    let kinds = kinds.filter(|kind| wanted.is_none_or(|wanted| wanted == *kind));
    let names = kinds.flat_map(|kind| declared(ledger, kind));
    let mut names: Vec<SmolStr> = names.map(|(name, _)| name.clone()).collect();
    names.sort();
    names.dedup();
    names
}

fn declared(ledger: &Ledger, kind: Kind) -> Vec<(&SmolStr, Place)> {
    match kind {
        Kind::Lot => {
            let lots = ledger.lots.iter();
            lots.map(|it| (&it.lot.name, it.lot.place)).collect()
        }
        Kind::Record => {
            let records = ledger.records.iter();
            records
                .map(|it| (&it.record.name, it.record.place))
                .collect()
        }
        Kind::Group => {
            let groups = ledger.groups.iter();
            groups.map(|it| (&it.name, it.place)).collect()
        }
    }
}

/// Whether a record names it, though no text declares it.
fn is_named(ledger: &Ledger, kind: Kind, name: &str) -> bool {
    let mut records = ledger.records.iter();
    match kind {
        Kind::Lot => records.any(|made| {
            let mut sources = made.parts.iter().map(|part| &part.source);
            sources.any(|source| matches!(source, PartSource::UnknownLot(own) if own == name))
        }),
        Kind::Group => records.any(|made| {
            let mut fed = made.fed.iter();
            fed.any(|fed| fed.group.is_none() && fed.name == name)
        }),
        Kind::Record => false,
    }
}
