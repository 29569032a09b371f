//! A year of an invented farm: forty lots, a hundred and twenty batches, mixes made beforehand, four groups.
//!
//! The year is lived through once, lot by lot and heap by heap, with every kilogram kept apart by the lot it came from:
//! what a trace says is held against that, and not against anything the tool has reckoned.

#![expect(clippy::unwrap_used, reason = "a test ends where it cannot go on")]

use std::collections::{BTreeMap, BTreeSet};

use jiff::ToSpan;
use jiff::civil::{Date, date};
use trug_model::{Farm, InMemory, Q, Settings};
use trug_record::ledger::Ledger;
use trug_record::trace::{Gap, Kind, Trace, find, trace};

/// Numbers that look like chance and are always the same: Knuth's multiplier (TAOCP 2, 3.3.4).
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

struct Lot {
    name: String,
    of: &'static str,
    day: Date,
    came: Q,
    left: Q,
    spilled: Q,
}

/// A heap: what it holds of each lot.
type Heap = BTreeMap<String, Q>;

struct Batch {
    name: String,
    of: &'static str,
    day: Date,
    lines: Vec<String>,
    heap: Heap,
    total: Q,
    left: Q,
    fed: Option<(String, Date, Date)>,
    is_off: bool,
}

const STORE: &str = "\
animal duck
  gives          eggs
ingredient maize
ingredient wheat-bran
ingredient soya-meal
ingredient salt
ingredient vermin-premix
  withdrawal     5 days for eggs
scale hook 100 kg by 100 g
scale bench 10 kg by 1 g
ration grit-mix
  for            mixing
  batch          10 kg
  salt           80 %
  vermin-premix  20 %
ration mash
  for            duck
  batch          100 kg
  maize          60 %
  wheat-bran     29 %
  soya-meal      10 %
  grit-mix       1 %
";
const GROUPS: [(&str, u32); 4] = [("yard", 40), ("pond", 75), ("shed", 12), ("island", 110)];

struct Year {
    lots: Vec<Lot>,
    batches: Vec<Batch>,
    text: String,
}

impl Year {
    fn lived(seed: u64) -> Year {
        let mut chance = Chance(seed);
        let mut lots = bought(&mut chance);
        let mut batches: Vec<Batch> = Vec::new();
        for number in 0..120_u64 {
            let day = date(2026, 1, 5) + i64::try_from(number * 3).unwrap().days();
            let is_mix = number % 6 == 0;
            let batch = if is_mix {
                mixed(
                    number,
                    day,
                    "grit-mix",
                    &[("salt", 8000), ("vermin-premix", 2000)],
                    &mut lots,
                )
            } else {
                mash(number, day, &mut chance, &mut lots, &mut batches)
            };
            batches.push(batch);
        }
        // Some of what is left is swept up, and nobody writes that down.
        for lot in &mut lots {
            if chance.below(3) == 0 {
                lot.spilled = &lot.left / &Q::int(10);
                lot.left = &lot.left - &lot.spilled;
            }
        }
        let text = written(&lots, &batches);
        Year {
            lots,
            batches,
            text,
        }
    }

    fn ledger(&self) -> (Farm, Ledger) {
        let held = InMemory::new([("year.trug", self.text.as_str())]);
        let farm = Farm::read(&["year.trug".to_owned()], &held, Settings::default());
        let ledger = Ledger::of(&farm);
        (farm, ledger)
    }

    /// What every batch holds of a lot.
    fn holds(&self, lot: &str) -> BTreeMap<String, Q> {
        let batches = self.batches.iter();
        batches
            .filter_map(|batch| Some((batch.name.clone(), batch.heap.get(lot)?.clone())))
            .collect()
    }
}

/// Forty deliveries, eight of each ingredient, six weeks apart.
fn bought(chance: &mut Chance) -> Vec<Lot> {
    let needs = [
        ("maize", 8000),
        ("wheat-bran", 4000),
        ("soya-meal", 1500),
        ("salt", 200),
        ("vermin-premix", 60),
    ];
    let mut lots = Vec::new();
    for (of, year_kg) in needs {
        for rank in 0..8_i64 {
            let came = Q::int(year_kg / 6) + Q::int(i64::try_from(chance.below(9)).unwrap());
            lots.push(Lot {
                name: format!("{}-{rank}", of.to_uppercase()),
                of,
                day: date(2026, 1, 1) + (rank * 42).days(),
                left: came.clone(),
                came,
                spilled: Q::ZERO,
            });
        }
    }
    lots
}

