//! A farm made up from a seed: what its numbers are, and the text that says them.

use std::fmt::Write as _;

use jiff::ToSpan;
use trug_model::Q;

use crate::texts::TODAY;

/// A farm in numbers. Days count from today.
#[derive(Clone, Debug)]
pub(crate) struct World {
    /// The sack of each ingredient, in kg; none is sold loose.
    pub(crate) sacks: Vec<Option<i64>>,
    pub(crate) lots: Vec<Lot>,
    pub(crate) rations: Vec<Ration>,
    pub(crate) meals: Vec<Meal>,
}

#[derive(Clone, Debug)]
pub(crate) struct Lot {
    pub(crate) of: usize,
    pub(crate) from: i64,
    pub(crate) until: Option<i64>,
    pub(crate) kg: i64,
}

/// A ration: its lines in percent, what is on top in tenths of a percent.
#[derive(Clone, Debug)]
pub(crate) struct Ration {
    pub(crate) lines: Vec<(Part, i64)>,
    pub(crate) top: Option<(usize, i64)>,
}

#[derive(Clone, Copy, Debug)]
pub(crate) enum Part {
    Ingredient(usize),
    /// From one lot of it.
    Lot(usize),
    /// A ration that stands before this one.
    Ration(usize),
}

#[derive(Clone, Debug)]
pub(crate) struct Meal {
    pub(crate) head: i64,
    pub(crate) grams: i64,
    pub(crate) ration: usize,
    pub(crate) from: Option<i64>,
    pub(crate) to: Option<i64>,
    pub(crate) every: Option<i64>,
}

impl Meal {
    /// What is eaten a day, in kg.
    pub(crate) fn daily(&self) -> Q {
        Q::ratio(self.head * self.grams, 1000)
    }
}

/// Numbers from a seed: SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from `low` up to `high`, both possible.
    pub(crate) fn among(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low + 1).unwrap();
        low + i64::try_from(self.roll() % span).unwrap()
    }

    pub(crate) fn rank(&mut self, count: usize) -> usize {
        usize::try_from(self.among(0, i64::try_from(count).unwrap() - 1)).unwrap()
    }

    pub(crate) fn one_in(&mut self, times: i64) -> bool {
        self.among(1, times) == 1
    }
}

/// The farm of a seed, with so many lots, for about a year.
pub(crate) fn world(seed: u64, lots: usize) -> World {
    let mut dice = Dice(seed);
    let ingredients = 8;
    let sacks = (0..ingredients)
        .map(|_| (!dice.one_in(5)).then(|| dice.among(1, 60)))
        .collect();
    let lots = (0..lots)
        .map(|_| {
            let from = dice.among(-60, 250);
            Lot {
                of: dice.rank(ingredients),
                from,
                until: (!dice.one_in(4)).then(|| from + dice.among(1, 200)),
                kg: dice.among(0, 900),
            }
        })
        .collect();
    let mut world = World {
        sacks,
        lots,
        rations: Vec::new(),
        meals: Vec::new(),
    };
    for rank in 0..6 {
        let ration = ration(&mut dice, &world, rank);
        world.rations.push(ration);
    }
    for _ in 0..5 {
        let meal = meal(&mut dice);
        world.meals.push(meal);
    }
    world
}

/// The first three are mixed ahead, and may stand in every one that follows.
fn ration(dice: &mut Dice, world: &World, rank: usize) -> Ration {
    let count = dice.among(2, 5);
    let mut lines: Vec<(Part, i64)> = Vec::new();
    let mut rest = 100;
    for line in 0..count {
        let percent = if line + 1 == count {
            rest
        } else {
            dice.among(1, rest - (count - line - 1))
        };
        rest -= percent;
        let ingredient = dice.rank(world.sacks.len());
        let lot = dice.rank(world.lots.len());
        let part = match dice.among(1, 5) {
            1 if rank > 0 => Part::Ration(dice.rank(rank.min(3))),
            2 => Part::Lot(lot),
            _ => Part::Ingredient(ingredient),
        };
        // A name stands once in a ration.
        if lines
            .iter()
            .any(|(known, _)| of(*known, world) == of(part, world))
        {
            lines[0].1 += percent;
        } else {
            lines.push((part, percent));
        }
    }
    let top = dice
        .one_in(3)
        .then(|| (dice.rank(world.sacks.len()), dice.among(1, 30)));
    let top = top.filter(|(ingredient, _)| {
        lines
            .iter()
            .all(|(part, _)| of(*part, world) != (false, *ingredient))
    });
    Ration { lines, top }
}

