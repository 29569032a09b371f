//! Where a lot, a batch or a group's feed came from and went: both ways, with what could not be followed.

mod gaps;
mod start;
mod withdrawals;

use std::collections::BTreeSet;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::Q;
use trug_model::view::Lot;

use crate::contents::{Contents, Held, Key, contents};
use crate::ledger::{Fed, Ledger, Made, PartSource};

pub use gaps::Gap;
pub use start::{Kind, Start, find, names};
pub use withdrawals::Running;

/// What went where.
#[derive(Clone, Debug)]
pub struct Trace {
    /// What was asked about.
    pub start: Start,
    /// The day withdrawals are counted on.
    pub today: Date,
    /// Lots: the one asked about, or those of the batch or of what the group ate.
    pub lots: Vec<LotTraced>,
    /// Records, in the order of their days.
    pub records: Vec<RecordTraced>,
    /// Groups that were fed of them, by name.
    pub groups: Vec<GroupTraced>,
    /// Withdrawals still running, the last to end first.
    pub running: Vec<Running>,
    /// What could not be followed.
    pub gaps: Vec<Gap>,
    /// How many texts were looked through.
    pub texts: usize,
    /// How many records they hold.
    pub all_records: usize,
}

/// A lot, and whether what is written down accounts for all of it.
#[derive(Clone, Debug)]
pub struct LotTraced {
    /// Its name.
    pub name: SmolStr,
    /// What it is of.
    pub of: SmolStr,
    /// The lot; none where it is named and not declared.
    pub lot: Option<Lot>,
    /// What all records together weighed of it, in kg, as they say themselves: mixes are not opened up.
    pub weighed: Q,
    /// What came, less what was weighed, less what is left, in kg; none where one of them is not said.
    pub missing: Option<Q>,
}

/// A record on the way.
#[derive(Clone, Debug)]
pub struct RecordTraced {
    /// Its rank in the ledger.
    pub rank: usize,
    /// Its name.
    pub name: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The ration that was mixed.
    pub of: SmolStr,
    /// The day it was made.
    pub made: Option<Date>,
    /// By whom.
    pub by: Option<String>,
    /// How much was to be mixed, in kg.
    pub batch: Option<Q>,
    /// It is the one asked about.
    pub is_start: bool,
    /// It is certain that it belongs here; else it may.
    pub is_certain: bool,
    /// What it holds: of what was asked about, or all of its lots.
    pub holds: Vec<Holds>,
    /// Whom it was fed to.
    pub fed: Vec<FedTraced>,
}

/// Something a batch holds.
#[derive(Clone, Debug)]
pub struct Holds {
    /// The lot, or the record of a mix made beforehand.
    pub name: SmolStr,
    /// What that is of.
    pub of: SmolStr,
    /// It is a mix made beforehand.
    pub is_mix: bool,
    /// How much, in kg, as far as that is certain; none where it could not be reckoned.
    pub kg: Option<Q>,
    /// It is certain that the batch holds it; else it may.
    pub is_certain: bool,
    /// It may hold more of it, by a mix whose record is not named.
    pub may_be_more: bool,
    /// The records of the mixes it came by.
    pub through: Vec<SmolStr>,
}

/// Whom a batch was fed to.
#[derive(Clone, Debug)]
pub struct FedTraced {
    /// The group.
    pub group: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// The first day.
    pub from: Option<Date>,
    /// The last day; none where the record does not say.
    pub to: Option<Date>,
    /// How many animals of which kind.
    pub animals: Vec<(Q, SmolStr)>,
    /// What each animal had at most of what was asked about, in kg, if the group ate the whole batch; none where that
    /// cannot be reckoned.
    pub each: Option<Q>,
}

/// A group on the way.
#[derive(Clone, Debug)]
pub struct GroupTraced {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// How many animals of which kind.
    pub animals: Vec<(Q, SmolStr)>,
    /// The records it was fed from, in the order of their days.
    pub records: Vec<SmolStr>,
}

