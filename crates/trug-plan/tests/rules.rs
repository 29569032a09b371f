//! Single rules of a plan, each on a small ration whose numbers can be done in the head.

mod support;

use support::{plain, plain_method, plain_scale, plain_vessel};
use trug_findings::{Place, Severity};
use trug_model::Q;
use trug_plan::order::{Apart, Carry, Ingredient, MixesIn, Order, Window, WindowKind};
use trug_plan::plan;
use trug_plan::plan::{Batch, Class, InputSource, Plan, StepKind};

/// Names with their shares in thousandths of a percent, mixed by the shovel method in 100 kg.
fn order(shares: &[(&str, i64)]) -> Order {
    let ingredients = shares
        .iter()
        .enumerate()
        .map(|(rank, (name, share))| Ingredient {
            name: (*name).to_owned(),
            ..plain(rank, Q::ratio(*share, 100_000))
        });
    Order {
        ration: "layer".to_owned(),
        place: Place::default(),
        mass_g: Q::int(100_000),
        ingredients: ingredients.collect(),
        method: plain_method(),
        scales: vec![
            plain_scale("bench", "5000", "1", "1"),
            plain_scale("hook", "100000", "100", "2000"),
        ],
        vessels: vec![plain_vessel("basin", 3, 30)],
        portion_g: None,
        after: None,
    }
}

fn kinds(batch: &Batch) -> Vec<&str> {
    batch.steps.iter().map(|step| step.kind.word()).collect()
}

fn codes(plan: &Plan) -> Vec<&str> {
    plan.findings.iter().map(|found| found.code.name).collect()
}

/// What goes into a step: names of what is weighed, ids of earlier steps, with their grams.
fn inputs(plan: &Plan, step: usize) -> Vec<(String, String)> {
    let batch = &plan.batches[0];
    let named = |source: &InputSource| match source {
        InputSource::Step(id) => id.clone(),
        InputSource::Weighing(id) => {
            let weighing = batch.weighings.iter().find(|one| one.id == *id);
            weighing.map_or_else(String::new, |one| {
                plan.order.ingredients[one.ingredient].name.clone()
            })
        }
    };
    let inputs = batch.steps[step].inputs.iter();
    inputs
        .map(|input| (named(&input.source), input.mass_g.to_string()))
        .collect()
}

fn pairs(expected: &[(&str, &str)]) -> Vec<(String, String)> {
    expected
        .iter()
        .map(|(name, mass)| ((*name).to_owned(), (*mass).to_owned()))
        .collect()
}

/// Common practice of the trade: small together, pre-blend of a fifth, heap, spread; what is taken is subtracted from the heap.
#[test]
fn a_handful_of_small_ones_is_mixed_as_is_common() {
    let plan = plan(order(&[
        ("maize", 98_200),
        ("salt", 600),
        ("premix", 500),
        ("methionine", 400),
        ("lysine", 300),
    ]));
    let batch = &plan.batches[0];
    assert_eq!(kinds(batch), ["together", "preblend", "heap", "final"]);
    assert_eq!(
        inputs(&plan, 0),
        pairs(&[
            ("lysine", "300"),
            ("methionine", "400"),
            ("premix", "500"),
            ("salt", "600")
        ])
    );
    assert_eq!(
        inputs(&plan, 1),
        pairs(&[("s1", "1800"), ("maize", "18200")])
    );
    assert_eq!(inputs(&plan, 2), pairs(&[("maize", "80000")]));
    assert_eq!(inputs(&plan, 3), pairs(&[("s3", "80000"), ("s2", "20000")]));
    assert_eq!(
        batch.steps[3].ratio,
        Some(Q::int(5)),
        "the heap is left out"
    );
    assert!(batch.least && codes(&plan).is_empty());
}

#[test]
fn large_small_ones_enter_late() {
    let plan = plan(order(&[
        ("maize", 94_100),
        ("chalk", 2_900),
        ("lime", 2_800),
        ("premix", 200),
    ]));
    assert_eq!(
        kinds(&plan.batches[0]),
        ["together", "preblend", "heap", "final"]
    );
    // All three together would be 1 in 29.5; one makes the premix heavy enough without a weighing of carrier.
    assert_eq!(
        inputs(&plan, 0),
        pairs(&[("premix", "200"), ("lime", "2800")])
    );
}

