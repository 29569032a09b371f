//! Which names one text declares.

use smol_str::{SmolStr, StrExt};
use trug_findings::FileId;
use trug_syntax::tree::{File, ItemBody};

/// The kinds of name. Ingredients and rations share one; an unreadable item's name may be of any.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the kind of that item")]
pub enum Namespace {
    Feed,
    Animal,
    Nutrient,
    Lot,
    Targets,
    Scale,
    Vessel,
    Method,
    Group,
    Record,
    Unit,
    Any,
}

impl Namespace {
    /// What such a thing is called.
    #[must_use]
    pub fn noun(self) -> &'static str {
        match self {
            Namespace::Feed => "ingredient or ration",
            Namespace::Animal => "animal",
            Namespace::Nutrient => "nutrient",
            Namespace::Lot => "lot",
            Namespace::Targets => "targets",
            Namespace::Scale => "scale",
            Namespace::Vessel => "vessel",
            Namespace::Method => "method",
            Namespace::Group => "group",
            Namespace::Record => "record",
            Namespace::Unit => "unit",
            Namespace::Any => "item",
        }
    }

    pub(crate) fn of(body: &ItemBody) -> Option<Namespace> {
        Some(match body {
            ItemBody::Use(_) | ItemBody::Rate(_) => return None,
            ItemBody::Unit(_) => Namespace::Unit,
            ItemBody::Animal(_) => Namespace::Animal,
            ItemBody::Nutrient(_) => Namespace::Nutrient,
            ItemBody::Ingredient(_) | ItemBody::Ration(_) => Namespace::Feed,
            ItemBody::Lot(_) => Namespace::Lot,
            ItemBody::Targets(_) => Namespace::Targets,
            ItemBody::Scale(_) => Namespace::Scale,
            ItemBody::Vessel(_) => Namespace::Vessel,
            ItemBody::Method(_) => Namespace::Method,
            ItemBody::Group(_) => Namespace::Group,
            ItemBody::Record(_) => Namespace::Record,
            ItemBody::Unread(_) => Namespace::Any,
        })
    }
}

/// An item, by its text and its rank in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ItemRef {
    /// The text.
    pub file: FileId,
    /// The rank among its items.
    pub rank: u32,
}

/// One declared name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Declared {
    pub(crate) namespace: Namespace,
    /// In lower case, since names that differ only in case are one name too many.
    pub(crate) folded: SmolStr,
    pub(crate) rank: u32,
    pub(crate) name: SmolStr,
    /// The ingredient a local measure is for.
    pub(crate) of: Option<SmolStr>,
}

const KINDS: usize = Namespace::Any as usize + 1;

/// The names of one text, sorted by kind and folded name.
#[derive(Debug, Default)]
pub(crate) struct NameTable {
    all: Vec<Declared>,
    /// Where each kind ends.
    ends: [usize; KINDS],
}

impl NameTable {
    pub(crate) fn of(file: &File) -> NameTable {
        let mut declared = Vec::with_capacity(file.items.len());
        for (rank, item) in (0u32..).zip(&file.items) {
            let (Some(namespace), Some(name)) = (Namespace::of(&item.body), item.body.name())
            else {
                continue;
            };
            declared.push(Declared {
                namespace,
                folded: fold(&name.text),
                rank,
                name: name.text.clone(),
                of: match &item.body {
                    ItemBody::Unit(unit) => unit.of.as_ref().map(|of| of.text.clone()),
                    _ => None,
                },
            });
        }
        NameTable::sorted(declared)
    }

    /// The table of these names, each with the rank of its item.
    pub(crate) fn declaring(names: impl Iterator<Item = (u32, Namespace, SmolStr)>) -> NameTable {
        let declared = names.map(|(rank, namespace, name)| Declared {
            namespace,
            folded: fold(&name),
            rank,
            name,
            of: None,
        });
        NameTable::sorted(declared.collect())
    }

    fn sorted(mut declared: Vec<Declared>) -> NameTable {
        declared.sort();
        let mut ends = [0; KINDS];
        for (kind, end) in ends.iter_mut().enumerate() {
            *end = declared.partition_point(|declared| declared.namespace as usize <= kind);
        }
        NameTable {
            all: declared,
            ends,
        }
    }

    /// All declarations, sorted by kind and folded name.
    pub(crate) fn all(&self) -> &[Declared] {
        &self.all
    }

    /// The declarations of one kind, sorted by folded name.
    pub(crate) fn of_kind(&self, namespace: Namespace) -> &[Declared] {
        let kind = namespace as usize;
        let start = if kind == 0 { 0 } else { self.ends[kind - 1] };
        &self.all[start..self.ends[kind]]
    }

    /// The declarations of a name, or of one that differs from it in case only, in the order of the text.
    pub(crate) fn folded(&self, namespace: Namespace, folded: &str) -> &[Declared] {
        let kind = self.of_kind(namespace);
        let start = kind.partition_point(|declared| declared.folded.as_str() < folded);
        let end = kind.partition_point(|declared| declared.folded.as_str() <= folded);
        &kind[start..end]
    }

    /// The first declaration of just this name, whose folded form is at hand.
    pub(crate) fn find(&self, namespace: Namespace, name: &str, folded: &str) -> Option<&Declared> {
        let alike = self.folded(namespace, folded);
        alike.iter().find(|declared| declared.name == name)
    }
}

/// A name without its case.
pub(crate) fn fold(name: &str) -> SmolStr {
    name.to_lowercase_smolstr()
}
