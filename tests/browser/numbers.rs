//! The numbers on paper, by the tool's own PDF and by a browser's print, are those of the document programs read.

use serde_json::Value;
use trug_tests::readings::{Reading, in_plan, in_text};

use super::driver::{Browser, PAPERS};
use super::tool::{EXAMPLES, Shed};

/// What is read off every side of a print, as a person reads: line by line.
fn readings_of(shed: &Shed, print: &[u8], to: &str) -> Vec<Reading> {
    in_text(&shed.lines_of(print), to)
}

fn planned(shed: &Shed, plan: &[&str]) -> Vec<Reading> {
    let mut typed = vec!["plan"];
    typed.extend(plan);
    typed.extend(["--as", "json", "--today", "2026-11-25"]);
    let document: Value = serde_json::from_slice(&shed.run(&typed).stdout).unwrap();
    in_plan(&document, true)
}

#[test]
fn the_pdf_tells_what_the_document_tells() {
    let shed = Shed::new();
    let crowded = [("crowded.trug", "crowded-mash")];
    for (file, ration) in EXAMPLES.into_iter().chain(crowded) {
        for (language, to) in [("en", "to"), ("fr", "à"), ("hi", "से")] {
            for paper in ["a4", "letter"] {
                let plan = vec![file, ration];
                let mut typed = vec!["plan"];
                typed.extend(&plan);
                typed.extend(["--as", "pdf", "--in", language, "--paper", paper]);
                typed.extend(["--today", "2026-11-25"]);
                let pdf = shed.run(&typed).stdout;
                let read = readings_of(&shed, &pdf, to);
                assert_eq!(read, planned(&shed, &plan), "{typed:?}");
            }
        }
    }
}

#[test]
fn a_pdf_for_every_batch_tells_the_same_each_time() {
    let shed = Shed::new();
    let plan = [
        "examples/river-farm/rations.trug",
        "laying-mash",
        "--batch",
        "700kg",
    ];
    let mut typed = vec!["plan"];
    typed.extend(plan);
    typed.extend(["--as", "pdf", "--today", "2026-11-25"]);
    let read = readings_of(&shed, &shed.run(&typed).stdout, "to");
    let told = planned(&shed, &plan);
    assert!(told.len() > 20);
    assert_eq!(read, told);
}

#[test]
fn the_printed_page_tells_what_the_document_tells() {
    let (shed, browser) = (Shed::new(), Browser::wide());
    for (file, ration) in EXAMPLES {
        browser.open(&shed.page(file, &[ration]));
        for paper in PAPERS {
            let read = readings_of(&shed, &browser.print(paper), "to");
            let told = planned(&shed, &[file, ration]);
            assert_eq!(read, told, "{file} {ration} on {}", paper.name);
        }
    }
}
