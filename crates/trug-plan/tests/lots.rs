//! Lots of orders of every kind: what is taken of each, held against a replay that tries every reading.

#![expect(clippy::unwrap_used, reason = "a plan that lacks it fails the test")]

mod support;

use std::collections::BTreeMap;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_model::Q;
use trug_plan::order::{Lot, Named, Order};
use trug_plan::plan;
use trug_plan::plan::{Batch, Class, Plan, StepKind, Weighing};

/// The same orders every time; more of them for a longer look: `CASES=20000 cargo test`.
fn cases(usual: u32) -> ProptestConfig {
    let asked = std::env::var("CASES").ok();
    ProptestConfig {
        cases: asked.and_then(|cases| cases.parse().ok()).unwrap_or(usual),
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn lots_give_what_they_hold_and_the_first_gives_first(
        order in support::sensible(0..=5), drawn in support::lots(), odd in 0..=999_i64, floor in 20..=300_i64,
    ) {
        let mut order = support::with_lots(order, &drawn, odd);
        order.method.mixes_in = trug_plan::order::MixesIn::Floor(Some(Q::int(floor * 1000)));
        check(order);
    }

    #[test]
    fn orders_of_every_kind_keep_their_weighings(
        order in support::order(), drawn in support::lots(), odd in 0..=999_i64,
    ) {
        check(support::with_lots(order, &drawn, odd));
    }
}

fn check(order: Order) {
    let mut bare = order.clone();
    for ingredient in &mut bare.ingredients {
        ingredient.lots.clear();
    }
    let (bare, plan) = (plan(bare), plan(order));
    let [whole] = bare.batches.as_slice() else {
        panic!("batches without lots are all alike");
    };
    let times: u64 = plan
        .batches
        .iter()
        .map(|batch| u64::from(batch.times))
        .sum();
    assert_eq!(times, u64::from(whole.times));
    assert_eq!(plan.weighed_g, bare.weighed_g);
    let mut left = on_hand(&plan.order);
    for (rank, batch) in plan.batches.iter().enumerate() {
        assert_eq!(batch.number as usize, rank + 1);
        same_work(whole, batch);
        rules(&plan, batch);
        take(&mut left, batch);
        first_first(&plan, batch, whole, &left);
        as_much_as_can_be(&plan, batch, whole, &left);
    }
}

fn on_hand(order: &Order) -> BTreeMap<String, Q> {
    let lots = order.ingredients.iter().flat_map(|it| &it.lots);
    lots.map(|lot| (lot.name.clone(), lot.on_hand_g.clone().unwrap()))
        .collect()
}

/// Takes all of an entry's batches; what is taken is there.
fn take(left: &mut BTreeMap<String, Q>, batch: &Batch) {
    for weighing in &batch.weighings {
        let Some(lot) = &weighing.lot else { continue };
        let rest = left.get_mut(lot).unwrap();
        *rest -= &weighing.mass_g * &Q::int(i64::from(batch.times));
        assert!(!rest.is_negative(), "{lot} lacks {rest} g");
    }
}

/// The parts of each weighing are that weighing, in the same step and in its place.
fn same_work(whole: &Batch, batch: &Batch) {
    assert_eq!(whole.amounts.len(), batch.amounts.len());
    let mut parts = batch.weighings.iter().peekable();
    for weighing in &whole.weighings {
        let mut sum = Q::ZERO;
        let mut lots = Vec::new();
        while sum < weighing.mass_g {
            let part = parts.next().unwrap();
            assert_eq!(
                (part.ingredient, &part.step),
                (weighing.ingredient, &weighing.step)
            );
            assert!(!lots.contains(&part.lot), "two weighings of one lot");
            lots.push(part.lot.clone());
            sum += &part.mass_g;
        }
        assert_eq!(sum, weighing.mass_g);
    }
    assert!(parts.next().is_none());
    for (before, step) in whole.steps.iter().zip(&batch.steps) {
        let inputs: Q = step.inputs.iter().map(|input| &input.mass_g).sum();
        assert_eq!(
            (&inputs, &step.output_g),
            (&before.output_g, &before.output_g)
        );
    }
}

/// Each part is on the divisions of its scale, above its minimum, in loads that one person lifts.
fn rules(plan: &Plan, batch: &Batch) {
    for weighing in &batch.weighings {
        let Some(scale) = weighing.scale.map(|rank| &plan.order.scales[rank]) else {
            continue;
        };
        let loads: Q = weighing.loads_g.iter().sum();
        assert_eq!(loads, weighing.mass_g);
        for load in &weighing.loads_g {
            assert!(load.over(&scale.division_g).unwrap().is_whole(), "{load}");
            assert!(
                *load >= scale.minimum_g && *load <= scale.capacity_g,
                "{load}"
            );
            let lift = plan.order.method.lift_g.as_ref();
            assert!(lift.is_none_or(|lift| load <= lift), "{load}");
        }
        assert!(weighing.from_g <= weighing.mass_g && weighing.mass_g <= weighing.to_g);
    }
    for step in &batch.steps {
        if let Some(ratio) = &step.ratio {
            let is_over = *ratio > plan.order.method.dilutes;
            let is_said = plan
                .findings
                .iter()
                .any(|it| it.code.name.starts_with("mix/"));
            assert!(!is_over || is_said, "1 in {ratio} in {}", step.id);
        }
    }
}

/// No lot is touched while an earlier one could have given a whole weighing of the same ingredient, or a part of one that leaves
/// a part that can be weighed as well: every reading of the scale of that weighing is tried.
fn first_first(plan: &Plan, batch: &Batch, whole: &Batch, left: &BTreeMap<String, Q>) {
    for (rank, ingredient) in plan.order.ingredients.iter().enumerate() {
        let own = || batch.weighings.iter().filter(|it| it.ingredient == rank);
        for (place, lot) in ingredient.lots.iter().enumerate() {
            let later = ingredient.lots[place + 1..]
                .iter()
                .map(|lot| Some(&lot.name));
            let later: Vec<Option<&String>> = later.chain([None]).collect();
            let rest = &left[&lot.name];
            for weighing in own().filter(|it| later.contains(&it.lot.as_ref())) {
                let is_alone = whole.weighings.iter().any(|it| {
                    (it.ingredient, &it.step, &it.mass_g)
                        == (rank, &weighing.step, &weighing.mass_g)
                });
                if is_alone {
                    let could = gives(plan, batch, weighing, rest);
                    assert!(
                        could.is_none(),
                        "{} keeps {rest} g, and {could:?} g of {} would do",
                        lot.name,
                        weighing.mass_g
                    );
                }
            }
        }
    }
}

/// Of two lots that share a weighing, the first gives as much as can be: every larger reading is tried.
fn as_much_as_can_be(plan: &Plan, batch: &Batch, whole: &Batch, left: &BTreeMap<String, Q>) {
    for two in batch.weighings.windows(2) {
        let [one, other] = two else { continue };
        let sum = &one.mass_g + &other.mass_g;
        let is_whole = whole
            .weighings
            .iter()
            .any(|it| (it.ingredient, &it.step, &it.mass_g) == (one.ingredient, &one.step, &sum));
        let shares = one.ingredient == other.ingredient && one.step == other.step;
        let Some(lot) = one
            .lot
            .as_ref()
            .filter(|_| shares && is_whole && batch.times == 1)
        else {
            continue;
        };
        let before = whole
            .weighings
            .iter()
            .find(|it| (it.ingredient, &it.step, &it.mass_g) == (one.ingredient, &one.step, &sum));
        let could = gives(plan, batch, before.unwrap(), &(&left[lot] + &one.mass_g));
        let is_most = could.as_ref().is_none_or(|could| *could <= one.mass_g);
        assert!(
            is_most,
            "{lot} gives {} g; {could:?} g would do",
            one.mass_g
        );
    }
}

/// What a lot with so much left could give of a weighing: for bulk on the heap, where no bound is near.
fn gives(plan: &Plan, batch: &Batch, weighing: &Weighing, rest: &Q) -> Option<Q> {
    if *rest >= weighing.mass_g {
        return Some(weighing.mass_g.clone());
    }
    let order = &plan.order;
    let step = batch.steps.iter().find(|step| step.id == weighing.step)?;
    let is_plain = plan.kinds[weighing.ingredient].class == Class::Bulk
        && step.kind == StepKind::Heap
        && order.ingredients[weighing.ingredient].windows.is_empty();
    let scale = &order.scales[weighing.scale.filter(|_| is_plain)?];
    let reads = |mass: &Q| {
        order.scales.iter().any(|scale| {
            let lift = order.method.lift_g.clone();
            let most = lift
                .unwrap_or(scale.capacity_g.clone())
                .min(scale.capacity_g.clone());
            let is_one_load = *mass >= scale.minimum_g && *mass <= most;
            let steps = mass.over(&scale.division_g);
            // A class makes the error of a load at most three divisions.
            let error = &scale.division_g * &Q::int(if scale.class.is_some() { 3 } else { 1 });
            is_one_load
                && steps.is_some_and(|steps| steps.is_whole())
                && error <= mass * &Q::ratio(1, 10)
        })
    };
    // Errors add up: both parts may be read a tenth off only where the whole has room for that.
    let own = batch
        .weighings
        .iter()
        .filter(|it| it.ingredient == weighing.ingredient);
    let (mut weighed, mut error) = (Q::ZERO, Q::ZERO);
    for one in own {
        weighed += &one.mass_g;
        error += &one.error_g;
    }
    let coarsest = order.scales.iter().map(|scale| &scale.division_g).max()?;
    let has_room = error + coarsest * Q::int(6) <= &order.method.weigh * &weighed;
    let ordered: Q = batch.amounts.iter().map(|it| &it.ordered_g).sum();
    let mut mass = rest.floor_to(&scale.division_g);
    while has_room && batch.total_g == ordered && mass.is_positive() {
        if reads(&mass) && reads(&(&weighing.mass_g - &mass)) {
            return Some(mass);
        }
        mass -= &scale.division_g;
    }
    None
}

/// Four batches of 90 kg from a lot that ends in the second and one that ends in the third.
#[test]
fn a_lot_that_ends_is_told_apart() {
    let order = two_bulk(&[("A", 70_000), ("B", 50_000), ("C", 500_000)]);
    let plan = plan(order);
    type Taken<'a> = Vec<(Option<&'a str>, String)>;
    let taken: Vec<(u32, Taken<'_>)> = plan
        .batches
        .iter()
        .map(|batch| {
            let own = batch.weighings.iter().filter(|it| it.ingredient == 0);
            let own = own.map(|it| (it.lot.as_deref(), it.mass_g.to_string()));
            (batch.times, own.collect())
        })
        .collect();
    let part = |lot: &'static str, grams: &str| (Some(lot), grams.to_owned());
    // 54 kg of each batch are of it, half first on the heap and half last.
    assert_eq!(taken[0], (1, vec![part("A", "27000"), part("A", "27000")]));
    assert_eq!(
        taken[1].1,
        [part("A", "16000"), part("B", "11000"), part("B", "27000")]
    );
    assert_eq!(
        taken[2].1,
        [part("B", "12000"), part("C", "15000"), part("C", "27000")]
    );
    assert_eq!(taken[3], (1, vec![part("C", "27000"), part("C", "27000")]));
}

/// More batches than anyone mixes are told in a few entries, and quickly.
#[test]
fn a_million_batches_are_a_few_entries() {
    let mut order = two_bulk(&[("A", 70_000_000), ("B", 50_000)]);
    order.mass_g = Q::int(90_000) * Q::int(1_000_000);
    let plan = plan(order);
    let times: Vec<u32> = plan.batches.iter().map(|batch| batch.times).collect();
    // A holds 1296.3 batches, B most of one more.
    assert_eq!(times, [1296, 1, 1, 998_702]);
    let last = &plan.batches[3].weighings;
    assert!(last.iter().all(|weighing| weighing.lot.is_none()));
}

/// Two lines that each name a lot take their parts from it, and what one lacks no other lot gives.
#[test]
fn what_a_line_names_is_taken_from_there_alone() {
    let mut order = two_bulk(&[("A", 20_000), ("B", 500_000), ("C", 500_000)]);
    order.mass_g = Q::int(90_000);
    let part = |lot: usize, part: Q| Named { lot, part };
    order.ingredients[0].named = vec![part(0, Q::ratio(2, 3)), part(1, Q::ratio(1, 3))];
    let plan = plan(order);
    let mut taken: BTreeMap<Option<&str>, Q> = BTreeMap::new();
    let own = plan.batches[0].weighings.iter();
    for weighing in own.filter(|it| it.ingredient == 0) {
        *taken.entry(weighing.lot.as_deref()).or_default() += &weighing.mass_g;
    }
    let taken: Vec<(Option<&str>, String)> = taken
        .into_iter()
        .map(|(lot, mass)| (lot, mass.to_string()))
        .collect();
    let told = |lot: Option<&'static str>, grams: &str| (lot, grams.to_owned());
    // Of 54 kg 36 are of A, which has 20; 18 are of B.
    let wanted = [
        told(None, "16000"),
        told(Some("A"), "20000"),
        told(Some("B"), "18000"),
    ];
    assert_eq!(taken, wanted);
}

/// 60 % and 40 % in four batches of 90 kg, both bulk, with lots of the first.
fn two_bulk(lots: &[(&str, i64)]) -> Order {
    let mut first = support::plain(0, Q::ratio(3, 5));
    let lots = lots.iter().map(|(name, grams)| Lot {
        name: (*name).to_owned(),
        best_before: None,
        on_hand_g: Some(Q::int(*grams)),
        is_open: true,
    });
    first.lots = lots.collect();
    let mut method = support::plain_method();
    method.mixes_in = trug_plan::order::MixesIn::Floor(Some(Q::int(90_000)));
    method.lift_g = None;
    Order {
        ration: "layer".to_owned(),
        place: trug_findings::Place::default(),
        mass_g: Q::int(360_000),
        ingredients: vec![first, support::plain(1, Q::ratio(2, 5))],
        method,
        scales: vec![support::plain_scale("hook", "100000", "100", "2000")],
        vessels: Vec::new(),
        portion_g: None,
        after: None,
    }
}
