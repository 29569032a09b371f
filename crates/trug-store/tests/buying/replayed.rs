//! What a list says against a farm that is lived through with it.

use jiff::civil::Date;
use trug_model::Q;
use trug_store::{Buying, Row};

use crate::made_up::{World, world};
use crate::replay::{Bought, Lived, live};
use crate::texts::{TODAY, bought};

const SEEDS: u64 = 24;

fn day(date: Date) -> i64 {
    i64::from((date - TODAY).get_days())
}

fn rank(row: &Row) -> usize {
    row.name.trim_start_matches('i').parse().unwrap()
}

fn list(world: &World, days: u32) -> Buying {
    let list = bought(&[("f.trug", &world.text())], days);
    assert!(
        list.uncounted.is_empty(),
        "{:#?}\n{}",
        list.uncounted,
        world.text()
    );
    list
}

fn purchases(list: &Buying) -> Bought {
    let all = list.to_buy();
    all.map(|(row, buy)| (rank(row), (day(buy.by), buy.mass.clone())))
        .collect()
}

fn of(all: &std::collections::BTreeMap<usize, Q>, row: &Row) -> Q {
    all.get(&rank(row)).cloned().unwrap_or_default()
}

/// Everything a list says of each ingredient, against how it went without buying and with it.
fn agrees(world: &World, days: u32) -> usize {
    let list = list(world, days);
    let span = i64::from(days);
    let without: Lived = live(world, span, &Bought::new());
    let with = live(world, span, &purchases(&list));
    assert!(
        with.short.is_empty(),
        "runs out: {:?}\n{}",
        with.short,
        world.text()
    );
    let needed: Vec<usize> = list.rows.iter().map(rank).collect();
    for ingredient in without.needed.keys() {
        assert!(
            needed.contains(ingredient),
            "i{ingredient} is not listed\n{}",
            world.text()
        );
    }
    for row in &list.rows {
        let says = format!("{row:#?}\n{}", world.text());
        assert_eq!(row.needed, of(&with.needed, row), "{says}");
        assert_eq!(row.left, of(&with.left, row), "{says}");
        assert_eq!(row.expired, of(&with.expired, row), "{says}");
        let there = &row.on_hand + &row.coming;
        let came = row
            .purchase
            .as_ref()
            .map_or(there.clone(), |buy| &there + &buy.mass);
        assert_eq!(came, &row.needed + &(&row.left + &row.expired), "{says}");
        assert!(row.days.iter().all(|day| !day.left.is_negative()), "{says}");
        let short = without.short.get(&rank(row));
        match (&row.purchase, short) {
            (None, None) => {}
            (Some(buy), Some(short)) => {
                assert_eq!(Some(day(buy.by)), short.keys().next().copied(), "{says}");
                assert_eq!(buy.short, short.values().sum::<Q>(), "{says}");
            }
            _ => panic!("{short:?} is short\n{says}"),
        }
    }
    list.rows.len()
}

#[test]
fn a_year_never_runs_out_and_wastes_nothing_it_does_not_say() {
    let mut rows = 0;
    for seed in 0..SEEDS {
        rows += agrees(&world(seed, 40).without_names(), 365);
        rows += agrees(&world(seed, 40), 365);
    }
    assert!(rows > 200, "{rows} ingredients were needed in all");
}

#[test]
fn a_month_does_neither() {
    for seed in 100..100 + 2 * SEEDS {
        agrees(&world(seed, 12), 30);
    }
}

#[test]
fn one_sack_less_or_a_day_later_runs_out() {
    let mut tried = 0;
    for seed in 0..SEEDS {
        let world = world(seed, 40);
        let list = list(&world, 90);
        for (row, buy) in list.to_buy() {
            let sack = world.sacks[rank(row)].unwrap_or(1);
            let (by, mass) = (day(buy.by), buy.mass.clone());
            for wrong in [(by, &mass - &Q::int(sack)), (by + 1, mass.clone())] {
                let mut purchases = purchases(&list);
                purchases.insert(rank(row), wrong);
                let lived = live(&world, 90, &purchases);
                assert!(
                    lived.short.contains_key(&rank(row)),
                    "{buy:#?}\n{}",
                    world.text()
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "{tried} were tried");
}