/// Takes so many grams from the oldest lots there are, a line a lot.
fn take(
    of: &str,
    grams: i64,
    day: Date,
    lots: &mut [Lot],
    lines: &mut Vec<String>,
    heap: &mut Heap,
) {
    let mut wanted = Q::ratio(grams, 1000);
    let there = lots.iter_mut().filter(|lot| lot.of == of && lot.day <= day);
    for lot in there {
        let taken = wanted.clone().min(lot.left.clone());
        if taken.is_positive() {
            lines.push(format!("weighed {of} {taken} kg lot {}", lot.name));
            *heap.entry(lot.name.clone()).or_default() += &taken;
            lot.left = &lot.left - &taken;
            wanted = &wanted - &taken;
        }
    }
    assert!(wanted.is_zero(), "the farm has run out of {of} on {day}");
}

fn mixed(
    number: u64,
    day: Date,
    of: &'static str,
    amounts: &[(&str, i64)],
    lots: &mut [Lot],
) -> Batch {
    let (mut lines, mut heap) = (Vec::new(), Heap::new());
    for (ingredient, grams) in amounts {
        take(ingredient, *grams, day, lots, &mut lines, &mut heap);
    }
    let total: Q = heap.values().sum();
    Batch {
        name: format!("B-{number}"),
        of,
        day,
        lines,
        heap,
        left: total.clone(),
        total,
        fed: None,
        is_off: false,
    }
}

fn mash(
    number: u64,
    day: Date,
    chance: &mut Chance,
    lots: &mut [Lot],
    batches: &mut [Batch],
) -> Batch {
    // One in five is weighed wrong: 5 % too much maize, where 2 % are allowed.
    let is_off = chance.below(5) == 0;
    let maize = if is_off { 63_000 } else { 60_000 };
    let amounts = [
        ("maize", maize),
        ("wheat-bran", 29_000),
        ("soya-meal", 10_000),
    ];
    let mut batch = mixed(number, day, "mash", &amounts, lots);
    let mix = batches
        .iter_mut()
        .rfind(|mix| mix.of == "grit-mix")
        .unwrap();
    batch
        .lines
        .push(format!("weighed grit-mix 1 kg lot {}", mix.name));
    for (lot, kg) in &mix.heap {
        *batch.heap.entry(lot.clone()).or_default() += kg / &mix.total;
    }
    mix.left = &mix.left - &Q::ONE;
    let (group, _) = GROUPS[usize::try_from(chance.below(4)).unwrap()];
    let until = day + i64::try_from(2 + chance.below(9)).unwrap().days();
    batch.fed = Some((group.to_owned(), day + 1.days(), until));
    batch.is_off = is_off;
    batch.total = &batch.total + &Q::ONE;
    batch
}

fn written(lots: &[Lot], batches: &[Batch]) -> String {
    let mut text = STORE.to_owned();
    for (name, head) in GROUPS {
        text.push_str(&format!(
            "group {name}\n  {head} duck\n  eats mash 100 g/day\n"
        ));
    }
    for lot in lots {
        text.push_str(&format!(
            "lot {} of {}\n  received {} kg on {}\n  on hand {} kg\n",
            lot.name, lot.of, lot.came, lot.day, lot.left
        ));
    }
    for batch in batches {
        let kg = if batch.of == "mash" { 100 } else { 10 };
        text.push_str(&format!(
            "record {} of {}\n  made {}\n  batch {kg} kg\n",
            batch.name, batch.of, batch.day
        ));
        for line in &batch.lines {
            text.push_str(&format!("  {line}\n"));
        }
        if let Some((group, from, to)) = &batch.fed {
            text.push_str(&format!("  fed to {group} from {from} to {to}\n"));
        }
    }
    text
}

fn traced(ledger: &Ledger, kind: Kind, name: &str, today: Date) -> Trace {
    trace(ledger, find(ledger, Some(kind), name).unwrap(), today)
}

const SEEDS: [u64; 3] = [1, 2026, 77_777];
const TODAY: Date = date(2026, 12, 31);

