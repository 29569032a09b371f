//! Orders of every kind, for tests of plans: sensible farms, and farms at the edge of sense.

#![allow(
    dead_code,
    unreachable_pub,
    reason = "each test file is a crate of its own and uses what it needs"
)]

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use trug_findings::Place;
use trug_model::Q;
use trug_plan::order::{
    AccuracyClass, Apart, Carry, Ingredient, Lot, Method, MixesIn, Order, Particle, Scale, Vessel,
    Window, WindowKind,
};

/// Any order that the planner may be given.
pub(crate) fn order() -> impl Strategy<Value = Order> {
    let ingredients = prop_oneof![
        8 => 1..=14_usize,
        1 => 15..=40_usize,
    ];
    ingredients.prop_flat_map(order_of)
}

/// Any order of so many ingredients.
pub(crate) fn order_of(count: usize) -> impl Strategy<Value = Order> {
    (
        vec(ingredient(count), count),
        mass(),
        method(),
        vec(scale(), 0..=4),
        vec(vessel(), 0..=4),
        any::<bool>(),
    )
        .prop_map(|(raw, mass_g, method, scales, vessels, in_vessel)| {
            assemble(raw, mass_g, method, scales, vessels, in_vessel)
        })
}

/// A farm as there are many: some bulk, some small ingredients, two or three good scales, a few vessels.
pub(crate) fn sensible(small: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Order> {
    let shares = small.prop_flat_map(|count| vec(50..=2900_i64, count));
    (
        shares,
        vec(20..=300_i64, 1..=5),
        select(vec![20_000, 60_000, 120_000, 250_000]),
        select(vec![5_i64, 8, 10, 20, 20, 20]),
        any::<bool>(),
    )
        .prop_map(|(small, bulk, mass, dilutes, has_fine)| {
            let mut shares: Vec<Q> = small
                .iter()
                .map(|share| Q::ratio(*share, 100_000))
                .collect();
            let left = Q::ONE - shares.iter().sum::<Q>();
            let weight: i64 = bulk.iter().sum();
            shares.extend(bulk.iter().map(|part| &left * &Q::ratio(*part, weight)));
            let small = small.len();
            let ingredients = shares
                .into_iter()
                .enumerate()
                .map(|(rank, share)| {
                    let mut plain = plain(rank, share);
                    plain.carry = Some(if rank < small {
                        Carry::Small
                    } else {
                        Carry::Bulk
                    });
                    plain
                })
                .collect();
            let mut method = plain_method();
            method.dilutes = Q::int(dilutes);
            let mut scales = vec![
                plain_scale("bench", "5000", "1", "1"),
                plain_scale("hook", "100000", "100", "2000"),
            ];
            if has_fine {
                scales.push(plain_scale("pocket", "500", "0.1", "1"));
            }
            Order {
                ration: "layer".to_owned(),
                place: Place::default(),
                mass_g: Q::int(mass),
                ingredients,
                method,
                scales,
                vessels: vec![plain_vessel("basin", 3, 30), plain_vessel("cup", 2, 2)],
                portion_g: Some(Q::int(165)),
                after: None,
            }
        })
}

/// An ingredient without anything special.
pub(crate) fn plain(rank: usize, share: Q) -> Ingredient {
    Ingredient {
        name: format!("ingredient-{rank}"),
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
    }
}

/// The method of the language page.
pub(crate) fn plain_method() -> Method {
    Method {
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
    }
}

/// A scale without a class.
pub(crate) fn plain_scale(name: &str, capacity: &str, division: &str, minimum: &str) -> Scale {
    let grams = |text: &str| Q::decimal(text).unwrap_or_default();
    Scale {
        name: name.to_owned(),
        capacity_g: grams(capacity),
        division_g: grams(division),
        minimum_g: grams(minimum),
        class: None,
    }
}

/// Vessels alike.
pub(crate) fn plain_vessel(name: &str, count: u32, litres: i64) -> Vessel {
    Vessel {
        name: name.to_owned(),
        count,
        litres: Q::int(litres),
    }
}

/// What is drawn of the lots of one ingredient: on hand as percent of what is ordered, and the day of best before.
pub(crate) type Drawn = Vec<(i64, Option<i8>)>;

/// Lots of up to twelve ingredients.
pub(crate) fn lots() -> impl Strategy<Value = Vec<Drawn>> {
    let on_hand = prop_oneof![1 => Just(0_i64), 6 => 1..=40_i64, 3 => 40..=400_i64];
    let lot = (on_hand, proptest::option::weighted(0.7, 1..=28_i8));
    vec(vec(lot, 0..=4), 12)
}

/// The order with these lots, in the order in which they are to be used.
pub(crate) fn with_lots(mut order: Order, drawn: &[Drawn], odd: i64) -> Order {
    let mass = order.mass_g.clone();
    for (rank, (ingredient, drawn)) in order.ingredients.iter_mut().zip(drawn).enumerate() {
        let mut drawn = drawn.clone();
        drawn.sort_by_key(|(_, day)| (day.is_none(), *day));
        let asked = &ingredient.share * &mass;
        let lots = drawn.iter().enumerate().map(|(place, (percent, day))| Lot {
            name: format!("L-{rank}-{place}"),
            best_before: day.and_then(|day| format!("2027-01-{day:02}").parse().ok()),
            on_hand_g: Some(&asked * &Q::ratio(*percent, 100) + Q::ratio(odd, 10)),
            is_open: true,
        });
        ingredient.lots = lots.collect();
    }
    order
}

/// What is drawn of an ingredient, before its share is known.
#[derive(Clone, Debug)]
struct Raw {
    weight: i64,
    top: Option<i64>,
    is_liquid: bool,
    carry: Option<Carry>,
    density: Option<i64>,
    apart: Vec<(usize, i64)>,
    window: Option<(WindowKind, i64, i64)>,
    gives_active: bool,
    particle: Option<(u32, u32)>,
}

fn ingredient(count: usize) -> impl Strategy<Value = Raw> {
    let weight = prop_oneof![
        1 => Just(0_i64),
        4 => 1..=50_i64,
        6 => 50..=3_000_i64,
        3 => 3_000..=30_000_i64,
        6 => 30_000..=500_000_i64,
    ];
    let rarely = |odds: f64| proptest::bool::weighted(odds);
    let kind = select(vec![
        WindowKind::Dose,
        WindowKind::Ceiling,
        WindowKind::Law,
        WindowKind::Harm,
    ]);
    let carry = prop_oneof![
        8 => Just(None),
        1 => Just(Some(Carry::Small)),
        1 => Just(Some(Carry::Bulk)),
        1 => Just(Some(Carry::NotCarrier)),
    ];
    (
        weight,
        proptest::option::weighted(0.06, 1..=50_000_i64),
        rarely(0.08),
        carry,
        proptest::option::weighted(0.93, 300..=1_500_i64),
        vec(
            (0..count.max(1), select(vec![1_i64, 5, 10, 10, 20, 100])),
            0..=2,
        ),
        proptest::option::weighted(0.2, (kind, 1..=30_i64, 1..=30_i64)),
        rarely(0.1),
        proptest::option::weighted(0.3, (50..=3_000_u32, 500..=3_000_u32)),
    )
        .prop_flat_map(move |raw| (Just(raw), rarely(0.12)))
        .prop_map(|(raw, is_apart)| Raw {
            weight: raw.0,
            top: raw.1,
            is_liquid: raw.2,
            carry: raw.3,
            density: raw.4,
            apart: if is_apart { raw.5 } else { Vec::new() },
            window: raw.6,
            gives_active: raw.7,
            particle: raw.8,
        })
}

fn assemble(
    raw: Vec<Raw>,
    mass_g: Q,
    mut method: Method,
    scales: Vec<Scale>,
    vessels: Vec<Vessel>,
    in_vessel: bool,
) -> Order {
    let weight: i64 = raw
        .iter()
        .filter(|raw| raw.top.is_none())
        .map(|raw| raw.weight)
        .sum();
    let ingredients = raw
        .into_iter()
        .enumerate()
        .map(|(rank, raw)| {
            let share = match raw.top {
                Some(share) => Q::ratio(share, 1_000_000),
                None => Q::ratio(raw.weight, weight.max(1)),
            };
            let windows = raw.window.map(|(kind, below, above)| Window {
                kind,
                low: Some(&share * &Q::ratio(100 - below, 100)),
                high: Some(&share * &Q::ratio(100 + above, 100)),
                what: "its bound".to_owned(),
                place: Place::default(),
            });
            let apart = raw.apart.into_iter().map(|(from, times)| Apart {
                from,
                times: Q::int(times),
                place: Place::default(),
            });
            Ingredient {
                on_top: raw.top.is_some(),
                is_liquid: raw.is_liquid,
                carry: raw.carry,
                g_per_litre: raw.density.map(Q::int),
                apart: apart.collect(),
                windows: windows.into_iter().collect(),
                gives_active: raw.gives_active,
                particle: raw.particle.map(|(micrometres, density)| Particle {
                    millimetres: f64::from(micrometres) / 1000.0,
                    g_per_millilitre: f64::from(density) / 1000.0,
                }),
                ..plain(rank, share)
            }
        })
        .collect();
    if in_vessel && !vessels.is_empty() {
        method.mixes_in = MixesIn::Vessel(vessels.len() - 1);
    }
    Order {
        ration: "layer".to_owned(),
        place: Place::default(),
        mass_g,
        ingredients,
        method,
        scales,
        vessels,
        portion_g: Some(Q::int(165)),
        after: None,
    }
}

fn mass() -> impl Strategy<Value = Q> {
    prop_oneof![
        1 => (1..=1_000_i64).prop_map(Q::int),
        8 => (1_000..=400_000_i64).prop_map(Q::int),
        1 => (1..=100_i64, 1..=97_i64).prop_map(|(over, under)| Q::ratio(over * 1000, under)),
        1 => Just(Q::int(1_000_000_000)),
    ]
}

fn method() -> impl Strategy<Value = Method> {
    (
        select(vec![0_i64, 10, 30, 30, 30, 60]),
        select(vec![0_i64, 50, 100, 200, 200, 200, 400, 1000]),
        select(vec![
            (1, 1),
            (2, 1),
            (3, 1),
            (5, 1),
            (10, 1),
            (20, 1),
            (20, 1),
            (20, 1),
            (15, 2),
        ]),
        select(vec![1_i64, 10, 20, 20, 20, 50]),
        select(vec![None, Some(40_000), Some(300_000)]),
        select(vec![None, Some(10_000), Some(25_000), Some(25_000)]),
    )
        .prop_map(|(small, preblend, dilutes, weigh, floor, lift)| Method {
            small: Q::ratio(small, 1000),
            preblend: Q::ratio(preblend, 1000),
            dilutes: Q::ratio(dilutes.0, dilutes.1),
            weigh: Q::ratio(weigh, 1000),
            mixes_in: MixesIn::Floor(floor.map(Q::int)),
            lift_g: lift.map(Q::int),
            ..plain_method()
        })
}

fn scale() -> impl Strategy<Value = Scale> {
    let known = select(vec![
        ("pocket", "500", "0.1", "0.1"),
        ("jewel", "50", "0.01", "1"),
        ("bench", "5000", "1", "1"),
        ("kitchen", "10000", "5", "5"),
        ("ounces", "4535.9237", "28.349523125", "28.349523125"),
        ("hook", "100000", "100", "2000"),
        ("pounds", "45359.237", "453.59237", "453.59237"),
        ("odd hook", "100000", "101", "101"),
        ("sack", "150000", "500", "500"),
        ("truck", "20000000", "20000", "400000"),
    ]);
    let class = select(vec![
        None,
        None,
        Some(AccuracyClass::I),
        Some(AccuracyClass::II),
        Some(AccuracyClass::III),
        Some(AccuracyClass::IIII),
    ]);
    (known, class).prop_map(|((name, capacity, division, minimum), class)| {
        let mut scale = plain_scale(name, capacity, division, minimum);
        scale.class = class;
        scale
    })
}

fn vessel() -> impl Strategy<Value = Vessel> {
    let known = select(vec![
        ("basin", 30),
        ("cup", 1),
        ("bucket", 12),
        ("drum", 200),
    ]);
    (known, 1..=3_u32).prop_map(|((name, litres), count)| plain_vessel(name, count, litres))
}

/// A plan in a few lines, for messages of tests.
pub(crate) fn show(plan: &trug_plan::plan::Plan) -> String {
    use std::fmt::Write;
    let mut text = String::new();
    for batch in &plan.batches {
        let _ = writeln!(
            text,
            "{} times {} g, least {}",
            batch.times, batch.total_g, batch.least
        );
        for step in &batch.steps {
            let ratio = step.ratio.as_ref().map(|ratio| ratio.readable(4));
            let _ = writeln!(
                text,
                "{} {} in {}: {} g, 1 in {:?}",
                step.id,
                step.kind.word(),
                step.vessel,
                step.output_g,
                ratio
            );
            for input in &step.inputs {
                let what = match &input.source {
                    trug_plan::plan::InputSource::Step(id) => id.clone(),
                    trug_plan::plan::InputSource::Weighing(id) => {
                        let weighing = batch.weighings.iter().find(|one| one.id == *id);
                        weighing.map_or_else(String::new, |one| {
                            format!(
                                "{} {:?} on {:?} ± {}",
                                plan.order.ingredients[one.ingredient].name,
                                plan.kinds[one.ingredient].class,
                                one.scale,
                                one.error_g
                            )
                        })
                    }
                };
                let _ = writeln!(text, "    {} g {what}", input.mass_g);
            }
        }
    }
    for found in &plan.findings {
        let _ = writeln!(
            text,
            "{} {}: {}",
            found.severity.word(),
            found.code.name,
            found.message
        );
    }
    text
}
