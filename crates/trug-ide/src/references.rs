//! Every place that names what the name at an offset names.

use std::collections::BTreeSet;

use trug_findings::{FileId, Place, Span};
use trug_model::Farm;

use crate::names::{Meaning, Named, Role, declared_at, items_of, meaning_at, names_in};
use crate::occurrences::occurrences;

/// A name in the text that means the same as the one asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Highlight {
    /// Where.
    pub span: Span,
    /// Whether it is declared here.
    pub role: Role,
}

/// Where the item is named, in every text whose reading holds it, in the order of texts and places.
///
/// Two farms may each have a `layer`: only what means the very same item counts.
#[must_use]
pub fn references(farm: &Farm, file: FileId, offset: usize, with_declarations: bool) -> Vec<Place> {
    let Some(meaning) = meaning_at(farm, file, offset) else {
        return Vec::new();
    };
    let Some(item) = meaning.items.first() else {
        // An unknown name: where else this text counts on it.
        let alike = alike(farm, file, &meaning.named);
        return alike
            .into_iter()
            .map(|it| Place::new(file, it.span))
            .collect();
    };
    let text = farm.item_at(*item).and_then(|item| item.body.name());
    let text = text.map_or(&meaning.named.text, |name| &name.text);
    let found = occurrences(farm, text, &BTreeSet::from([*item]));
    let mut places = BTreeSet::new();
    for occurrence in &found {
        if occurrence.named.role == Role::Uses {
            places.insert(occurrence.place());
        } else if with_declarations {
            let of_item = |item| declared_at(farm, item);
            places.insert(occurrence.place());
            places.extend(occurrence.items.iter().copied().filter_map(of_item));
        }
    }
    places.into_iter().collect()
}

/// The names of this text that mean what the name at the offset means.
#[must_use]
pub fn highlights(farm: &Farm, file: FileId, offset: usize) -> Vec<Highlight> {
    let Some(Meaning { named, items }) = meaning_at(farm, file, offset) else {
        return Vec::new();
    };
    let mut same = alike(farm, file, &named);
    if let (Some(item), false) = (items.first(), farm.is_table(file)) {
        let view = farm.open(file);
        same = names_in(farm, file);
        same.retain(|other| other.text == named.text);
        same.retain(|other| items_of(&view, file, other).contains(item));
    }
    let highlight = |named: Named| Highlight {
        span: named.span,
        role: named.role,
    };
    let mut highlights: Vec<Highlight> = same.into_iter().map(highlight).collect();
    highlights.dedup();
    highlights
}

/// The names of a text that are written the same and are of the same kind.
fn alike(farm: &Farm, file: FileId, named: &Named) -> Vec<Named> {
    let mut alike = names_in(farm, file);
    alike.retain(|other| other.text == named.text && other.namespace == named.namespace);
    alike
}
