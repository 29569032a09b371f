//! What a farm keeps of its days, of whatever texts it has: what is bought, what went where, how even it was, what changed.

use jiff::civil::Date;
use trug_compare::{Comparison, Side, compare};
use trug_evenness::{sampling, tests_of};
use trug_findings::FileId;
use trug_model::{Farm, Q};
use trug_record::ledger::Ledger;
use trug_record::trace::{find, names, trace};
use trug_report::buy::{ShoppingList, buy_csv, buy_document, buy_html, buy_text};
use trug_report::compare::{
    Compared, compare_document, compare_html, compare_markdown, compare_text,
};
use trug_report::evenness::{
    Tested, evenness_document, evenness_html, evenness_text, sampling_document, sampling_html,
    sampling_text, why_untested,
};
use trug_report::json::to_json;
use trug_report::trace::{trace_csv, trace_document, trace_html, trace_text};
use trug_store::{Judged, buying};

use super::change_text;
use super::farms::{farm, texts};
use super::held::seed_of;
use crate::answer::TODAY;

/// Days that are fed.
const DAYS: u32 = 14;
/// Samples that are taken of a batch.
const SAMPLES: usize = 10;
/// Things that are traced, and rations that are sampled: a fuzzer has no time for more.
const MOST: usize = 4;
/// Columns of a terminal, and of a narrow one.
const WIDTHS: [usize; 2] = [80, 40];

/// Buys for a farm, traces what it has, tests its samples, and compares it with itself and with one that was changed.
pub fn keeping(bytes: &[u8]) {
    let before = farm(&texts(bytes));
    bought(&before);
    traced(&before);
    tested(&before);
    let same = farm(&texts(bytes));
    assert!(
        compared(&before, &same).is_empty(),
        "a farm differs from itself"
    );
    let after = farm(&texts(&change_text(bytes, seed_of(bytes))));
    let (forth, back) = (compared(&before, &after), compared(&after, &before));
    assert_eq!(
        (forth.rations.len(), forth.is_empty()),
        (back.rations.len(), back.is_empty()),
        "what changed one way has not changed the other"
    );
}

fn today() -> Date {
    TODAY.parse().unwrap_or_default()
}

fn is_json(document: &str) {
    let read = serde_json::from_str::<serde_json::Value>(document);
    assert!(read.is_ok(), "{document}");
}

fn is_page(page: &str) {
    assert!(page.contains("</html>"), "{page}");
}

/// As many fields in every row.
fn is_table(table: &str) {
    let mut rows = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes());
    for row in rows.records() {
        assert!(row.is_ok(), "{row:?} of {table}");
    }
}

fn bought(farm: &Farm) {
    let found = farm.check();
    let files: Vec<FileId> = farm.files().collect();
    let buying = buying(farm, &files, Judged::Found(&found), today(), DAYS);
    let list = ShoppingList {
        buying: &buying,
        sources: farm.sources(),
    };
    for row in &buying.rows {
        let bought = row.purchase.as_ref().map(|purchase| &purchase.mass);
        let there = [&row.on_hand, &row.coming].into_iter().chain(bought);
        let gone = [&row.needed, &row.expired, &row.left];
        assert_eq!(
            there.sum::<Q>(),
            gone.into_iter().sum(),
            "what is there of {} does not go anywhere: {row:?}",
            row.name
        );
        assert!(!row.left.is_negative(), "{row:?}");
    }
    for width in WIDTHS {
        assert!(!buy_text(&list, width).is_empty());
    }
    is_json(&to_json(&buy_document(&list)));
    is_table(&buy_csv(&list));
    is_page(&buy_html(&list));
}

fn traced(farm: &Farm) {
    let ledger = Ledger::of(farm);
    for name in names(&ledger, None).iter().take(MOST) {
        let Some(start) = find(&ledger, None, name) else {
            panic!("{name} is offered, and not there");
        };
        let traced = trace(&ledger, start, today());
        for width in WIDTHS {
            assert!(!trace_text(&traced, farm.sources(), width).is_empty());
        }
        is_json(&to_json(&trace_document(&traced, farm.sources())));
        is_table(&trace_csv(&traced, farm.sources()));
        is_page(&trace_html(&traced, farm.sources()));
    }
}

fn tested(farm: &Farm) {
    for &file in farm.asked() {
        let view = farm.open(file);
        let mut tests: Vec<Tested<'_>> = Vec::new();
        for named in farm.records(file) {
            let Some(record) = view.record(&named) else {
                continue;
            };
            for test in tests_of(&view, &record) {
                match test {
                    Ok(test) => tests.push(Tested::of(test, &view)),
                    Err(untested) => assert!(!why_untested(&untested, &named.of).is_empty()),
                }
            }
        }
        for test in &tests {
            is_json(&to_json(&evenness_document(test)));
        }
        if !tests.is_empty() {
            assert!(!evenness_text(&tests, WIDTHS[0]).is_empty());
            is_page(&evenness_html(&tests));
        }
        for ration in farm.rations(file).iter().take(MOST) {
            let Some(places) = sampling(&view, &ration.name, None, SAMPLES) else {
                continue;
            };
            is_json(&to_json(&sampling_document(&places, farm.sources())));
            let all = [(places, farm.sources())];
            assert!(!sampling_text(&all, WIDTHS[0]).is_empty());
            is_page(&sampling_html(&all));
        }
    }
}

/// What changed, drawn in every form.
fn compared(before: &Farm, after: &Farm) -> Comparison {
    let comparison = compare(&Side::new(before, ""), &Side::new(after, ""), None);
    let compared = Compared {
        comparison: &comparison,
        before: "before",
        after: "after",
        ration: None,
        today: Some(TODAY),
    };
    for width in WIDTHS {
        assert!(!compare_text(&compared, width).is_empty());
    }
    assert!(!compare_markdown(&compared).is_empty());
    is_json(&to_json(&compare_document(&compared)));
    is_page(&compare_html(&compared));
    comparison
}
