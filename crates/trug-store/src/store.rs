//! Taking from the store: day by day, each mix from the lots that are there and good, the one that expires first before any other.
//!
//! A line of a ration that names a lot takes that lot only. What such lines will take of it is kept for them: other lines take
//! what is over.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;

use smol_str::SmolStr;
use trug_model::{Farm, Q};

use crate::buying::Judged;
use crate::eaten::Table;
use crate::feeds::{Feeds, What};
use crate::lots::{Held, Lots};
use crate::mixes::{Day, Days, Mix};

/// Feeds and lots, ready to be taken from.
pub(crate) struct Store {
    pub(crate) lots: Lots,
    /// Lots that a line of a ration names.
    named: BTreeSet<usize>,
}

/// What there is at one moment.
#[derive(Clone, Debug)]
pub(crate) struct Stock {
    /// Of each lot.
    lots: Vec<Q>,
    /// Of each feed, what is left of whole sacks that were bought.
    pub(crate) bought: BTreeMap<usize, Q>,
}

/// What was taken of a feed on one day, or could not be.
#[derive(Clone, Debug)]
pub(crate) struct Taken {
    pub(crate) day: Day,
    pub(crate) feed: usize,
    pub(crate) from: From,
    /// The lot its line names.
    pub(crate) named: Option<SmolStr>,
    pub(crate) mass: Q,
}

/// Where something is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum From {
    /// This lot.
    Lot(usize),
    /// What is left of what was bought.
    Bought,
    /// Nowhere: it is short.
    Nowhere,
}

/// What a span of days does to the store.
#[derive(Clone, Debug, Default)]
pub(crate) struct Course {
    pub(crate) taken: Vec<Taken>,
    /// The first day on which a mix is short: for whom, by the rank among those who are fed, and of what.
    pub(crate) short: BTreeMap<(usize, usize), Day>,
    /// What was left of a lot on the day after its last good one: lot, day and mass.
    pub(crate) expired: Vec<(usize, Day, Q)>,
}

/// A feed, perhaps one lot of it, as one view sees it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Wanted {
    feed: usize,
    view: usize,
    named: Option<SmolStr>,
}

/// So much of it, for the mixes of a day.
#[derive(Clone, Debug, Default)]
struct Want {
    mass: Q,
    /// For whom.
    fed: BTreeSet<usize>,
}

/// What lines that name a lot will take of it, by the day.
type Kept = BTreeMap<usize, BTreeMap<Day, Q>>;

impl Store {
    pub(crate) fn of(farm: &Farm, table: &mut Table<'_>, judged: Judged<'_>, days: &Days) -> Store {
        let lots = Lots::of(farm, table, judged, days);
        let mut named = BTreeSet::new();
        for feed in table.feeds.all() {
            let What::Ration(parts) = &feed.what else {
                continue;
            };
            for part in parts {
                let seen = lots.seen(feed.view, part.feed).iter().copied();
                named.extend(seen.filter(|lot| lots.is_named(*lot, part.lot.as_ref())));
            }
        }
        Store { lots, named }
    }

    /// What there is before anything is taken.
    pub(crate) fn stock(&self) -> Stock {
        Stock {
            lots: self
                .lots
                .all
                .iter()
                .map(|held| held.on_hand.clone())
                .collect(),
            bought: BTreeMap::new(),
        }
    }

    /// Takes all mixes of a span of days from the stock.
    pub(crate) fn run(
        &self,
        feeds: &Feeds,
        mixes: &BTreeMap<Day, Vec<Mix>>,
        span: &RangeInclusive<Day>,
        stock: &mut Stock,
    ) -> Course {
        let kept = if self.named.is_empty() {
            Kept::new()
        } else {
            // What lines that name a lot take, while no other line may touch it.
            let mut alone = Running::new(self, feeds, stock.clone(), None);
            alone.through(mixes, span);
            alone.kept_for_names()
        };
        let mut running = Running::new(self, feeds, stock.clone(), Some(kept));
        running.through(mixes, span);
        *stock = running.stock;
        running.course
    }
}

impl Lots {
    fn is_named(&self, lot: usize, name: Option<&SmolStr>) -> bool {
        let held = self.all.get(lot);
        name.is_some() && held.map(|held| &held.lot.name) == name
    }
}

impl Held {
    fn is_good(&self, day: Day) -> bool {
        self.from <= day && self.until.is_none_or(|until| day <= until)
    }
}

struct Running<'a> {
    store: &'a Store,
    feeds: &'a Feeds,
    stock: Stock,
    /// None while it is found out: then lots that are named are for those that name them alone.
    kept: Option<Kept>,
    course: Course,
    /// What was taken on the day at hand.
    today: BTreeMap<(usize, From, Option<SmolStr>), Q>,
}

