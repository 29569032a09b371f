//! What must hold of every plan, checked on orders of every kind.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a plan that lacks it fails the test"
)]

mod support;

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use trug_model::Q;
use trug_plan::order::{AccuracyClass, Carry, Order, Scale};
use trug_plan::plan;
use trug_plan::plan::{Batch, Class, InputSource, Plan, Step, StepKind};

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_keeps_what_plans_must_keep(order in support::order()) {
        check(order);
    }

    #[test]
    fn sensible_farms_have_plans_without_errors_of_mixing(order in support::sensible(0..=9)) {
        let plan = check(order);
        let of_mixing = plan.findings.iter().filter(|found| found.code.name.starts_with("mix/"));
        let errors: Vec<_> = of_mixing.map(|found| &found.message).collect();
        prop_assert!(errors.is_empty(), "{errors:?}");
    }
}

fn check(order: Order) -> Plan {
    let plan = plan(order);
    for batch in &plan.batches {
        sums(&plan, batch);
        uses(batch);
        weighings(&plan, batch);
        ratios(&plan, batch);
        vessels(&plan, batch);
        apart(&plan, batch);
        carriers(&plan, batch);
        preblend(&plan, batch);
    }
    plan
}

fn has(plan: &Plan, code: &str) -> bool {
    plan.findings.iter().any(|found| found.code.name == code)
}

fn step<'a>(batch: &'a Batch, id: &str) -> &'a Step {
    batch.steps.iter().find(|step| step.id == id).unwrap()
}

fn sums(plan: &Plan, batch: &Batch) {
    let mut of_ingredient: BTreeMap<usize, Q> = BTreeMap::new();
    for weighing in &batch.weighings {
        assert!(weighing.mass_g.is_positive(), "{weighing:?}");
        assert!(
            step(batch, &weighing.step)
                .inputs
                .iter()
                .any(|input| input.source == InputSource::Weighing(weighing.id.clone()))
        );
        *of_ingredient.entry(weighing.ingredient).or_default() += &weighing.mass_g;
    }
    for amount in &batch.amounts {
        let weighed = of_ingredient
            .get(&amount.ingredient)
            .cloned()
            .unwrap_or_default();
        assert_eq!(weighed, amount.weighed_g);
        assert!(!amount.weighed_g.is_negative());
        assert_eq!(
            amount.ordered_g.is_positive(),
            amount.weighed_g.is_positive()
        );
    }
    let mut coarsest = Q::ZERO;
    for weighing in &batch.weighings {
        if let Some(scale) = weighing.scale {
            coarsest = coarsest.max(plan.order.scales[scale].division_g.clone());
        }
    }
    let ordered: Q = batch.amounts.iter().map(|amount| &amount.ordered_g).sum();
    let weighed: Q = batch.amounts.iter().map(|amount| &amount.weighed_g).sum();
    assert_eq!(weighed, batch.total_g);
    let off = (&ordered - &weighed).abs();
    assert!(
        off <= coarsest,
        "off by {off}, coarsest division {coarsest}"
    );
    assert_eq!(&weighed * &Q::int(i64::from(batch.times)), plan.weighed_g);
    assert_eq!(&ordered * &Q::int(i64::from(batch.times)), plan.ordered_g);
    for (rank, step) in batch.steps.iter().enumerate() {
        assert_eq!(step.id, format!("s{}", rank + 1));
        let inputs: Q = step.inputs.iter().map(|input| &input.mass_g).sum();
        assert_eq!(inputs, step.output_g);
    }
    if let Some(last) = batch.steps.last() {
        assert_eq!(last.output_g, batch.total_g);
    }
}

fn uses(batch: &Batch) {
    let mut seen = BTreeSet::new();
    let mut used = Vec::new();
    let mut weighed = 0;
    for step in &batch.steps {
        for input in &step.inputs {
            match &input.source {
                InputSource::Step(id) => {
                    assert!(seen.contains(id), "{id} is used before it is made");
                    assert_eq!(self::step(batch, id).output_g, input.mass_g);
                    used.push(id.clone());
                }
                InputSource::Weighing(id) => {
                    weighed += 1;
                    assert_eq!(
                        *id,
                        format!("w{weighed}"),
                        "weighings stand in the order of work"
                    );
                    let weighing = batch.weighings.iter().find(|one| one.id == *id).unwrap();
                    assert_eq!(weighing.mass_g, input.mass_g);
                    assert_eq!(weighing.step, step.id);
                }
            }
        }
        seen.insert(step.id.clone());
    }
    assert_eq!(weighed, batch.weighings.len());
    let once: BTreeSet<_> = used.iter().collect();
    assert_eq!(once.len(), used.len());
    assert_eq!(used.len() + 1, batch.steps.len().max(1));
}

