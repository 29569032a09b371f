//! What could not be followed: a trace must never look complete where it is not.

use std::collections::BTreeSet;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_model::Q;

use super::{Kind, LotTraced, Way};
use crate::contents::Key;
use crate::ledger::{Made, PartSource};

/// A place where the trail is lost.
#[derive(Clone, Debug, PartialEq)]
pub enum Gap {
    /// A record weighed an ingredient and names no lot.
    NoLot {
        /// The record.
        record: SmolStr,
        /// The day it was made.
        made: Option<Date>,
        /// The ingredient.
        ingredient: SmolStr,
        /// How much of it, in kg.
        kg: Option<Q>,
    },
    /// A record says nothing of what was weighed, and its ration holds the ingredient.
    NoWeights {
        /// The record.
        record: SmolStr,
        /// The day it was made.
        made: Option<Date>,
        /// The ration.
        of: SmolStr,
        /// The ingredient; none where it is not one that is asked about.
        ingredient: Option<SmolStr>,
    },
    /// A record names a lot that is not declared.
    UnknownLot {
        /// The record.
        record: SmolStr,
        /// The lot.
        lot: SmolStr,
    },
    /// A record holds a mix made beforehand, and does not name the record of it.
    MixNotNamed {
        /// The record.
        record: SmolStr,
        /// The mix.
        mix: SmolStr,
        /// The records it may be.
        may_be: Vec<SmolStr>,
        /// How many older ones it may be beside, which are not followed.
        older: usize,
    },
    /// A batch that nobody was fed, by the record.
    NotFed {
        /// The record.
        record: SmolStr,
        /// The ration.
        of: SmolStr,
        /// Groups that eat the ration by their own lines.
        eaters: Vec<SmolStr>,
        /// What it holds that has a withdrawal.
        medicated: Vec<SmolStr>,
    },
    /// A mix made beforehand that no record says it was used in.
    NotUsed {
        /// The record.
        record: SmolStr,
        /// The mix.
        of: SmolStr,
    },
    /// A batch fed to a group without a last day.
    NoEnd {
        /// The record.
        record: SmolStr,
        /// The group.
        group: SmolStr,
    },
    /// A batch fed to a group that is not declared.
    UnknownGroup {
        /// The record.
        record: SmolStr,
        /// The group.
        group: SmolStr,
    },
    /// A record without the day it was made.
    NoDay {
        /// The record.
        record: SmolStr,
    },
    /// A record with a line that could not be read.
    Unread {
        /// The record.
        record: SmolStr,
    },
    /// A text with something that could not be read: a lot, a record or a group, or lines of one.
    UnreadText {
        /// The text.
        text: String,
    },
    /// A text that uses another which could not be had.
    Incomplete {
        /// The text.
        text: String,
    },
    /// One text was named, and others that use it were not looked through.
    OneText {
        /// The text.
        text: String,
    },
    /// Some of a lot is neither weighed nor left.
    Missing {
        /// The lot.
        lot: SmolStr,
        /// How much, in kg.
        kg: Q,
    },
    /// More of a lot was weighed or is left than came.
    TooMuch {
        /// The lot.
        lot: SmolStr,
        /// How much, in kg.
        kg: Q,
    },
    /// How much of a lot came, or is left, is not said.
    NotReckoned {
        /// The lot.
        lot: SmolStr,
        /// How much came is said.
        says_came: bool,
    },
}

/// What could not be followed from the start through these records.
pub(super) fn gaps(way: &Way<'_>, ranks: &[usize], lots: &[LotTraced]) -> Vec<Gap> {
    let mut gaps = Vec::new();
    for lot in lots {
        gaps.extend(account(lot));
    }
    if way.start.kind == Kind::Lot {
        may_be_elsewhere(way, &mut gaps);
    }
    for rank in ranks {
        let Some(made) = way.made(*rank) else {
            continue;
        };
        mixes(way, made, &mut gaps);
        went_to(way, *rank, made, &mut gaps);
    }
    for made in sources(way, ranks).iter().filter_map(|it| way.made(*it)) {
        came_from(made, &mut gaps);
    }
    let unread = way.ledger.records.iter();
    let unread = unread.filter(|made| made.record.has_unread_line);
    gaps.extend(unread.map(|made| Gap::Unread {
        record: made.record.name.clone(),
    }));
    let texts = way.ledger.unread.iter();
    gaps.extend(texts.map(|text| Gap::UnreadText { text: text.clone() }));
    let texts = way.ledger.incomplete.iter();
    gaps.extend(texts.map(|text| Gap::Incomplete { text: text.clone() }));
    gaps
}

/// The records whose lots are asked about, mixes in them included.
fn sources(way: &Way<'_>, ranks: &[usize]) -> BTreeSet<usize> {
    let own = ranks
        .iter()
        .filter(|rank| way.start.kind == Kind::Group || way.is_start(Kind::Record, **rank));
    let own: Vec<usize> = own.copied().collect();
    let held = own.iter().filter_map(|rank| way.contents.get(*rank));
    let mixes = held
        .flat_map(|held| held.keys())
        .filter_map(|key| match key {
            Key::Record(mix) => Some(*mix),
            _ => None,
        });
    let mut sources: BTreeSet<usize> = mixes.collect();
    sources.extend(own);
    sources
}

