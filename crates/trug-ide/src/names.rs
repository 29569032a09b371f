//! The names in a text: what each is a name of, whether it is declared or used there, and what it means.

mod cells;
mod walk;

use smol_str::SmolStr;
use trug_findings::{FileId, Place, Span};
use trug_model::{Farm, ItemRef, Namespace, View};
use trug_syntax::tree;

/// A name where it stands in a text.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Named {
    /// Where.
    pub span: Span,
    /// What it is a name of.
    pub namespace: Namespace,
    /// The name, composed (NFC).
    pub text: SmolStr,
    /// Whether it is declared here.
    pub role: Role,
    /// For a local measure: the ingredient it is declared or asked for.
    pub of: Option<SmolStr>,
    /// The rank of the item it stands in.
    pub item: u32,
}

/// What a name does where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// The item it stands in is called so.
    Declares,
    /// It names what is declared elsewhere.
    Uses,
}

/// A name at an offset, and what it means there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// The name.
    pub named: Named,
    /// The items it means, the stronger first; empty where it is unknown.
    pub items: Vec<ItemRef>,
}

/// Every name in a text, in the order of the text. Units that are no measures of the farm are none.
#[must_use]
pub fn names_in(farm: &Farm, file: FileId) -> Vec<Named> {
    let mut names = names_of(farm.tree(file));
    if farm.is_table(file) {
        let text = farm.sources().get(file.index());
        cells::narrow(text.map_or("", |source| source.text()), &mut names);
        names.sort();
        names.dedup();
    }
    tell_mixes(farm, file, &mut names);
    names
}

/// A lot that is weighed may be a mix made beforehand: then it is the name of a record.
fn tell_mixes(farm: &Farm, file: FileId, names: &mut [Named]) {
    let is_lot = |named: &&mut Named| {
        let rank = named.item as usize;
        let item = farm.tree(file).items.get(rank);
        named.namespace == Namespace::Lot
            && named.role == Role::Uses
            && item.is_some_and(|item| matches!(item.body, tree::ItemBody::Record(_)))
    };
    let mut lots = names.iter_mut().filter(is_lot).peekable();
    if lots.peek().is_none() {
        return;
    }
    let view = farm.open(file);
    for named in lots {
        let is_declared = |namespace| view.declaration(namespace, &named.text).is_some();
        if !is_declared(Namespace::Lot) && is_declared(Namespace::Record) {
            named.namespace = Namespace::Record;
        }
    }
}

/// Every name in a tree, in the order of the text.
pub(crate) fn names_of(tree: &tree::File) -> Vec<Named> {
    let mut names = Vec::new();
    for (rank, item) in (0u32..).zip(&tree.items) {
        walk::item(rank, item, &mut names);
    }
    names.sort();
    names
}

/// Where an item is named: in a table, without the quotes of the cell.
#[must_use]
pub fn declared_at(farm: &Farm, item: ItemRef) -> Option<Place> {
    let place = farm.name_place(item)?;
    if !farm.is_table(item.file) {
        return Some(place);
    }
    let name = farm.item_at(item)?.body.name()?;
    let text = farm.sources().get(item.file.index())?.text();
    let span = cells::word_in(text, place.span, &name.text);
    Some(Place::new(item.file, span.unwrap_or(place.span)))
}

/// The quantities, bounds, units and sums of an item, and their parts, in no particular order.
pub(crate) fn parts_of(item: &tree::Item) -> Vec<Span> {
    walk::parts(item)
}

/// The name that holds an offset, or ends at it.
#[must_use]
pub fn name_at(farm: &Farm, file: FileId, offset: usize) -> Option<Named> {
    let holds = |span: Span| span.start as usize <= offset && offset <= span.end as usize;
    let mut names = if farm.is_table(file) {
        names_in(farm, file)
    } else {
        let items = &farm.tree(file).items;
        let after = items.partition_point(|item| item.whole.start as usize <= offset);
        let rank = after.checked_sub(1)?;
        let mut names = Vec::new();
        walk::item(u32::try_from(rank).ok()?, items.get(rank)?, &mut names);
        names.retain(|named| holds(named.span));
        tell_mixes(farm, file, &mut names);
        names
    };
    names.retain(|named| holds(named.span));
    // Where a name ends and another begins, the one that begins is meant.
    names.into_iter().max()
}

/// What a name of `file` means to a text that sees it: the items that declare it, the stronger first.
///
/// A name declared a second time means only itself: what uses the name means the first.
#[must_use]
pub fn items_of(view: &View<'_>, file: FileId, named: &Named) -> Vec<ItemRef> {
    let own = ItemRef {
        file,
        rank: named.item,
    };
    let declares = named.role == Role::Declares;
    // Which ingredient a row of a table is of, its text alone cannot tell.
    let row_of = view.farm().is_table(file).then(|| view.row_is_of(own));
    if let (true, Some(of)) = (declares, &row_of) {
        let declared = |of: &SmolStr| view.declared(Namespace::Feed, of);
        return of.as_ref().map_or_else(Vec::new, declared);
    }
    let items = match named.namespace {
        Namespace::Unit => {
            let of = row_of.flatten().or_else(|| named.of.clone());
            let measure = view.measure(&named.text, of.as_deref());
            measure.into_iter().collect()
        }
        namespace => view.declared(namespace, &named.text),
    };
    if declares && items.first() != Some(&own) {
        vec![own]
    } else {
        items
    }
}

/// The name at an offset, and what it means. A name in a table means what it does to the first text that uses it.
#[must_use]
pub fn meaning_at(farm: &Farm, file: FileId, offset: usize) -> Option<Meaning> {
    let named = name_at(farm, file, offset)?;
    let items = if farm.is_table(file) {
        let mut readers = farm.readers_of(file).into_iter().skip(1);
        readers.find_map(|reader| {
            let items = items_of(&farm.open(reader), file, &named);
            (!items.is_empty()).then_some(items)
        })
    } else {
        Some(items_of(&farm.open(file), file, &named))
    };
    Some(Meaning {
        named,
        items: items.unwrap_or_default(),
    })
}