/// Follows what was asked about, both ways.
#[must_use]
pub fn trace(ledger: &Ledger, start: Start, today: Date) -> Trace {
    let contents = contents(ledger);
    let way = Way {
        ledger,
        contents: &contents,
        start: &start,
    };
    let mut ranks = way.records();
    ranks.sort_by_key(|rank| {
        let made = ledger.records.get(*rank);
        made.map(|made| (made.day(), made.record.name.clone(), *rank))
    });
    let records: Vec<RecordTraced> = ranks.iter().filter_map(|rank| way.record(*rank)).collect();
    let lots = way.lots(&ranks);
    let groups = way.groups(&records);
    Trace {
        running: withdrawals::running(&way, &ranks, today),
        gaps: gaps::gaps(&way, &ranks, &lots),
        lots,
        groups,
        records,
        texts: ledger.texts,
        all_records: ledger.records.len(),
        start,
        today,
    }
}

/// What is followed, through what.
struct Way<'ledger> {
    ledger: &'ledger Ledger,
    contents: &'ledger [Contents],
    start: &'ledger Start,
}

impl Way<'_> {
    /// What a record must hold to belong here; empty for a group.
    fn keys(&self) -> Vec<Key> {
        let ranks = self.start.ranks.iter().copied();
        match self.start.kind {
            Kind::Lot if self.start.ranks.is_empty() => vec![Key::Named(self.start.name.clone())],
            Kind::Lot => ranks.map(Key::Lot).collect(),
            Kind::Record => ranks.map(Key::Record).collect(),
            Kind::Group => Vec::new(),
        }
    }

    /// Whether that is what was asked about.
    fn is_start(&self, kind: Kind, rank: usize) -> bool {
        self.start.kind == kind && self.start.ranks.contains(&rank)
    }

    fn made(&self, rank: usize) -> Option<&Made> {
        self.ledger.records.get(rank)
    }

    fn is_fed_here(&self, fed: &Fed) -> bool {
        match (self.start.kind, fed.group) {
            (Kind::Group, Some(group)) => self.start.ranks.contains(&group),
            (Kind::Group, None) => self.start.ranks.is_empty() && fed.name == self.start.name,
            _ => true,
        }
    }

    /// The ranks of the records that belong here.
    fn records(&self) -> Vec<usize> {
        let keys = self.keys();
        let belongs = |(rank, made): &(usize, &Made)| match self.start.kind {
            Kind::Group => made.fed.iter().any(|fed| self.is_fed_here(fed)),
            _ => {
                let own = self.contents.get(*rank);
                let holds = own.is_some_and(|own| keys.iter().any(|key| own.contains_key(key)));
                holds || self.is_start(Kind::Record, *rank)
            }
        };
        let records = self.ledger.records.iter().enumerate();
        records.filter(belongs).map(|(rank, _)| rank).collect()
    }

    fn record(&self, rank: usize) -> Option<RecordTraced> {
        let made = self.made(rank)?;
        let own = self.contents.get(rank)?;
        let keys = self.keys();
        let is_start = self.is_start(Kind::Record, rank);
        let asked: Vec<&Held> = keys.iter().filter_map(|key| own.get(key)).collect();
        let shows_all = is_start || self.start.kind == Kind::Group;
        // Which mixes it may be is said among what could not be followed.
        let is_sure = |key: &Key, held: &Held| held.is_certain || !matches!(key, Key::Record(_));
        let held = own
            .iter()
            .filter(|(key, held)| (shows_all && is_sure(key, held)) || keys.contains(key));
        let kg: Option<Vec<Q>> = asked.iter().map(|held| held.kg.clone()).collect();
        let kg: Option<Q> = kg.filter(|all| !all.is_empty()).map(|all| all.iter().sum());
        let is_fed_whole = made.fed.len() == 1;
        let fed = made.fed.iter().filter(|fed| self.is_fed_here(fed));
        Some(RecordTraced {
            rank,
            name: made.record.name.clone(),
            place: made.record.place,
            of: made.record.of.clone(),
            made: made.day(),
            by: made.record.by.clone(),
            batch: made.record.batch.clone(),
            is_start,
            is_certain: shows_all || asked.iter().any(|held| held.is_certain),
            holds: held.map(|(key, held)| self.holds(key, held)).collect(),
            fed: fed
                .map(|fed| self.fed(fed, kg.as_ref().filter(|_| is_fed_whole)))
                .collect(),
        })
    }

    fn holds(&self, key: &Key, held: &Held) -> Holds {
        let name_of = |rank: usize| self.made(rank).map(|made| made.record.name.clone());
        let name = match key {
            Key::Lot(rank) => self.ledger.lots.get(*rank).map(|it| it.lot.name.clone()),
            Key::Named(name) => Some(name.clone()),
            Key::Record(rank) => name_of(*rank),
        };
        Holds {
            name: name.unwrap_or_default(),
            of: held.ingredient.clone(),
            is_mix: matches!(key, Key::Record(_)),
            kg: held.kg.clone(),
            is_certain: held.is_certain,
            may_be_more: held.may_be_more,
            through: held
                .through
                .iter()
                .filter_map(|rank| name_of(*rank))
                .collect(),
        }
    }

    fn fed(&self, fed: &Fed, kg: Option<&Q>) -> FedTraced {
        let group = fed.group.and_then(|rank| self.ledger.groups.get(rank));
        let head = group.map(super::ledger::Group::head);
        FedTraced {
            group: fed.name.clone(),
            label: group.and_then(|group| group.label.clone()),
            from: fed.from,
            to: fed.to,
            animals: group.map(|group| group.animals.clone()).unwrap_or_default(),
            each: kg.zip(head).and_then(|(kg, head)| kg.over(&head)),
        }
    }

    /// The lot asked about, or every lot in these records.
    fn lots(&self, ranks: &[usize]) -> Vec<LotTraced> {
        let mut keys: BTreeSet<Key> = BTreeSet::new();
        if self.start.kind == Kind::Lot {
            keys.extend(self.keys());
        } else {
            let starts = ranks.iter().filter(|rank| {
                self.start.kind == Kind::Group || self.is_start(Kind::Record, **rank)
            });
            let own = starts.filter_map(|rank| self.contents.get(*rank));
            keys.extend(own.flat_map(|own| own.keys().cloned()));
        }
        let mut lots: Vec<LotTraced> = keys.iter().filter_map(|key| self.lot(key)).collect();
        lots.sort_by(|a, b| (&a.of, &a.name).cmp(&(&b.of, &b.name)));
        lots
    }

    fn lot(&self, key: &Key) -> Option<LotTraced> {
        let parts = self.ledger.records.iter().flat_map(|made| &made.parts);
        let own = parts.filter(|part| match (&part.source, key) {
            (PartSource::Lot(own), Key::Lot(lot)) => own == lot,
            (PartSource::UnknownLot(own), Key::Named(lot)) => own == lot,
            _ => false,
        });
        let own: Vec<_> = own.collect();
        let known: Option<Vec<Q>> = own.iter().map(|part| part.kg.clone()).collect();
        let weighed: Q = own.iter().filter_map(|part| part.kg.as_ref()).sum();
        match key {
            Key::Record(_) => None,
            Key::Named(name) => Some(LotTraced {
                name: name.clone(),
                of: own
                    .first()
                    .map(|part| part.name.clone())
                    .unwrap_or_default(),
                lot: None,
                weighed,
                missing: None,
            }),
            Key::Lot(rank) => {
                let lot = &self.ledger.lots.get(*rank)?.lot;
                let ends = lot.came.as_ref().zip(lot.on_hand.as_ref());
                let ends = ends.filter(|_| known.is_some());
                Some(LotTraced {
                    name: lot.name.clone(),
                    of: lot.of.clone(),
                    missing: ends.map(|(came, on_hand)| came - &weighed - on_hand),
                    lot: Some(lot.clone()),
                    weighed,
                })
            }
        }
    }

    /// The groups these records were fed to.
    fn groups(&self, records: &[RecordTraced]) -> Vec<GroupTraced> {
        let mut groups: Vec<GroupTraced> = Vec::new();
        for record in records {
            for fed in &record.fed {
                let same = |known: &&mut GroupTraced| {
                    known.name == fed.group
                        && known.animals == fed.animals
                        && known.label == fed.label
                };
                if let Some(known) = groups.iter_mut().find(same) {
                    if !known.records.contains(&record.name) {
                        known.records.push(record.name.clone());
                    }
                } else {
                    groups.push(GroupTraced {
                        name: fed.group.clone(),
                        label: fed.label.clone(),
                        animals: fed.animals.clone(),
                        records: vec![record.name.clone()],
                    });
                }
            }
        }
        groups.sort_by(|a, b| a.name.cmp(&b.name));
        groups
    }
}
