//! Findings as a person sees them.

use trug_findings::{FileId, Place, Source, Span};
use trug_report::findings::{Style, human};

use crate::farm::{CEILING, OVER, findings, page, sources};

#[test]
fn a_farm_at_80_columns() {
    let sources = sources();
    insta::assert_snapshot!(human(&findings(&sources), &sources, &page(80, false)));
}

#[test]
fn a_farm_at_60_columns() {
    let sources = sources();
    insta::assert_snapshot!(human(&findings(&sources), &sources, &page(60, false)));
}

#[test]
fn a_farm_in_ascii() {
    let sources = sources();
    insta::assert_snapshot!(human(&findings(&sources), &sources, &page(80, true)));
}

#[test]
fn colour_changes_no_word() {
    let sources = sources();
    let style = Style {
        width: 80,
        color: true,
        ascii: false,
    };
    let coloured = human(&findings(&sources), &sources, &style);
    assert!(coloured.contains("\u{1b}["));
    let mut plain = String::new();
    let mut rest = coloured.as_str();
    while let Some((before, after)) = rest.split_once("\u{1b}[") {
        plain.push_str(before);
        rest = after.split_once('m').unwrap().1;
    }
    plain.push_str(rest);
    assert_eq!(
        plain,
        human(&findings(&sources), &sources, &page(80, false))
    );
}

#[test]
fn every_line_fits_the_page() {
    let sources = sources();
    for width in [60, 80, 120] {
        for line in human(&findings(&sources), &sources, &page(width, false)).lines() {
            assert!(
                trug_report::words::columns(line) <= width,
                "{width}: {line}"
            );
        }
    }
}

#[test]
fn columns_are_characters_not_bytes() {
    let text = "\u{feff}  කැඩුනු-සහල්\t 24 %\r\n";
    let source = Source::new("a.trug", text);
    let start = text.find("24").unwrap();
    let finding = OVER
        .at(Place::new(FileId(0), Span::new(start, start + 4)))
        .says("too much");
    let drawn = human(&[finding], &[source], &page(80, false));
    let before = "  කැඩුනු-සහල්\t ".chars().count();
    assert!(
        drawn.contains(&format!("[a.trug:1:{}]", before + 1)),
        "{drawn}"
    );
    insta::assert_snapshot!(drawn);
}

#[test]
fn a_long_line_is_cut_around_the_place() {
    let text = format!(
        "{}12 kg/t{}",
        "rice ".repeat(100_000),
        " bran".repeat(100_000)
    );
    let source = Source::new("long.trug", text);
    let finding = CEILING
        .at(Place::new(FileId(0), Span::new(500_000, 500_007)))
        .says("much")
        .label("here");
    insta::assert_snapshot!(human(&[finding], &[source], &page(60, false)));
}

#[test]
fn places_without_length_and_past_the_end_are_shown() {
    let source = Source::new("end.trug", "ration a\n  maize  5 %\n");
    let at = |start, end| Place::new(FileId(0), Span::new(start, end));
    let findings = [
        OVER.at(at(9, 9)).says("at the margin").label("indent"),
        OVER.at(at(21, 21))
            .says("at the end of a line")
            .label("a unit"),
        OVER.at(at(22, 22))
            .says("at the end of the text")
            .label("a line"),
        OVER.at(at(500, 600)).says("past the end").label("nothing"),
        OVER.at(at(2, 20))
            .says("over two lines")
            .label("from here on"),
        OVER.at(Place::new(FileId(9), Span::new(1, 2)))
            .says("in no text"),
    ];
    insta::assert_snapshot!(human(&findings, &[source], &page(80, false)));
}

#[test]
fn no_text_steers_the_terminal() {
    let text = "ration a \"\u{1b}[31m\u{202e}red\"\n";
    let source = Source::new("a\u{1b}.trug", text);
    let finding = OVER
        .at(Place::new(FileId(0), Span::new(9, 20)))
        .says("a \u{1b}[0m b")
        .label("\u{7}");
    let drawn = human(&[finding], &[source], &page(80, false));
    assert!(
        drawn
            .chars()
            .all(|character| character == '\n' || !character.is_control())
    );
    assert!(!drawn.contains('\u{202e}'));
}

#[test]
fn the_closing_line_counts() {
    let sources = sources();
    let closing = |findings: &[_]| {
        let drawn = human(findings, &sources, &page(80, false));
        drawn.lines().last().unwrap().to_owned()
    };
    let findings = findings(&sources);
    assert_eq!(
        closing(&findings),
        "2 errors, 1 warning, 1 note, 1 accepted"
    );
    assert_eq!(closing(&findings[..1]), "1 error");
    assert_eq!(
        closing(&findings[1..2]),
        "nothing to say about 2 files, 1 accepted"
    );
    assert_eq!(closing(&[]), "nothing to say about 2 files");
    assert_eq!(human(&[], &[], &page(80, false)), "nothing to say\n");
}

#[test]
fn related_places_are_drawn_up_to_a_number_and_counted_beyond() {
    let sources = sources();
    let mut finding = OVER
        .at(crate::farm::place(&sources, 0, "river-layer"))
        .says("much");
    for _ in 0..9 {
        finding = finding.also(crate::farm::place(&sources, 1, "10 g/kg"), "far away");
        finding = finding.also(crate::farm::place(&sources, 0, "120 kg"), "near by");
    }
    let drawn = human(&[finding], &sources, &page(80, false));
    assert_eq!(drawn.matches("far away").count(), 6);
    assert!(drawn.contains("and 6 places more"), "{drawn}");
}
