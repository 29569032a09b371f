//! What must hold of any finding, whatever text it is about.

use trug_findings::{Edit, Finding, Place, Source};

/// Every place of a finding lies in its text, between letters; each says something; no edits of a fix overlap.
pub(super) fn findings_hold(findings: &[Finding], sources: &[Source]) {
    for finding in findings {
        let code = finding.code.name;
        assert!(!finding.message.trim().is_empty(), "{code} says nothing");
        let related = finding.related.iter().map(|related| related.place);
        let accepted = finding.accepted.iter().map(|accepted| accepted.place);
        for place in related.chain(accepted).chain([finding.place]) {
            place_holds(place, sources, code);
        }
        for fix in &finding.fixes {
            assert!(!fix.title.trim().is_empty(), "a fix of {code} has no title");
            edits_hold(&fix.edits, sources, code);
        }
    }
}

/// A place lies in its text, between letters.
pub(super) fn place_holds(place: Place, sources: &[Source], code: &str) {
    let Some(source) = sources.get(place.file.index()) else {
        panic!("{code} is in no text: {place:?}");
    };
    let text = source.text();
    assert!(
        text.get(place.span.range()).is_some(),
        "{code} is at {:?} of {}, which has {} bytes",
        place.span,
        source.name(),
        text.len()
    );
}

/// The places of edits hold, and none overlaps another.
pub(super) fn edits_hold(edits: &[Edit], sources: &[Source], code: &str) {
    let mut places: Vec<Place> = edits.iter().map(|edit| edit.place).collect();
    places.sort();
    for place in &places {
        place_holds(*place, sources, code);
    }
    for pair in places.windows(2) {
        let overlaps = pair[0].file == pair[1].file && pair[1].span.start < pair[0].span.end;
        assert!(!overlaps, "edits of {code} overlap: {pair:?}");
    }
}

/// A number for these bytes: another for others, mostly, and the same for the same.
pub(super) fn seed_of(bytes: &[u8]) -> u64 {
    let add = |seed: u64, byte: &u8| seed.wrapping_mul(31).wrapping_add(u64::from(*byte));
    bytes.iter().fold(0, add)
}

/// What stands in a debug print of a tree, without its places: what a text says, and not where.
pub(super) fn without_places(debug: &str) -> String {
    let mut said = String::with_capacity(debug.len() / 2);
    let mut parts = debug.split("Span {");
    said.push_str(parts.next().unwrap_or_default());
    for part in parts {
        said.push_str(part.split_once('}').map_or("", |(_, rest)| rest));
    }
    said
}