fn error_of(scale: &Scale, load: &Q) -> Q {
    let limits = match scale.class {
        None => return scale.division_g.clone(),
        Some(AccuracyClass::I) => (50_000, 200_000),
        Some(AccuracyClass::II) => (5_000, 20_000),
        Some(AccuracyClass::III) => (500, 2_000),
        Some(AccuracyClass::IIII) => (50, 200),
    };
    let load = load / &scale.division_g;
    let times = 1 + i64::from(load > Q::int(limits.0)) + i64::from(load > Q::int(limits.1));
    Q::int(times) * &scale.division_g
}

fn weighings(plan: &Plan, batch: &Batch) {
    let mut errors: BTreeMap<usize, Q> = BTreeMap::new();
    for weighing in &batch.weighings {
        assert_eq!(weighing.loads_g.iter().sum::<Q>(), weighing.mass_g);
        assert!(weighing.from_g <= weighing.mass_g && weighing.mass_g <= weighing.to_g);
        *errors.entry(weighing.ingredient).or_default() += &weighing.error_g;
        let Some(scale) = weighing.scale else {
            assert!(has(plan, "weigh/coarse"));
            continue;
        };
        let scale = &plan.order.scales[scale];
        for mass in
            weighing
                .loads_g
                .iter()
                .chain([&weighing.from_g, &weighing.to_g, &weighing.mass_g])
        {
            assert!(
                (mass / &scale.division_g).is_whole(),
                "{mass} off the divisions of {scale:?}"
            );
        }
        for load in &weighing.loads_g {
            assert!(
                *load >= scale.minimum_g && *load <= scale.capacity_g,
                "{load} on {scale:?}"
            );
            assert!(
                plan.order
                    .method
                    .lift_g
                    .as_ref()
                    .is_none_or(|lift| load <= lift)
            );
        }
        let error: Q = weighing
            .loads_g
            .iter()
            .map(|load| error_of(scale, load))
            .sum();
        assert_eq!(error, weighing.error_g);
    }
    for (ingredient, error) in errors {
        let weighed = &batch.amounts[ingredient].weighed_g;
        if error > weighed * &plan.order.method.weigh {
            assert!(has(plan, "weigh/coarse"));
        }
    }
}

/// Ranks of the ingredients that are in an input.
fn contents(batch: &Batch, source: &InputSource) -> BTreeSet<usize> {
    match source {
        InputSource::Weighing(id) => {
            let weighing = batch.weighings.iter().find(|one| one.id == *id).unwrap();
            BTreeSet::from([weighing.ingredient])
        }
        InputSource::Step(id) => step(batch, id)
            .inputs
            .iter()
            .flat_map(|input| contents(batch, &input.source))
            .collect(),
    }
}

fn is_heap(batch: &Batch, source: &InputSource) -> bool {
    matches!(source, InputSource::Step(id) if step(batch, id).kind == StepKind::Heap)
}

fn ratios(plan: &Plan, batch: &Batch) {
    for step in &batch.steps {
        let needs = |source: &InputSource| {
            contents(batch, source)
                .iter()
                .any(|rank| plan.kinds[*rank].class != Class::Bulk)
        };
        let smallest = step
            .inputs
            .iter()
            .filter(|input| !(step.kind == StepKind::Final && is_heap(batch, &input.source)))
            .filter(|input| needs(&input.source))
            .map(|input| input.mass_g.clone())
            .min();
        let ratio = smallest.map(|smallest| &step.output_g / &smallest);
        if let Some(ratio) = &ratio {
            let is_kept = *ratio <= plan.order.method.dilutes;
            assert!(is_kept || has(plan, "mix/step"), "1 in {ratio} in {step:?}");
        }
        match step.kind {
            StepKind::Heap => assert_eq!(step.ratio, None),
            _ => assert_eq!(step.ratio, ratio),
        }
        let is_bulk =
            |source: &InputSource| matches!(source, InputSource::Weighing(_)) && !needs(source);
        let carries = step.inputs.iter().any(|input| is_bulk(&input.source));
        match step.kind {
            StepKind::Together => assert!(!carries && step.inputs.len() > 1),
            StepKind::Dilute => assert!(carries),
            _ => {}
        }
    }
    if !has(plan, "mix/step") && !batch.steps.is_empty() {
        let small = batch
            .weighings
            .iter()
            .any(|one| plan.kinds[one.ingredient].class == Class::Small);
        let last = batch.steps.last().unwrap().kind;
        assert!(!small || matches!(last, StepKind::Final | StepKind::PreBlend));
    }
}

