//! Whatever a text holds and wherever one asks: no answer fails, and what an action does can still be read.

#![expect(
    clippy::expect_used,
    reason = "a test that cannot set itself up has failed"
)]

use proptest::prelude::*;
use trug_findings::{Edit, FileId, Severity, Span};
use trug_ide::{
    HintKinds, actions, completion, fix_all, format, format_on_line_end, format_range, hints,
    hover, lenses, resolve, tokens,
};
use trug_model::{Farm, InMemory, Settings};
use trug_syntax::tree::ItemBody;

const EXAMPLES: [(&str, &str); 7] = [
    (
        "rations.trug",
        include_str!("../../../examples/river-farm/rations.trug"),
    ),
    (
        "coop/store.trug",
        include_str!("../../../examples/river-farm/coop/store.trug"),
    ),
    (
        "coop/targets.trug",
        include_str!("../../../examples/river-farm/coop/targets.trug"),
    ),
    (
        "yard.trug",
        include_str!("../../../examples/river-farm/yard.trug"),
    ),
    (
        "lots.trug",
        include_str!("../../../examples/river-farm/lots.trug"),
    ),
    (
        "groups.trug",
        include_str!("../../../examples/river-farm/groups.trug"),
    ),
    (
        "records.trug",
        include_str!("../../../examples/river-farm/records.trug"),
    ),
];

/// Pieces that are put into a text: half lines, odd signs, other scripts and line ends.
const PIECES: &[&str] = &[
    "",
    " ",
    "\n",
    "\r\n",
    "\r",
    "\t",
    "  ",
    "\"",
    "#",
    "|",
    "%",
    "1",
    "-",
    "..",
    "±",
    "é",
    "සහල්",
    "\u{1f986}",
    "\u{feff}",
    "\0",
    "use \"",
    "ration ",
    "  maize 4",
    " accept dose/over \"",
    " lot ",
    " within ",
    "  limit ",
    "ingredient x \"X\"\n  dose 1 .. 2 g/kg\n",
    "Kg",
    "1,5 %",
    " giving 1 g/kg ",
    "(",
    "/",
    " / ",
    "“",
    "at least",
];

fn farm(name: &str, text: &str) -> (Farm, FileId) {
    let texts =
        EXAMPLES.map(|(known, example)| (known, if known == name { text } else { example }));
    let names: Vec<String> = texts.iter().map(|(name, _)| (*name).to_owned()).collect();
    let settings = Settings {
        today: "2026-11-25".parse().ok(),
        ..Settings::default()
    };
    let farm = Farm::read(&names, &InMemory::new(texts), settings);
    let file = farm.file(name).expect("it was read");
    (farm, file)
}