#[test]
fn carrier_enters_early_in_two_figures_where_nothing_else_helps() {
    let plan = plan(order(&[("maize", 99_970), ("selenium", 30)]));
    let batch = &plan.batches[0];
    assert_eq!(
        kinds(batch),
        ["dilute", "dilute", "preblend", "heap", "final"]
    );
    for step in &batch.steps[..3] {
        assert!(
            step.ratio
                .as_ref()
                .is_some_and(|ratio| *ratio <= Q::int(20))
        );
    }
    for weighing in &batch.weighings[1..3] {
        let grams = weighing.mass_g.to_string();
        assert!(grams.trim_end_matches('0').len() <= 2, "{grams} g");
    }
}

/// Common practice of the trade: where no single one dominates, equal parts from the largest few.
#[test]
fn carriers_give_equal_parts_and_no_more_than_half() {
    let four = plan(order(&[
        ("maize", 30_000),
        ("rice", 28_000),
        ("bran", 25_000),
        ("soya", 16_000),
        ("premix", 1_000),
    ]));
    assert_eq!(
        inputs(&four, 0),
        pairs(&[("premix", "1000"), ("maize", "9500"), ("rice", "9500")])
    );
    // The pre-blend is twice the small ones; maize and rice can give no more than their halves, bran gives what is left.
    let many = [
        ("maize", 24_000),
        ("rice", 22_000),
        ("bran", 19_000),
        ("soya", 10_000),
        ("premix", 25_000),
    ];
    let mut many = order(&many);
    many.ingredients[4].carry = Some(Carry::Small);
    let many = plan(many);
    assert_eq!(
        inputs(&many, 0),
        pairs(&[
            ("premix", "25000"),
            ("maize", "12000"),
            ("rice", "11000"),
            ("bran", "2000")
        ])
    );
}

#[test]
fn who_may_not_carry_is_passed_over() {
    let mut order = order(&[
        ("maize", 60_000),
        ("rice", 20_000),
        ("bran", 18_000),
        ("choline", 2_000),
    ]);
    order.ingredients[0].carry = Some(Carry::NotCarrier);
    order.ingredients[3].apart.push(Apart {
        from: 1,
        times: Q::int(10),
        place: Place::default(),
    });
    let plan = plan(order);
    // Bran alone may carry: half of it is too little, the whole of it just enough.
    assert_eq!(
        inputs(&plan, 0),
        pairs(&[("choline", "2000"), ("bran", "18000")])
    );
    let may_carry: Vec<bool> = plan.kinds.iter().map(|kind| kind.may_carry).collect();
    assert_eq!(may_carry, [false, false, true, false]);
    assert!(codes(&plan).is_empty(), "{:?}", codes(&plan));
}

#[test]
fn half_of_the_largest_goes_first_on_the_heap_and_half_last() {
    let plan = plan(order(&[
        ("bran", 20_000),
        ("maize", 50_000),
        ("soya", 30_000),
    ]));
    assert_eq!(kinds(&plan.batches[0]), ["heap"]);
    assert_eq!(
        inputs(&plan, 0),
        pairs(&[
            ("maize", "25000"),
            ("soya", "30000"),
            ("bran", "20000"),
            ("maize", "25000")
        ])
    );
}

#[test]
fn bulk_takes_up_what_snapping_leaves() {
    // 33.34, 33.33 and 33.33 kg by 100 g: one of them is given the hundred grams that are left.
    let plan = plan(order(&[
        ("maize", 33_334),
        ("rice", 33_333),
        ("soya", 33_333),
    ]));
    let weighed: Vec<String> = plan.batches[0]
        .amounts
        .iter()
        .map(|amount| amount.weighed_g.to_string())
        .collect();
    assert_eq!(weighed, ["33400", "33300", "33300"]);
    assert_eq!(plan.weighed_g, plan.ordered_g);
}

