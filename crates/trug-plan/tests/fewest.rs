//! No fewer steps would do: every way of mixing few small ingredients is tried, one step after the other, without the planner's own search.

#![expect(clippy::unwrap_used, reason = "a plan that lacks it fails the test")]

mod support;

use proptest::prelude::*;
use trug_findings::Place;
use trug_model::Q;
use trug_plan::order::{Apart, Order};
use trug_plan::plan;
use trug_plan::plan::{Class, Plan, StepKind};

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_fewer_steps_would_do(order in support::sensible(1..=5)) {
        let plan = check(order)?;
        prop_assert!(plan.batches[0].least);
    }

    #[test]
    fn nor_where_two_are_apart(order in support::sensible(2..=4), times in 2..=40_i64) {
        let mut order = order;
        order.ingredients[0].apart.push(Apart { from: 1, times: Q::int(times), place: Place::default() });
        check(order)?;
    }
}

/// Something in a tub: its mass in tenths of a gram, and what is in it.
#[derive(Clone, Debug)]
struct Tub {
    mass: i128,
    holds: u32,
}

struct Bench {
    /// The pre-blend, and how far one step dilutes.
    output: i128,
    ratio: i128,
    /// What carrier may enter early in all, and in which amounts.
    early: i128,
    amounts: Vec<i128>,
    /// Two that are apart, and what each must be in.
    apart: Option<[i128; 2]>,
}

fn check(order: Order) -> Result<Plan, TestCaseError> {
    let plan = plan(order);
    let errors: Vec<_> = plan
        .findings
        .iter()
        .filter(|found| found.code.name.starts_with("mix/"))
        .collect();
    if !errors.is_empty() {
        return Ok(plan);
    }
    let (bench, tubs) = bench(&plan);
    let batch = &plan.batches[0];
    let blends = batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::PreBlend)
        .count();
    let inner = batch
        .steps
        .iter()
        .filter(|step| matches!(step.kind, StepKind::Together | StepKind::Dilute))
        .count();
    let taken = inner + blends - 1;
    // Three steps and more make too many ways to try.
    let fewer = taken
        .saturating_sub(1)
        .min(if tubs.len() > 4 { 1 } else { 2 });
    if taken > 0 {
        prop_assert!(
            !bench.can_blend(&tubs, fewer, 0),
            "{fewer} steps would do\n{}",
            support::show(&plan)
        );
    }
    Ok(plan)
}

fn tenths(mass: &Q) -> i128 {
    let (over, under) = (mass * &Q::int(10)).parts().unwrap();
    assert_eq!(under, 1, "{mass}");
    over
}

fn bench(plan: &Plan) -> (Bench, Vec<Tub>) {
    let batch = &plan.batches[0];
    let is_small = |rank: usize| plan.kinds[rank].class == Class::Small;
    let tubs = batch
        .amounts
        .iter()
        .filter(|amount| is_small(amount.ingredient))
        .map(|amount| Tub {
            mass: tenths(&amount.weighed_g),
            holds: 1 << amount.ingredient,
        })
        .collect();
    let blends = batch
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::PreBlend);
    let output = blends.map(|step| tenths(&step.output_g)).sum();
    let in_blend = |id: &str| {
        let step = batch.steps.iter().find(|step| step.id == id).unwrap();
        !matches!(step.kind, StepKind::Heap | StepKind::Final)
    };
    let largest = (0..plan.kinds.len())
        .filter(|rank| plan.kinds[*rank].class == Class::Bulk)
        .max_by(|a, b| {
            plan.order.ingredients[*a]
                .share
                .cmp(&plan.order.ingredients[*b].share)
                .then(b.cmp(a))
        })
        .unwrap();
    let first = batch
        .weighings
        .iter()
        .filter(|weighing| weighing.ingredient == largest && in_blend(&weighing.step))
        .map(|weighing| tenths(&weighing.mass_g))
        .sum::<i128>();
    // As much as two significant figures give and some scale reads within 10 %.
    let mut amounts = Vec::new();
    let mut least = i128::MAX;
    for scale in &plan.order.scales {
        let division = tenths(&scale.division_g);
        let low = (division * 10).max(tenths(&scale.minimum_g));
        least = least.min(low);
        let mut unit = 1;
        while unit < first {
            amounts.extend(
                (10..100)
                    .map(|figure| figure * unit)
                    .filter(|amount| *amount >= low && *amount < first && amount % division == 0),
            );
            unit *= 10;
        }
    }
    amounts.sort_unstable();
    amounts.dedup();
    let apart = plan.order.ingredients[0].apart.first().map(|apart| {
        let reach = |rank: usize| tenths(&(&batch.amounts[rank].weighed_g * &apart.times));
        [reach(0), reach(1)]
    });
    let bench = Bench {
        output,
        ratio: tenths(&plan.order.method.dilutes) / 10,
        early: first - least,
        amounts,
        apart,
    };
    (bench, tubs)
}

impl Bench {
    fn can_blend(&self, tubs: &[Tub], steps: usize, entered: i128) -> bool {
        let all: Vec<&Tub> = tubs.iter().collect();
        let is_ready = tubs.iter().all(|tub| tub.mass * self.ratio >= self.output);
        if is_ready && self.may_meet(&all) {
            return true;
        }
        if steps == 0 {
            return false;
        }
        (1..1_u32 << tubs.len()).any(|chosen| {
            let is_in = |rank: &usize| chosen >> rank & 1 == 1;
            let group: Vec<&Tub> = (0..tubs.len())
                .filter(is_in)
                .map(|rank| &tubs[rank])
                .collect();
            if !self.may_meet(&group) {
                return false;
            }
            let mass: i128 = group.iter().map(|tub| tub.mass).sum();
            let most = group.iter().map(|tub| tub.mass).min().unwrap() * self.ratio;
            let none = [0];
            let amounts = none.iter().chain(&self.amounts);
            let mut usable = amounts
                .take_while(|amount| mass + **amount <= most && entered + **amount <= self.early);
            usable.any(|amount| {
                let mut next: Vec<Tub> = (0..tubs.len())
                    .filter(|rank| !is_in(rank))
                    .map(|rank| tubs[rank].clone())
                    .collect();
                let holds = group.iter().map(|tub| tub.holds).sum();
                next.push(Tub {
                    mass: mass + amount,
                    holds,
                });
                self.can_blend(&next, steps - 1, entered + amount)
            })
        })
    }

    fn may_meet(&self, group: &[&Tub]) -> bool {
        let Some(reach) = self.apart else { return true };
        let with = |rank: usize| group.iter().find(|tub| tub.holds >> rank & 1 == 1);
        match (with(0), with(1)) {
            (Some(one), Some(other)) if one.holds != other.holds => {
                one.mass >= reach[0] && other.mass >= reach[1]
            }
            _ => true,
        }
    }
}
