//! The tree of a text; that of a bundled book is read item by item, as it is asked for.
//!
//! A farm uses a few of the many items of a book. Their headers are found by hand, which the form of a bundled book
//! allows and a test holds the books to; the lines of an item are read when someone asks for it.

use std::ops::Range;
use std::sync::OnceLock;

use smol_str::SmolStr;
use trug_findings::FileId;
use trug_syntax::tree::{self, Item};

use super::names::{NameTable, Namespace};

/// The items of a text.
#[derive(Debug)]
pub(crate) enum Tree {
    /// Read whole.
    Read(tree::File),
    /// Read as it is asked for.
    Shelved(Shelved),
}

/// A bundled book.
#[derive(Debug)]
pub(crate) struct Shelved {
    text: &'static str,
    heads: Vec<Head>,
    items: Vec<OnceLock<Item>>,
    whole: OnceLock<tree::File>,
}

/// Where an item of a book stands, and what it is.
#[derive(Debug)]
struct Head {
    /// None where it declares no name.
    declares: Option<(Namespace, SmolStr)>,
    at: Range<usize>,
}

/// The items a book may hold, and what kind of name each declares.
const ITEMS: [(&str, Option<Namespace>); 6] = [
    ("use", None),
    ("animal", Some(Namespace::Animal)),
    ("nutrient", Some(Namespace::Nutrient)),
    ("method", Some(Namespace::Method)),
    ("ingredient", Some(Namespace::Feed)),
    ("targets", Some(Namespace::Targets)),
];

impl Tree {
    /// The tree of a bundled book. One that holds other items is read whole.
    pub(crate) fn of_book(text: &'static str) -> Tree {
        match heads(text) {
            Some(heads) => Tree::Shelved(Shelved {
                items: heads.iter().map(|_| OnceLock::new()).collect(),
                text,
                heads,
                whole: OnceLock::new(),
            }),
            None => Tree::Read(trug_syntax::parse(FileId::default(), text)),
        }
    }

    /// All of it.
    pub(crate) fn whole(&self) -> &tree::File {
        match self {
            Tree::Read(tree) => tree,
            Tree::Shelved(book) => book.whole(),
        }
    }

    /// One item of it.
    pub(crate) fn item(&self, rank: u32) -> &Item {
        match self {
            Tree::Read(tree) => &tree.items[rank as usize],
            Tree::Shelved(book) => book.item(rank as usize),
        }
    }

    /// One item of it; none where it has fewer.
    pub(crate) fn get(&self, rank: u32) -> Option<&Item> {
        let has = match self {
            Tree::Read(tree) => tree.items.len(),
            Tree::Shelved(book) => book.items.len(),
        };
        ((rank as usize) < has).then(|| self.item(rank))
    }

    /// The item that stands at an offset; none where none begins above it.
    pub(crate) fn item_at(&self, offset: usize) -> Option<&Item> {
        match self {
            Tree::Read(tree) => {
                let starts_above = |item: &Item| item.whole.start as usize <= offset;
                let after = tree.items.partition_point(starts_above);
                tree.items.get(after.checked_sub(1)?)
            }
            Tree::Shelved(book) => {
                let after = book.heads.partition_point(|head| head.at.start <= offset);
                Some(book.item(after.checked_sub(1)?))
            }
        }
    }

    /// Its items that use others.
    pub(crate) fn uses(&self) -> Vec<&Item> {
        match self {
            Tree::Read(tree) => tree.items.iter().collect(),
            Tree::Shelved(book) => {
                let heads = book.heads.iter().enumerate();
                let uses = heads.filter(|(_, head)| head.declares.is_none());
                uses.map(|(rank, _)| book.item(rank)).collect()
            }
        }
    }

    /// The names it declares.
    pub(crate) fn names(&self) -> NameTable {
        match self {
            Tree::Read(tree) => NameTable::of(tree),
            Tree::Shelved(book) => {
                let heads = (0u32..).zip(&book.heads);
                NameTable::declaring(heads.filter_map(|(rank, head)| {
                    let (namespace, name) = head.declares.clone()?;
                    Some((rank, namespace, name))
                }))
            }
        }
    }
}

impl Shelved {
    fn whole(&self) -> &tree::File {
        let read = || trug_syntax::parse(FileId::default(), self.text);
        self.whole.get_or_init(read)
    }

    fn item(&self, rank: usize) -> &Item {
        self.items[rank].get_or_init(|| {
            let at = self.heads[rank].at.clone();
            let part = trug_syntax::parse_part(FileId::default(), self.text, at);
            let mut items = part.items.into_iter();
            items
                .next()
                .unwrap_or_else(|| self.whole().items[rank].clone())
        })
    }
}

/// The items of a book by their headers; none where one is of a kind that books do not hold.
fn heads(text: &str) -> Option<Vec<Head>> {
    let mut heads: Vec<Head> = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let opens = line.starts_with(|first: char| first.is_ascii_lowercase());
        if opens {
            let mut words = line.split_ascii_whitespace();
            let (word, name) = (words.next()?, words.next()?);
            let (_, namespace) = ITEMS.iter().find(|(known, _)| *known == word)?;
            if let Some(above) = heads.last_mut() {
                above.at.end = start;
            }
            heads.push(Head {
                declares: namespace.map(|namespace| (namespace, SmolStr::new(name))),
                at: start..text.len(),
            });
        }
        start += line.len();
    }
    Some(heads)
}

#[cfg(test)]
mod tests {
    use super::Tree;
    use crate::farm::names::NameTable;
    use crate::library::Library;
    use trug_findings::FileId;

    /// Each book is read the same item by item as whole: names, ranks, items and their places.
    #[test]
    fn a_book_is_read_item_by_item_as_whole() {
        for edition in Library::bundled().editions() {
            for (name, text) in edition.books {
                let whole = trug_syntax::parse(FileId::default(), text);
                let book = Tree::of_book(text);
                assert!(matches!(book, Tree::Shelved(_)), "{name}");
                assert_eq!(book.names().all(), NameTable::of(&whole).all(), "{name}");
                for (rank, item) in (0u32..).zip(&whole.items) {
                    assert_eq!(book.item(rank), item, "{name}");
                    let start = item.whole.start as usize;
                    assert_eq!(book.item_at(start), Some(item), "{name}");
                }
            }
        }
    }
}
