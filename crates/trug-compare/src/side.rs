//! One side of a comparison: a farm, and where in it the side begins.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::{FileId, Finding, Place};
use trug_model::Farm;

use crate::change::Pair;

/// A farm that has been read, and the folder that names on this side are relative to.
#[derive(Debug)]
pub struct Side<'a> {
    /// The texts asked for and all they use.
    pub farm: &'a Farm,
    /// The folder the side begins at, from the root of the farm; empty where that is the root.
    pub base: String,
    /// What there is to say about each text, by its number.
    found: Vec<Vec<Finding>>,
}

impl<'a> Side<'a> {
    /// Judges a farm, and sets where its side begins.
    #[must_use]
    pub fn new(farm: &'a Farm, base: impl Into<String>) -> Side<'a> {
        let mut found = vec![Vec::new(); farm.sources().len()];
        for finding in farm.check() {
            if let Some(of_text) = found.get_mut(finding.place.file.index()) {
                of_text.push(finding);
            }
        }
        Side {
            farm,
            base: base.into(),
            found,
        }
    }

    /// What there is to say about one text.
    pub(crate) fn found(&self, file: FileId) -> &[Finding] {
        self.found.get(file.index()).map_or(&[], Vec::as_slice)
    }

    /// What there is to say about all texts.
    pub(crate) fn all_found(&self) -> impl Iterator<Item = &Finding> {
        self.found.iter().flatten()
    }

    /// The texts of the farm that are no books.
    pub(crate) fn own_texts(&self) -> impl Iterator<Item = FileId> + '_ {
        let farm = self.farm;
        farm.files().filter(move |file| !farm.is_book(*file))
    }

    /// The name of a text, relative to where the side begins.
    pub(crate) fn name(&self, file: FileId) -> String {
        let source = self.farm.sources().get(file.index());
        let name = source.map_or("", |source| source.name());
        if self.farm.is_book(file) {
            return name.to_owned();
        }
        relative(&self.base, name)
    }

    /// The text and the line of a place.
    pub(crate) fn line(&self, place: Place) -> (String, usize) {
        let source = self.farm.sources().get(place.file.index());
        let start = place.span.start as usize;
        let line = source.map_or(1, |source| source.position(start).line);
        (self.name(place.file), line)
    }
}

/// A name from the root as a name from the folder `base`.
fn relative(base: &str, name: &str) -> String {
    let base: Vec<&str> = base.split('/').filter(|part| !part.is_empty()).collect();
    let parts: Vec<&str> = name.split('/').collect();
    let shared = base
        .iter()
        .zip(&parts)
        .take_while(|(one, other)| one == other);
    // The name of the text itself is never part of the way.
    let shared = shared.count().min(parts.len().saturating_sub(1));
    let ups = "../".repeat(base.len() - shared);
    let down = parts.get(shared..).unwrap_or_default().join("/");
    ups + &down
}

/// Everything that the reading of one text depends on, told apart by number.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Digest(Vec<(usize, bool, usize, Vec<Option<usize>>)>);

/// The digests of the texts of two sides: where two are equal, all that follows from them is.
pub(crate) struct Digests {
    before: BTreeMap<FileId, Digest>,
    after: BTreeMap<FileId, Digest>,
    /// A text came, went or differs.
    pub(crate) differ: bool,
}

impl Digests {
    pub(crate) fn of(before: &Side<'_>, after: &Side<'_>) -> Digests {
        let texts: BTreeSet<&str> = [before, after]
            .iter()
            .flat_map(|side| side.farm.sources().iter().map(|source| source.text()))
            .collect();
        let numbers: BTreeMap<&str, usize> = texts.into_iter().zip(0..).collect();
        let contents = |side: &Side<'_>| -> Vec<Option<usize>> {
            let texts = side.own_texts().map(|file| {
                let source = side.farm.sources().get(file.index());
                source
                    .and_then(|source| numbers.get(source.text()))
                    .copied()
            });
            let mut texts: Vec<_> = texts.collect();
            texts.sort_unstable();
            texts
        };
        let digests = |side: &Side<'_>| {
            let files = side.own_texts();
            files
                .map(|file| (file, digest(side, file, &numbers)))
                .collect()
        };
        Digests {
            before: digests(before),
            after: digests(after),
            differ: contents(before) != contents(after),
        }
    }
}

impl Digests {
    /// Whether what two texts see may differ; it does where one of them is not there.
    pub(crate) fn may_differ(&self, texts: &Pair<FileId>) -> bool {
        let before = texts.before.and_then(|text| self.before.get(&text));
        let after = texts.after.and_then(|text| self.after.get(&text));
        before.is_none() || before != after
    }
}

fn digest(side: &Side<'_>, file: FileId, numbers: &BTreeMap<&str, usize>) -> Digest {
    let view = side.farm.open(file);
    let seen = view.sees();
    let ranks: BTreeMap<FileId, usize> = seen.iter().copied().zip(0..).collect();
    let one = |file: &FileId| {
        let source = side.farm.sources().get(file.index());
        let number = source.and_then(|source| numbers.get(source.text()).copied());
        let uses = side.farm.uses(*file).iter();
        let uses = uses.map(|(_, used)| used.and_then(|used| ranks.get(&used).copied()));
        let is_table = side.farm.is_table(*file);
        // A text that is none has no words, and one finding more than an empty one.
        let found = side.found(*file).len();
        (number.unwrap_or_default(), is_table, found, uses.collect())
    };
    Digest(seen.iter().map(one).collect())
}

#[cfg(test)]
mod tests {
    use super::relative;

    #[test]
    fn names_are_relative_to_where_the_side_begins() {
        assert_eq!(relative("", "store.trug"), "store.trug");
        assert_eq!(relative("farm", "farm/store.trug"), "store.trug");
        assert_eq!(relative("farm/a", "farm/store.trug"), "../store.trug");
        assert_eq!(relative("farm", "farm.trug"), "../farm.trug");
        assert_eq!(
            relative("farm", "../coop/store.trug"),
            "../../coop/store.trug"
        );
    }
}