#[test]
fn small_ones_snap_into_their_dose_and_upward_where_they_give() {
    let snapped = |low: i64, high: i64, gives: bool| {
        let mut order = order(&[("maize", 100_000), ("premix", 0)]);
        // 100.4 g in 100 kg, dosed between so many tenths of a gram.
        order.ingredients[1].share = Q::ratio(1_004, 1_000_000);
        order.ingredients[0].share = Q::ONE - &order.ingredients[1].share;
        order.ingredients[1].gives_active = gives;
        order.ingredients[1].windows.push(Window {
            kind: WindowKind::Dose,
            low: Some(Q::ratio(low, 1_000_000)),
            high: Some(Q::ratio(high, 1_000_000)),
            what: "its dose".to_owned(),
            place: Place::default(),
        });
        plan(order).batches[0].amounts[1].weighed_g.to_string()
    };
    assert_eq!(snapped(900, 1_100, false), "100");
    assert_eq!(snapped(900, 1_100, true), "101");
    assert_eq!(
        snapped(1_002, 1_100, false),
        "101",
        "100 g would be under its dose"
    );
}

#[test]
fn an_error_that_could_pass_the_dose_is_an_error() {
    let mut order = order(&[("maize", 99_000), ("premix", 1_000)]);
    order.ingredients[1].windows.push(Window {
        kind: WindowKind::Dose,
        low: None,
        high: Some(Q::ratio(1_000, 100_000)),
        what: "its dose".to_owned(),
        place: Place::default(),
    });
    let plan = plan(order);
    let found = &plan.findings[0];
    assert_eq!(
        (found.code.name, found.severity),
        ("weigh/coarse", Severity::Error)
    );
    assert!(found.fixes.is_empty());
}

#[test]
fn scales_are_chosen_by_loads_and_then_by_fineness() {
    let plan = plan(order(&[
        ("maize", 94_000),
        ("soya", 4_000),
        ("premix", 2_000),
    ]));
    let scale = |name: &str| {
        let batch = &plan.batches[0];
        let weighing = batch
            .weighings
            .iter()
            .find(|one| plan.order.ingredients[one.ingredient].name == name);
        weighing
            .and_then(|one| one.scale)
            .map(|scale| plan.order.scales[scale].name.as_str())
    };
    // 2 kg and 4 kg are one load on either scale; 100 g on 4 kg are beyond 2 %.
    assert_eq!(scale("premix"), Some("bench"));
    assert_eq!(scale("soya"), Some("bench"));
    let maize: Vec<_> = plan.batches[0]
        .weighings
        .iter()
        .filter(|one| one.ingredient == 0)
        .collect();
    assert!(
        maize
            .iter()
            .all(|one| one.loads_g.iter().all(|load| *load <= Q::int(25_000))),
        "nobody lifts more"
    );
}

#[test]
fn too_much_for_the_floor_is_split_into_equal_batches() {
    let mut large = order(&[("maize", 98_000), ("salt", 2_000)]);
    large.mass_g = Q::int(700_000);
    let large = plan(large);
    assert_eq!((large.batches.len(), large.batches[0].times), (1, 3));
    assert_eq!(large.ordered_g, Q::int(700_000));
    // 100 kg at 0.65 kg/L are 154 L; a drum of 200 L takes 140.
    let mut in_drum = order(&[("maize", 98_000), ("salt", 2_000)]);
    in_drum.vessels.push(plain_vessel("drum", 1, 200));
    in_drum.method.mixes_in = MixesIn::Vessel(1);
    let in_drum = plan(in_drum);
    let batch = &in_drum.batches[0];
    assert_eq!(batch.times, 2);
    assert_eq!(
        batch.steps.last().map(|step| step.vessel.as_str()),
        Some("drum")
    );
}

#[test]
fn liquids_are_worked_into_five_times_their_mass() {
    let mut wet = order(&[
        ("maize", 60_000),
        ("bran", 37_000),
        ("oil", 1_000),
        ("molasses", 2_000),
    ]);
    wet.ingredients[2].is_liquid = true;
    wet.ingredients[3].is_liquid = true;
    let plan = plan(wet);
    let batch = &plan.batches[0];
    assert_eq!(kinds(batch), ["liquid", "liquid", "heap"]);
    assert_eq!(inputs(&plan, 0)[0].0, "oil", "the smallest first");
    for step in &batch.steps[..2] {
        let liquid = &step.inputs[usize::from(step.id == "s2")];
        assert!(&step.output_g - &liquid.mass_g >= &liquid.mass_g * &Q::int(5));
    }
    assert!(codes(&plan).is_empty(), "{:?}", codes(&plan));
}

