//! Thousands of orders planned, printed as plan/1, and asked of the verifier, which shares no code with the planner.

#[path = "../../../trug-plan/tests/support/mod.rs"]
mod support;

use proptest::prelude::*;
use trug_findings::{Place, Source};
use trug_plan::order::Order;
use trug_report::plan::{PlanAbout, plan_csv, plan_document, plan_text, verified};

fn about(sources: &[Source]) -> PlanAbout<'_> {
    PlanAbout {
        sources,
        file: "rations/river.trug".to_owned(),
        label: None,
        today: "2026-11-25".to_owned(),
        group: None,
        days: None,
        draft: false,
        cautions: Vec::new(),
        findings: Vec::new(),
        doses: Vec::new(),
        labels: std::collections::BTreeMap::new(),
    }
}

fn check(order: Order) -> Result<(), TestCaseError> {
    let sources = [Source::new("rations/river.trug", "ration river-layer\n")];
    let about = about(&sources);
    let plan = trug_plan::plan(order);
    let document = plan_document(&plan, &about);
    if let Err(breaches) = verified(&document) {
        let json = trug_report::json::to_json(&document);
        return Err(TestCaseError::fail(format!("{breaches:#?}\n{json}")));
    }
    prop_assert!(!plan_text(&plan, &about, 80).is_empty());
    prop_assert!(!plan_csv(&plan, &about).is_empty());
    let _ = Place::default();
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(500) })]

    #[test]
    fn sensible_orders_make_plans_that_keep_every_rule(order in support::sensible(0..=9)) {
        check(order)?;
    }

    #[test]
    fn any_order_makes_a_plan_that_keeps_every_rule(order in support::order()) {
        check(order)?;
    }
}
