//! A trace as one flat table (RFC 4180): a row for every lot in every record and every group that was fed of it, then a row
//! for every withdrawal that runs, and one for everything that could not be followed.

use trug_findings::Source;
use trug_model::Q;
use trug_record::trace::{FedTraced, Holds, RecordTraced, Trace};

use super::words::{animals, gap, gap_record, gap_word, why};
use crate::findings::file_name;
use crate::table::{Row, written};

/// The columns, in an order that stays; a row leaves empty what it does not have.
const COLUMNS: [&str; 22] = [
    "kind",
    "certain",
    "lot",
    "of",
    "mass_g",
    "through",
    "record",
    "file",
    "ration",
    "made",
    "by",
    "batch_g",
    "group",
    "animals",
    "from",
    "to",
    "at_most_each_g",
    "product",
    "ingredient",
    "until",
    "gap",
    "says",
];

/// The trace as CSV. No text cell starts with a sign that a spreadsheet would take for a formula.
#[must_use]
pub fn trace_csv(trace: &Trace, sources: &[Source]) -> String {
    let mut rows = Vec::new();
    for record in &trace.records {
        let none: [Option<&Holds>; 1] = [None];
        let holds: Vec<Option<&Holds>> = match record.holds.as_slice() {
            [] => none.to_vec(),
            all => all.iter().map(Some).collect(),
        };
        for held in holds {
            let row = of_record(record, held, sources);
            if record.fed.is_empty() {
                rows.push(row);
            } else {
                rows.extend(record.fed.iter().map(|fed| fed_row(row.clone(), fed)));
            }
        }
    }
    for running in &trace.running {
        let mut row = Row::of(&COLUMNS);
        row.put("kind", "withdrawal");
        row.text("record", &running.record);
        row.text("group", &running.group);
        row.text("product", &running.product);
        row.text("ingredient", &running.ingredient);
        let day =
            |day: Option<jiff::civil::Date>| day.map_or_else(String::new, |it| it.to_string());
        row.put("from", &day(running.from));
        row.put("to", &day(running.last_fed));
        row.put("until", &day(running.until));
        row.text("says", &why(running, trace.today));
        rows.push(row);
    }
    for one in &trace.gaps {
        let mut row = Row::of(&COLUMNS);
        row.put("kind", "gap");
        row.put("gap", gap_word(one));
        row.text("record", gap_record(one).unwrap_or_default());
        row.text("says", &gap(one));
        rows.push(row);
    }
    written(&COLUMNS, &rows)
}

fn grams(kg: &Q) -> String {
    (kg * &Q::int(1000)).to_string()
}

fn of_record(record: &RecordTraced, held: Option<&Holds>, sources: &[Source]) -> Row {
    let mut row = Row::of(&COLUMNS);
    row.put("kind", "fed");
    let is_certain = held.map_or(record.is_certain, |held| held.is_certain);
    row.put("certain", if is_certain { "true" } else { "false" });
    if let Some(held) = held {
        row.text("lot", &held.name);
        row.text("of", &held.of);
        row.put("mass_g", &held.kg.as_ref().map(grams).unwrap_or_default());
        row.text("through", &held.through.join("; "));
    }
    row.text("record", &record.name);
    row.text("file", file_name(record.place, sources));
    row.text("ration", &record.of);
    row.put(
        "made",
        &record.made.map(|it| it.to_string()).unwrap_or_default(),
    );
    row.text("by", record.by.as_deref().unwrap_or_default());
    row.put(
        "batch_g",
        &record.batch.as_ref().map(grams).unwrap_or_default(),
    );
    row
}

fn fed_row(mut row: Row, fed: &FedTraced) -> Row {
    row.text("group", &fed.group);
    row.text("animals", &animals(&fed.animals));
    row.put(
        "from",
        &fed.from.map(|it| it.to_string()).unwrap_or_default(),
    );
    row.put("to", &fed.to.map(|it| it.to_string()).unwrap_or_default());
    row.put(
        "at_most_each_g",
        &fed.each.as_ref().map(grams).unwrap_or_default(),
    );
    row
}
