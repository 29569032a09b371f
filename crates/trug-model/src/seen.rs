//! Names as one text sees them: where each is declared, and which are taken.

use smol_str::SmolStr;
use trug_findings::{FileId, Place, Span};
use trug_syntax::tree::ItemBody;

use crate::farm::{Farm, ItemRef, Namespace, names};
use crate::view::View;

impl Farm {
    /// Where an item is named; where its header stands, if it has no name.
    #[must_use]
    pub fn name_place(&self, item: ItemRef) -> Option<Place> {
        let found = self.item_at(item)?;
        let span = found.body.name().map_or(found.header, |name| name.span);
        Some(Place::new(item.file, span))
    }

    /// The `use` lines of a text: where each names what it uses, and what that is; none where it is missing.
    #[must_use]
    pub fn uses(&self, file: FileId) -> &[(Span, Option<FileId>)] {
        &self.entry(file).uses
    }
}

/// The path that a `use` in the text `from` means, from the root; none where it is no path of a farm.
#[must_use]
pub fn joined(from: &str, target: &str) -> Option<String> {
    crate::farm::join(from, target)
}

impl View<'_> {
    /// Where a name is declared, the stronger first: the farm's own item, rows of tables, the books' items.
    #[must_use]
    pub fn declared(&self, namespace: Namespace, name: &str) -> Vec<ItemRef> {
        let found = self.find(namespace, name);
        let rows = if namespace == Namespace::Feed {
            self.rows_of(name)
        } else {
            &[]
        };
        let stronger = found.farm.into_iter().chain(rows.iter().copied());
        let books = self.scope.in_books(self.farm, namespace, name);
        stronger.chain(books).collect()
    }

    /// The measure a word means for an ingredient: one declared for it, else one for any. A unit known anyway is none.
    #[must_use]
    pub fn measure(&self, word: &str, of: Option<&str>) -> Option<ItemRef> {
        let mut general = None;
        for (file, declared) in self.scope.all(self.farm, Namespace::Unit) {
            if declared.name != word || crate::quantity::word(word).is_some() {
                continue;
            }
            let item = ItemRef {
                file,
                rank: declared.rank,
            };
            match (&declared.of, of) {
                (None, _) => general = general.or(Some(item)),
                (Some(of), Some(wanted)) if of == wanted => return Some(item),
                _ => {}
            }
        }
        general
    }

    /// The items whose name of that kind is this one, or differs from it in case only; also those that count for any kind.
    #[must_use]
    pub fn declared_alike(&self, namespace: Namespace, name: &str) -> Vec<ItemRef> {
        let folded = names::fold(name);
        let mut alike = Vec::new();
        for &file in &self.scope.files {
            for kind in [namespace, Namespace::Any] {
                let declared = self.farm.entry(file).names.folded(kind, &folded).iter();
                alike.extend(declared.map(|declared| ItemRef {
                    file,
                    rank: declared.rank,
                }));
            }
        }
        if namespace == Namespace::Feed {
            alike.extend(self.rows_of(name));
        }
        alike
    }

    /// The ingredient that people call so.
    #[must_use]
    pub fn labelled(&self, label: &str) -> Option<SmolStr> {
        let feeds = self.scope.all(self.farm, Namespace::Feed);
        let mut called = feeds.filter(|(file, declared)| {
            let rank = declared.rank;
            let body = &self.item(ItemRef { file: *file, rank }).body;
            matches!(body, ItemBody::Ingredient(ingredient)
                if ingredient.label.as_ref().is_some_and(|it| it.text.trim() == label))
        });
        called.next().map(|(_, declared)| declared.name.clone())
    }
}