/// Whether it is a ration, and which ration or ingredient.
fn of(part: Part, world: &World) -> (bool, usize) {
    match part {
        Part::Ingredient(ingredient) => (false, ingredient),
        Part::Lot(lot) => (false, world.lots[lot].of),
        Part::Ration(ration) => (true, ration),
    }
}

fn meal(dice: &mut Dice) -> Meal {
    let from = (!dice.one_in(3)).then(|| dice.among(-100, 200));
    Meal {
        head: dice.among(1, 200),
        grams: dice.among(20, 300),
        ration: 3 + dice.rank(3),
        to: dice
            .one_in(2)
            .then(|| from.unwrap_or(0).max(0) + dice.among(0, 200)),
        from,
        every: (!dice.one_in(4)).then(|| dice.among(1, 20)),
    }
}

fn date(day: i64) -> String {
    TODAY.checked_add(day.days()).unwrap().to_string()
}

impl World {
    /// Without lots that are named on lines.
    pub(crate) fn without_names(mut self) -> World {
        for ration in &mut self.rations {
            let mut lines: Vec<(Part, i64)> = Vec::new();
            for (part, percent) in &ration.lines {
                let part = match *part {
                    Part::Lot(lot) => Part::Ingredient(self.lots[lot].of),
                    part => part,
                };
                lines.push((part, *percent));
            }
            ration.lines = lines;
        }
        self
    }

    /// The text that says all this.
    pub(crate) fn text(&self) -> String {
        let mut text = "animal duck\n".to_owned();
        let t = &mut text;
        for (rank, sack) in self.sacks.iter().enumerate() {
            writeln!(t, "ingredient i{rank}\n  price {} LKR/kg", rank + 10).unwrap();
            if let Some(sack) = sack {
                writeln!(t, "  sold in {sack} kg").unwrap();
            }
        }
        for (rank, lot) in self.lots.iter().enumerate() {
            writeln!(
                t,
                "lot l{rank} of i{}\n  received {}",
                lot.of,
                date(lot.from)
            )
            .unwrap();
            if let Some(until) = lot.until {
                writeln!(t, "  best before {}", date(until)).unwrap();
            }
            writeln!(t, "  on hand {} kg", lot.kg).unwrap();
        }
        for (rank, ration) in self.rations.iter().enumerate() {
            let use_of = if rank < 3 { "mixing" } else { "duck" };
            writeln!(t, "ration r{rank}\n  for {use_of}").unwrap();
            for (part, percent) in &ration.lines {
                match part {
                    Part::Ingredient(one) => writeln!(t, "  i{one} {percent} %"),
                    Part::Lot(lot) => {
                        writeln!(t, "  i{} {percent} % lot l{lot}", self.lots[*lot].of)
                    }
                    Part::Ration(one) => writeln!(t, "  r{one} {percent} %"),
                }
                .unwrap();
            }
            if let Some((top, tenths)) = ration.top {
                writeln!(t, "  i{top} {tenths} kg/t on top").unwrap();
            }
        }
        for (rank, meal) in self.meals.iter().enumerate() {
            write!(
                t,
                "group g{rank}\n  {} duck\n  eats r{} {} g/day",
                meal.head, meal.ration, meal.grams
            )
            .unwrap();
            for (word, day) in [("from", meal.from), ("to", meal.to)] {
                if let Some(day) = day {
                    write!(t, " {word} {}", date(day)).unwrap();
                }
            }
            writeln!(t).unwrap();
            if let Some(every) = meal.every {
                writeln!(t, "  mix for at most {every} days").unwrap();
            }
        }
        text
    }
}
