//! What an editor may ask at any place of any text: answers lie in the texts, edits can be made, and a new name changes nothing
//! else.

use std::collections::BTreeMap;

use trug_findings::{Edit, FileId, Finding, Place, Span};
use trug_ide::{
    HintKinds, Symbol, actions, completion, definition, document_symbols, fix_all, folds, format,
    format_on_line_end, format_range, highlights, hints, hover, lens_places, lenses, links,
    prepare_rename, references, rename, resolve_lens, selections, taken_by, taker_at, takers_of,
    tokens, type_definition, workspace_symbols,
};
use trug_model::Farm;

use super::farms::{Text, farm, texts};
use super::held::{edits_hold, place_holds};
use crate::fixes::edited;

/// Places that are asked about in one farm: a fuzzer has no time for each letter.
const MOST_PLACES: usize = 12;
/// A name that nothing has.
const NEW_NAME: &str = "quill-9-reed";

/// Asks everything an editor can, at some places of each text of a farm.
pub fn questions(bytes: &[u8]) {
    let texts = texts(bytes);
    let farm = farm(&texts);
    let found = trug_record::check(&farm);
    for &file in farm.asked() {
        of_the_text(&farm, file, &found);
        let text = farm.sources()[file.index()].text();
        // Beyond the end, too, and between the bytes of a letter.
        let places = 1 + (text.len() + 2) / MOST_PLACES;
        for offset in (0..text.len() + 2).step_by(places) {
            at(&farm, file, offset, &found);
            renamed(&texts, &farm, file, offset, &found);
        }
    }
}

fn of_the_text(farm: &Farm, file: FileId, found: &[Finding]) {
    let text = farm.sources()[file.index()].text();
    let whole = Span::new(0, text.len());
    let holds = |span: Span, what: &str| place_holds(Place::new(file, span), farm.sources(), what);
    let drawn = tokens(farm, file, whole);
    for token in &drawn {
        holds(token.span, "a token");
    }
    for pair in drawn.windows(2) {
        assert!(
            pair[0].span.end <= pair[1].span.start,
            "tokens overlap: {pair:?}"
        );
    }
    for fold in folds(farm, file) {
        holds(fold.span, "a fold");
    }
    for link in links(farm, file) {
        holds(link.span, "a link");
    }
    symbols_hold(&document_symbols(farm, file));
    for symbol in workspace_symbols(farm, "a", 20) {
        assert!(!symbol.name.trim().is_empty());
    }
    for lens in lens_places(farm, file) {
        holds(lens.span, "a lens");
        drop(resolve_lens(farm, file, lens));
    }
    drop(lenses(farm, file));
    for hint in hints(farm, file, whole, HintKinds::ALL) {
        assert!(text.is_char_boundary(hint.offset), "{hint:?}");
    }
    edits_hold(
        &fix_all(farm, file, found, None),
        farm.sources(),
        "all fixes",
    );
    let tidied: Vec<Edit> = format(farm, file)
        .into_iter()
        .map(|edit| Edit {
            place: Place::new(file, edit.span),
            text: edit.text,
        })
        .collect();
    edits_hold(&tidied, farm.sources(), "layout");
    assert_eq!(
        edited(text, &tidied),
        trug_syntax::tidy(text),
        "an editor lays out otherwise"
    );
    for edit in format_range(farm, file, whole) {
        holds(edit.span, "layout of a range");
    }
}

/// LSP 3.17, DocumentSymbol: a name is not empty, nor blanks alone, and the name lies within the whole.
fn symbols_hold(symbols: &[Symbol]) {
    for symbol in symbols {
        assert!(!symbol.name.trim().is_empty(), "{symbol:?}");
        let (name, whole) = (symbol.span, symbol.whole);
        assert!(
            whole.start <= name.start && name.end <= whole.end,
            "{symbol:?}"
        );
        symbols_hold(&symbol.lines);
    }
}

fn at(farm: &Farm, file: FileId, offset: usize, found: &[Finding]) {
    let text = farm.sources()[file.index()].text();
    let sources = farm.sources();
    let holds = |span: Span, what: &str| place_holds(Place::new(file, span), sources, what);
    for candidate in completion(farm, file, offset).candidates {
        assert!(!candidate.label.is_empty());
        holds(candidate.span, "a candidate");
    }
    if let Some(hover) = hover(farm, file, offset) {
        holds(hover.span, "a hover");
        assert!(!hover.markdown.trim().is_empty());
    }
    let targets = definition(farm, file, offset);
    for target in targets.iter().chain(&type_definition(farm, file, offset)) {
        holds(target.from, "what is asked about");
        place_holds(target.to, sources, "a declaration");
        place_holds(target.whole, sources, "an item");
    }
    for place in references(farm, file, offset, true) {
        place_holds(place, sources, "a use");
    }
    for same in highlights(farm, file, offset) {
        holds(same.span, "a highlight");
    }
    let around = selections(farm, file, offset);
    for pair in around.windows(2) {
        let is_inside = pair[1].start <= pair[0].start && pair[0].end <= pair[1].end;
        assert!(is_inside, "selections do not grow: {around:?}");
    }
    for edit in format_on_line_end(farm, file, offset) {
        holds(edit.span, "layout of a line");
    }
    drop(taker_at(farm, file, offset));
    drop((taken_by(farm, file, offset), takers_of(farm, file, offset)));
    let clamped = (0..=offset.min(text.len()))
        .rev()
        .find(|offset| text.is_char_boundary(*offset))
        .unwrap_or_default();
    for action in actions(farm, file, Span::new(clamped, clamped), found) {
        assert!(!action.title.is_empty());
        edits_hold(&action.edits, sources, &action.title);
    }
}

/// With a name that nothing has, the farm finds what it found before.
fn renamed(texts: &[Text], before: &Farm, file: FileId, offset: usize, found: &[Finding]) {
    let Ok(named) = prepare_rename(before, file, offset) else {
        return;
    };
    // What one of two alike means, or an unknown one, may well change.
    let is_unclear = |finding: &Finding| {
        let family = finding.code.name.split('/').next();
        family.is_some_and(|family| ["name", "use", "syntax"].contains(&family))
    };
    place_holds(Place::new(file, named.span), before.sources(), "a name");
    let Ok(edits) = rename(before, file, offset, NEW_NAME) else {
        return;
    };
    edits_hold(&edits, before.sources(), "a new name");
    if found.iter().any(is_unclear) {
        return;
    }
    let mut after = texts.to_vec();
    for (path, text) in &mut after {
        let is_here = |edit: &&Edit| {
            let source = before.sources().get(edit.place.file.index());
            source.is_some_and(|source| source.name() == path)
        };
        let here: Vec<Edit> = edits.iter().filter(is_here).cloned().collect();
        *text = edited(text, &here);
    }
    let now = trug_record::check(&farm(&after));
    assert_eq!(
        counted(found),
        counted(&now),
        "{} renamed changes what is found:\n{after:?}",
        named.text
    );
}

/// How often each code is found.
fn counted(found: &[Finding]) -> BTreeMap<&'static str, usize> {
    let mut counted = BTreeMap::new();
    for finding in found {
        *counted.entry(finding.code.name).or_default() += 1;
    }
    counted
}
