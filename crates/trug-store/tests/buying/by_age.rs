//! Groups that eat by their age: a list worked by hand, and made-up groups replayed day by day.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use jiff::ToSpan;
use jiff::civil::date;
use trug_model::Q;

use crate::made_up::Dice;
use crate::texts::{TODAY, bought, eaten_by_age, purchase, q, row};

const DUCKLINGS: &str = "\
animal duck
ingredient crumb-meal
  sold in        25 kg
ingredient mash-meal
  sold in        40 kg
targets start for duck from day 0 to 14
targets grow for duck from day 15 to 49
ration crumb
  for            duck
  meets          start
  intake         60 g/day
  crumb-meal     100 %
ration mash
  for            duck
  meets          grow
  intake         140 g/day
  mash-meal      100 %
";

fn brooder(lines: &str) -> String {
    format!("{DUCKLINGS}group brooder\n  150 duck\n{lines}  mix for        at most 7 days\n")
}

#[test]
fn the_feed_changes_with_the_phase() {
    // Placed on 2026-11-20, day 5 is 2026-11-25 and day 14 is 2026-12-04: ten days of crumb, 150 × 60 g = 9 kg a day. Mixes of
    // at most 7 days: 63 kg on 11-25, and 27 kg for the three days left on 12-02. Day 15 is 2026-12-05: mash, 21 kg a day, for
    // the 20 days to 2026-12-24: 147 kg on 12-05 and 12-12, 126 kg on 12-19.
    let text =
        brooder("  placed on      2026-11-20\n  eats           crumb\n  eats           mash\n");
    let list = bought(&[("f.trug", &text)], 30);
    assert!(list.is_whole() && list.unfed.is_empty());
    let fed: Vec<_> = list
        .fed
        .iter()
        .map(|fed| (fed.ration.as_str(), fed.from, fed.to, fed.days, fed.mixes))
        .collect();
    let crumb = (
        "crumb",
        Some(date(2026, 11, 20)),
        Some(date(2026, 12, 4)),
        10,
        2,
    );
    let mash = (
        "mash",
        Some(date(2026, 12, 5)),
        Some(date(2027, 1, 8)),
        20,
        3,
    );
    assert_eq!(fed, [crumb, mash]);
    assert_eq!(row(&list, "crumb-meal").needed, q("90"));
    assert_eq!(row(&list, "mash-meal").needed, q("420"));
    let (crumb, mash) = (purchase(&list, "crumb-meal"), purchase(&list, "mash-meal"));
    assert_eq!((crumb.by, mash.by), (date(2026, 11, 25), date(2026, 12, 5)));
    assert_eq!((&crumb.mass, &mash.mass), (&q("100"), &q("440")));
}

#[test]
fn bought_started() {
    // Ten days old on 2026-11-25, day 14 is 2026-11-29: five days of crumb.
    let text = brooder(
        "  placed on      2026-11-25 at day 10\n  eats           crumb\n  eats           mash\n",
    );
    let list = bought(&[("f.trug", &text)], 30);
    let days: Vec<u32> = list.fed.iter().map(|fed| fed.days).collect();
    assert_eq!(days, [5, 25]);
}

#[test]
fn days_with_nothing_to_eat_are_said() {
    // Placed on 2026-10-17, day 49 is 2026-12-05; then nothing follows.
    let lines = |mash: &str| {
        brooder(&format!(
            "  placed on      2026-10-17\n  eats           crumb\n  eats           {mash}\n"
        ))
    };
    let list = bought(&[("f.trug", &lines("mash"))], 30);
    let unfed: Vec<_> = list
        .unfed
        .iter()
        .map(|it| (it.from, it.to, it.age))
        .collect();
    assert_eq!(unfed, [(date(2026, 12, 6), date(2026, 12, 24), 50)]);
    // Whoever writes the last day has them leave on it.
    let list = bought(&[("f.trug", &lines("mash to 2026-12-01"))], 30);
    assert!(list.unfed.is_empty());
    assert_eq!(list.fed[0].days, 7);
}

/// A line of a made-up group. Ages in days; dates count from today.
struct Line {
    ration: usize,
    from: Option<i64>,
    to: Option<i64>,
}

struct Flock {
    /// The day it came, counted from today, and its age then.
    came: (i64, i64),
    /// The phases of the targets that each ration meets.
    meets: Vec<Vec<(i64, Option<i64>)>>,
    lines: Vec<Line>,
}

fn flock(seed: u64) -> Flock {
    let mut dice = Dice(seed);
    let meets = (0..5).map(|_| {
        let targets = [0, 1, 1, 1, 2][dice.rank(5)];
        (0..targets)
            .map(|_| {
                let from = dice.among(0, 40);
                (from, (!dice.one_in(4)).then(|| from + dice.among(0, 25)))
            })
            .collect()
    });
    let meets: Vec<_> = meets.collect();
    let lines = (0..dice.among(1, 4)).map(|_| {
        let from = dice.one_in(4).then(|| dice.among(-20, 25));
        let to = dice
            .one_in(4)
            .then(|| from.unwrap_or(-20) + dice.among(0, 40));
        Line {
            ration: dice.rank(5),
            from,
            to,
        }
    });
    let lines = lines.collect();
    Flock {
        came: (dice.among(-40, 15), [0, 0, 1, 7, 12][dice.rank(5)]),
        meets,
        lines,
    }
}