#[test]
fn every_kilogram_of_every_lot_is_in_a_batch_in_stock_or_said_missing() {
    for seed in SEEDS {
        let year = Year::lived(seed);
        let (_farm, ledger) = year.ledger();
        assert_eq!((ledger.lots.len(), ledger.records.len()), (40, 120));
        for lot in &year.lots {
            let told = traced(&ledger, Kind::Lot, &lot.name, TODAY);
            let records = told.records.iter();
            let holds: BTreeMap<String, Q> = records
                .map(|record| {
                    assert!(record.is_certain, "{}", record.name);
                    (record.name.to_string(), record.holds[0].kg.clone().unwrap())
                })
                .collect();
            assert_eq!(holds, year.holds(&lot.name), "{}", lot.name);
            let missing = told.lots[0].missing.clone().unwrap();
            assert_eq!(missing, lot.spilled, "{}", lot.name);
            let says = told
                .gaps
                .iter()
                .any(|gap| matches!(gap, Gap::Missing { .. }));
            assert_eq!(says, lot.spilled.is_positive(), "{}", lot.name);
            // What came is fed, lies in a mix that is not used up, is left or is missing.
            let of_batch = |batch: &Batch| batch.heap.get(&lot.name).cloned().unwrap_or_default();
            let fed: Q = told
                .records
                .iter()
                .filter(|record| !record.fed.is_empty())
                .filter_map(|record| record.holds[0].kg.as_ref())
                .sum();
            let mixes = year.batches.iter().filter(|batch| batch.fed.is_none());
            let in_mixes: Q = mixes
                .map(|mix| of_batch(mix) * &mix.left / &mix.total)
                .sum();
            assert_eq!(
                fed + in_mixes + &lot.left + missing,
                lot.came,
                "{}",
                lot.name
            );
        }
    }
}

#[test]
fn the_way_back_is_the_way_there_reversed() {
    for seed in SEEDS {
        let year = Year::lived(seed);
        let (_farm, ledger) = year.ledger();
        let mut there: BTreeSet<(String, String, String)> = BTreeSet::new();
        for lot in &year.lots {
            let told = traced(&ledger, Kind::Lot, &lot.name, TODAY);
            for record in &told.records {
                for fed in &record.fed {
                    there.insert((
                        lot.name.clone(),
                        record.name.to_string(),
                        fed.group.to_string(),
                    ));
                }
            }
        }
        let mut back: BTreeSet<(String, String, String)> = BTreeSet::new();
        for (group, _) in GROUPS {
            let told = traced(&ledger, Kind::Group, group, TODAY);
            for record in &told.records {
                let lots = record.holds.iter().filter(|held| !held.is_mix);
                for held in lots {
                    back.insert((
                        held.name.to_string(),
                        record.name.to_string(),
                        group.to_owned(),
                    ));
                }
            }
        }
        assert_eq!(there, back);
        assert!(there.len() > 400, "{}", there.len());
        // And every batch tells the same of itself as the lots and the groups tell of it.
        for batch in &year.batches {
            let told = traced(&ledger, Kind::Record, &batch.name, TODAY);
            let own = told.records.iter().find(|record| record.is_start).unwrap();
            let lots = own.holds.iter().filter(|held| !held.is_mix);
            let lots: Heap = lots
                .map(|held| (held.name.to_string(), held.kg.clone().unwrap()))
                .collect();
            assert_eq!(lots, batch.heap, "{}", batch.name);
        }
    }
}

#[test]
fn withdrawals_of_every_day_are_those_of_a_calendar() {
    let year = Year::lived(5);
    let (_farm, ledger) = year.ledger();
    for (group, _) in GROUPS {
        for week in 0..52_i64 {
            let today = date(2026, 1, 1) + (week * 7).days();
            // Each day that eggs are not for people, by each batch: as long as it is fed, and five days after. A batch
            // that will only be fed is planned, and its days count as well.
            let mine = year.batches.iter().filter_map(|batch| batch.fed.as_ref());
            let ends = mine
                .filter(|(name, ..)| name == group)
                .map(|(.., to)| *to + 5.days());
            let last = ends.filter(|end| today <= *end).max();
            let told = traced(&ledger, Kind::Group, group, today);
            let until = told.running.first().and_then(|one| one.until);
            assert_eq!(until, last, "{group} on {today}");
        }
    }
}

#[test]
fn a_year_is_judged_and_only_what_was_weighed_wrong_is_said() {
    let year = Year::lived(11);
    let (farm, _ledger) = year.ledger();
    let found = trug_record::check(&farm);
    let weights = found.iter().filter(|it| it.code.name == "record/weight");
    let wrong = year.batches.iter().filter(|batch| batch.is_off).count();
    assert!(10 < wrong, "{wrong}");
    assert_eq!(weights.count(), wrong);
    let others: BTreeSet<&str> = found
        .iter()
        .map(|finding| finding.code.name)
        .filter(|code| code.starts_with("record/") && *code != "record/weight")
        .collect();
    assert_eq!(others, BTreeSet::new());
}
