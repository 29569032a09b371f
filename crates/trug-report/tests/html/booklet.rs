//! A booklet as it is filled from a plan, with the words of one's choice.

use trug_report::sheet::picture::{Anchor, Picture, Point, Shape};
use trug_report::sheet::{
    Booklet, DayOrder, DoseColumns, DoseRow, Doses, Draft, Fact, Label, Record, RecordWords,
    Section, Sheet, StepLine, Steps, Totals, WeighingBlock, WeighingColumns, WeighingRow,
    WeighingTable,
};

/// A booklet of two sheets in which every text that can come from a user is this one.
pub(crate) fn of(text: &str) -> Booklet {
    Booklet {
        phrases: "en".to_owned(),
        language: "si".to_owned(),
        title: text.to_owned(),
        day: Some(DayOrder {
            heading: "Order of the day".to_owned(),
            columns: ["No.", "what", "how much", "see to"].map(str::to_owned),
            rows: vec![
                ["1", text, "120 kg", text].map(str::to_owned),
                ["2", text, "60 kg", ""].map(str::to_owned),
            ],
        }),
        sheets: vec![sheet(text), sheet(text)],
    }
}

fn fact(what: &str, value: &str) -> Fact {
    Fact {
        what: what.to_owned(),
        value: value.to_owned(),
    }
}

fn section(heading: &str, text: &str) -> Section {
    Section {
        heading: heading.to_owned(),
        lines: vec![text.to_owned(), format!("{text}\n{text}")],
    }
}

fn sheet(text: &str) -> Sheet {
    Sheet {
        ration: text.to_owned(),
        title: text.to_owned(),
        subtitle: Some(text.to_owned()),
        draft: Some(Draft {
            word: "DRAFT".to_owned(),
            why: text.to_owned(),
        }),
        facts: vec![fact("mass", "120 kg"), fact("written", text)],
        beware: Some(section("BEWARE", text)),
        weigh: weigh(text),
        mix: Steps {
            heading: "MIX".to_owned(),
            steps: vec![
                StepLine {
                    id: Some("s1".to_owned()),
                    number: 1,
                    text: text.to_owned(),
                    output: Some("120 kg".to_owned()),
                },
                StepLine {
                    id: None,
                    number: 2,
                    text: text.to_owned(),
                    output: None,
                },
            ],
        },
        picture: picture(text),
        totals: Totals {
            heading: "TOTALS".to_owned(),
            rows: vec![fact(text, "119.70 kg"), fact(text, "0.30 kg")],
            together: fact("together", "120.00 kg"),
            in_parts: vec![text.to_owned()],
        },
        doses: Some(doses(text)),
        found: Some(section("FOUND", text)),
        defers: "Product label, veterinarian and local feed law decide what is fed.".to_owned(),
        label: Label {
            heading: "Label: cut out".to_owned(),
            title: text.to_owned(),
            alarm: Some("DRAFT".to_owned()),
            facts: vec![fact("lots", text)],
            lines: vec![text.to_owned()],
        },
        record: record(text),
    }
}

fn weigh(text: &str) -> WeighingTable {
    let row = |number: usize, mass: &str, grams_per_unit: u32| WeighingRow {
        id: format!("w{number}"),
        number,
        ingredient: text.to_owned(),
        what: text.to_owned(),
        lot: Some(text.to_owned()),
        mass: mass.to_owned(),
        scale: text.to_owned(),
        range: "as it is".to_owned(),
        unit: if grams_per_unit == 1 { "g" } else { "kg" },
        grams_per_unit,
        loads: Some(text.to_owned()),
        cautions: vec![text.to_owned()],
        mass_g: "300".to_owned(),
        from_g: "294".to_owned(),
        to_g: "306".to_owned(),
    };
    WeighingTable {
        heading: "WEIGH".to_owned(),
        columns: WeighingColumns {
            what: "what".to_owned(),
            lot: "lot".to_owned(),
            mass: "how much".to_owned(),
            scale: "scale".to_owned(),
            range: "may read".to_owned(),
            done: "done".to_owned(),
            actual: "weighed".to_owned(),
        },
        has_lots: true,
        blocks: vec![
            WeighingBlock {
                heading: "for step 1".to_owned(),
                rows: vec![row(1, "300 g", 1)],
            },
            WeighingBlock {
                heading: "for step 2".to_owned(),
                rows: vec![row(2, "119.7 kg", 1000)],
            },
        ],
        together: fact("together", "120 kg"),
    }
}

fn doses(text: &str) -> Doses {
    let row = |can_hurt| DoseRow {
        what: text.to_owned(),
        can_hurt,
        value: "2.5 g/kg".to_owned(),
        bound: "2 .. 3 g/kg".to_owned(),
        batch: "2.4 .. 2.6 g/kg".to_owned(),
        portion: String::new(),
        sentence: text.to_owned(),
    };
    Doses {
        heading: "DOSES".to_owned(),
        columns: DoseColumns {
            what: "what".to_owned(),
            value: "is".to_owned(),
            bound: "bound".to_owned(),
            batch: "a batch".to_owned(),
            portion: "one portion".to_owned(),
        },
        rows: vec![row(false), row(true)],
    }
}

fn picture(text: &str) -> Picture {
    let point = |x, y| Point { x, y };
    Picture {
        width: 200,
        height: 100,
        title: text.to_owned(),
        description: text.to_owned(),
        shapes: vec![
            Shape::Outline(vec![
                point(10, 10),
                point(90, 10),
                point(80, 60),
                point(20, 60),
            ]),
            Shape::Arrow(vec![point(90, 40), point(140, 40)]),
            Shape::Text {
                at: point(50, 40),
                anchor: Anchor::Middle,
                size: 9,
                is_bold: true,
                text: text.to_owned(),
            },
        ],
    }
}

fn record(text: &str) -> Record {
    Record {
        name: text.to_owned(),
        day: "2026-11-25".to_owned(),
        batch: "120 kg".to_owned(),
        words: RecordWords {
            mixed_by: "Mixed by".to_owned(),
            made: "Mixed on".to_owned(),
            text: "Record".to_owned(),
            not_weighed: "not weighed".to_owned(),
            only_ticked: "ticked, no weight typed".to_owned(),
            copy: "Copy as record".to_owned(),
            copied: "Copied".to_owned(),
            clear: "Clear".to_owned(),
            clear_sure: "Clear all ticks and weights of this sheet?".to_owned(),
            outside: format!("{text} {{range}}"),
            unreadable: text.to_owned(),
            left: "{n} left to weigh".to_owned(),
            all_done: "All weighed".to_owned(),
            not_kept: "Ticks are not kept here".to_owned(),
            print: "Print".to_owned(),
        },
    }
}
