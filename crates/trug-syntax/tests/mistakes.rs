//! What is said about the mistakes people make: one finding for each, at its place, with its fixes.

use trug_findings::{FileId, Finding, Source};
use trug_syntax::{findings, parse};

const MISTAKES: &str = include_str!("texts/mistakes.txt");

/// The findings of a text as a person sees them, one after another.
fn drawn(text: &str) -> String {
    let source = Source::new("mistakes.trug", text);
    let mut drawn = String::new();
    for finding in parse(FileId(0), text).findings {
        let start = source.position(finding.place.span.start as usize);
        let line = text.lines().nth(start.line - 1).unwrap_or("");
        drawn.push_str(&format!("{line}\n"));
        drawn.push_str(&format!(
            "  {}:{} {}\n",
            start.line,
            start.column,
            said(&finding, text)
        ));
    }
    drawn
}

fn said(finding: &Finding, text: &str) -> String {
    let mut said = format!(
        "{}[{}] {}",
        finding.severity.word(),
        finding.code.name,
        finding.message
    );
    said.push_str(&format!("\n  at {:?}", finding.place.span.of(text)));
    if let Some(help) = &finding.help {
        said.push_str(&format!("\n  help: {help}"));
    }
    for fix in &finding.fixes {
        let sure = if fix.sure { "fix" } else { "offer" };
        let edits: Vec<_> = fix
            .edits
            .iter()
            .map(|edit| format!("{:?} -> {:?}", edit.place.span.of(text), edit.text))
            .collect();
        said.push_str(&format!("\n  {sure}: {}: {}", fix.title, edits.join(", ")));
    }
    said
}

#[test]
fn each_mistake_has_one_finding() {
    insta::assert_snapshot!(drawn(MISTAKES));
}

/// The codes a text raises.
fn codes(text: &str) -> Vec<&'static str> {
    parse(FileId(0), text)
        .findings
        .iter()
        .map(|finding| finding.code.name)
        .collect()
}

#[test]
fn a_broken_header_keeps_its_lines_silent_and_its_name_known() {
    let file = parse(
        FileId(0),
        "rationn layer\n  x y z\n  16-18\nration other\n  x 5 %\n",
    );
    assert_eq!(file.findings.len(), 1);
    let name = file.items[0].body.name().map(|name| name.text.as_str());
    assert_eq!(name, Some("layer"));
    assert!(!file.items[1].has_unread_line);
    assert_eq!(
        file.items[0].whole.of("rationn layer\n  x y z\n  16-18\n"),
        "rationn layer\n  x y z\n  16-18"
    );
}

#[test]
fn a_line_that_lost_its_indentation_marks_the_item_above() {
    let text = "ration layer\n  rice 50 %\nbran 50 %\n";
    let file = parse(FileId(0), text);
    assert_eq!(codes(text), ["syntax/item"]);
    assert!(file.items[0].has_unread_line);
    assert_eq!(file.findings[0].fixes[0].edits[0].text, "  ");
}

#[test]
fn an_indented_header_opens_an_item() {
    let text = "ingredient rice\n  protein 8 %\n  ingredient bran\n  protein 12 %\n";
    let file = parse(FileId(0), text);
    assert_eq!(codes(text), ["syntax/margin"]);
    assert_eq!(file.items.len(), 2);
    assert!(file.items.iter().all(|item| !item.has_unread_line));
}

#[test]
fn a_zero_byte_is_said_once_and_the_rest_is_read() {
    let text = "ration lay\0er\n  rice 5\0 %\nration other\n  rice 5 %\n";
    let file = parse(FileId(0), text);
    assert_eq!(codes(text), ["syntax/text"]);
    assert_eq!(file.items.len(), 2);
}

#[test]
fn a_line_of_ten_thousand_characters_is_read_and_a_longer_one_is_not() {
    let caution = |letters: usize| format!("ingredient a\n  caution \"{}\"\n", "ක".repeat(letters));
    assert_eq!(codes(&caution(9_000)), [""; 0]);
    assert_eq!(codes(&caution(10_000)), ["syntax/line"]);
}

#[test]
fn nesting_without_end_is_one_finding() {
    let text = format!("targets t\n  {} a at most 5 %\n", "(".repeat(9_000));
    assert_eq!(codes(&text), ["syntax/line"]);
}

#[test]
fn forty_digits_are_read_and_one_more_is_not() {
    let number = |digits: usize| format!("ration a\n  b {} %\n", "1".repeat(digits));
    assert_eq!(codes(&number(40)), [""; 0]);
    assert_eq!(codes(&number(41)), ["syntax/line"]);
}

#[test]
fn a_comma_before_three_digits_is_never_mended_unasked() {
    for (number, offers) in [("8,000", 2), ("1,234,567", 1), ("0,125", 1), ("1,234.5", 1)] {
        let text = format!("ration a\n  b {number} kg\n");
        let findings = parse(FileId(0), &text).findings;
        assert_eq!(findings.len(), 1, "{number}");
        assert_eq!(findings[0].code.name, "unit/comma", "{number}");
        assert_eq!(findings[0].fixes.len(), offers, "{number}");
        assert!(findings[0].fixes.iter().all(|fix| !fix.sure), "{number}");
    }
}

#[test]
fn a_number_that_can_harm_is_never_made_up() {
    for line in ["dose 2 g/kg", "dose 4 .. 2 g/kg"] {
        let findings = parse(FileId(0), &format!("ingredient a\n  {line}\n")).findings;
        assert_eq!(findings[0].code.name, "syntax/range", "{line}");
        assert!(findings[0].fixes.is_empty(), "{line}");
    }
    let findings = parse(FileId(0), "animal a\n  selenium 5 mg/kg harm\n").findings;
    assert_eq!(findings[0].code.name, "syntax/range");
    assert!(findings[0].fixes.is_empty());
}

#[test]
fn codes_are_unique_and_have_their_pages() {
    let mut names: Vec<_> = findings::ALL.iter().map(|code| code.name).collect();
    let listed = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), listed);
    for code in findings::ALL {
        assert!(
            code.page.starts_with(&format!("# {}\n", code.name)),
            "{}",
            code.name
        );
    }
}

/// The text between `opening` and the next fence.
fn block(page: &str, opening: &str) -> String {
    let after = page.split_once(opening).map_or("", |(_, after)| after);
    let block = after.split_once("```").map_or("", |(block, _)| block);
    block.trim_start_matches('\n').to_owned()
}

#[test]
fn pages_show_a_text_that_raises_the_code_and_one_that_does_not() {
    for code in findings::ALL {
        assert_eq!(
            codes(&block(code.page, "```trug wrong")),
            [code.name],
            "{}",
            code.name
        );
        let right = block(code.page, "```trug right");
        assert_eq!(codes(&right), [""; 0], "{}", code.name);
        assert_eq!(trug_syntax::tidy(&right), right, "{}", code.name);
    }
}
