//! Nothing lies over anything else, on a phone, on a screen and on paper.

use serde_json::{Value, json};

use super::driver::Browser;
use super::tool::{EXAMPLES, Shed};

/// What overlaps or leaves its box, in words.
const FAULTS: &str = r#"
    const faults = [];
    const name = (it) => (it.className.baseVal ?? it.className) + ' "' + it.textContent.trim().slice(0, 40) + '"';
    const shown = (it) => it.getClientRects().length > 0;
    const meet = (a, b, slack) =>
        Math.min(a.right, b.right) - Math.max(a.left, b.left) > slack &&
        Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > slack;
    const apart = (elements, slack, rect) => {
        elements.forEach((one, rank) => elements.slice(rank + 1).forEach((other) => {
            if (meet(rect(one), rect(other), slack)) faults.push(name(one) + ' over ' + name(other));
        }));
    };
    const box = (it) => it.getBoundingClientRect();
    for (const row of document.querySelectorAll('tr')) apart([...row.children].filter(shown), 1, box);
    for (const part of document.querySelectorAll('.sheet, .body, .below, .beside, .end, header, .facts, .field')) {
        apart([...part.children].filter(it => shown(it) && !it.matches('.mark, .left')), 1, box);
    }
    apart([...document.querySelectorAll('.tick, .typed, button')].filter(shown), 0.5, box);
    for (const svg of document.querySelectorAll('svg')) {
        // A box holds the room above the letters too.
        const ink = (it) => {
            const of = it.getBoundingClientRect();
            const above = of.height * 0.2;
            return { left: of.left, right: of.right, top: of.top + above, bottom: of.bottom - above };
        };
        apart([...svg.querySelectorAll('text')], 0.5, ink);
        const ground = box(svg);
        for (const text of svg.querySelectorAll('text')) {
            const of = box(text);
            if (of.left < ground.left - 1 || of.right > ground.right + 1) faults.push(name(text) + ' leaves the picture');
        }
    }
    const walker = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const node = walker.currentNode;
        const block = node.parentElement.closest('td, th, p, li, dd, dt, h1, h2, button, .left');
        if (!block || node.parentElement.closest('svg') || !shown(block)) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const part of range.getClientRects()) {
            const of = box(block);
            if (part.left < of.left - 1.5 || part.right > of.right + 1.5) faults.push(name(block) + ' holds not its text');
        }
    }
    const page = box(document.querySelector('main'));
    for (const it of document.querySelectorAll('main *')) {
        if (!shown(it) || it.closest('svg, .mark')) continue;
        if (box(it).left < page.left - 1 || box(it).right > page.right + 1) faults.push(name(it) + ' leaves the page');
    }
    return [...new Set(faults)];
"#;

fn faultless(browser: &Browser, what: &str) {
    assert_eq!(browser.run(FAULTS), json!([]), "{what}");
}

fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    EXAMPLES
        .into_iter()
        .chain([("crowded.trug", "crowded-mash")])
}

#[test]
fn a_fault_is_found() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.open(&shed.page("examples/small/hens.trug", &[]));
    for fault in [
        "document.querySelector('.mass').style.cssText = 'position:relative;left:80px'",
        "document.querySelector('svg text').setAttribute('x', document.querySelectorAll('svg text')[1].getAttribute('x'));
         document.querySelector('svg text').setAttribute('y', document.querySelectorAll('svg text')[1].getAttribute('y'))",
        "document.querySelector('.totals').style.cssText = 'margin-top:-60px'",
        "document.querySelector('.weighing .scale').style.cssText = 'white-space:nowrap';
         document.querySelector('.weighing .scale bdi').textContent = 'x'.repeat(300)",
    ] {
        browser.reload();
        faultless(&browser, "as it is");
        browser.run(fault);
        assert_ne!(browser.run(FAULTS), json!([]), "{fault}");
    }
}

#[test]
fn a_phone_shows_it_without_moving_sideways() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    for (file, ration) in all() {
        browser.open(&shed.page(file, &[ration]));
        let width = browser.run("return document.documentElement.scrollWidth");
        assert_eq!(width, json!(360), "{ration}");
        faultless(&browser, ration);
    }
}

#[test]
fn boxes_are_as_large_as_a_thumb() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    browser.open(&shed.page("examples/small/hens.trug", &[]));
    let sizes = browser.run(
        "return [...document.querySelectorAll('.tick, .typed, button, .by input, .made input')]
             .map(it => it.getBoundingClientRect()).map(it => Math.min(it.width, it.height))",
    );
    let sizes: Vec<f64> = sizes
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_f64)
        .collect();
    assert!(sizes.len() > 20, "{sizes:?}");
    assert!(sizes.iter().all(|size| *size >= 44.0), "{sizes:?}");
}

#[test]
fn a_screen_shows_it_without_faults() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    for (file, ration) in all() {
        browser.open(&shed.page(file, &[ration]));
        faultless(&browser, ration);
    }
}

#[test]
fn paper_shows_it_without_faults() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.tool("Emulation.setEmulatedMedia", &json!({"media": "print"}));
    // 190 mm and 196 mm: what is inside the margins of A4 and of Letter.
    for width in [718, 741] {
        let metrics =
            json!({"width": width, "height": 1000, "deviceScaleFactor": 1, "mobile": false});
        browser.tool("Emulation.setDeviceMetricsOverride", &metrics);
        for (file, ration) in all() {
            browser.open(&shed.page(file, &[ration]));
            faultless(&browser, &format!("{ration} at {width}"));
        }
    }
}

#[test]
fn every_language_keeps_its_place() {
    let (shed, phone) = (Shed::new(), Browser::phone());
    for language in ["es", "fr", "hi", "pt", "sw"] {
        let page = shed.page(
            "examples/river-farm/rations.trug",
            &["laying-mash", "--in", language],
        );
        phone.open(&page);
        assert_eq!(
            phone.run("return document.documentElement.scrollWidth"),
            json!(360),
            "{language}"
        );
        faultless(&phone, language);
    }
}
