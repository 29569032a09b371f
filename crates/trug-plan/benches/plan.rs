//! How long a plan takes: twenty ingredients with twelve small, seven small with the proof of the fewest steps, and how it grows
//! with their number.

use divan::{Bencher, black_box};
use trug_findings::Place;
use trug_model::Q;
use trug_plan::order::{Ingredient, Method, MixesIn, Order, Scale, Vessel};

fn main() {
    divan::main();
}

#[divan::bench]
fn twenty_ingredients_twelve_small(bencher: Bencher) {
    let small = [2500, 2000, 1500, 1200, 800, 500, 300, 250, 120, 60, 25, 10];
    let order = order(&small, 8);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

#[divan::bench]
fn seven_small_proved(bencher: Bencher) {
    let order = order(&[900, 500, 250, 120, 60, 25, 10], 5);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

#[divan::bench]
fn seven_small_of_all_sizes_proved(bencher: Bencher) {
    let order = order(&[2500, 1200, 300, 60, 12, 7, 5], 5);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

#[divan::bench]
fn common_practice(bencher: Bencher) {
    let order = order(&[500, 400, 300, 250], 4);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

/// A twentieth of the batch in so many small ingredients: each ten times as many as the one before.
#[divan::bench(args = [5, 50, 500])]
fn many_small(bencher: Bencher, count: i64) {
    let small: Vec<i64> = (0..count).map(|rank| 4_000 / count + rank % 3).collect();
    let order = order(&small, 4);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

#[divan::bench(args = [5, 50, 500])]
fn many_bulk(bencher: Bencher, count: i64) {
    let order = order(&[500], count);
    bencher.bench(|| trug_plan::plan(black_box(order.clone())));
}

/// Small shares in thousandths of a percent; bulk shares what is left.
fn order(small: &[i64], bulk: i64) -> Order {
    let mut shares: Vec<Q> = small
        .iter()
        .map(|share| Q::ratio(*share, 100_000))
        .collect();
    let left = Q::ONE - shares.iter().sum::<Q>();
    let weight = bulk * (bulk + 1) / 2;
    shares.extend((1..=bulk).map(|part| &left * &Q::ratio(part, weight)));
    let ingredients = shares
        .into_iter()
        .enumerate()
        .map(|(rank, share)| Ingredient {
            name: format!("ingredient-{rank:02}"),
            place: Place::default(),
            share,
            on_top: false,
            is_liquid: false,
            carry: None,
            g_per_litre: Some(Q::int(650)),
            lots: Vec::new(),
            named: Vec::new(),
            apart: Vec::new(),
            windows: Vec::new(),
            gives_active: false,
            particle: None,
            line: None,
        });
    let grams = |text: &str| Q::decimal(text).unwrap_or_default();
    let scale = |name: &str, capacity: &str, division: &str, minimum: &str| Scale {
        name: name.to_owned(),
        capacity_g: grams(capacity),
        division_g: grams(division),
        minimum_g: grams(minimum),
        class: None,
    };
    Order {
        ration: "river-layer".to_owned(),
        place: Place::default(),
        mass_g: Q::int(120_000),
        ingredients: ingredients.collect(),
        method: Method {
            name: "shovel".to_owned(),
            place: Place::default(),
            small: Q::ratio(3, 100),
            preblend: Q::ratio(1, 5),
            dilutes: Q::int(20),
            weigh: Q::ratio(1, 50),
            even: Some(Q::ratio(1, 10)),
            mixes_in: MixesIn::Floor(Some(Q::int(300_000))),
            lift_g: Some(Q::int(25_000)),
            turns: Some(6),
            portions: Some(4),
        },
        scales: vec![
            scale("bench", "5000", "1", "1"),
            scale("hook", "100000", "100", "2000"),
            scale("pocket", "500", "0.1", "0.1"),
        ],
        vessels: vec![
            Vessel {
                name: "basin".to_owned(),
                count: 3,
                litres: Q::int(30),
            },
            Vessel {
                name: "cup".to_owned(),
                count: 2,
                litres: Q::int(2),
            },
        ],
        portion_g: Some(Q::int(165)),
        after: None,
    }
}
