//! A booklet as one HTML file that needs nothing else: to print, and to tick on a phone beside the heap.
//!
//! Style and script are real files, named in the page's own policy by their hashes, so that nothing else in the page
//! can act. Every text goes through [`Text`]: what a label says is never markup and never steers the line.

mod crowding;
mod doses;
mod parts;
mod record;
mod weighing;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{Booklet, DayOrder, Draft, Sheet};
use crate::page::policy;
use crate::page::text::{Text, is_right_to_left};
use crowding::Crowding;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(
    include_str!("../page/base.css"),
    include_str!("html/sheet.css")
);

/// What the page does where scripts run.
const SCRIPT: &str = include_str!("html/sheet.js");

/// The booklet as a page.
#[must_use]
pub fn booklet_html(booklet: &Booklet) -> String {
    let direction = is_right_to_left(&booklet.phrases).then_some("rtl");
    let page = html! {
        (DOCTYPE)
        html lang=(Text(&booklet.phrases)) dir=[direction] {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy::policy(STYLE, Some(SCRIPT)));
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (Text(&booklet.title)) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                @if let Some(draft) = draft_of_all(booklet) { (mark(draft, "every-page", "mark")) }
                main {
                    @if let Some(day) = &booklet.day { (day_order(day, booklet.sheets.len())) }
                    @for (rank, sheet) in booklet.sheets.iter().enumerate() {
                        (sheet_of(&Place { number: rank + 1, language: &booklet.language }, sheet, booklet))
                    }
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    let mut page = page.into_string();
    page.push('\n');
    page
}

/// Where in the page something stands, for the ids that must differ, and the language of its labels.
struct Place<'a> {
    /// The sheet's number, from 1.
    number: usize,
    /// The language of the labels.
    language: &'a str,
}

impl Place<'_> {
    /// The id of a part of the sheet.
    fn id(&self, part: &str) -> String {
        format!("b{}-{part}", self.number)
    }

    /// A text in the language of the labels, kept apart from what stands around it.
    fn label(&self, label: &str) -> Markup {
        html! { bdi lang=(Text(self.language)) { (Text(label)) } }
    }
}

/// A number or a short text, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

/// The draft's words, where nothing in the booklet may be mixed: then the mark can stand still on every page.
fn draft_of_all(booklet: &Booklet) -> Option<&Draft> {
    let first = booklet.sheets.first()?.draft.as_ref()?;
    let all = booklet.sheets.iter().all(|sheet| sheet.draft.is_some());
    all.then_some(first)
}

/// The word across the page, behind what is to be read, as wide as the page in any language. The band says it too.
///
/// It follows a path, since a browser that prints does not repeat what is turned.
fn mark(draft: &Draft, class: &str, id: &str) -> Markup {
    html! {
        div class={ "mark " (class) } aria-hidden="true" {
            svg viewBox="0 0 1000 1000" fill="none" stroke="#bbb" stroke-width="4" font-size="250" font-weight="bold" {
                path id=(id) d="M140 960L970 170" stroke="none" {}
                text {
                    textPath href={ "#" (id) } textLength="1100" lengthAdjust="spacingAndGlyphs" {
                        (Text(&draft.word))
                    }
                }
            }
        }
    }
}

fn day_order(day: &DayOrder, sheets: usize) -> Markup {
    let has_one_sheet_each = day.rows.len() == sheets;
    html! {
        section.day aria-labelledby="day" {
            h1 id="day" { (Text(&day.heading)) }
            table {
                thead { tr { @for column in &day.columns { th scope="col" { (Text(column)) } } } }
                tbody {
                    @for (rank, row) in day.rows.iter().enumerate() {
                        tr { @for (column, cell) in row.iter().enumerate() {
                            td {
                                @if column == 1 && has_one_sheet_each {
                                    a href={ "#b" (rank + 1) } { (apart(cell)) }
                                } @else {
                                    (apart(cell))
                                }
                            }
                        } }
                    }
                }
            }
        }
    }
}

/// One batch. What is ticked is kept under the hash of all that the sheet says, so that another plan begins anew.
fn sheet_of(place: &Place<'_>, sheet: &Sheet, booklet: &Booklet) -> Markup {
    let body = sheet_body(place, sheet, draft_of_all(booklet).is_none());
    let key = policy::hex(&format!("{}\n{}", place.number, body.0));
    let crowding = Crowding::of(sheet);
    let words = &sheet.record.words;
    html! {
        article id={ "b" (place.number) } class={
                "sheet " (crowding.class())
                @if crowding.has_long_picture(sheet) { " long-picture" }
                @if sheet.draft.is_some() { " is-draft" }
            }
            aria-labelledby=(place.id("title"))
            data-key=(key)
            data-ration=(Text(&sheet.ration))
            data-record=(Text(&sheet.record.name))
            data-day=(Text(&sheet.record.day))
            data-batch=(Text(&sheet.record.batch))
            data-word-copied=(Text(&words.copied))
            data-word-clear-sure=(Text(&words.clear_sure))
            data-word-outside=(Text(&words.outside))
            data-word-unreadable=(Text(&words.unreadable))
            data-word-left=(Text(&words.left))
            data-word-all-done=(Text(&words.all_done))
            data-word-not-weighed=(Text(&words.not_weighed))
            data-word-only-ticked=(Text(&words.only_ticked))
            { (body) }
    }
}

fn sheet_body(place: &Place<'_>, sheet: &Sheet, marks_itself: bool) -> Markup {
    html! {
        @if let Some(draft) = &sheet.draft {
            @if marks_itself { (mark(draft, "this-sheet", &place.id("mark"))) }
            div.draft role="note" {
                p dir="auto" { strong { (Text(&draft.word)) } " " (Text(&draft.why)) }
            }
        }
        div.body {
            (parts::head(place, sheet))
            @if let Some(beware) = &sheet.beware { (parts::section(place, beware, "beware")) }
            (weighing::table(place, sheet))
            div.below {
                (parts::steps(place, &sheet.mix))
                div.beside {
                    (parts::picture(place, &sheet.picture))
                    (parts::totals(place, &sheet.totals))
                }
                @if let Some(doses) = &sheet.doses { (doses::section(place, doses)) }
                @if let Some(found) = &sheet.found { (parts::section(place, found, "found")) }
                div.end {
                    p.defers dir="auto" { (Text(&sheet.defers)) }
                    (parts::label(place, &sheet.label))
                }
            }
            (record::section(place, &sheet.record))
        }
    }
}
