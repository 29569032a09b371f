//! A plan tells the same numbers in every form: text, page and table against the document programs read.

#[path = "../../crates/trug-plan/tests/support/mod.rs"]
mod support;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_findings::Source;
use trug_model::Q;
use trug_plan::order::Order;
use trug_plan::plan::Plan;
use trug_report::plan::{PlanAbout, plan_csv, plan_document};
use trug_report::sheet::html::booklet_html;
use trug_report::sheet::{Booklet, Copies, booklet, booklet_text};
use trug_report::speech::Speech;
use trug_tests::readings::{in_csv, in_html, in_plan, in_text};

/// The word between two numbers, by language.
const TO: [(&str, &str); 6] = [
    ("en", "to"),
    ("es", "a"),
    ("fr", "à"),
    ("hi", "से"),
    ("pt", "a"),
    ("sw", "hadi"),
];

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    })]

    #[test]
    fn every_form_tells_the_same(order in support::sensible(0..=9), language in 0..TO.len()) {
        let plan = trug_plan::plan(named(order));
        let sources = [Source::new("rations.trug", "ration mash\n")];
        let about = PlanAbout {
            sources: &sources,
            today: "2026-11-25".to_owned(),
            ..PlanAbout::default()
        };
        let document = serde_json::to_value(plan_document(&plan, &about)).unwrap_or_default();
        let (tag, to) = TO[language];
        let sheets = |copies| sheets(&plan, &about, tag, copies);
        let once = in_plan(&document, false);
        let each = in_plan(&document, true);
        prop_assert_eq!(&in_csv(&plan_csv(&plan, &about)), &once);
        prop_assert_eq!(&in_text(&booklet_text(&sheets(Copies::One), 80), to), &once);
        prop_assert_eq!(&in_html(&booklet_html(&sheets(Copies::EachBatch)), to), &each);
    }

    #[test]
    fn the_totals_add_up_on_the_page(order in support::sensible(0..=9)) {
        let plan = trug_plan::plan(named(order));
        let sheets = sheets(&plan, &PlanAbout::default(), "en", Copies::One);
        for (sheet, batch) in sheets.sheets.iter().zip(&plan.batches) {
            let kilograms = |words: &str| {
                Q::decimal(words.trim_end_matches(" kg")).unwrap_or_default()
            };
            let sum: Q = sheet.totals.rows.iter().map(|row| kilograms(&row.value)).sum();
            prop_assert_eq!(&sum, &kilograms(&sheet.totals.together.value));
            prop_assert_eq!(&sum * &Q::int(1000), batch.total_g.clone());
        }
    }
}

fn sheets(plan: &Plan, about: &PlanAbout<'_>, tag: &str, copies: Copies) -> Booklet {
    let speech = Speech::of(tag);
    let speech = speech.as_ref().unwrap_or(Speech::english());
    booklet(&[(plan, about)], speech, copies)
}

/// What a text could have ordered: names stand for one thing.
fn named(mut order: Order) -> Order {
    for (rank, scale) in order.scales.iter_mut().enumerate() {
        scale.name = format!("{}-{rank}", scale.name);
    }
    for (rank, vessel) in order.vessels.iter_mut().enumerate() {
        vessel.name = format!("{}-{rank}", vessel.name);
    }
    order
}
