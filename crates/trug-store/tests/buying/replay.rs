//! A farm lived through day by day, by the rules as people are told them and with no code of the list: what is bought comes on its
//! day, mixes take what they need, and it is noted what runs out, what goes to waste and what is left.

use std::collections::BTreeMap;

use trug_model::Q;

use crate::made_up::{Part, World};

/// What is bought of an ingredient: the day it comes, and how much.
pub(crate) type Bought = BTreeMap<usize, (i64, Q)>;

/// How it went.
#[derive(Debug, Default)]
pub(crate) struct Lived {
    /// Of each ingredient, by the day, what could not be had.
    pub(crate) short: BTreeMap<usize, BTreeMap<i64, Q>>,
    pub(crate) needed: BTreeMap<usize, Q>,
    pub(crate) expired: BTreeMap<usize, Q>,
    pub(crate) left: BTreeMap<usize, Q>,
}

/// One want: an ingredient, perhaps one lot of it, so much.
type Want = (usize, Option<usize>, Q);

pub(crate) fn live(world: &World, days: i64, bought: &Bought) -> Lived {
    let mut lived = Lived::default();
    let mut lots: Vec<Q> = world.lots.iter().map(|lot| Q::int(lot.kg)).collect();
    let mut shelf: BTreeMap<usize, Q> = BTreeMap::new();
    let kept = kept(world, days);
    for day in 0..days {
        for (rank, lot) in world.lots.iter().enumerate() {
            if lot.from <= day
                && lot.until.is_some_and(|until| until < day)
                && lots[rank].is_positive()
            {
                let waste = std::mem::take(&mut lots[rank]);
                // What was past its day before today was never there.
                if day > 0 {
                    *lived.expired.entry(lot.of).or_default() += waste;
                }
            }
        }
        for (ingredient, (comes, mass)) in bought {
            if *comes == day {
                *shelf.entry(*ingredient).or_default() += mass;
            }
        }
        let wants = wants(world, day, days);
        for by_name in [true, false] {
            for (ingredient, named, mass) in wants.iter().filter(|want| want.1.is_some() == by_name)
            {
                *lived.needed.entry(*ingredient).or_default() += mass;
                let mut rest = mass.clone();
                let mut good: Vec<usize> = (0..lots.len())
                    .filter(|rank| named.is_none_or(|named| named == *rank))
                    .filter(|rank| {
                        world.lots[*rank].of == *ingredient && is_good(world, *rank, day)
                    })
                    .collect();
                let key = |rank: &usize| {
                    let lot = &world.lots[*rank];
                    (lot.until.unwrap_or(i64::MAX), lot.from, format!("l{rank}"))
                };
                good.sort_by_key(key);
                for rank in good {
                    let mut free = lots[rank].clone();
                    if named.is_none() {
                        let for_names: Q = kept
                            .get(&rank)
                            .into_iter()
                            .flat_map(|days| days.range(day + 1..))
                            .map(|(_, it)| it)
                            .sum();
                        free = (free - for_names).max(Q::ZERO);
                    }
                    let taken = rest.clone().min(free);
                    lots[rank] -= &taken;
                    rest -= taken;
                }
                let bought = shelf.entry(*ingredient).or_default();
                let taken = rest.clone().min(bought.clone());
                *bought -= &taken;
                rest -= taken;
                if rest.is_positive() {
                    *lived
                        .short
                        .entry(*ingredient)
                        .or_default()
                        .entry(day)
                        .or_default() += rest;
                }
            }
        }
    }
    for (ingredient, mass) in shelf {
        *lived.left.entry(ingredient).or_default() += mass;
    }
    for (rank, lot) in world.lots.iter().enumerate() {
        if lot.from < days {
            *lived.left.entry(lot.of).or_default() += &lots[rank];
        }
    }
    lived
}

fn is_good(world: &World, lot: usize, day: i64) -> bool {
    let lot = &world.lots[lot];
    lot.from <= day && lot.until.is_none_or(|until| day <= until)
}

/// What the mixes of a day want, ration by ration.
fn wants(world: &World, day: i64, days: i64) -> Vec<Want> {
    let mut wants = Vec::new();
    for meal in &world.meals {
        let first = meal.from.unwrap_or(0).max(0);
        let last = meal.to.unwrap_or(days - 1).min(days - 1);
        let every = meal.every.unwrap_or(1);
        if day < first || last < day || (day - first) % every != 0 {
            continue;
        }
        let lasts = every.min(last - day + 1);
        open(
            world,
            meal.ration,
            &(meal.daily() * Q::int(lasts)),
            &mut wants,
        );
    }
    wants
}

fn open(world: &World, ration: usize, mass: &Q, wants: &mut Vec<Want>) {
    let ration = &world.rations[ration];
    let top = ration.top.map_or(0, |(_, tenths)| tenths);
    // Tenths of a percent, of 100 % and what is on top of it.
    let part = |tenths: i64| mass * &Q::ratio(tenths, 1000 + top);
    for (what, percent) in &ration.lines {
        let mass = part(percent * 10);
        match *what {
            Part::Ingredient(ingredient) => wants.push((ingredient, None, mass)),
            Part::Lot(lot) => wants.push((world.lots[lot].of, Some(lot), mass)),
            Part::Ration(nested) => open(world, nested, &mass, wants),
        }
    }
    if let Some((ingredient, tenths)) = ration.top {
        wants.push((ingredient, None, part(tenths)));
    }
}

/// What lines that name a lot take of it on each day, were they alone.
fn kept(world: &World, days: i64) -> BTreeMap<usize, BTreeMap<i64, Q>> {
    let mut left: Vec<Q> = world.lots.iter().map(|lot| Q::int(lot.kg)).collect();
    let mut kept: BTreeMap<usize, BTreeMap<i64, Q>> = BTreeMap::new();
    for day in 0..days {
        for (_, named, mass) in wants(world, day, days) {
            let Some(lot) = named.filter(|lot| is_good(world, *lot, day)) else {
                continue;
            };
            let taken = mass.min(left[lot].clone());
            left[lot] -= &taken;
            *kept.entry(lot).or_default().entry(day).or_default() += taken;
        }
    }
    kept
}
