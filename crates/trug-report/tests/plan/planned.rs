//! Orders of every kind planned, printed as plan/1 and asked of the verifier, which shares no code with the planner;
//! and whatever is then changed in a mass is caught.

#[path = "../../../trug-plan/tests/support/mod.rs"]
pub(crate) mod support;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use serde_json::Value;
use trug_findings::Source;
use trug_model::Q;
use trug_plan::order::{MixesIn, Order};
use trug_plan::verify::verify;
use trug_report::json::to_json;
use trug_report::plan::{PlanAbout, plan_csv, plan_document, verified};
use trug_report::sheet::{Copies, booklet, booklet_text};
use trug_report::speech::Speech;

/// The same orders every time; more of them for a longer look: `CASES=20000 cargo test`.
pub(crate) fn cases(usual: u32) -> ProptestConfig {
    let asked = std::env::var("CASES")
        .ok()
        .and_then(|cases| cases.parse().ok());
    ProptestConfig {
        cases: asked.unwrap_or(usual),
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    }
}

fn about(sources: &[Source]) -> PlanAbout<'_> {
    PlanAbout {
        sources,
        file: "rations/river.trug".to_owned(),
        today: "2026-11-25".to_owned(),
        ..PlanAbout::default()
    }
}

/// What a text could have ordered: names stand for one thing.
fn written(mut order: Order) -> Order {
    for (rank, scale) in order.scales.iter_mut().enumerate() {
        scale.name = format!("{}-{rank}", scale.name);
    }
    for (rank, vessel) in order.vessels.iter_mut().enumerate() {
        vessel.name = format!("{}-{rank}", vessel.name);
    }
    order
}

/// The model plans nothing whose shares are not the whole.
fn is_whole(order: &Order) -> bool {
    let shares = order.ingredients.iter().filter(|it| !it.on_top);
    shares.map(|it| &it.share).sum::<Q>() == Q::ONE && order.mass_g.is_positive()
}

/// The plan as it is printed.
fn printed(order: Order) -> Result<Value, TestCaseError> {
    let sources = [Source::new("rations/river.trug", "ration river-layer\n")];
    let about = about(&sources);
    let plan = trug_plan::plan(written(order));
    let document = plan_document(&plan, &about);
    let sheets = booklet(&[(&plan, &about)], Speech::english(), Copies::EachBatch);
    prop_assert!(booklet_text(&sheets, 80).contains("MIX"));
    prop_assert!(plan_csv(&plan, &about).starts_with("kind,"));
    verified(&document)
        .map_err(|breaches| TestCaseError::fail(format!("{breaches:#?}\n{}", to_json(&document))))
}

proptest! {
    #![proptest_config(cases(10_000))]

    #[test]
    fn plans_of_sensible_farms_keep_every_rule(order in support::sensible(0..=9)) {
        printed(order)?;
    }
}

proptest! {
    #![proptest_config(cases(1_000))]

    /// Floors of all sizes, so that there are many batches, which differ in their lots.
    #[test]
    fn plans_of_sensible_farms_with_lots_keep_every_rule(
        order in support::sensible(0..=5), drawn in support::lots(), odd in 0..=999_i64, floor in 20..=300_i64,
    ) {
        let mut order = support::with_lots(order, &drawn, odd);
        order.method.mixes_in = MixesIn::Floor(Some(Q::int(floor * 1000)));
        printed(order)?;
    }
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn plans_of_any_order_keep_every_rule(order in support::order().prop_filter("whole", is_whole)) {
        printed(order)?;
    }

    #[test]
    fn plans_of_any_order_with_lots_keep_every_rule(
        order in support::order().prop_filter("whole", is_whole), drawn in support::lots(), odd in 0..=999_i64,
    ) {
        printed(support::with_lots(order, &drawn, odd))?;
    }

    /// A gram more or less, anywhere in what is weighed, mixed or summed.
    #[test]
    fn a_gram_is_never_lost(order in support::sensible(0..=9), which: prop::sample::Index, is_more: bool) {
        let plan = printed(order)?;
        let masses = masses(&plan, "");
        let pointer = which.get(&masses);
        let mut other = plan.clone();
        let value = other.pointer_mut(pointer).unwrap();
        let grams = Q::decimal(value.as_str().unwrap()).unwrap();
        let changed = if is_more { grams + Q::ONE } else { grams - Q::ONE };
        *value = Value::from(changed.to_string());
        prop_assert!(!verify(&other).is_empty(), "{}", pointer);
    }
}

/// The places of all masses that were not given.
fn masses(value: &Value, at: &str) -> Vec<String> {
    match value {
        Value::Object(fields) => fields
            .iter()
            .filter(|(name, _)| *name != "given")
            .flat_map(|(name, field)| masses(field, &format!("{at}/{name}")))
            .collect(),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .flat_map(|(rank, item)| masses(item, &format!("{at}/{rank}")))
            .collect(),
        Value::String(_) if at.contains("_g") => vec![at.to_owned()],
        _ => Vec::new(),
    }
}
