//! No text and no place makes the drawing fail.

use proptest::collection::vec;
use proptest::prelude::*;
use trug_findings::{Acceptance, FileId, Finding, Place, Source, Span};
use trug_report::findings::{Style, findings_document, human, lines, sarif};

use crate::farm::{CEILING, OPEN, OVER};

/// Pieces that texts of this world are made of, the awkward ones among them.
fn text() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        Just("\n".to_owned()),
        Just("\r\n".to_owned()),
        Just("\r".to_owned()),
        Just("\t".to_owned()),
        Just("\u{feff}".to_owned()),
        Just("米糠".to_owned()),
        Just("e\u{301}\u{302}".to_owned()),
        Just("කැඩුනු".to_owned()),
        Just("👩\u{200d}🌾".to_owned()),
        Just("\u{0}\u{1b}[2J\u{202e}".to_owned()),
        Just("\u{301}".repeat(700)),
        "[a-z0-9 .%/-]{0,120}",
        any::<char>().prop_map(String::from),
    ];
    vec(piece, 0..30).prop_map(|pieces| pieces.concat())
}

fn place() -> impl Strategy<Value = Place> {
    let offset = prop_oneof![0..2000_u32, any::<u32>()];
    (0..3_u32, offset.clone(), offset).prop_map(|(file, start, end)| Place {
        file: FileId(file),
        span: Span { start, end },
    })
}

fn finding() -> impl Strategy<Value = Finding> {
    (
        place(),
        text(),
        proptest::option::of(text()),
        vec((place(), text()), 0..9),
        proptest::option::of(text()),
        any::<u8>(),
    )
        .prop_map(|(place, message, label, related, help, kind)| {
            let code = [&CEILING, &OVER, &OPEN][usize::from(kind % 3)];
            let mut finding = code.at(place).says(message.clone());
            finding.label = label;
            finding.help = help;
            for (place, says) in related {
                finding = finding.also(place, says).offer("mend", place, "x");
            }
            if kind > 240 {
                let reason = message;
                finding.accepted = Some(Acceptance { reason, place });
            }
            finding
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    #[test]
    fn anything_can_be_drawn(
        texts in vec(text(), 0..3),
        findings in vec(finding(), 0..6),
        width in 0..130_usize,
        color: bool,
        ascii: bool,
    ) {
        let named = texts.into_iter().enumerate();
        let sources: Vec<Source> = named
            .map(|(rank, text)| Source::new(format!("f{rank}.trug"), text))
            .collect();
        let style = Style { width, color, ascii };
        let drawn = human(&findings, &sources, &style);
        for finding in &findings {
            prop_assert!(drawn.contains(finding.code.name));
        }
        let steers = ['\u{202e}', '\u{0}'];
        prop_assert!(!drawn.contains(steers));
        prop_assert_eq!(lines(&findings, &sources).lines().count(), findings.len());
        let log: serde_json::Value = serde_json::from_str(&sarif(&findings, &sources, None))?;
        let results = log["runs"][0]["results"].as_array().map(Vec::len);
        prop_assert_eq!(results, Some(findings.len()));
        let document = findings_document(&findings, &sources, None);
        for found in &document.findings {
            let place = &found.place;
            let start = (place.line, place.column);
            prop_assert!((1, 1) <= start && start <= (place.end_line, place.end_column));
        }
    }
}
