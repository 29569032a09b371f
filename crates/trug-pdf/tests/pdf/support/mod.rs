//! Booklets made by hand, and PDFs read back.

use lopdf::Document;
use trug_pdf::{Paper, Pdf, pdf};
use trug_report::sheet::picture::{Anchor, Picture, Point, Shape};
use trug_report::sheet::*;

pub(crate) mod read;
pub(crate) mod texts;
pub(crate) mod told;

/// Draws a booklet and reads it back; the file is kept for who wants to look at it.
pub(crate) fn drawn(name: &str, booklet: &Booklet, paper: Paper) -> (Pdf, Document) {
    let drawn = pdf(booklet, paper).unwrap();
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    std::fs::write(path, &drawn.bytes).unwrap();
    let read = Document::load_mem(&drawn.bytes).unwrap();
    (drawn, read)
}

/// The text of each page, its lines joined and its blanks single.
pub(crate) fn pages_text(read: &Document) -> Vec<String> {
    let pages = read.get_pages();
    let text = |page: &u32| {
        let text = read.extract_text(&[*page]).unwrap();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    pages.keys().map(text).collect()
}

/// The text of all pages.
pub(crate) fn text(read: &Document) -> String {
    pages_text(read).join(" ")
}

pub(crate) fn fact(what: &str, value: &str) -> Fact {
    Fact {
        what: what.to_owned(),
        value: value.to_owned(),
    }
}

/// A picture with a row of tubs, each poured into the next.
pub(crate) fn picture(tubs: u32) -> Picture {
    let mut shapes = Vec::new();
    for tub in 0..tubs {
        let (x, y) = (40 + (tub % 2) * 130, 20 + tub * 56);
        let corner = |dx, dy| Point {
            x: x + dx,
            y: y + dy,
        };
        shapes.push(Shape::Outline(vec![
            corner(0, 0),
            corner(90, 0),
            corner(80, 40),
            corner(10, 40),
        ]));
        shapes.push(Shape::Circle {
            middle: corner(45, 12),
            radius: 8,
        });
        let text = |at, size, is_bold, text: String| Shape::Text {
            at,
            anchor: Anchor::Middle,
            size,
            is_bold,
            text,
        };
        shapes.push(text(corner(45, 15), 9, true, (tub + 1).to_string()));
        shapes.push(text(
            corner(45, 33),
            10,
            true,
            format!("{} kg", 3 * tub + 2),
        ));
        if tub + 1 < tubs {
            shapes.push(Shape::Arrow(vec![corner(45, 42), corner(45, 54)]));
        }
    }
    Picture {
        width: 270,
        height: 30 + tubs * 56,
        title: "How it is diluted".to_owned(),
        description: "Tub 1 goes into tub 2.".to_owned(),
        shapes,
    }
}

pub(crate) fn row(
    number: usize,
    what: &str,
    lot: Option<&str>,
    mass: &str,
    range: &str,
) -> WeighingRow {
    WeighingRow {
        id: format!("w{number}"),
        number,
        ingredient: what.to_lowercase(),
        what: what.to_owned(),
        lot: lot.map(str::to_owned),
        mass: mass.to_owned(),
        scale: if number.is_multiple_of(3) {
            "platform".to_owned()
        } else {
            "kitchen scale".to_owned()
        },
        range: range.to_owned(),
        unit: "kg",
        grams_per_unit: 1000,
        loads: None,
        cautions: Vec::new(),
        mass_g: "1200".to_owned(),
        from_g: "1176".to_owned(),
        to_g: "1224".to_owned(),
    }
}

const WHATS: [&str; 20] = [
    "Maize, ground",
    "Soya meal, 44 %",
    "Rice bran, fine",
    "Wheat bran",
    "Oyster shell",
    "Salt, fine",
    "Lysine-HCl",
    "Methionine, DL",
    "Vitamin premix layer",
    "Selenium premix 0.1 %",
    "Monocalcium phosphate",
    "Copper sulphate",
    "Zinc oxide",
    "Choline chloride 60 %",
    "Fish meal",
    "Sunflower cake",
    "Lucerne meal",
    "Molasses, cane",
    "Palm oil",
    "Limestone grit",
];

/// A sheet of so many ingredients and weighing rows.
pub(crate) fn sheet(ingredients: usize, rows: usize, cautions: usize, doses: usize) -> Sheet {
    let mut blocks: Vec<WeighingBlock> = Vec::new();
    for number in 1..=rows {
        if number == 1 || (number > 3 && number.is_multiple_of(4)) {
            blocks.push(WeighingBlock {
                heading: format!("for step {}", blocks.len() + 1),
                rows: Vec::new(),
            });
        }
        let what = WHATS[(number - 1) % ingredients.min(20)];
        let mut line = row(
            number,
            what,
            Some(&format!("2026-{:02}-B", number % 12 + 1)),
            &format!("{}.{} kg", number, number % 10),
            &format!("{}.176 to {}.224 kg", number, number),
        );
        if number <= cautions {
            line.cautions
                .push("Dust harms lungs: wear a mask, and wash hands before eating.".to_owned());
        }
        if number == rows {
            line.loads = Some("in 3 loads: 20 kg, 20 kg, 15.4 kg".to_owned());
        }
        blocks.last_mut().unwrap().rows.push(line);
    }
    let steps = blocks.len();
    let mut lines: Vec<StepLine> = (1..=steps)
        .map(|number| StepLine {
            id: Some(format!("s{number}")),
            number,
            text: format!(
                "Put weighings {} to {} into the tub of 20 litres and turn it over 12 times.",
                number * 2 - 1,
                number * 2
            ),
            output: Some(format!("{}.7413 kg", number)),
        })
        .collect();
    for text in [
        "Take a sample of 200 g from three places.",
        "Bag it, and tie a label to each bag.",
        "Sweep the floor, and clean the tubs.",
    ] {
        lines.push(StepLine {
            id: None,
            number: lines.len() + 1,
            text: text.to_owned(),
            output: None,
        });
    }
    Sheet {
        ration: "laying-mash".to_owned(),
        title: "Laying mash for the ducks by the river".to_owned(),
        subtitle: Some("laying-mash \u{b7} batch 1 of 3".to_owned()),
        draft: None,
        facts: vec![
            fact("mass", "120 kg"),
            fact("ordered", "360 kg for 14 days"),
            fact("for", "laying ducks, 82 animals"),
            fact("day", "2026-11-25"),
            fact("written in", "rations/river.trug:9"),
        ],
        beware: Some(Section {
            heading: "BEWARE".to_owned(),
            lines: vec!["Not for goats or sheep: copper from this feed can kill them.".to_owned()],
        }),
        weigh: WeighingTable {
            heading: "WEIGH, in the order of work".to_owned(),
            columns: WeighingColumns {
                what: "what".to_owned(),
                lot: "lot".to_owned(),
                mass: "mass".to_owned(),
                scale: "scale".to_owned(),
                range: "scale may read".to_owned(),
                done: "done".to_owned(),
                actual: "actual".to_owned(),
            },
            has_lots: true,
            blocks,
            together: fact("together", "120 kg"),
        },
        mix: Steps {
            heading: "MIX".to_owned(),
            steps: lines,
        },
        picture: picture(3),
        totals: Totals {
            heading: "TOTALS of one batch".to_owned(),
            rows: WHATS
                .iter()
                .take(ingredients)
                .map(|what| fact(what, "12.345 kg"))
                .collect(),
            together: fact("together", "120.000 kg"),
            in_parts: vec!["Maize, ground: 1.2 kg + 2.7 kg = 3.9 kg".to_owned()],
        },
        doses: (doses > 0).then(|| Doses {
            heading: "DOSES, and how far they can be off".to_owned(),
            columns: DoseColumns {
                what: "what".to_owned(),
                value: "planned".to_owned(),
                bound: "bound".to_owned(),
                batch: "in the batch".to_owned(),
                portion: "in a portion".to_owned(),
            },
            rows: (0..doses)
                .map(|number| DoseRow {
                    what: format!("{}: dose", WHATS[(number + 5) % 20]),
                    can_hurt: number % 3 == 2,
                    value: "2.5 g/kg".to_owned(),
                    bound: "0.2 to 4 g/kg".to_owned(),
                    batch: "2.4 to 2.6 g/kg".to_owned(),
                    portion: "1.9 to 3.1 g/kg".to_owned(),
                    sentence: String::new(),
                })
                .collect(),
        }),
        found: Some(Section {
            heading: "FOUND".to_owned(),
            lines: vec![
                "warning sum/short: laying-mash adds up to 99.5 %".to_owned(),
                "accepted lot/old: maize is 9 months old\nbecause it was aired twice".to_owned(),
            ],
        }),
        defers: "The product label, a veterinarian and local law come before this sheet."
            .to_owned(),
        label: Label {
            heading: "Label: cut out".to_owned(),
            title: "Laying mash for the ducks by the river".to_owned(),
            alarm: None,
            facts: vec![
                fact("batch", "1 of 3, 120 kg"),
                fact("mixed", "2026-11-25"),
                fact("keeps until", "2027-01-06"),
                fact("for", "laying ducks"),
                fact("lots", "2026-02-B, 2026-03-B, 2026-04-B"),
            ],
            lines: vec!["Keep away from goats and sheep.".to_owned()],
        },
        record: record(),
    }
}

fn record() -> Record {
    let word = String::new;
    Record {
        name: "laying-mash-2026-11-25-1".to_owned(),
        day: "2026-11-25".to_owned(),
        batch: "120 kg".to_owned(),
        words: RecordWords {
            mixed_by: word(),
            made: word(),
            not_weighed: word(),
            only_ticked: word(),
            text: word(),
            copy: word(),
            copied: word(),
            clear: word(),
            clear_sure: word(),
            outside: word(),
            unreadable: word(),
            left: word(),
            all_done: word(),
            not_kept: word(),
            print: word(),
        },
    }
}

pub(crate) fn booklet(sheets: Vec<Sheet>) -> Booklet {
    Booklet {
        phrases: "en".to_owned(),
        language: "en".to_owned(),
        title: "Laying mash".to_owned(),
        day: None,
        sheets,
    }
}

pub(crate) fn draft() -> Draft {
    Draft {
        word: "DRAFT".to_owned(),
        why: "Not to be mixed as it is: 1 error under FOUND.".to_owned(),
    }
}