fn boundary(text: &str, at: usize) -> usize {
    let mut at = at % (text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn mutated(text: &str, edits: &[(usize, usize, usize)]) -> String {
    let mut text = text.to_owned();
    for (at, length, piece) in edits {
        let start = boundary(&text, *at);
        let end = boundary(&text, start + length % 12).max(start);
        text.replace_range(start..end, PIECES[piece % PIECES.len()]);
    }
    text
}

fn applied(text: &str, file: FileId, edits: &[Edit]) -> String {
    let mut edits: Vec<&Edit> = edits
        .iter()
        .filter(|edit| edit.place.file == file)
        .collect();
    edits.sort_by_key(|edit| edit.place.span);
    let mut applied = text.to_owned();
    for edit in edits.iter().rev() {
        applied.replace_range(edit.place.span.range(), &edit.text);
    }
    applied
}

/// Lines that could not be read.
fn unread(text: &str) -> usize {
    let findings = trug_syntax::parse(FileId(0), text).findings;
    findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error)
        .count()
}

fn fits(text: &str, span: Span) -> bool {
    text.get(span.range()).is_some()
}

fn ask_everything(
    farm: &Farm,
    file: FileId,
    text: &str,
    at: usize,
    to: usize,
) -> Result<(), TestCaseError> {
    let range = Span::new(at.min(to), at.max(to));
    if let Some(hover) = hover(farm, file, at) {
        prop_assert!(fits(text, hover.span) && !hover.markdown.is_empty());
    }
    let offered = completion(farm, file, at).candidates;
    prop_assert!(offered.len() <= 1000);
    for candidate in offered.iter().take(20) {
        prop_assert!(fits(text, candidate.span));
        let _ = candidate
            .about
            .as_deref()
            .map(|about| resolve(farm, file, about));
    }
    for hint in hints(farm, file, range, HintKinds::ALL) {
        prop_assert!(text.is_char_boundary(hint.offset));
    }
    for lens in lenses(farm, file) {
        prop_assert!(fits(text, lens.span));
    }
    let mut end = 0;
    for token in tokens(farm, file, Span::new(0, text.len())) {
        prop_assert!(
            fits(text, token.span) && token.span.start as usize >= end,
            "{token:?}"
        );
        prop_assert!(!token.span.of(text).contains(['\n', '\r']));
        end = token.span.end as usize;
    }
    let laid_out: Vec<Edit> = format(farm, file)
        .into_iter()
        .map(|edit| Edit {
            place: trug_findings::Place::new(file, edit.span),
            text: edit.text,
        })
        .collect();
    prop_assert_eq!(applied(text, file, &laid_out), trug_syntax::tidy(text));
    let _ = format_range(farm, file, range);
    let _ = format_on_line_end(farm, file, at);
    check_actions(farm, file, text, range)
}

fn check_actions(farm: &Farm, file: FileId, text: &str, range: Span) -> Result<(), TestCaseError> {
    let findings = trug_record::check_file(farm, file);
    let before = unread(text);
    for action in actions(farm, file, range, &findings) {
        for edit in &action.edits {
            prop_assert!(edit.place.file != file || fits(text, edit.place.span));
        }
        let after = applied(text, file, &action.edits);
        // A header that is mended brings its lines to light, and with them what is wrong there.
        let mends_header = action.mends.iter().any(|rank| {
            let start = findings[*rank].place.span.start;
            let items = &farm.tree(file).items;
            items
                .iter()
                .any(|item| item.header.start == start && matches!(item.body, ItemBody::Unread(_)))
        });
        prop_assert!(
            mends_header || unread(&after) <= before,
            "{}\n{after}",
            action.title
        );
        if let Some(to_fill) = action.to_fill {
            prop_assert!(action.edits[0].text.get(to_fill).is_some());
        }
    }
    let all = fix_all(farm, file, &findings, None);
    prop_assert!(unread(&applied(text, file, &all)) <= before);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn no_answer_fails_and_actions_can_be_read(
        which in 0..EXAMPLES.len(),
        edits in prop::collection::vec((any::<usize>(), 0..12_usize, any::<usize>()), 0..8),
        places in prop::collection::vec((any::<usize>(), 0..80_usize), 6),
    ) {
        let (name, example) = EXAMPLES[which];
        let text = mutated(example, &edits);
        let (farm, file) = farm(name, &text);
        for (at, more) in places {
            let at = boundary(&text, at);
            ask_everything(&farm, file, &text, at, boundary(&text, at + more))?;
        }
    }
}

/// Offsets out of the text or inside a character are nobody's, and no reason to fail.
#[test]
fn offsets_may_be_anywhere() {
    let text = "ration සහල්\r\n  maize 4|0 %\r\n";
    let (farm, file) = farm("rations.trug", text);
    for offset in 0..text.len() + 5 {
        let _ = hover(&farm, file, offset);
        let _ = completion(&farm, file, offset);
        let _ = format_on_line_end(&farm, file, offset);
        for end in [offset, offset + 3, 1_000_000] {
            let range = Span::new(offset, end);
            let _ = hints(&farm, file, range, HintKinds::ALL);
            let _ = tokens(&farm, file, range);
            let _ = format_range(&farm, file, range);
            let _ = actions(&farm, file, range, &farm.check_file(file));
        }
    }
    let none = FileId(9999);
    assert!(hover(&farm, none, 0).is_none() && lenses(&farm, none).is_empty());
    assert!(tokens(&farm, none, Span::at(0)).is_empty() && format(&farm, none).is_empty());
    assert!(completion(&farm, none, 0).candidates.is_empty());
}

/// Every sign of a line that was read belongs to a token.
#[test]
fn every_sign_of_the_examples_is_told() {
    for (name, text) in EXAMPLES {
        let (farm, file) = farm(name, text);
        let mut told = vec![false; text.len()];
        for token in tokens(&farm, file, Span::new(0, text.len())) {
            told[token.span.range()].fill(true);
        }
        for (at, character) in text.char_indices() {
            assert!(
                told[at] || character.is_whitespace(),
                "{name}: {:?}",
                &text[at..]
            );
        }
    }
}

/// A line end indents the next line where the item takes lines, and lays out the line that was left.
#[test]
fn a_line_end_lays_out_the_line_it_leaves() {
    let typed = |text: &str| {
        let at = text.find('|').expect("a cursor");
        let text = text.replace('|', "");
        let (farm, file) = farm("rations.trug", &text);
        let mut after = text.clone();
        for edit in format_on_line_end(&farm, file, at).iter().rev() {
            after.replace_range(edit.span.range(), &edit.text);
        }
        after
    };
    assert_eq!(typed("ration a\n|"), "ration a\n  ");
    assert_eq!(
        typed("ration a\n  for  duck # x\n|"),
        "ration a\n  for            duck  # x\n  "
    );
    assert_eq!(
        typed("ration a\n  maize so\n    |\n"),
        "ration a\n  maize so\n  \n"
    );
    assert_eq!(typed("unit a = 5 kg\n|"), "unit a = 5 kg\n");
    assert_eq!(
        typed("ration a\r\n  maize   4 %\r\n|\r\n"),
        "ration a\r\n  maize          4 %\r\n  \r\n"
    );
}