fn vessels(plan: &Plan, batch: &Batch) {
    let used_by = |id: &str| {
        batch.steps.iter().position(|step| {
            step.inputs
                .iter()
                .any(|input| input.source == InputSource::Step(id.to_owned()))
        })
    };
    for (rank, step) in batch.steps.iter().enumerate() {
        if step.vessel == "floor" {
            if matches!(step.kind, StepKind::Together | StepKind::Dilute) {
                let code = if step.litres.is_some() {
                    "vessel/full"
                } else {
                    "vessel/density"
                };
                assert!(has(plan, code));
            }
            continue;
        }
        let alike: Vec<_> = plan
            .order
            .vessels
            .iter()
            .filter(|vessel| vessel.name == step.vessel)
            .collect();
        let litres = step
            .litres
            .clone()
            .expect("a vessel is only chosen by a known volume");
        let fits = |vessel: &&trug_plan::order::Vessel| litres <= &vessel.litres * &Q::ratio(7, 10);
        assert!(alike.iter().any(fits));
        let count: u32 = alike.iter().map(|vessel| vessel.count).sum();
        let taken = batch.steps[..=rank]
            .iter()
            .filter(|other| other.vessel == step.vessel)
            .filter(|other| used_by(&other.id).is_none_or(|user| user >= rank))
            .count();
        assert!(
            taken <= count as usize,
            "{} is used {taken} times at once",
            step.vessel
        );
    }
}

fn apart(plan: &Plan, batch: &Batch) {
    if has(plan, "mix/apart") {
        return;
    }
    for (rank, ingredient) in plan.order.ingredients.iter().enumerate() {
        for apart in &ingredient.apart {
            if apart.from == rank || apart.from >= plan.kinds.len() {
                continue;
            }
            let meeting = batch.steps.iter().find(|step| {
                let all = contents(batch, &InputSource::Step(step.id.clone()));
                all.contains(&rank) && all.contains(&apart.from)
            });
            let Some(meeting) = meeting else { continue };
            for one in [rank, apart.from] {
                if plan.kinds[one].class == Class::Bulk {
                    continue;
                }
                let mass = &batch.amounts[one].weighed_g;
                for input in &meeting.inputs {
                    if contents(batch, &input.source).contains(&one) {
                        assert!(input.mass_g >= mass * &apart.times);
                    }
                }
            }
        }
    }
}

fn carriers(plan: &Plan, batch: &Batch) {
    for step in &batch.steps {
        if matches!(
            step.kind,
            StepKind::Heap | StepKind::Final | StepKind::Liquid
        ) {
            continue;
        }
        for input in &step.inputs {
            if let InputSource::Weighing(id) = &input.source {
                let weighing = batch.weighings.iter().find(|one| one.id == *id).unwrap();
                let kind = plan.kinds[weighing.ingredient];
                assert!(kind.class == Class::Small || kind.may_carry);
                let order = &plan.order.ingredients[weighing.ingredient];
                assert!(kind.class == Class::Small || order.carry != Some(Carry::NotCarrier));
            }
        }
    }
}

fn preblend(plan: &Plan, batch: &Batch) {
    let small: Q = (0..plan.kinds.len())
        .filter(|rank| plan.kinds[*rank].class == Class::Small)
        .map(|rank| batch.amounts[rank].weighed_g.clone())
        .sum();
    if !small.is_positive() || has(plan, "mix/carrier") || has(plan, "mix/step") {
        return;
    }
    let made: Q = batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::PreBlend)
        .map(|step| &step.output_g)
        .sum();
    let method = &plan.order.method;
    let hundred = &plan.order.mass_g / &Q::int(i64::from(batch.times));
    let rule = (&method.preblend * &hundred)
        .max(&small * &Q::int(2))
        .max(&hundred / &method.dilutes)
        .min(hundred);
    let coarsest = plan
        .order
        .scales
        .iter()
        .map(|scale| scale.division_g.clone())
        .max()
        .unwrap_or_default();
    let slack = coarsest * Q::int(batch.weighings.len() as i64);
    assert!(made + slack >= rule, "the pre-blend is short of {rule}");
}
