//! What one text can see: itself and all it uses.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Severity, Span};

use super::Farm;
use super::names::{Declared, ItemRef, Namespace, fold};

/// A chain of `use` longer than this is not followed.
const DEEPEST: usize = 64;

/// The texts one text sees.
#[derive(Debug)]
pub(crate) struct Scope {
    /// The text itself, then all it uses, breadth first, the books last: what stands earlier wins, the books too.
    pub(crate) files: Vec<FileId>,
    /// Something it uses could not be had, so an unknown name may be declared there.
    pub(crate) is_incomplete: bool,
    /// The `use` beyond which the chain was too long to follow.
    pub(crate) too_deep: Option<Span>,
    /// The `use` of this text through which each text is seen.
    pub(crate) through: BTreeMap<FileId, Span>,
}

/// Where a name is declared: on the farm, in a table, in a book, or in several, the stronger adding to the weaker.
///
/// Of several books that declare it, this is the strongest; [`Scope::in_books`] has them all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Found {
    pub(crate) farm: Option<ItemRef>,
    pub(crate) table: Option<ItemRef>,
    pub(crate) book: Option<ItemRef>,
}

impl Found {
    /// The farm's where there is one.
    pub(crate) fn any(self) -> Option<ItemRef> {
        self.farm.or(self.table).or(self.book)
    }
}

/// One name declared twice among the texts that a text uses.
#[derive(Clone, Debug)]
pub(crate) struct Clash {
    pub(crate) name: SmolStr,
    pub(crate) first: ItemRef,
    pub(crate) second: ItemRef,
}

impl Scope {
    /// Follows the `use` lines of `file`.
    pub(crate) fn of(farm: &Farm, file: FileId) -> Scope {
        let mut scope = Scope {
            files: vec![file],
            is_incomplete: false,
            too_deep: None,
            through: BTreeMap::new(),
        };
        let mut next = 0;
        let mut depth_ends = 1;
        let mut depth = 0;
        while next < scope.files.len() {
            if next == depth_ends {
                depth += 1;
                depth_ends = scope.files.len();
            }
            let from = scope.files[next];
            for (span, target) in &farm.entry(from).uses {
                let through = if next == 0 {
                    *span
                } else {
                    scope.through[&from]
                };
                scope.add(*target, through, file, depth);
            }
            let is_error = |finding: &Finding| finding.severity == Severity::Error;
            scope.is_incomplete |= farm.entry(from).findings.iter().any(is_error);
            next += 1;
        }
        let own = scope.files.remove(0);
        scope.files.sort_by_key(|used| farm.is_book(*used));
        scope.files.insert(0, own);
        scope
    }

    fn add(&mut self, target: Option<FileId>, through: Span, own: FileId, depth: usize) {
        let Some(target) = target else {
            self.is_incomplete = true;
            return;
        };
        if target == own || self.through.contains_key(&target) {
            return;
        }
        if depth >= DEEPEST {
            self.is_incomplete = true;
            self.too_deep.get_or_insert(through);
            return;
        }
        self.through.insert(target, through);
        self.files.push(target);
    }

    /// The text whose scope this is.
    pub(crate) fn own(&self) -> FileId {
        self.files[0]
    }

    /// Where `name` is declared. An item whose header could not be read counts for any kind of name.
    pub(crate) fn find(&self, farm: &Farm, namespace: Namespace, name: &str) -> Found {
        let mut found = Found::default();
        let folded = fold(name);
        for &file in &self.files {
            let entry = farm.entry(file);
            let declared = entry.names.find(namespace, name, &folded);
            let declared = declared.or_else(|| entry.names.find(Namespace::Any, name, &folded));
            let Some(declared) = declared else { continue };
            let item = ItemRef {
                file,
                rank: declared.rank,
            };
            let slot = if entry.is_book {
                &mut found.book
            } else {
                &mut found.farm
            };
            slot.get_or_insert(item);
        }
        found
    }

    /// Where the books declare a name, the stronger first: what they say of it adds up.
    pub(crate) fn in_books(&self, farm: &Farm, namespace: Namespace, name: &str) -> Vec<ItemRef> {
        let folded = fold(name);
        let books = self.files.iter().rev();
        let mut declared: Vec<ItemRef> = books
            .take_while(|file| farm.is_book(**file))
            .filter_map(|file| {
                let names = &farm.entry(*file).names;
                let rank = names.find(namespace, name, &folded)?.rank;
                Some(ItemRef { file: *file, rank })
            })
            .collect();
        declared.reverse();
        declared
    }

    /// All names of a kind, for finding a near one.
    pub(crate) fn all<'a>(
        &'a self,
        farm: &'a Farm,
        namespace: Namespace,
    ) -> impl Iterator<Item = (FileId, &'a Declared)> {
        self.files.iter().flat_map(move |&file| {
            let declared = farm.entry(file).names.of_kind(namespace);
            declared.iter().map(move |declared| (file, declared))
        })
    }

    /// Names declared in two of the texts that are used, where no one of these texts sees both.
    pub(crate) fn clashes(&self, farm: &Farm) -> Vec<Clash> {
        let used: Vec<FileId> = self.files[1..]
            .iter()
            .copied()
            .filter(|file| !farm.is_book(*file))
            .collect();
        if used.len() < 2 {
            return Vec::new();
        }
        let mut declared: Vec<(&Declared, FileId)> = Vec::new();
        for &file in &used {
            declared.extend(farm.entry(file).names.all().iter().map(|one| (one, file)));
        }
        declared.sort_by(|a, b| {
            let key = |one: &(&Declared, FileId)| (one.0.namespace, one.0.folded.clone(), one.1);
            key(a).cmp(&key(b))
        });
        let same = |a: &Declared, b: &Declared| {
            a.namespace == b.namespace && a.folded == b.folded && a.of == b.of
        };
        let mut clashes = Vec::new();
        for pair in declared.windows(2) {
            let [(first, first_file), (second, second_file)] = pair else {
                continue;
            };
            if first_file == second_file || !same(first, second) {
                continue;
            }
            if sees_both(farm, &used, *first_file, *second_file) {
                continue;
            }
            clashes.push(Clash {
                name: second.name.clone(),
                first: ItemRef {
                    file: *first_file,
                    rank: first.rank,
                },
                second: ItemRef {
                    file: *second_file,
                    rank: second.rank,
                },
            });
        }
        clashes
    }
}

/// Whether one of the used texts itself sees both others, and so says what is wrong.
fn sees_both(farm: &Farm, used: &[FileId], first: FileId, second: FileId) -> bool {
    used.iter().any(|&file| {
        let scope = Scope::of(farm, file);
        let sees = |other| scope.files.contains(&other);
        sees(first) && sees(second)
    })
}
