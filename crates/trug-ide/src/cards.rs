//! What there is to say about a thing, in Markdown: shared by hover and completion.

mod amount;
mod animal;
mod ingredient;
mod lot;
mod nutrient;
mod quantity;
mod ration;
mod target;
mod went;
mod word;
mod yard;

use trug_findings::{FileId, Place};
use trug_model::{Farm, Namespace, View};
use trug_report::words::read_in;
use trug_syntax::tree::ItemBody;

pub(crate) use amount::amount;
pub(crate) use lot::{keeps, on_hand};
pub(crate) use quantity::{bound, quantity};
pub(crate) use target::{meeting, target};
pub(crate) use went::{became, rests_on};
pub(crate) use word::{clause, code, item_word, line_word, text, used_text};

/// What a name means, whatever it is.
pub(crate) fn named(view: &View<'_>, namespace: Namespace, name: &str) -> Option<String> {
    match namespace {
        Namespace::Feed => match view.declaration(namespace, name)?.1.body {
            ItemBody::Ration(_) => ration::ration(view, name),
            _ => ingredient::ingredient(view, name),
        },
        Namespace::Animal => animal::animal(view, name),
        Namespace::Nutrient => nutrient::nutrient(view, name),
        Namespace::Targets => target::targets(view, name),
        Namespace::Lot => lot::lot(view, name),
        _ => yard::yard(view, namespace, name),
    }
}

/// The text something is written in, as people call it.
pub(crate) fn source(farm: &Farm, file: FileId) -> String {
    if farm.is_book(file) {
        return "the book".to_owned();
    }
    farm.sources()
        .get(file.index())
        .map_or_else(String::new, |source| source.name().to_owned())
}

/// Where a value is from: the text it is written in, and the source its line or its item names.
pub(crate) fn origin(farm: &Farm, place: Place) -> String {
    let text = source(farm, place.file);
    let Some(origin) = farm.origin(place) else {
        return text;
    };
    let source = origin.source.as_ref().map(|source| source.text.as_str());
    format!("{text}: {}", read_in(source, origin.unverified.is_some()))
}

/// The piece of text at a place, with single blanks.
pub(crate) fn text_at(farm: &Farm, place: Place) -> String {
    let source = farm.sources().get(place.file.index());
    let text = source.map_or("", |source| place.span.of(source.text()));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