fn account(lot: &LotTraced) -> Option<Gap> {
    let declared = lot.lot.as_ref()?;
    let name = lot.name.clone();
    match &lot.missing {
        Some(kg) if kg.is_positive() => Some(Gap::Missing {
            lot: name,
            kg: kg.clone(),
        }),
        Some(kg) if kg.is_negative() => Some(Gap::TooMuch {
            lot: name,
            kg: kg.abs(),
        }),
        Some(_) => None,
        None => Some(Gap::NotReckoned {
            lot: name,
            says_came: declared.came.is_some(),
        }),
    }
}

/// Records that may have used the lot and do not say so.
fn may_be_elsewhere(way: &Way<'_>, gaps: &mut Vec<Gap>) {
    let lots = way.start.ranks.iter();
    let lots: Vec<_> = lots.filter_map(|rank| way.ledger.lots.get(*rank)).collect();
    // It cannot have been used before it came.
    let may_be_later = |made: &Made| {
        let is_before = |came: Date| made.day().is_some_and(|day| day < came);
        lots.iter()
            .any(|it| !it.lot.received.is_some_and(is_before))
    };
    let records = way.ledger.records.iter();
    for made in records.filter(|made| may_be_later(made)) {
        let record = &made.record;
        for part in &made.parts {
            let is_of = lots.iter().any(|lot| part.may_be_of(lot));
            if is_of && part.source == PartSource::NotSaid {
                gaps.push(Gap::NoLot {
                    record: record.name.clone(),
                    made: made.day(),
                    ingredient: part.name.clone(),
                    kg: part.kg.clone(),
                });
            }
        }
        let held = lots.iter().map(|lot| &lot.lot.of);
        let held = held.filter(|of| made.unweighed.contains(of)).take(1);
        gaps.extend(held.map(|of| Gap::NoWeights {
            record: record.name.clone(),
            made: made.day(),
            of: record.of.clone(),
            ingredient: Some(of.clone()),
        }));
    }
}

/// Where the ingredients of a record came from.
fn came_from(made: &Made, gaps: &mut Vec<Gap>) {
    let record = &made.record;
    if made.parts.is_empty() {
        gaps.push(Gap::NoWeights {
            record: record.name.clone(),
            made: made.day(),
            of: record.of.clone(),
            ingredient: None,
        });
    }
    for part in &made.parts {
        match &part.source {
            PartSource::NotSaid => gaps.push(Gap::NoLot {
                record: record.name.clone(),
                made: made.day(),
                ingredient: part.name.clone(),
                kg: part.kg.clone(),
            }),
            PartSource::UnknownLot(lot) => gaps.push(Gap::UnknownLot {
                record: record.name.clone(),
                lot: lot.clone(),
            }),
            _ => {}
        }
    }
}

fn mixes(way: &Way<'_>, made: &Made, gaps: &mut Vec<Gap>) {
    for part in &made.parts {
        if let PartSource::Mix(mixes) = &part.source {
            let records = mixes.records.iter();
            let named = records.filter_map(|mix| way.made(*mix));
            gaps.push(Gap::MixNotNamed {
                older: mixes.older,
                record: made.record.name.clone(),
                mix: part.name.clone(),
                may_be: named.map(|mix| mix.record.name.clone()).collect(),
            });
        }
    }
}

/// Where a batch went to.
fn went_to(way: &Way<'_>, rank: usize, made: &Made, gaps: &mut Vec<Gap>) {
    let record = &made.record.name;
    if made.record.made.is_none() {
        gaps.push(Gap::NoDay {
            record: record.clone(),
        });
    }
    if made.fed.is_empty() {
        let is_used = way
            .contents
            .iter()
            .any(|own| own.contains_key(&Key::Record(rank)));
        if !made.for_mixing && !is_used {
            let eats = |group: &&crate::ledger::Group| {
                made.ration
                    .is_some_and(|ration| group.eats.contains(&ration))
            };
            let eaters = way.ledger.groups.iter().filter(eats);
            let mut medicated: Vec<SmolStr> = made
                .medicated
                .iter()
                .map(|medicated| medicated.ingredient.clone())
                .collect();
            medicated.dedup();
            gaps.push(Gap::NotFed {
                record: record.clone(),
                of: made.record.of.clone(),
                eaters: eaters.map(|group| group.name.clone()).collect(),
                medicated,
            });
        } else if !is_used {
            gaps.push(Gap::NotUsed {
                record: record.clone(),
                of: made.record.of.clone(),
            });
        }
    }
    for fed in made.fed.iter().filter(|fed| way.is_fed_here(fed)) {
        if fed.group.is_none() {
            gaps.push(Gap::UnknownGroup {
                record: record.clone(),
                group: fed.name.clone(),
            });
        }
        if fed.to.is_none() {
            gaps.push(Gap::NoEnd {
                record: record.clone(),
                group: fed.name.clone(),
            });
        }
    }
}
