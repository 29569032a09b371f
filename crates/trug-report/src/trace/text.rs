//! A trace for a person to read in a terminal.

use trug_findings::Source;
use trug_record::trace::{Kind, RecordTraced, Trace};

use super::at;
use super::words::{
    DECIDES, NO_GAPS, account, animals, fed, gaps, holds, none_running, of_start, record, running,
    searched, title,
};
use crate::words::{count, hanging, printable};

/// Narrower than this no sentence reads.
const LEAST_WIDTH: usize = 60;

/// The trace as text, `width` columns wide.
#[must_use]
pub fn trace_text(trace: &Trace, sources: &[Source], width: usize) -> String {
    let page = Page {
        trace,
        sources,
        width: width.max(LEAST_WIDTH),
    };
    let sections = [
        page.head(),
        page.lots(),
        page.records(),
        page.groups(),
        page.withdrawals(),
        page.gaps(),
        hanging("", &searched(trace), page.width),
    ];
    let sections: Vec<String> = sections.into_iter().filter(|it| !it.is_empty()).collect();
    printable(&sections.join("\n")).into_owned()
}

struct Page<'trace> {
    trace: &'trace Trace,
    sources: &'trace [Source],
    width: usize,
}

impl Page<'_> {
    fn hang(&self, heading: &str, text: &str) -> String {
        hanging(heading, text, self.width)
    }

    fn head(&self) -> String {
        let places = self.trace.start.places.iter();
        let places: Vec<String> = places.map(|place| at(*place, self.sources)).collect();
        let places = if places.is_empty() {
            String::new()
        } else {
            format!(" ({})", places.join(", "))
        };
        let mut text = self.hang("Trace of ", &format!("{}{places}", title(self.trace)));
        if let Some(says) = of_start(self.trace) {
            text.push_str(&self.hang("  ", &says));
        }
        text
    }

    fn lots(&self) -> String {
        if self.trace.lots.is_empty() {
            return String::new();
        }
        let mut text = String::from("Lots\n");
        for lot in &self.trace.lots {
            let declared = lot.lot.as_ref();
            let mut says = format!("{} of {}", lot.name, lot.of);
            if let Some(label) = declared.and_then(|lot| lot.label.as_ref()) {
                says.push_str(&format!(", {label}"));
            }
            if let Some(day) = declared.and_then(|lot| lot.received) {
                says.push_str(&format!(", received {day}"));
            }
            if let Some(day) = declared.and_then(|lot| lot.best_before) {
                says.push_str(&format!(", best before {day}"));
            }
            text.push_str(&self.hang("  ", &says));
            text.push_str(&self.hang("      ", &account(lot)));
        }
        text
    }

    fn records(&self) -> String {
        let records = &self.trace.records;
        let of = count(records.len(), "record", "records");
        let says = match self.trace.start.kind {
            Kind::Lot => "of it, the first day first",
            Kind::Record => "of it and of what it was mixed into",
            Kind::Group => "it was fed from, the first day first",
        };
        let mut text = format!("{of} {says}\n");
        for one in records {
            text.push_str(&self.record(one));
        }
        text
    }

    fn record(&self, one: &RecordTraced) -> String {
        let day = one
            .made
            .map_or_else(|| "no day".to_owned(), |day| day.to_string());
        let place = at(one.place, self.sources);
        let says = format!("{} ({place})", record(one));
        let mut text = self.hang(&format!("  {day:10}  "), &says);
        for held in &one.holds {
            text.push_str(&self.hang("              ", &holds(held)));
        }
        for fed_to in &one.fed {
            text.push_str(&self.hang("              ", &fed(fed_to)));
        }
        text
    }

    fn groups(&self) -> String {
        if self.trace.groups.is_empty() {
            return String::new();
        }
        let mut text = String::from("Groups\n");
        for group in &self.trace.groups {
            let label = group.label.as_ref();
            let label = label.map_or_else(String::new, |label| format!(" \"{label}\""));
            let animals = match animals(&group.animals) {
                none if none.is_empty() => "animals not written down".to_owned(),
                animals => animals,
            };
            let records = group.records.join(", ");
            let says = format!("{}{label}: {animals}; fed of {records}", group.name);
            text.push_str(&self.hang("  ", &says));
        }
        text
    }

    fn withdrawals(&self) -> String {
        let today = self.trace.today;
        let mut text = format!("Withdrawals running on {today}\n");
        for one in &self.trace.running {
            text.push_str(&self.hang("  ", &running(one, today)));
        }
        if self.trace.running.is_empty() {
            text.push_str(&self.hang("  ", &none_running(today)));
        }
        text.push_str(&self.hang("  caution: ", DECIDES));
        text
    }

    fn gaps(&self) -> String {
        let mut text = String::from("What could not be followed\n");
        for one in gaps(self.trace) {
            text.push_str(&self.hang("  - ", &one));
        }
        if self.trace.gaps.is_empty() {
            text.push_str(&self.hang("  ", NO_GAPS));
        }
        text
    }
}