impl Flock {
    fn text(&self) -> String {
        let day = |day: i64| TODAY.checked_add(day.days()).unwrap();
        let mut text = "animal duck\n".to_owned();
        let t = &mut text;
        for (rank, phases) in self.meets.iter().enumerate() {
            let mut meets = String::new();
            for (nth, (from, to)) in phases.iter().enumerate() {
                let to = to.map_or(String::new(), |to| format!(" to {to}"));
                writeln!(t, "targets t{rank}-{nth} for duck from day {from}{to}").unwrap();
                writeln!(meets, "  meets t{rank}-{nth}").unwrap();
            }
            writeln!(
                t,
                "ingredient i{rank}\nration r{rank}\n  for duck\n{meets}  i{rank} 100 %"
            )
            .unwrap();
        }
        writeln!(
            t,
            "group g\n  1000 duck\n  placed on {} at day {}",
            day(self.came.0),
            self.came.1
        )
        .unwrap();
        for line in &self.lines {
            write!(t, "  eats r{} 100 g/day", line.ration).unwrap();
            for (word, at) in [("from", line.from), ("to", line.to)] {
                if let Some(at) = at {
                    write!(t, " {word} {}", day(at)).unwrap();
                }
            }
            writeln!(t).unwrap();
        }
        text
    }

    /// The first and the last age of a ration.
    fn phase(&self, ration: usize) -> Option<(i64, i64)> {
        let phases = self.meets[ration].iter();
        let first = phases.clone().map(|(from, _)| *from).min()?;
        Some((first, phases.map(|(_, to)| to.unwrap_or(9999)).max()?))
    }

    /// The rations eaten on a day, one for each line, by the rules of the reference read one after the other.
    fn eaten(&self, day: i64) -> Vec<usize> {
        let age = |day: i64| self.came.1 + day - self.came.0;
        let is_here = self.came.0 <= day;
        let names_a_day = |line: &Line| line.from.is_some() || line.to.is_some();
        let holds_by_dates = |line: &Line| {
            let phase = self.phase(line.ration);
            // The days on which the phase of the line would have the group eat it, as it has no dates.
            let by_phase =
                |day: i64| phase.is_none_or(|(first, last)| first <= age(day) && age(day) <= last);
            let begins = |to: i64| {
                (self.came.0..=to).any(|day| phase.is_none_or(|(first, _)| first <= age(day)))
            };
            let ends = |from: i64| phase.is_some_and(|(_, last)| age(from) <= last);
            match (line.from, line.to) {
                (Some(from), Some(to)) => from <= day && day <= to,
                (Some(from), None) => {
                    from <= day && (!ends(from) || phase.is_none_or(|(_, last)| age(day) <= last))
                }
                (None, Some(to)) => {
                    day <= to
                        && (!begins(to)
                            || is_here && phase.is_none_or(|(first, _)| first <= age(day)))
                }
                (None, None) => is_here && by_phase(day),
            }
        };
        let mut eaten = Vec::new();
        for line in &self.lines {
            if !holds_by_dates(line) {
                continue;
            }
            let Some((first, last)) = self.phase(line.ration).filter(|_| !names_a_day(line)) else {
                eaten.push(line.ration);
                continue;
            };
            let stands_back = self.lines.iter().any(|other| {
                let Some((other_first, other_last)) = self.phase(other.ration) else {
                    return false;
                };
                let goes_before = names_a_day(other)
                    || other_first > first
                    || other_first == first && other_last < last;
                goes_before && holds_by_dates(other)
            });
            if !stands_back {
                eaten.push(line.ration);
            }
        }
        eaten
    }
}

#[test]
fn made_up_groups_eat_what_the_rules_say_day_by_day() {
    let mut changes = 0;
    for seed in 0..400 {
        let flock = flock(seed);
        let text = flock.text();
        let list = bought(&[("f.trug", &text)], 40);
        assert!(list.is_whole(), "{seed}\n{text}");
        // 1000 animals eat 100 g: 100 kg a day, mixed day by day.
        let mut needed: BTreeMap<String, i64> = BTreeMap::new();
        let mut before = None;
        for day in 0..40 {
            let eaten = flock.eaten(day);
            for ration in &eaten {
                *needed.entry(format!("i{ration}")).or_default() += 100;
            }
            changes += i32::from(before.is_some_and(|before| before != eaten));
            before = Some(eaten);
        }
        let told: BTreeMap<String, Q> = list
            .rows
            .iter()
            .filter(|row| row.needed.is_positive())
            .map(|row| (row.name.to_string(), row.needed.clone()))
            .collect();
        let needed: BTreeMap<String, Q> = needed
            .into_iter()
            .map(|(name, kg)| (name, Q::int(kg)))
            .collect();
        assert_eq!(told, needed, "{seed}\n{text}");
        // What is planned today where no ration is named.
        let today: Vec<String> = flock.eaten(0).iter().map(|it| format!("r{it}")).collect();
        let has_phase = flock
            .lines
            .iter()
            .any(|line| flock.phase(line.ration).is_some());
        if let Some(meant) = eaten_by_age(&text, "g").filter(|_| !today.is_empty()) {
            let (mut meant, mut today) = (meant, today);
            meant.sort();
            today.sort();
            meant.dedup();
            today.dedup();
            assert_eq!(meant, today, "{seed}\n{text}");
        } else {
            assert!(!has_phase || today.is_empty(), "{seed}\n{text}");
        }
    }
    assert!(changes > 300, "{changes}");
}
