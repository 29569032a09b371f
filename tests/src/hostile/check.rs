//! The whole check: every finding has its place, is drawn in every form, and does not depend on what was asked with it
//! or read before.

use trug_findings::Finding;
use trug_model::Farm;
use trug_report::findings::{Style, findings_document, human, lines, sarif};

use super::change_text;
use super::farms::{self, Text, farm, farm_again, texts};
use super::held::{findings_hold, seed_of};
use crate::answer::TODAY;

/// Columns of a narrow terminal, and of a usual one.
const WIDTHS: [usize; 2] = [40, 80];

/// Changes that are made to the texts of a farm.
const CHANGES: u64 = 3;

/// Checks the texts of a farm.
pub fn check(bytes: &[u8]) {
    let texts = texts(bytes);
    let farm = farm(&texts);
    let found = trug_record::check(&farm);
    let sources = farm.sources();
    findings_hold(&found, sources);
    let mut sorted = found.clone();
    trug_findings::sort(&mut sorted);
    assert_eq!(sorted, found, "findings are not in their order");
    let mut each: Vec<Finding> = Vec::new();
    for &file in farm.asked() {
        each.extend(trug_record::check_file(&farm, file));
    }
    trug_findings::sort(&mut each);
    assert_eq!(
        each, found,
        "each text alone says something else than all together"
    );
    edited(bytes, texts, farm.clone());
    for width in WIDTHS {
        let style = Style {
            width,
            color: width == WIDTHS[0],
            ascii: width == WIDTHS[0],
        };
        let drawn = human(&found, sources, &style);
        for finding in &found {
            assert!(
                drawn.contains(finding.code.name),
                "{} is not drawn",
                finding.code.name
            );
        }
    }
    assert_eq!(lines(&found, sources).lines().count(), found.len());
    let log: serde_json::Value = parsed(&sarif(&found, sources, Some(TODAY)));
    let results = log["runs"][0]["results"].as_array().map(Vec::len);
    assert_eq!(results, Some(found.len()));
    for place in findings_document(&found, sources, Some(TODAY))
        .findings
        .iter()
        .map(|it| &it.place)
    {
        let (start, end) = (
            (place.line, place.column),
            (place.end_line, place.end_column),
        );
        assert!((1, 1) <= start && start <= end, "{start:?} to {end:?}");
    }
}

/// One change after the other: read again with what stayed the same, the farm finds what it finds read afresh.
fn edited(bytes: &[u8], mut texts: Vec<Text>, mut farm: Farm) {
    let mut bytes = bytes.to_vec();
    for round in 0..CHANGES {
        bytes = change_text(&bytes, seed_of(&bytes) ^ round);
        let changed = farms::texts(&bytes);
        farm = farm_again(&farm, &texts, &changed);
        texts = changed;
        let fresh = farms::farm(&texts);
        assert_eq!(
            trug_record::check(&farm),
            trug_record::check(&fresh),
            "read again, other things are found in {texts:?}"
        );
    }
}

fn parsed(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap_or_else(|why| panic!("{why} in {text}"))
}
