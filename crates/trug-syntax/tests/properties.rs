//! What holds for every text: reading never fails, places lie in the text, laying out changes nothing that is said.

use proptest::prelude::*;
use trug_findings::FileId;
use trug_syntax::tree::{self, File};
use trug_syntax::{parse, tidy};

const LANGUAGE: &str = include_str!("texts/language.txt");
const MISTAKES: &str = include_str!("texts/mistakes.txt");

/// Every span of a tree and its findings, by way of how they are printed: no field can be forgotten.
fn spans(file: &File) -> Vec<(usize, usize)> {
    let drawn = format!("{:?} {:?}", file.items, places(file));
    drawn
        .split("Span { start: ")
        .skip(1)
        .filter_map(|rest| {
            let (start, rest) = rest.split_once(", end: ")?;
            let (end, _) = rest.split_once(" }")?;
            Some((start.parse().ok()?, end.parse().ok()?))
        })
        .collect()
}

fn places(file: &File) -> Vec<trug_findings::Span> {
    let mut places = Vec::new();
    for finding in &file.findings {
        places.push(finding.place.span);
        places.extend(finding.related.iter().map(|related| related.place.span));
        places.extend(
            finding
                .fixes
                .iter()
                .flat_map(|fix| &fix.edits)
                .map(|edit| edit.place.span),
        );
    }
    places
}

fn assert_places_lie_in(text: &str, file: &File) {
    for (start, end) in spans(file) {
        assert!(start <= end, "{start}..{end} in {text:?}");
        assert!(text.get(start..end).is_some(), "{start}..{end} in {text:?}");
    }
}

/// What a text says, without where; unread lines and headers say nothing.
fn meaning(text: &str) -> String {
    let items = parse(FileId(0), text).items;
    let drawn = format!("{items:?}");
    let mut meaning = String::new();
    let mut rest = drawn.as_str();
    while let Some((before, after)) = rest.split_once("Span { start: ") {
        meaning.push_str(before);
        rest = after.split_once('}').map_or("", |(_, rest)| rest);
    }
    meaning.push_str(rest);
    meaning
}

fn assert_tidy_keeps(text: &str) {
    let tidied = tidy(text);
    assert_eq!(tidy(&tidied), tidied, "laid out twice: {text:?}");
    assert_eq!(
        meaning(&tidied),
        meaning(text),
        "{text:?}\nbecame\n{tidied:?}"
    );
}

/// A text of the examples with some of it cut, doubled, or written over.
fn mutilated() -> impl Strategy<Value = String> {
    let snippets = prop::sample::select(vec![
        " ",
        "  ",
        "\n",
        "\r\n",
        "\r",
        "\t",
        "\"",
        "\"\"",
        "#",
        "(",
        ")",
        "/",
        " / ",
        "-",
        "..",
        "…",
        ",",
        ".",
        "%",
        "0",
        "1,5",
        "16-18",
        "–",
        "−",
        "\u{a0}",
        "“",
        "”",
        "«",
        "\0",
        "\u{feff}",
        "\u{200d}",
        "é",
        "e\u{301}",
        "ක්‍ර",
        "🦆",
        "rest",
        "ration ",
        "\nration x\n",
        "\n  dose 5 g/kg\n",
        " lot A",
        " on top",
        " of dry-matter",
        " at 88 % dry-matter",
        " ± 1",
        "\u{b}",
        "\u{85}",
    ]);
    let cut = (0_usize..6000, 0_usize..12, snippets);
    (any::<bool>(), prop::collection::vec(cut, 1..12)).prop_map(|(is_language, cuts)| {
        let mut text = if is_language { LANGUAGE } else { MISTAKES }.to_owned();
        for (at, length, snippet) in cuts {
            let boundary = |mut at: usize| {
                at = at.min(text.len());
                while !text.is_char_boundary(at) {
                    at -= 1;
                }
                at
            };
            let start = boundary(at % (text.len() + 1));
            let end = boundary(start + length).max(start);
            text.replace_range(start..end, snippet);
        }
        text
    })
}

