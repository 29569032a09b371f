//! At work: what is ticked and typed stays, what is out of range is said, and what was done can be copied.

use serde_json::{Value, json};

use super::driver::Browser;
use super::tool::Shed;

const HENS: &str = "examples/small/hens.trug";

fn message(browser: &Browser, id: &str) -> String {
    let script =
        format!("return document.querySelector('[data-weighing={id}] .message').textContent");
    browser.run(&script).as_str().unwrap().to_owned()
}

fn typed(id: &str) -> String {
    format!("[data-weighing={id}] .typed")
}

#[test]
fn ticks_and_weights_stay_after_a_reload() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    browser.open(&shed.page(HENS, &[]));
    browser.click("[data-weighing=w1] .tick");
    browser.click("[data-weighing=w2] label");
    browser.write(&typed("w3"), "490");
    browser.write(".by input", "N. and M.");
    browser.reload();
    let kept = browser.run(
        "return [document.querySelectorAll('.tick:checked').length,
             document.querySelector('[data-weighing=w3] .typed').value,
             document.querySelector('.by input').value,
             document.querySelector('.left').textContent,
             document.querySelector('.not-kept').hidden]",
    );
    assert_eq!(kept, json!([2, "490", "N. and M.", "6 to weigh", true]));
}

#[test]
fn another_plan_begins_anew() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.open(&shed.page(HENS, &[]));
    browser.click("[data-weighing=w1] .tick");
    browser.open(&shed.page(HENS, &["--batch", "20kg"]));
    let ticked = browser.run("return document.querySelectorAll('.tick:checked').length");
    assert_eq!(ticked, json!(0));
}

#[test]
fn clearing_asks_first() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.open(&shed.page(HENS, &[]));
    browser.click("[data-weighing=w1] .tick");
    browser.write(&typed("w1"), "90");
    browser.click("button.clear");
    assert!(browser.has_prompt());
    browser.accept_prompt();
    let state = "return [document.querySelectorAll('.tick:checked').length,
        document.querySelector('.typed').value, localStorage.length]";
    assert_eq!(browser.run(state), json!([0, "", 0]));
}

#[test]
fn a_weight_that_is_out_of_range_is_said() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    browser.open(&shed.page(HENS, &[]));
    // Salt: 89 to 91 g. Maize: 5.165 to 5.375 kg.
    for (id, weight, is_fine) in [
        ("w1", "91", true),
        ("w1", "91.0001", false),
        ("w1", "88,9", false),
        ("w1", "९०", true),
        ("w1", "٩٠٫٥", true),
        ("w4", "5.375", true),
        ("w4", "5,165", true),
        ("w4", "5.3751", false),
        ("w4", "5270", false),
    ] {
        browser.run(&format!(
            "document.querySelector('{}').value = ''",
            typed(id)
        ));
        browser.write(&typed(id), weight);
        let message = message(&browser, id);
        assert_eq!(message.is_empty(), is_fine, "{weight}: {message}");
        assert!(
            is_fine || message.contains(if id == "w1" { "89" } else { "5.165" }),
            "{message}"
        );
    }
}

#[test]
fn what_is_no_number_is_said() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    browser.open(&shed.page(HENS, &[]));
    for weight in [
        "ninety", "9 0", "-90", "1.2.3", "1,2.3", "9e1", ".", "90 g", "0x5a",
    ] {
        browser.run(&format!(
            "document.querySelector('{}').value = ''",
            typed("w1")
        ));
        browser.write(&typed("w1"), weight);
        assert_eq!(message(&browser, "w1"), "not a number", "{weight}");
    }
}

#[test]
fn all_weighed_is_said() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.open(&shed.page(HENS, &[]));
    browser.run("document.querySelectorAll('.tick').forEach(it => it.click())");
    let left = browser.run("return document.querySelector('.left').textContent");
    assert_eq!(left, json!("All weighed."));
}

fn record(browser: &Browser) -> String {
    browser.click("button.copy");
    let text = browser.run("return document.querySelector('textarea.text').value");
    text.as_str().unwrap().to_owned()
}

