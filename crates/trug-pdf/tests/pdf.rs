//! Sheets drawn as PDF and read back.

mod support;

use lopdf::Document;
use support::{booklet, draft, sheet};
use trug_pdf::{Paper, Pdf, pdf};
use trug_report::sheet::Booklet;

/// Draws a booklet, and keeps the file for who wants to look at it.
fn drawn(name: &str, booklet: &Booklet, paper: Paper) -> (Pdf, Document) {
    let drawn = pdf(booklet, paper).unwrap();
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    std::fs::write(path, &drawn.bytes).unwrap();
    let read = Document::load_mem(&drawn.bytes).unwrap();
    (drawn, read)
}

#[test]
fn a_small_sheet_is_one_page() {
    let (_, read) = drawn("small", &booklet(vec![sheet(4, 5, 1, 3)]), Paper::A4);
    assert_eq!(read.get_pages().len(), 1);
}

#[test]
fn a_full_sheet_is_one_page() {
    let (_, read) = drawn("full", &booklet(vec![sheet(20, 28, 8, 15)]), Paper::A4);
    assert_eq!(read.get_pages().len(), 1);
}

#[test]
fn a_draft_says_so_on_every_page() {
    let mut sheet = sheet(20, 60, 20, 15);
    sheet.draft = Some(draft());
    let (_, read) = drawn("draft", &booklet(vec![sheet]), Paper::Letter);
    assert!(read.get_pages().len() > 1);
}
