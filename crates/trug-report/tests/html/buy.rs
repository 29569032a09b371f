//! The page of a shopping list as a program reads it: whole, closed, and with the numbers of the document.

use jiff::civil::date;
use trug_model::{Farm, InMemory, Settings};
use trug_report::buy::{ShoppingList, buy_csv, buy_html, buy_text};
use trug_store::{Judged, buying};

use crate::element::{self, Element};
use crate::hostile;

/// What a form makes of a farm whose labels say this.
fn drawn(label: &str, form: &dyn Fn(&ShoppingList<'_>) -> String) -> String {
    let label = label.replace('"', "\"\"").replace(['\n', '\r', '\0'], " ");
    let text = format!(
        "animal duck\ningredient maize \"{label}\"\n  price 40 LKR/kg\n  sold in 50 kg\ningredient bran\n  withdrawal 5 days for meat\n\
         lot M-1 of maize \"{label}\"\n  best before 2026-12-01\n  on hand 80 kg\nlot B-1 of bran\n  on hand 800 kg\n\
         lot O-1 of maize\n  best before 2026-11-01\n  on hand 8 kg\n\
         ration mash \"{label}\"\n  for duck\n  intake 150 g/day\n  maize 60 %\n  bran 40 %\nration open\n  for duck\n  maize 1 .. 100 %\n\
         group pond \"{label}\"\n  100 duck\n  eats mash\n  eats open 5 g/day\n  mix for at most 7 days\n"
    );
    let texts = InMemory::new([("f.trug", text.as_str())]);
    let today = date(2026, 11, 25);
    let settings = Settings {
        today: Some(today),
        ..Settings::default()
    };
    let farm = Farm::read(&["f.trug".to_owned()], &texts, settings);
    let files: Vec<_> = farm.files().collect();
    let buying = buying(&farm, &files, Judged::Found(&farm.check()), today, 30);
    form(&ShoppingList {
        buying: &buying,
        sources: farm.sources(),
    })
}

fn named<'a>(all: &[&'a Element], name: &str) -> Vec<&'a Element> {
    all.iter().copied().filter(|it| it.name == name).collect()
}

#[test]
fn the_page_is_well_formed_and_a_label_is_no_markup() {
    let shape = |label: &str| {
        let (page, errors) = element::read(&drawn(label, &buy_html));
        assert_eq!(errors, Vec::<String>::new(), "with {label:?}");
        let names = page
            .all()
            .iter()
            .map(|it| it.name.clone())
            .collect::<Vec<_>>();
        // A day in a label is kept together; no label here has one.
        names
    };
    let plain = shape("Maize, ground");
    for label in hostile() {
        assert_eq!(shape(&label), plain, "with {label:?}");
    }
}

#[test]
fn the_page_has_its_numbers_and_pictures_and_nothing_that_acts() {
    // 15 kg a day; maize 9 kg a day is 270, of which M-1 has 80 until 12-01: mixes of 63 kg on 11-25 and then 17 are left, past
    // their day on 12-02. 207 are short: five sacks of 50 kg for 10000.
    let html = drawn("Maize", &buy_html);
    let (page, _) = element::read(&html);
    let all = page.all();
    assert!(named(&all, "script").is_empty());
    let svgs = named(&all, "svg");
    assert_eq!(svgs.len(), 2);
    let says = svgs[0].attribute("aria-label").unwrap();
    assert_eq!(
        says,
        "Maize: 80 kg on 2026-11-25, 250 kg bought by 2026-12-02, 43 kg left on 2026-12-24"
    );
    let text = page.text();
    for words in [
        "5 sacks of 50 kg",
        "10000.00 LKR",
        "270 kg needed, 63 kg in the store",
        "17 kg of Maize, lot M-1: not used by then",
        "8 kg of Maize, lot O-1: past its day, not counted",
        "NOT COUNTED: what pond eats of open",
        "bran is medicated (withdrawal 5 days for meat)",
    ] {
        assert!(text.contains(words), "{words:?} not in {text}");
    }
    // Nothing is told by a colour: what is drawn is black on white.
    let colours = html.matches('#').count();
    let grey = html
        .split('#')
        .skip(1)
        .filter(|it| !it.starts_with("000") && !it.starts_with("fff"));
    assert!(colours > 0 && grey.count() == 0);
}

#[test]
fn no_label_steers_the_terminal_or_a_spreadsheet() {
    for label in hostile() {
        let text = drawn(&label, &|list| buy_text(list, 80));
        assert!(
            !text.chars().any(|it| it.is_control() && it != '\n'),
            "{text:?}"
        );
    }
    for label in ["=1+1", "+1", "-1", "@x"] {
        let table = drawn(label, &buy_csv);
        let mut rows = csv::Reader::from_reader(table.as_bytes());
        for row in rows.records() {
            for cell in row.unwrap().iter() {
                assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
            }
        }
        assert!(
            table.contains(&format!("'{label}")) && table.contains("\r\n"),
            "{table}"
        );
    }
}

#[test]
fn no_line_of_text_is_wider_than_the_terminal() {
    for width in [66, 80, 120] {
        let text = drawn("Yellow maize, ground, second harvest", &|list| {
            buy_text(list, width)
        });
        let wide = text
            .lines()
            .find(|line| trug_report::words::columns(line) > width);
        assert_eq!(wide, None, "at {width}\n{text}");
    }
}