#[test]
fn what_is_apart_is_diluted_by_itself_or_said() {
    let apart = |times: i64| {
        let mut order = order(&[("maize", 98_000), ("choline", 1_000), ("premix", 1_000)]);
        order.ingredients[1].apart.push(Apart {
            from: 2,
            times: Q::int(times),
            place: Place::default(),
        });
        plan(order)
    };
    let kept = apart(10);
    assert!(codes(&kept).is_empty(), "{:?}", codes(&kept));
    // Two pre-blends of 10 kg are one step more than one; two dilutions would be two.
    assert_eq!(
        kinds(&kept.batches[0]),
        ["preblend", "preblend", "heap", "final"]
    );
    let missed = apart(100);
    assert_eq!(codes(&missed), ["mix/apart"]);
}

#[test]
fn where_the_pre_blend_is_the_batch_there_is_no_heap() {
    let mut order = order(&[("maize", 40_000), ("minerals", 60_000)]);
    order.ingredients[1].carry = Some(Carry::Small);
    let plan = plan(order);
    assert_eq!(kinds(&plan.batches[0]), ["preblend"]);
    assert_eq!(plan.batches[0].total_g, Q::int(100_000));
}

#[test]
fn odd_orders_have_plans_too() {
    let kinds_of = |order: Order| {
        let plan = plan(order);
        let kinds: Vec<String> = kinds(&plan.batches[0])
            .into_iter()
            .map(str::to_owned)
            .collect();
        (kinds, plan.kinds.first().map(|kind| kind.class))
    };
    assert_eq!(
        kinds_of(order(&[("maize", 100_000)])),
        (vec!["heap".to_owned()], Some(Class::Bulk))
    );
    assert_eq!(kinds_of(order(&[])), (Vec::new(), None));
    let mut all_small = order(&[("salt", 60_000), ("chalk", 40_000)]);
    all_small
        .ingredients
        .iter_mut()
        .for_each(|one| one.carry = Some(Carry::Small));
    let (kinds, largest) = kinds_of(all_small);
    assert_eq!(kinds.last().map(String::as_str), Some("final"));
    assert_eq!(largest, Some(Class::Bulk));
    let mut all_liquid = order(&[("water", 60_000), ("molasses", 40_000)]);
    all_liquid
        .ingredients
        .iter_mut()
        .for_each(|one| one.is_liquid = true);
    assert_eq!(
        kinds_of(all_liquid).1,
        Some(Class::Bulk),
        "the largest counts as bulk"
    );
    let mut bare = order(&[("maize", 99_000), ("salt", 1_000)]);
    bare.scales.clear();
    let bare = plan(bare);
    assert_eq!(
        codes(&bare)
            .iter()
            .filter(|code| **code == "weigh/coarse")
            .count(),
        1
    );
    assert_eq!(bare.weighed_g, Q::int(100_000));
    let heap = bare.batches[0]
        .steps
        .iter()
        .any(|step| step.kind == StepKind::Heap);
    assert!(
        heap && bare.batches[0]
            .weighings
            .iter()
            .all(|one| one.scale.is_none())
    );
}

