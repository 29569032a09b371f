//! A trace as one HTML file that needs nothing else: to be printed, signed and sent.

use jiff::civil::Date;
use maud::{Markup, html};
use trug_findings::Source;
use trug_model::Q;
use trug_record::trace::{FedTraced, LotTraced, RecordTraced, Trace};

use super::at;
use super::words::{
    DECIDES, NO_GAPS, animals, gaps, holds, kilograms, none_running, of_start, running, searched,
    title,
};
use crate::page::still::still_page;
use crate::page::text::Text;

/// How the page looks, on a screen and on paper.
const STYLE: &str = concat!(include_str!("../page/base.css"), include_str!("trace.css"));

/// The trace as a page.
#[must_use]
pub fn trace_html(trace: &Trace, sources: &[Source]) -> String {
    let heading = format!("Trace of {}", title(trace));
    let content = html! {
        h1 { (apart(&heading)) }
        @if let Some(says) = of_start(trace) { p { (says) } }
        div.boxed {
            p { strong { "Withdrawals running on " (trace.today) } }
            @if trace.running.is_empty() {
                p { (none_running(trace.today)) }
            } @else {
                ul { @for one in &trace.running { li { (apart(&running(one, trace.today))) } } }
            }
            p { strong { "Caution: " } (DECIDES) }
        }
        @if !trace.lots.is_empty() { (lots(&trace.lots, sources)) }
        (records(&trace.records, sources))
        @if !trace.groups.is_empty() { (groups(trace)) }
        h2 { "What could not be followed" }
        @if trace.gaps.is_empty() {
            p { (NO_GAPS) }
        } @else {
            ul { @for one in gaps(trace) { li { (apart(&one)) } } }
        }
        p.about { (searched(trace)) }
    };
    still_page(&heading, STYLE, &content)
}

/// A text of the farm's, kept apart from what stands around it.
fn apart(words: &str) -> Markup {
    html! { bdi { (Text(words)) } }
}

fn day(day: Option<Date>) -> Markup {
    html! { @if let Some(day) = day { time datetime=(day) { (day) } } @else { "–" } }
}

fn kg(kg: Option<&Q>) -> Markup {
    html! { @if let Some(kg) = kg { (kilograms(kg)) } @else { "–" } }
}

fn lots(lots: &[LotTraced], sources: &[Source]) -> Markup {
    html! {
        h2 { "Lots" }
        div.wide { table {
            thead { tr {
                th scope="col" { "Lot" }
                th scope="col" { "Of" }
                th scope="col" { "Received" }
                th scope="col" { "Best before" }
                th.figure scope="col" { "Came" }
                th.figure scope="col" { "Weighed" }
                th.figure scope="col" { "Left" }
                th.figure scope="col" { "Not accounted for" }
            } }
            tbody { @for one in lots { (lot(one, sources)) } }
        } }
    }
}

fn lot(one: &LotTraced, sources: &[Source]) -> Markup {
    let declared = one.lot.as_ref();
    html! { tr {
        td {
            p { strong { (apart(&one.name)) } }
            @if let Some(lot) = declared {
                @if let Some(label) = &lot.label { p { (apart(label)) } }
                p { (apart(&at(lot.place, sources))) }
            } @else {
                p { "declared nowhere" }
            }
        }
        td { (apart(&one.of)) }
        td.day { (day(declared.and_then(|lot| lot.received))) }
        td.day { (day(declared.and_then(|lot| lot.best_before))) }
        td.figure { (kg(declared.and_then(|lot| lot.came.as_ref()))) }
        td.figure { (kg(Some(&one.weighed))) }
        td.figure { (kg(declared.and_then(|lot| lot.on_hand.as_ref()))) }
        td.figure { (kg(one.missing.as_ref())) }
    } }
}

fn records(records: &[RecordTraced], sources: &[Source]) -> Markup {
    html! {
        h2 { "Records" }
        @if records.is_empty() {
            p { "No record names it." }
        } @else {
            div.wide { table {
                thead { tr {
                    th scope="col" { "Made" }
                    th scope="col" { "Record" }
                    th.figure scope="col" { "Batch" }
                    th scope="col" { "Holds" }
                    th scope="col" { "Fed to" }
                } }
                tbody { @for one in records { (record(one, sources)) } }
            } }
        }
    }
}

fn record(one: &RecordTraced, sources: &[Source]) -> Markup {
    html! { tr {
        td.day { (day(one.made)) }
        td {
            p { strong { (apart(&one.name)) } @if !one.is_certain { " (possible)" } }
            p { (apart(&one.of)) }
            @if let Some(by) = &one.by { p { "by " (apart(by)) } }
            p { (apart(&at(one.place, sources))) }
        }
        td.figure { (kg(one.batch.as_ref())) }
        td { @for held in &one.holds { p { (apart(&holds(held))) } } }
        td {
            @for fed in &one.fed { (fed_to(fed)) }
            @if one.fed.is_empty() { "–" }
        }
    } }
}

/// From when to when, each day kept whole at the end of a line.
fn days(fed: &FedTraced) -> Markup {
    match (fed.from, fed.to) {
        (Some(_), Some(_)) => html! { "from " (day(fed.from)) " to " (day(fed.to)) },
        (Some(_), None) => html! { "from " (day(fed.from)) ", no end is written down" },
        (None, Some(_)) => html! { "to " (day(fed.to)) },
        (None, None) => html! { "no days are written down" },
    }
}

fn fed_to(fed: &FedTraced) -> Markup {
    let animals = animals(&fed.animals);
    html! {
        p {
            strong { (apart(&fed.group)) }
            @if !animals.is_empty() { " (" (apart(&animals)) ")" }
            ", " (days(fed))
            @if let Some(each) = &fed.each { "; at most " (kilograms(each)) " each" }
        }
    }
}

fn groups(trace: &Trace) -> Markup {
    html! {
        h2 { "Groups" }
        div.wide { table {
            thead { tr {
                th scope="col" { "Group" }
                th scope="col" { "Animals" }
                th scope="col" { "Fed of" }
            } }
            tbody { @for group in &trace.groups { tr {
                td {
                    strong { (apart(&group.name)) }
                    @if let Some(label) = &group.label { ", " (apart(label)) }
                }
                td { (apart(&animals(&group.animals))) }
                td { (apart(&group.records.join(", "))) }
            } } }
        } }
    }
}
