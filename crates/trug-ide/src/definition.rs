//! Where what stands at an offset is declared, and what it is a kind of.

use trug_findings::{FileId, Place, Span};
use trug_model::{Farm, ItemRef, Namespace, View};
use trug_syntax::tree::{GroupStatement, ItemBody, MethodRule, Name, Ration, RationStatement};

use crate::names::{declared_at, meaning_at};

/// A way from a place in the text to what it names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Target {
    /// What was pointed at.
    pub from: Span,
    /// Where that is named; the head of a text.
    pub to: Place,
    /// The whole of it: the item, or the text.
    pub whole: Place,
}

/// A ration takes what it does not say from the one it is like; a longer chain is not followed.
const LONGEST: usize = 64;

/// The declarations of the name at an offset, the stronger first: the farm's item, rows of tables, the book's item.
/// For the path of a `use`, and for the name of a book, their text.
#[must_use]
pub fn definition(farm: &Farm, file: FileId, offset: usize) -> Vec<Target> {
    if let Some(target) = used_text(farm, file, offset) {
        return vec![target];
    }
    let Some(meaning) = meaning_at(farm, file, offset) else {
        return Vec::new();
    };
    targets(farm, meaning.named.span, &meaning.items)
}

/// What the name at an offset is a kind of: of a lot its ingredient, of a record its ration, of targets and rations the
/// animal they are for, of an animal the kind it is one of, of a group its animals, of a measure its ingredient, of a
/// method its vessel; of anything else its own declarations.
#[must_use]
pub fn type_definition(farm: &Farm, file: FileId, offset: usize) -> Vec<Target> {
    let Some(meaning) = meaning_at(farm, file, offset) else {
        return Vec::new();
    };
    let view = farm.open(file);
    let from = meaning.named.span;
    let kinds = meaning.items.iter().map(|item| kinds_of(&view, *item));
    let mut declared = kinds.map(|kinds| {
        let declared = kinds.into_iter();
        let declared = declared.flat_map(|(kind, name)| view.declared(kind, &name.text));
        declared.collect::<Vec<ItemRef>>()
    });
    let items = declared.find(|items| !items.is_empty());
    let mut targets = targets(farm, from, &items.unwrap_or(meaning.items));
    targets.dedup();
    targets
}

fn used_text(farm: &Farm, file: FileId, offset: usize) -> Option<Target> {
    let holds = |span: &Span| span.start as usize <= offset && offset <= span.end as usize;
    let mut uses = farm.uses(file).iter();
    let (from, target) = uses.find(|(span, _)| holds(span))?;
    let target = (*target)?;
    let text = farm.sources().get(target.index())?.text();
    Some(Target {
        from: *from,
        to: Place::new(target, Span::at(0)),
        whole: Place::new(target, Span::new(0, text.len())),
    })
}

fn targets(farm: &Farm, from: Span, items: &[ItemRef]) -> Vec<Target> {
    let target = |item: &ItemRef| {
        Some(Target {
            from,
            to: declared_at(farm, *item)?,
            whole: Place::new(item.file, farm.item_at(*item)?.whole),
        })
    };
    items.iter().filter_map(target).collect()
}

/// What an item is a kind of; nothing where it is of no other.
fn kinds_of<'farm>(view: &View<'farm>, item: ItemRef) -> Vec<(Namespace, &'farm Name)> {
    let Some(item) = view.farm().item_at(item) else {
        return Vec::new();
    };
    let one = |kind, name: Option<&'farm Name>| name.map(|name| (kind, name)).into_iter().collect();
    match &item.body {
        ItemBody::Lot(lot) => one(Namespace::Feed, Some(&lot.of)),
        ItemBody::Record(record) => one(Namespace::Feed, Some(&record.of)),
        ItemBody::Targets(targets) => one(Namespace::Animal, targets.for_animal.as_ref()),
        ItemBody::Ration(ration) => one(Namespace::Animal, fed_to(view, ration)),
        ItemBody::Animal(animal) => one(Namespace::Animal, animal.is.as_ref()),
        ItemBody::Unit(unit) => one(Namespace::Feed, unit.of.as_ref()),
        ItemBody::Method(method) => {
            let mut rules = method.lines.iter().filter_map(|line| line.rule.as_ref());
            let vessel = rules.find_map(|rule| match rule {
                MethodRule::In(vessel) => Some(vessel),
                _ => None,
            });
            one(Namespace::Vessel, vessel)
        }
        ItemBody::Group(group) => {
            let animals = group.lines.iter().filter_map(|line| match &line.statement {
                Some(GroupStatement::Animals { animal, .. }) => Some((Namespace::Animal, animal)),
                _ => None,
            });
            animals.collect()
        }
        _ => Vec::new(),
    }
}

/// The animal a ration is for, by its own line or by that of a ration it is like.
fn fed_to<'farm>(view: &View<'farm>, ration: &'farm Ration) -> Option<&'farm Name> {
    let mut ration = ration;
    for _ in 0..LONGEST {
        let own = ration.lines.iter().find_map(|line| match &line.statement {
            RationStatement::For(animal) => Some(animal),
            _ => None,
        });
        if own.is_some() {
            return own;
        }
        let parent = view.declared(Namespace::Feed, &ration.like.as_ref()?.text);
        match &view.farm().item_at(*parent.first()?)?.body {
            ItemBody::Ration(parent) => ration = parent,
            _ => return None,
        }
    }
    None
}
