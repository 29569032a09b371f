//! Everything that was written down of what went where: lots, records and groups of a farm, with what their names mean.

mod read;

use std::collections::BTreeSet;
use std::sync::Arc;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Place};
use trug_model::view::{Lot, Record};
use trug_model::{Farm, Q};

/// The lots, records and groups of a farm. Each is told by its rank in its list.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    /// The lots, in the order of the texts.
    pub lots: Vec<Delivery>,
    /// The records, in the order of the texts.
    pub records: Vec<Made>,
    /// The groups, in the order of the texts.
    pub groups: Vec<Group>,
    /// How many texts were looked through.
    pub texts: usize,
    /// Names of texts with something in a lot, a group or an item of no kind that could not be read.
    pub unread: Vec<String>,
    /// Names of texts that use one which could not be had.
    pub incomplete: Vec<String>,
}

/// A lot, with what it is of.
#[derive(Clone, Debug)]
pub struct Delivery {
    /// The lot.
    pub lot: Lot,
    /// Where its ingredient is declared; none where no text of the farm does.
    pub feed: Option<Place>,
}

/// A group of animals.
#[derive(Clone, Debug)]
pub struct Group {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// How many animals of which kind.
    pub animals: Vec<(Q, SmolStr)>,
    /// Where the rations it eats are named.
    pub eats: BTreeSet<Place>,
}

impl Group {
    /// How many animals in all.
    #[must_use]
    pub fn head(&self) -> Q {
        self.animals.iter().map(|(count, _)| count).sum()
    }
}

/// A record, with what its names mean.
#[derive(Clone, Debug)]
pub struct Made {
    /// The record.
    pub record: Record,
    /// Where the ration is named; none where it is not declared.
    pub ration: Option<Place>,
    /// The ration is mixed into others, and not fed.
    pub for_mixing: bool,
    /// What was weighed, tops included, in kg; none where nothing was, or a weight could not be made out.
    pub total: Option<Q>,
    /// What was weighed, in the order of the lines.
    pub parts: Vec<Part>,
    /// Whom it was fed to, in the order of the lines.
    pub fed: Vec<Fed>,
    /// Where nothing was weighed: what its ration is made of, as it is written.
    pub unweighed: Vec<SmolStr>,
    /// What it holds that has a withdrawal.
    pub medicated: Vec<Medicated>,
}

impl Made {
    /// The day it was made.
    #[must_use]
    pub fn day(&self) -> Option<Date> {
        self.record.made.map(|(day, _)| day)
    }
}

/// Something that was weighed.
#[derive(Clone, Debug)]
pub struct Part {
    /// The ingredient, or the ration mixed beforehand.
    pub name: SmolStr,
    /// Where that is declared; none where no text of the farm does.
    pub feed: Option<Place>,
    /// How much, in kg.
    pub kg: Option<Q>,
    /// Where it came from.
    pub source: PartSource,
}

/// Where something came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PartSource {
    /// A lot, by its rank.
    Lot(usize),
    /// A lot of that name, which is not declared.
    UnknownLot(SmolStr),
    /// A mix made beforehand, by the rank of its record.
    Record(usize),
    /// A mix made beforehand, whose record is not named.
    Mix(Candidates),
    /// No lot is named.
    NotSaid,
}

/// The records a mix may be of: all that were made by the day it was used, the last of them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Candidates {
    /// Their ranks, those without a day first, then by day. Many parts share them.
    pub records: Arc<[usize]>,
    /// How many older ones there are beside.
    pub older: usize,
}

/// Whom a batch was fed to.
#[derive(Clone, Debug)]
pub struct Fed {
    /// The group's name.
    pub name: SmolStr,
    /// The group, by its rank; none where it is not declared.
    pub group: Option<usize>,
    /// The first day.
    pub from: Option<Date>,
    /// The last day.
    pub to: Option<Date>,
}

/// Something with a withdrawal in a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Medicated {
    /// The ingredient.
    pub ingredient: SmolStr,
    /// How long, in days.
    pub days: Q,
    /// For what the animals give.
    pub product: SmolStr,
    /// Where the withdrawal is written.
    pub place: Place,
    /// It was weighed, or is in a mix that was; else the ration holds it as it is written.
    pub is_weighed: bool,
}

impl Part {
    /// Whether it may be of that delivery's ingredient: one name means several things in a repository of many farms.
    #[must_use]
    pub fn may_be_of(&self, delivery: &Delivery) -> bool {
        let is_alike = match (self.feed, delivery.feed) {
            (Some(own), Some(other)) => own == other,
            _ => true,
        };
        self.name == delivery.lot.of && is_alike
    }
}

impl Ledger {
    /// What all texts of a farm say, each read as it sees its names.
    #[must_use]
    pub fn of(farm: &Farm) -> Ledger {
        let files: Vec<FileId> = farm.files().collect();
        read::ledger(farm, &files)
    }

    /// What these texts say, and no others.
    #[must_use]
    pub fn among(farm: &Farm, files: &[FileId]) -> Ledger {
        read::ledger(farm, files)
    }
}