/// Amount lines in every form with their clauses in any order and any blanks between.
fn well_formed() -> impl Strategy<Value = String> {
    let blank = prop::sample::select(vec![" ", "  ", "\t", " \u{a0}"]);
    let name = prop::sample::select(vec!["broken-rice", "soya", "කැඩුනු-සහල්", "été", "x-1"]);
    let amount = prop::sample::select(vec![
        "46 %",
        "46%",
        "2.5 kg/t",
        "2.5kg/t",
        "rest",
        "6 parts",
        "12 .. 24 %",
        "12..24 %",
        "at most 5 %",
        "giving 0.6 g/kg lysine",
        "8.0 ± 0.4 %",
        "8+-1 %",
        "5 kg per 100 kg",
        "5 % of dry-matter",
        "5 % at 88% dry-matter",
        "2 basket",
        "-5 %",
        "7",
    ]);
    let clauses = Just(vec![
        "within 12 .. 24 %",
        "or none",
        "on top",
        "not carrier",
        "lot FM-02",
        "accept dose/over \"a \"\"b\"\" # c\"",
    ])
    .prop_shuffle();
    let line = (name, amount, clauses, 0_usize..7, blank, any::<bool>());
    prop::collection::vec(line, 1..8).prop_map(|lines| {
        let mut text = String::from("ration  layer   like other  \"Layer\"#c\n\n\n");
        for (name, amount, clauses, count, blank, has_comment) in lines {
            let clauses: Vec<_> = clauses.into_iter().take(count).collect();
            let said: Vec<_> = [name, amount].into_iter().chain(clauses).collect();
            let comment = if has_comment { " # why  " } else { "" };
            text.push_str(&format!("\t{}{comment}\n", said.join(blank)));
        }
        text
    })
}

/// Lines of a ration that are no amounts, each with what it accepts at its end.
fn accepting() -> impl Strategy<Value = String> {
    let blank = prop::sample::select(vec![" ", "  ", "\t", " \u{a0}"]);
    let line = prop::sample::select(vec![
        "limit a + b at most 26 %",
        "limit a/b 1..2",
        "meets lay",
        "mix by shovel",
        "for mixing",
        "intake 165g/day",
        "beside a 40 g/day",
    ]);
    let reason = prop::sample::select(vec!["\"a \"\"b\"\" # c\"", "\"accept a/b\"", "“it  is”"]);
    let line = (line, reason, blank, any::<bool>());
    prop::collection::vec(line, 1..8).prop_map(|lines| {
        let mut text = String::from("ration layer\n");
        for (line, reason, blank, has_comment) in lines {
            let comment = if has_comment { " # why  " } else { "" };
            let said = [line, "accept", "target/under", reason].join(blank);
            text.push_str(&format!("\t{said}{comment}\n"));
        }
        text
    })
}

proptest! {
    #[test]
    fn lines_that_accept_are_read_and_kept(text in accepting()) {
        let read = parse(FileId(0), &text);
        let tree::ItemBody::Ration(ration) = &read.items[0].body else {
            return Err(TestCaseError::fail("no ration"));
        };
        prop_assert!(ration.lines.iter().all(|line| line.accept.is_some()), "{text}");
        assert_places_lie_in(&text, &read);
        assert_tidy_keeps(&text);
    }

    #[test]
    fn any_text_is_read(text in any::<String>()) {
        assert_places_lie_in(&text, &parse(FileId(0), &text));
        assert_tidy_keeps(&text);
    }

    #[test]
    fn any_line_of_signs_is_read(text in "(ration a\n|ingredient b\n|targets c\n|  )?[a-c0-9 .,%/()\"#±…“–+*-]{0,40}(\n  [a-c0-9 .,%/()\"#±…“–+*-]{0,40}){0,3}") {
        assert_places_lie_in(&text, &parse(FileId(0), &text));
        assert_tidy_keeps(&text);
    }

    #[test]
    fn mutilated_examples_are_read(text in mutilated()) {
        assert_places_lie_in(&text, &parse(FileId(0), &text));
        assert_tidy_keeps(&text);
    }

    #[test]
    fn well_formed_rations_have_no_error(text in well_formed()) {
        let file = parse(FileId(0), &text);
        prop_assert!(file.items.iter().all(|item| !item.has_unread_line), "{text}\n{:#?}", file.findings);
        prop_assert!(file.findings.iter().all(|finding| finding.code.name == "syntax/spelling"));
        assert_tidy_keeps(&text);
    }
}

#[test]
fn the_examples_keep_their_meaning() {
    assert_tidy_keeps(LANGUAGE);
    assert_tidy_keeps(MISTAKES);
    assert_tidy_keeps(&format!("\u{feff}{}", LANGUAGE.replace('\n', "\r\n")));
}
