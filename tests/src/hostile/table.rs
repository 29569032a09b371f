//! Tables saved by a spreadsheet: used by a farm, read as prices of days, and converted both ways.

use trug_convert::{Converted, Remark, Wishes, to_table, to_text};
use trug_findings::{FileId, Severity};
use trug_syntax::parse;

use super::farms::{Text, farm, letters};
use super::held::findings_hold;
use crate::marked::FIRST_PATH;

/// What the farm has that the table adds to.
const FARM: &str = "use \"prices.csv\"\n\nnutrient protein in share\n\ningredient maize \"Yellow maize\"\n  dry-matter 88 %\n\
                    ingredient broken-rice\n\nration mash\n  for mixing\n  batch 20 kg\n  maize 60 %\n  broken-rice rest\n";
/// Signs that make a spreadsheet compute what stands behind them.
const OF_FORMULAS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// Takes the bytes for a table, and for a text.
pub fn table(bytes: &[u8]) {
    let text = letters(bytes);
    is_used(&text);
    is_read_as_prices(&text);
    if let Ok(converted) = to_text(&text, &Wishes::default()) {
        remarks_hold(&converted.remarks, &text);
        is_a_text(&converted);
        comes_back(&converted.text);
    }
    if let Ok(converted) = to_table(&text, None) {
        remarks_hold(&converted.remarks, &text);
        is_a_table(&converted);
    }
}

fn is_used(text: &str) {
    let texts: [Text; 2] = [
        (FIRST_PATH.to_owned(), FARM.to_owned()),
        ("prices.csv".to_owned(), text.to_owned()),
    ];
    let farm = farm(&texts);
    findings_hold(&trug_record::check(&farm), farm.sources());
}

fn is_read_as_prices(text: &str) {
    let farm = farm(&[(FIRST_PATH.to_owned(), FARM.to_owned())]);
    let Some(file) = farm.file(FIRST_PATH) else {
        return;
    };
    match farm.open(file).price_days(text) {
        Ok(days) => assert!(days.is_sorted_by_key(|day| day.day)),
        Err(unused) => {
            assert!(!unused.is_empty());
            for cell in unused {
                assert!(
                    0 < cell.line && 0 < cell.column && !cell.says.is_empty(),
                    "{cell:?}"
                );
            }
        }
    }
}

fn remarks_hold(remarks: &[Remark], text: &str) {
    for remark in remarks {
        assert!(
            text.get(remark.span.range()).is_some(),
            "{remark:?} is at no place of {text:?}"
        );
        assert!(!remark.says.is_empty());
    }
}

/// What is made of a table reads without a finding, and is laid out.
fn is_a_text(converted: &Converted) {
    let text = &converted.text;
    let findings = parse(FileId(0), text).findings;
    assert!(findings.is_empty(), "{text}\n{findings:?}");
    assert_eq!(&trug_syntax::tidy(text), text);
}

/// The text as a table again has all the lines it had.
fn comes_back(text: &str) {
    let Ok(table) = to_table(text, None) else {
        return;
    };
    is_a_table(&table);
    let wishes = Wishes {
        name: "ration".to_owned(),
        ..Wishes::default()
    };
    let back = to_text(&table.text, &wishes);
    let Ok(back) = back else {
        panic!("{:?} is refused though the tool has written it", table.text);
    };
    let lost: Vec<_> = back
        .remarks
        .iter()
        .filter(|it| it.weight == trug_convert::Weight::Lost)
        .collect();
    assert!(lost.is_empty(), "{:?} of {:?}", lost, table.text);
    is_a_text(&back);
    let errors = |text: &str| {
        let found = parse(FileId(0), text).findings;
        found
            .iter()
            .filter(|it| it.severity == Severity::Error)
            .count()
    };
    assert_eq!(errors(&back.text), 0);
}

/// Another reader of tables reads it, each row has as many cells, and no cell computes.
fn is_a_table(converted: &Converted) {
    let mut reader = csv::ReaderBuilder::new();
    let mut reader = reader
        .has_headers(false)
        .from_reader(converted.text.as_bytes());
    for row in reader.records() {
        let row = row.unwrap_or_else(|why| panic!("{why} in {:?}", converted.text));
        for cell in &row {
            let is_number = cell.parse::<f64>().is_ok();
            assert!(
                is_number || !cell.starts_with(OF_FORMULAS),
                "{cell:?} computes"
            );
        }
    }
}
