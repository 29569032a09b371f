//! The whole check: every finding has its place, is drawn in every form, and does not depend on what was asked with it.

use trug_findings::Finding;
use trug_report::findings::{Style, findings_document, human, lines, sarif};

use super::farms::{farm, texts};
use super::held::findings_hold;
use crate::answer::TODAY;

/// Columns of a narrow terminal, and of a usual one.
const WIDTHS: [usize; 2] = [40, 80];

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

fn parsed(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap_or_else(|why| panic!("{why} in {text}"))
}