#[test]
fn hundreds_of_ingredients_and_many_pairs_have_plans() {
    let mut many: Vec<(String, i64)> = (0..300)
        .map(|rank| (format!("small-{rank:03}"), 10 + rank % 40))
        .collect();
    let small: i64 = many.iter().map(|(_, share)| share).sum();
    many.extend((0..40).map(|rank| (format!("bulk-{rank:02}"), (100_000 - small) / 40)));
    let named: Vec<(&str, i64)> = many
        .iter()
        .map(|(name, share)| (name.as_str(), *share))
        .collect();
    let mut many = order(&named);
    let short = Q::ONE - many.ingredients.iter().map(|one| &one.share).sum::<Q>();
    many.ingredients[339].share += short;
    many.ingredients[300..]
        .iter_mut()
        .for_each(|one| one.carry = Some(Carry::Bulk));
    let plain = plan(many.clone());
    assert!(!codes(&plain).contains(&"mix/step"), "{:?}", codes(&plain));
    assert!(!plain.batches[0].least);
    for pair in 0..60 {
        many.ingredients[pair].apart.push(Apart {
            from: pair / 2 + 100,
            times: Q::int(10),
            place: Place::default(),
        });
    }
    let apart = plan(many);
    assert!(!codes(&apart).contains(&"mix/apart"), "{:?}", codes(&apart));
}

fn weighed(plan: &Plan) -> Vec<String> {
    let amounts = plan.batches[0].amounts.iter();
    amounts.map(|amount| amount.weighed_g.to_string()).collect()
}

/// What a scale shows exactly is weighed exactly, whatever the others leave over.
#[test]
fn snapping_moves_nothing_that_is_weighed_exactly() {
    let mut salted = order(&[
        ("maize", 43_330),
        ("bran", 33_030),
        ("soya", 20_040),
        ("salt", 3_100),
        ("premix", 500),
    ]);
    salted.scales = vec![
        plain_scale("kitchen", "5000", "1", "1"),
        plain_scale("hook", "60000", "200", "200"),
    ];
    let mut limed = order(&[
        ("maize", 43_700),
        ("bran", 33_100),
        ("soya", 20_100),
        ("lime", 3_100),
    ]);
    limed.mass_g = Q::int(30_000);
    limed.scales = salted.scales.clone();
    let salted = plan(salted);
    assert_eq!(weighed(&salted), ["43300", "33000", "20000", "3100", "500"]);
    assert!(codes(&salted).is_empty());
    let limed = plan(limed);
    assert_eq!(weighed(&limed), ["13110", "9930", "6030", "930"]);
    assert_eq!(limed.batches[0].total_g, Q::int(30_000));
}

/// The spread of the lighter of two pre-blends just keeps the ratio; snapping must not carry it beyond.
#[test]
fn snapping_keeps_the_spread_within_the_ratio() {
    let mut order = order(&[
        ("maize", 65_800),
        ("bran", 33_000),
        ("a", 150),
        ("b", 250),
        ("c", 350),
        ("d", 450),
    ]);
    order.mass_g = Q::int(120_000);
    order.scales = vec![
        plain_scale("kitchen", "5000", "1", "1"),
        plain_scale("hook", "100000", "100", "100"),
    ];
    order.ingredients[2].apart.push(Apart {
        from: 3,
        times: Q::int(10),
        place: Place::default(),
    });
    let plan = plan(order);
    assert!(codes(&plan).is_empty());
    assert_eq!(plan.batches[0].total_g, Q::int(119_940));
    let last = plan.batches[0].steps.last();
    assert_eq!(
        last.and_then(|step| step.ratio.clone()),
        Some(Q::ratio(1999, 100))
    );
}

#[test]
fn a_liquid_finds_its_bed_after_snapping() {
    let mut order = order(&[("maize", 93_650), ("bran", 5_300), ("oil", 1_050)]);
    order.mass_g = Q::int(20_000);
    order.ingredients[2].is_liquid = true;
    order.scales = vec![
        plain_scale("kitchen", "5000", "1", "1"),
        plain_scale("hook", "60000", "200", "200"),
    ];
    let plan = plan(order);
    assert_eq!(inputs(&plan, 0), pairs(&[("oil", "210"), ("bran", "1060")]));
    assert!(codes(&plan).is_empty());
}

/// One mistake, one finding: the dilution is planned as if there were a scale.
#[test]
fn without_a_scale_only_that_is_said() {
    let mut order = order(&[("maize", 99_990), ("selenium", 10)]);
    order.scales.clear();
    let plan = plan(order);
    assert_eq!(codes(&plan), ["weigh/coarse"]);
    assert_eq!(
        kinds(&plan.batches[0]),
        ["dilute", "dilute", "preblend", "heap", "final"]
    );
}