impl<'a> Running<'a> {
    fn new(store: &'a Store, feeds: &'a Feeds, stock: Stock, kept: Option<Kept>) -> Running<'a> {
        Running {
            store,
            feeds,
            stock,
            kept,
            course: Course::default(),
            today: BTreeMap::new(),
        }
    }

    fn through(&mut self, mixes: &BTreeMap<Day, Vec<Mix>>, span: &RangeInclusive<Day>) {
        for day in span.clone() {
            self.expire(day);
            let mixes = mixes.get(&day).map_or(&[][..], Vec::as_slice);
            let wants = self.open(day, mixes);
            let by_name = wants.iter().filter(|(wanted, _)| wanted.named.is_some());
            let others = wants.iter().filter(|(wanted, _)| wanted.named.is_none());
            for (wanted, want) in by_name.chain(others) {
                self.take_all(day, wanted, want);
            }
            self.note(day);
        }
    }

    /// What is past its last good day is there no longer.
    fn expire(&mut self, day: Day) {
        for (lot, held) in self.store.lots.all.iter().enumerate() {
            let is_past = held.from <= day && held.until.is_some_and(|until| until < day);
            if let Some(left) = self.stock.lots.get_mut(lot)
                && is_past
                && left.is_positive()
            {
                let mass = std::mem::take(left);
                self.course.expired.push((lot, day, mass));
            }
        }
    }

    /// Opens the mixes of a day up to the ingredients they take: a ration that is there mixed ahead is taken as it is, and only
    /// the rest opened.
    fn open(&mut self, day: Day, mixes: &[Mix]) -> BTreeMap<Wanted, Want> {
        let mut open: BTreeMap<Wanted, Want> = BTreeMap::new();
        for mix in mixes {
            let wanted = Wanted {
                feed: mix.feed,
                view: mix.view,
                named: None,
            };
            let want = open.entry(wanted).or_default();
            want.mass += &mix.mass;
            want.fed.insert(mix.fed);
        }
        let mut wants = BTreeMap::new();
        // What a ration is made of stands before it among the feeds, so that all of a feed is known once it is the last.
        while let Some((wanted, want)) = open.pop_last() {
            let parts = match self.feeds.get(wanted.feed).map(|feed| &feed.what) {
                Some(What::Ration(parts)) => parts,
                _ => {
                    wants.insert(wanted, want);
                    continue;
                }
            };
            let rest = self.take(day, &wanted, &want.mass);
            if !rest.is_positive() {
                continue;
            }
            for part in parts {
                let key = Wanted {
                    feed: part.feed,
                    view: wanted.view,
                    named: part.lot.clone(),
                };
                let of_part = open.entry(key).or_default();
                of_part.mass += &rest * &part.fraction;
                of_part.fed.extend(&want.fed);
            }
        }
        wants
    }

    /// Takes an ingredient from its lots, then from what was bought; the rest is short.
    fn take_all(&mut self, day: Day, wanted: &Wanted, want: &Want) {
        let mut rest = self.take(day, wanted, &want.mass);
        if let Some(bought) = self.stock.bought.get_mut(&wanted.feed) {
            let mass = rest.clone().min(bought.clone());
            *bought -= &mass;
            rest -= &mass;
            self.count(wanted, From::Bought, mass);
        }
        if rest.is_positive() {
            for fed in &want.fed {
                let first = self.course.short.entry((*fed, wanted.feed));
                first.or_insert(day);
            }
        }
        self.count(wanted, From::Nowhere, rest);
    }

    /// Takes what there is of the lots that are good, and gives back what is still wanted.
    fn take(&mut self, day: Day, wanted: &Wanted, mass: &Q) -> Q {
        let mut rest = mass.clone();
        let store = self.store;
        for &lot in store.lots.seen(wanted.view, wanted.feed) {
            let is_good = store
                .lots
                .all
                .get(lot)
                .is_some_and(|held| held.is_good(day));
            if !rest.is_positive() || !is_good {
                continue;
            }
            let is_named = store.lots.is_named(lot, wanted.named.as_ref());
            if wanted.named.is_some() && !is_named {
                continue;
            }
            let free = if is_named {
                self.left(lot)
            } else {
                self.over(lot, day)
            };
            let mass = rest.clone().min(free);
            if !mass.is_positive() {
                continue;
            }
            if let Some(left) = self.stock.lots.get_mut(lot) {
                *left -= &mass;
            }
            if is_named {
                self.give_up(lot, day, &mass);
            }
            rest -= &mass;
            self.count(wanted, From::Lot(lot), mass);
        }
        rest
    }

    fn left(&self, lot: usize) -> Q {
        self.stock.lots.get(lot).cloned().unwrap_or_default()
    }

    /// What is left of a lot over what is kept for lines that name it.
    fn over(&self, lot: usize, day: Day) -> Q {
        let Some(kept) = &self.kept else {
            let is_named = self.store.named.contains(&lot);
            return if is_named { Q::ZERO } else { self.left(lot) };
        };
        let days = kept.get(&lot);
        let kept: Q = days
            .into_iter()
            .flat_map(|days| days.range(day..))
            .map(|(_, mass)| mass)
            .sum();
        (self.left(lot) - kept).max(Q::ZERO)
    }

    /// What was taken by name is kept no longer.
    fn give_up(&mut self, lot: usize, day: Day, mass: &Q) {
        let kept = self.kept.as_mut().and_then(|kept| kept.get_mut(&lot));
        if let Some(kept) = kept.and_then(|days| days.get_mut(&day)) {
            let given = mass.clone().min(kept.clone());
            *kept -= given;
        }
    }

    fn count(&mut self, wanted: &Wanted, from: From, mass: Q) {
        if mass.is_positive() {
            let key = (wanted.feed, from, wanted.named.clone());
            *self.today.entry(key).or_default() += mass;
        }
    }

    /// Notes what was taken on a day.
    fn note(&mut self, day: Day) {
        for ((feed, from, named), mass) in std::mem::take(&mut self.today) {
            self.course.taken.push(Taken {
                day,
                feed,
                from,
                named,
                mass,
            });
        }
    }

    fn kept_for_names(self) -> Kept {
        let mut kept = Kept::new();
        for taken in self.course.taken {
            if let (From::Lot(lot), Some(_)) = (taken.from, &taken.named) {
                let days = kept.entry(lot).or_default();
                *days.entry(taken.day).or_default() += taken.mass;
            }
        }
        kept
    }
}
