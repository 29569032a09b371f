//! The parts of a sheet around its weighing table.

use maud::{Markup, PreEscaped, html};

use super::{Place, Sheet, Text, apart};
use crate::sheet::picture::Picture;
use crate::sheet::svg::svg;
use crate::sheet::{Fact, Label, Section, Steps, Totals};

/// What the sheet is of.
pub(super) fn head(place: &Place<'_>, sheet: &Sheet) -> Markup {
    html! {
        header {
            h1 id=(place.id("title")) { (place.label(&sheet.title)) }
            @if let Some(subtitle) = &sheet.subtitle { p.subtitle dir="auto" { (Text(subtitle)) } }
            (facts(&sheet.facts))
        }
    }
}

/// A fact without a value has a line to write on.
fn facts(facts: &[Fact]) -> Markup {
    html! {
        @if !facts.is_empty() {
            dl.facts {
                @for fact in facts {
                    div {
                        dt { (Text(&fact.what)) }
                        @if fact.value.is_empty() { dd.by-hand {} } @else { dd { (apart(&fact.value)) } }
                    }
                }
            }
        }
    }
}

/// A heading with sentences.
pub(super) fn section(place: &Place<'_>, section: &Section, class: &str) -> Markup {
    html! {
        section class=(class) aria-labelledby=(place.id(class)) {
            h2 id=(place.id(class)) { (Text(&section.heading)) }
            @for line in &section.lines { p.line dir="auto" { (Text(line)) } }
        }
    }
}

/// What is done, in its order. The numbers are written, since sentences refer to them.
pub(super) fn steps(place: &Place<'_>, steps: &Steps) -> Markup {
    html! {
        section.steps aria-labelledby=(place.id("mix")) {
            h2 id=(place.id("mix")) { (Text(&steps.heading)) }
            ol role="list" {
                @for step in &steps.steps {
                    li value=(step.number) data-step=[step.id.as_deref().map(Text)] {
                        span.number aria-hidden="true" { (step.number) }
                        p dir="auto" {
                            (Text(&step.text))
                            @if let Some(output) = &step.output {
                                " " strong.output { "→ " (apart(output)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The dilution, in a box of its own that can be moved sideways on a small screen.
pub(super) fn picture(place: &Place<'_>, picture: &Picture) -> Markup {
    html! {
        figure.picture { (PreEscaped(svg(picture, &place.id("picture")))) }
    }
}

/// What goes in, in one column that adds up.
pub(super) fn totals(place: &Place<'_>, totals: &Totals) -> Markup {
    html! {
        section.totals aria-labelledby=(place.id("totals")) {
            h2 id=(place.id("totals")) { (Text(&totals.heading)) }
            table {
                tbody.all {
                    @for row in &totals.rows {
                        tr { th scope="row" { (place.label(&row.what)) } td { (apart(&row.value)) } }
                    }
                }
                tbody.together {
                    tr { th scope="row" { (Text(&totals.together.what)) } td { (apart(&totals.together.value)) } }
                }
            }
            @for line in &totals.in_parts { p.in-parts dir="auto" { (Text(line)) } }
        }
    }
}

/// What is cut out and tied to the bag.
pub(super) fn label(place: &Place<'_>, label: &Label) -> Markup {
    html! {
        section.label aria-labelledby=(place.id("label")) {
            h2 id=(place.id("label")) { (Text(&label.heading)) }
            div.cut {
                @if let Some(alarm) = &label.alarm { p.alarm { (Text(alarm)) } }
                p.title { (place.label(&label.title)) }
                (facts(&label.facts))
                @for line in &label.lines { p.line dir="auto" { (Text(line)) } }
            }
        }
    }
}
