//! Orders of every kind planned and drawn: every weighing of the sheet is on the page, and a batch is one page.

use crate::orders;
use crate::support::{self, pages_text, sheet};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_findings::Source;
use trug_pdf::{Paper, pdf};
use trug_plan::order::Order;
use trug_report::plan::PlanAbout;
use trug_report::sheet::{Booklet, Copies, booklet};
use trug_report::speech::Speech;

/// The same orders every time.
fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    }
}

fn sheets(order: Order, tag: &str) -> Booklet {
    let sources = [Source::new("rations.trug", "ration mash\n")];
    let about = PlanAbout {
        sources: &sources,
        today: "2026-11-25".to_owned(),
        ..PlanAbout::default()
    };
    let plan = trug_plan::plan(order);
    let speech = Speech::of(tag).unwrap();
    booklet(&[(&plan, &about)], &speech, Copies::EachBatch)
}

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn every_weighing_is_on_the_page(order in orders::sensible(0..=9), language in 0..6_usize, is_letter: bool) {
        let mut booklet = sheets(order, ["en", "es", "fr", "hi", "pt", "sw"][language]);
        booklet.sheets.truncate(4);
        booklet.day = None;
        let paper = if is_letter { Paper::Letter } else { Paper::A4 };
        let drawn = pdf(&booklet, paper).unwrap();
        let read = lopdf::Document::load_mem(&drawn.bytes).unwrap();
        let pages = pages_text(&read);
        prop_assert_eq!(pages.len(), booklet.sheets.len());
        for (sheet, page) in booklet.sheets.iter().zip(&pages) {
            let mut rest = page.as_str();
            for row in sheet.weigh.blocks.iter().flat_map(|block| &block.rows) {
                for wanted in [&row.mass, &row.range] {
                    // Figures: how words of other scripts come out is up to who reads them.
                    for word in wanted.split(' ').filter(|word| word.is_ascii()) {
                        let at = rest.find(word);
                        prop_assert!(at.is_some(), "{} of weighing {} is not in\n{}", word, row.number, rest);
                        rest = &rest[at.unwrap() + word.len()..];
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(cases(24))]

    /// Whatever stands in a text, the sheet is drawn, and what is weighed is on it.
    #[test]
    fn any_text_is_drawn(texts in prop::collection::vec(any::<String>(), 6)) {
        let mut sheet = sheet(4, 5, 1, 3);
        let [title, what, lot, caution, step, fact] = texts.as_slice() else { unreachable!() };
        sheet.title.clone_from(title);
        sheet.label.title.clone_from(title);
        for row in sheet.weigh.blocks.iter_mut().flat_map(|block| &mut block.rows) {
            row.what.clone_from(what);
            row.lot = Some(lot.clone());
            row.cautions.push(caution.clone());
        }
        sheet.mix.steps[0].text.clone_from(step);
        sheet.facts[0].value.clone_from(fact);
        let drawn = pdf(&support::booklet(vec![sheet]), Paper::A4).unwrap();
        let read = lopdf::Document::load_mem(&drawn.bytes).unwrap();
        let text = support::text(&read);
        for range in ["1.176 to 1.224 kg", "5.176 to 5.224 kg"] {
            prop_assert!(text.contains(range), "{} is not in\n{}", range, text);
        }
    }
}