#[test]
fn what_was_done_is_copied_as_a_record_the_tool_reads() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let file = "examples/river-farm/rations.trug";
    browser.open(&shed.page(file, &["laying-mash"]));
    browser.write(".by input", "N. \"the miller\" \\ # लता");
    browser.run(
        "document.querySelectorAll('.tick').forEach((it, rank) => { if (rank % 2) it.click(); })",
    );
    for (id, weight) in [
        ("w1", "120,5"),
        ("w3", "३००"),
        ("w7", "19.99"),
        ("w5", "much"),
    ] {
        browser.write(&typed(id), weight);
    }
    let record = record(&browser);
    assert!(
        record.starts_with("record laying-mash-2026-11-25-1 of laying-mash\n"),
        "{record}"
    );
    for line in [
        "  made           2026-11-25 by \"N. \"\"the miller\"\" \\ # लता\"",
        "  batch          120.0413 kg",
        "  weighed        choline-60 120.5 g",
        "  weighed        salt 300 g",
        "  weighed        methionine-99 121.3 g  # ticked, no weight typed",
        "  weighed        maize 19.99 kg lot MZ-31  # outside 10.1 to 10.5 kg",
        "  # not weighed: duck-premix 300 g lot DP-12  # not a number: much",
        "  # not weighed: fish-meal 6 kg lot FM-07",
    ] {
        assert!(
            record.lines().any(|it| it == line),
            "no {line:?} in\n{record}"
        );
    }
    let records = format!(
        "{}\n{record}",
        shed.text("examples/river-farm/records.trug")
    );
    shed.put("examples/river-farm/records.trug", &records);
    let checked = shed.run(&["check", "examples/river-farm", "--today", "2026-11-25"]);
    let told = String::from_utf8_lossy(&checked.stdout).into_owned();
    assert!(checked.status.success(), "{told}\n{record}");
    let tidy = shed.run(&["tidy", "--check", "examples/river-farm/records.trug"]);
    assert!(tidy.status.success(), "{record}");
}

#[test]
fn without_scripts_boxes_are_ticked_and_no_button_promises_more() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    browser.tool(
        "Emulation.setScriptExecutionDisabled",
        &json!({"value": true}),
    );
    browser.open(&shed.page(HENS, &[]));
    browser.click("[data-weighing=w1] label");
    // Questions of the driver still run; scripts of the page do not.
    browser.tool(
        "Emulation.setScriptExecutionDisabled",
        &json!({"value": false}),
    );
    let seen = browser.run(
        "return [document.querySelectorAll('.tick:checked').length,
             [...document.querySelectorAll('button')].filter(it => it.getClientRects().length).length,
             document.querySelector('.not-kept').getClientRects().length > 0]",
    );
    assert_eq!(seen, json!([1, 0, true]));
}

#[test]
fn a_refused_store_is_said() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    let source = json!({"source":
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });"});
    browser.tool("Page.addScriptToEvaluateOnNewDocument", &source);
    browser.open(&shed.page(HENS, &[]));
    browser.click("[data-weighing=w1] label");
    let seen = browser.run(
        "return [document.querySelector('.not-kept').hidden, document.querySelector('.left').textContent]",
    );
    assert_eq!(seen, json!([false, "8 to weigh"]));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_hostile_label_does_nothing() {
    let (shed, browser) = (Shed::new(), Browser::phone());
    let hens = shed.text(HENS);
    for label in [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "' onclick='alert(1)' x='",
        "]]><svg onload=alert(1)>",
        "--></style></title></textarea><iframe srcdoc='<script>alert(1)</script>'></iframe>",
        "javascript:alert(1)",
    ] {
        let farm = hens.replace("\"Maize, ground\"", &format!("\"{label}\""));
        let farm = farm.replace("\"Laying mash, forty hens\"", &format!("\"{label}\""));
        shed.put("hostile.trug", &farm);
        browser.open(&shed.page("hostile.trug", &[]));
        browser.click("[data-weighing=w3] label");
        assert!(!browser.has_prompt(), "{label}");
        let shown =
            browser.run("return document.querySelector('[data-weighing=w3] label').textContent");
        assert_eq!(shown, Value::from(label));
        assert_eq!(browser.complaints(), Vec::<String>::new(), "{label}");
    }
}
