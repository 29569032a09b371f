//! On paper: one side for every batch, on A4 as on Letter.

use super::driver::{Browser, PAPERS};
use super::tool::{EXAMPLES, Shed};

fn pages(browser: &Browser, page: &std::path::Path, wanted: usize) {
    browser.open(page);
    for paper in PAPERS {
        assert_eq!(
            browser.pages(paper),
            wanted,
            "{} on {}",
            page.display(),
            paper.name
        );
    }
}

#[test]
fn every_example_is_one_side() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    for (file, ration) in EXAMPLES {
        pages(&browser, &shed.page(file, &[ration]), 1);
    }
}

#[test]
fn twenty_ingredients_are_one_side() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    pages(&browser, &shed.page("crowded.trug", &[]), 1);
}

#[test]
fn ticked_and_filled_in_it_is_still_one_side() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.open(&shed.page("crowded.trug", &[]));
    browser.run(
        "document.querySelectorAll('.tick').forEach(it => it.click());
         document.querySelectorAll('.typed').forEach(it => { it.value = '123.456'; });",
    );
    for paper in PAPERS {
        assert_eq!(browser.pages(paper), 1, "{}", paper.name);
    }
}

#[test]
fn batches_have_a_side_each_after_the_order_of_the_day() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let file = "examples/river-farm/rations.trug";
    let page = shed.page(file, &["laying-mash", "--batch", "400kg"]);
    browser.open(&page);
    let sheets = browser
        .run("return document.querySelectorAll('.sheet').length")
        .as_u64();
    let sheets = usize::try_from(sheets.unwrap()).unwrap();
    assert!(sheets > 2, "{sheets}");
    pages(&browser, &page, sheets + 1);
}

#[test]
fn a_draft_says_so_across_its_side() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let hens = shed.text("examples/small/hens.trug");
    shed.put(
        "draft.trug",
        &hens.replace("salt           0.3 %", "salt           0.9 %"),
    );
    let page = shed.page("draft.trug", &["--draft"]);
    pages(&browser, &page, 1);
    let mark = browser.run(
        "const mark = document.querySelector('.mark.every-page');
         return [mark.textContent, getComputedStyle(mark).position]",
    );
    assert_eq!(mark, serde_json::json!(["DRAFT", "fixed"]));
}

#[test]
fn every_side_of_a_long_draft_says_so() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let mash = shed.text("crowded.trug");
    shed.put("draft.trug", &mash.replace("0.25 %", "0.9 %"));
    browser.open(&shed.page("draft.trug", &["--draft"]));
    browser.run("document.querySelector('.sheet').classList.replace('tight', 'roomy')");
    for paper in PAPERS {
        let sides = shed.words_of(&browser.print(paper));
        assert!(sides.len() > 1, "{sides:?}");
        for side in sides {
            assert!(
                side.trim_start().starts_with("DRAFT Not to be mixed"),
                "{side}"
            );
        }
    }
}

#[test]
fn rows_are_read_at_arms_length() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let media = serde_json::json!({"media": "print"});
    browser.tool("Emulation.setEmulatedMedia", &media);
    for (file, ration) in EXAMPLES
        .into_iter()
        .chain([("crowded.trug", "crowded-mash")])
    {
        browser.open(&shed.page(file, &[ration]));
        let small = browser.run(
            "const least = (selector) => Math.min(...[...document.querySelectorAll(selector)]
                 .map(it => parseFloat(getComputedStyle(it).fontSize) * 0.75));
             const all = [...document.querySelectorAll('main *')].filter(it =>
                 it.getClientRects().length && !it.closest('svg') && [...it.childNodes].some(child =>
                     child.nodeType === 3 && child.data.trim()));
             return [least('.weighing > td:not(.actual)'),
                 Math.min(...all.map(it => parseFloat(getComputedStyle(it).fontSize) * 0.75))]",
        );
        let rows = small[0].as_f64().unwrap();
        let rest = small[1].as_f64().unwrap();
        assert!(rows >= 9.99, "{ration}: rows of {rows} pt");
        assert!(rest >= 7.49, "{ration}: letters of {rest} pt");
    }
}
