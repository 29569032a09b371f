//! Every question an editor asks has an answer, whatever the text and wherever the cursor.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_findings::{FileId, Span};
use trug_ide::folds;
use trug_ide::links;
use trug_ide::selections;
use trug_ide::{Move, mend_uses};
use trug_ide::{definition, type_definition};
use trug_ide::{document_symbols, workspace_symbols};
use trug_ide::{highlights, references};
use trug_ide::{meaning_at, names_in};
use trug_ide::{prepare_rename, rename};
use trug_ide::{taken_by, taker_at, takers_of};
use trug_model::Farm;

use crate::names::{Texts, farms, read};

/// A change to a text: where, how many bytes go, and what comes.
#[derive(Clone, Debug)]
struct Change {
    at: prop::sample::Index,
    goes: usize,
    comes: String,
}

/// What a hand at a keyboard, or a cat on it, may put in.
fn change() -> impl Strategy<Value = Change> {
    let pieces = prop::sample::select(vec![
        "",
        " ",
        "\n",
        "\r\n",
        "\n  ",
        "\r",
        "\"",
        "#",
        ",",
        ";",
        "/",
        " .. ",
        "±",
        "%",
        "é",
        "e\u{301}",
        "සහල්",
        "𐐷",
        "\u{feff}",
        "\u{a0}",
        "\0",
        "“",
        "maize",
        " for ",
        "use \"farm.trug\"\n",
        "ration a like a\n  a 2 %\n",
        "unit kg = 2 kg\n",
        "lot a of b\n",
        " accept dose/over \"",
        "ingredient maize\n",
        "limit a + b / 2 * c",
        "1 in",
        "9999999999999999999999999999999999999999999",
    ]);
    (any::<prop::sample::Index>(), 0..40_usize, pieces).prop_map(|(at, goes, comes)| Change {
        at,
        goes,
        comes: comes.to_owned(),
    })
}

fn boundary(text: &str, mut at: usize) -> usize {
    at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn changed(text: &mut String, changes: &[Change]) {
    for change in changes {
        let start = boundary(text, change.at.index(text.len() + 1));
        let end = boundary(text, start + change.goes).max(start);
        text.replace_range(start..end, &change.comes);
    }
}

/// Asks everything there is to ask at one offset; every place of an answer lies in its text.
fn ask(farm: &Farm, file: FileId, offset: usize) {
    let within = |file: FileId, span: Span| {
        let text = farm.sources()[file.index()].text();
        assert!(
            text.get(span.range()).is_some(),
            "{span:?} of {}",
            text.len()
        );
    };
    for named in names_in(farm, file) {
        within(file, named.span);
    }
    if let Some(meaning) = meaning_at(farm, file, offset) {
        within(file, meaning.named.span);
    }
    for target in definition(farm, file, offset)
        .into_iter()
        .chain(type_definition(farm, file, offset))
    {
        within(file, target.from);
        within(target.to.file, target.to.span);
        within(target.whole.file, target.whole.span);
    }
    for place in references(farm, file, offset, true) {
        within(place.file, place.span);
    }
    for highlight in highlights(farm, file, offset) {
        within(file, highlight.span);
    }
    if prepare_rename(farm, file, offset).is_ok() {
        for edit in rename(farm, file, offset, "other-name").unwrap_or_default() {
            within(edit.place.file, edit.place.span);
        }
    }
    for symbol in document_symbols(farm, file) {
        within(file, symbol.whole);
        assert_eq!(symbol.whole.to(symbol.span), symbol.whole, "{symbol:?}");
        for line in symbol.lines {
            assert_eq!(line.whole.to(line.span), line.whole, "{line:?}");
            assert_eq!(symbol.whole.to(line.whole), symbol.whole, "{line:?}");
        }
    }
    for found in workspace_symbols(farm, "ma", 10) {
        within(found.place.file, found.place.span);
    }
    links(farm, file)
        .into_iter()
        .for_each(|link| within(file, link.span));
    folds(farm, file)
        .into_iter()
        .for_each(|fold| within(file, fold.span));
    let grown = selections(farm, file, offset);
    for pair in grown.windows(2) {
        assert!(
            pair[0] != pair[1] && pair[1].to(pair[0]) == pair[1],
            "{grown:?}"
        );
    }
    grown.into_iter().for_each(|span| within(file, span));
    if let Some(taker) = taker_at(farm, file, offset) {
        within(taker.place.file, taker.place.span);
    }
    for taking in taken_by(farm, file, offset)
        .into_iter()
        .chain(takers_of(farm, file, offset))
    {
        within(taking.who.place.file, taking.who.place.span);
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 1500,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    })]

    #[test]
    fn no_text_and_no_offset_is_without_answer(
        which in any::<prop::sample::Index>(),
        texts in prop::collection::vec((any::<prop::sample::Index>(), prop::collection::vec(change(), 1..6)), 0..3),
        asked in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 1..4),
    ) {
        let known = FARMS.with(|farms| which.get(farms).1.clone());
        let mut farm_texts: Texts = known;
        for (rank, changes) in &texts {
            let mut all = farm_texts.values_mut();
            if let Some(text) = all.nth(rank.index(all.len())) {
                changed(text, changes);
            }
        }
        let farm = read(&farm_texts);
        for (file, at) in asked {
            let file = FileId(u32::try_from(file.index(farm.sources().len())).unwrap());
            let length = farm.sources()[file.index()].text().len();
            // Also inside of letters, and past the end.
            ask(&farm, file, at.index(length + 4));
        }
        ask(&farm, FileId(0), usize::MAX);
        let moved = |(from, to): (&str, &str)| Move { from: from.to_owned(), to: to.to_owned() };
        let moves = [("farm.trug", "a/farm.trug"), ("coop", "../coop"), ("", "x")].map(moved);
        for edit in mend_uses(&farm, &moves) {
            let text = farm.sources()[edit.place.file.index()].text();
            prop_assert!(text.get(edit.place.span.range()).is_some());
        }
    }
}

thread_local! {
    static FARMS: Vec<(String, Texts)> = farms();
}
