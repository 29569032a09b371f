//! `tidy` and the fixes of findings: the layout is one, nothing that is said changes, and what is mended can be read
//! and is said no more.

use trug_findings::{Edit, FileId, Finding, Severity};
use trug_model::Farm;
use trug_syntax::tree::ItemBody;
use trug_syntax::{parse, tidy as laid_out};

use super::farms::{Text, farm, texts};
use super::held::without_places;
use crate::fixes::edited;

/// Fixes of one farm that are tried.
const MOST_FIXES: usize = 12;

/// Lays out every text of a farm, and applies the fixes that its findings offer.
pub fn tidy(bytes: &[u8]) {
    let texts = texts(bytes);
    let mut after = texts.clone();
    for (path, text) in after.iter_mut().filter(|(path, _)| path.ends_with(".trug")) {
        let tidied = laid_out(text);
        assert_eq!(
            laid_out(&tidied),
            tidied,
            "{path} is laid out twice: {text:?}"
        );
        assert_eq!(said(&tidied), said(text), "{text:?} became {tidied:?}");
        *text = tidied;
    }
    let before = farm(&texts);
    let found = trug_record::check(&before);
    let found_after = trug_record::check(&farm(&after));
    assert_eq!(
        told(&found_after),
        told(&found),
        "{texts:?} became {after:?}"
    );
    mended(&texts, &before, &found);
}

/// What a text says, without where.
fn said(text: &str) -> String {
    without_places(&format!("{:?}", parse(FileId(0), text).items))
}

/// What laying out mends: an item that was set in, a blank that is none of a keyboard's.
const MENDED: [&str; 2] = ["syntax/margin", "syntax/spelling"];

/// Findings without their places, and without those that need not be said again.
fn told(findings: &[Finding]) -> Vec<(&'static str, &'static str, bool)> {
    let told = |finding: &Finding| {
        let severity = finding.severity.word();
        (finding.code.name, severity, finding.is_open())
    };
    let stays = |finding: &&Finding| !MENDED.contains(&finding.code.name);
    let mut told: Vec<_> = findings.iter().filter(stays).map(told).collect();
    told.sort_unstable();
    told
}

/// Lines and headers that could not be read.
fn unread(text: &str) -> usize {
    let is_error = |finding: &&Finding| finding.severity == Severity::Error;
    parse(FileId(0), text)
        .findings
        .iter()
        .filter(is_error)
        .count()
}

/// After a fix a text has no more that cannot be read than before.
fn mended(texts: &[Text], farm: &Farm, found: &[Finding]) {
    let fixes = found.iter().flat_map(|finding| {
        let fixes = finding.fixes.iter();
        fixes.map(move |fix| (finding, fix))
    });
    for (finding, fix) in fixes.take(MOST_FIXES) {
        let file = finding.place.file;
        let Some(name) = farm.sources().get(file.index()).map(|source| source.name()) else {
            continue;
        };
        // A header that is mended brings its lines to light, and with them what is wrong there.
        let start = finding.place.span.start;
        let brings_to_light = farm.tree(file).items.iter().any(|item| {
            item.header.start <= start
                && start <= item.header.end
                && matches!(item.body, ItemBody::Unread(_))
        });
        let Some((_, text)) = texts.iter().rev().find(|(path, _)| path == name) else {
            continue;
        };
        let here: Vec<_> = fix
            .edits
            .iter()
            .filter(|edit| edit.place.file == file)
            .cloned()
            .collect();
        let after = edited(text, &here);
        assert!(
            !name.ends_with(".trug") || brings_to_light || unread(&after) <= unread(text),
            "{}: {:?} makes of {text:?}\n{after:?}",
            finding.code.name,
            fix.title
        );
        // What could not be read kept silent what comes after it, which may be wrong in the same way; and of a name that is
        // unknown in several places of an item the first is said.
        let hides_others =
            finding.code.name.starts_with("syntax/") || finding.code.name == "name/unknown";
        if !hides_others {
            mends(texts, farm, finding, &fix.edits, found);
        }
    }
}

/// What a fix mends is said no more.
fn mends(texts: &[Text], before: &Farm, finding: &Finding, edits: &[Edit], found: &[Finding]) {
    let mut after = texts.to_vec();
    for (path, text) in &mut after {
        let here: Vec<_> = edits
            .iter()
            .filter(|edit| before.sources()[edit.place.file.index()].name() == path)
            .cloned()
            .collect();
        *text = edited(text, &here);
    }
    let now = trug_record::check(&farm(&after));
    let same = |found: &[Finding]| {
        let same =
            |other: &&Finding| other.code == finding.code && other.message == finding.message;
        found.iter().filter(same).count()
    };
    assert!(
        same(&now) < same(found),
        "{} says the same after its fix: {}",
        finding.code.name,
        finding.message
    );
}
