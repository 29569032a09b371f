//! The sheet of a plan: as a page, as PDF, and in other languages.

use std::process::Output;

use crate::farm::{Farm, TODAY};
use crate::mash::{STORE, farm, mash, of_store};

fn bytes(farm: &Farm, args: &[&str]) -> Output {
    farm.command(args).output().unwrap()
}

#[test]
fn a_page_needs_nothing_else() {
    let farm = farm();
    let page = farm.run(&["plan", "mash.trug", "--as", "html"]).ends(0);
    assert!(page.out.starts_with("<!DOCTYPE html>"));
    assert!(page.out.contains("Content-Security-Policy"));
    let own = page
        .out
        .replace("http://www.w3.org/2000/svg", "")
        .replace("url(#", "");
    for outside in ["http://", "https://", "src=", "@import", "url("] {
        assert!(!own.contains(outside), "{outside}");
    }
    let to_file = ["plan", "mash.trug", "--as", "html", "--out", "a.html"];
    assert_eq!(farm.run(&to_file).ends(0).out, "");
    assert_eq!(farm.text("a.html"), page.out);
}

#[test]
fn a_pdf_is_the_same_bytes_every_time() {
    let farm = farm();
    let args = ["plan", "mash.trug", "--as", "pdf"];
    let pdf = bytes(&farm, &args);
    assert_eq!(pdf.status.code(), Some(0));
    assert!(pdf.stdout.starts_with(b"%PDF-1.7"));
    let on_one_thread = ["plan", "mash.trug", "--as", "pdf", "--threads", "1"];
    assert_eq!(bytes(&farm, &args).stdout, pdf.stdout);
    assert_eq!(bytes(&farm, &on_one_thread).stdout, pdf.stdout);
    let letter = ["plan", "mash.trug", "--as", "pdf", "--paper", "letter"];
    assert_ne!(bytes(&farm, &letter).stdout, pdf.stdout);
}

#[test]
fn letters_that_the_pdf_cannot_draw_are_said() {
    let text = of_store(&mash("mash")).replace("\"Mash\"", "\"Mash 米\"");
    let farm = Farm::new(&[("store.trug", STORE), ("mash.trug", &text)]);
    let pdf = bytes(&farm, &["plan", "mash.trug", "--as", "pdf"]);
    assert_eq!(pdf.status.code(), Some(0));
    let says = String::from_utf8(pdf.stderr).unwrap();
    assert!(says.contains('米') && says.contains("--as html"), "{says}");
    // A page has whatever letters the machine that shows it has.
    let page = farm.run(&["plan", "mash.trug", "--as", "html"]).ends(0);
    assert!(page.err.is_empty() && page.out.contains("Mash 米"));
}

#[test]
fn a_draft_says_so_in_every_form() {
    let farm = farm();
    for form in ["text", "html"] {
        let args = ["plan", "salty.trug", "--draft", "--as", form];
        let plan = farm.run(&args).ends(1);
        assert!(plan.out.contains("DRAFT"), "{form}");
        assert!(plan.err.contains("DRAFT"), "{form}");
    }
    let pdf = bytes(&farm, &["plan", "salty.trug", "--draft", "--as", "pdf"]);
    assert_eq!(pdf.status.code(), Some(1));
    farm.run(&["plan", "salty.trug", "--as", "html"]).ends(1);
}

#[test]
fn the_sheet_is_in_the_language_asked_for() {
    let store = STORE.replace(
        "\"Maize, ground\"",
        "\"Maize, ground\"\n  label fr       \"Maïs moulu\"\n  label si       \"ඉරිඟු\"",
    );
    let farm = Farm::new(&[
        ("store.trug", &store),
        ("mash.trug", &of_store(&mash("mash"))),
    ]);
    let text = |language: &str| farm.run(&["plan", "mash.trug", "--in", language]).ends(0);
    for (language, weigh) in [
        ("en", "WEIGH"),
        ("es", "PESE"),
        ("fr", "PESER"),
        ("hi", "तौलें"),
        ("pt", "PESE"),
        ("sw", "PIMA"),
    ] {
        let said = text(language);
        assert!(said.out.contains(weigh), "{language}: {}", said.out);
        assert_eq!(said.err, "", "{language}");
        let widest = said.out.lines().map(|line| line.chars().count()).max();
        assert!(
            widest <= Some(80) || language == "hi",
            "{language}: {widest:?}"
        );
    }
    assert!(text("fr").out.contains("Maïs moulu"));
    assert!(text("fr-BF").out.contains("Maïs moulu"));
    assert!(text("sw").out.contains("Maize, ground"));
    let sinhala = text("si");
    assert!(sinhala.out.contains("ඉරිඟු") && sinhala.out.contains("WEIGH"));
    assert!(sinhala.err.contains("no phrases in si"), "{}", sinhala.err);
    farm.run(&["plan", "mash.trug", "--in", "the farmer's"])
        .fails("not the tag of a language");
}

#[test]
fn what_programs_read_is_in_no_language() {
    let farm = farm();
    for form in ["json", "jsonl", "csv"] {
        let plain = farm.run(&["plan", "mash.trug", "hen-mash", "--as", form]);
        let args = ["plan", "mash.trug", "hen-mash", "--as", form, "--in", "fr"];
        assert_eq!(farm.run(&args).ends(0).out, plain.ends(0).out);
    }
}

#[test]
fn the_label_says_until_when_the_feed_keeps() {
    let farm = farm();
    assert_eq!(TODAY, "2026-11-25");
    let text = farm.run(&["plan", "mash.trug", "hen-mash"]).ends(0).out;
    assert!(
        text.contains("keeps until 16 December 2026 (21 days)"),
        "{text}"
    );
    let mixed = farm.run(&["plan", "both.trug", "grit"]);
    assert!(mixed.out.contains("NOT A FEED"), "{mixed:#?}");
}
