//! All that is written of a name, line by line, the stronger first, and where each value was read.

use std::collections::BTreeSet;

use trug_findings::{FileId, Place, Span};
use trug_model::{Farm, Namespace, View};
use trug_report::words::{hanging, printable, read_in};
use trug_syntax::tree::{Item, ItemBody, Origin};

use crate::cards::text_at;
use crate::parts;

/// The kinds of name that values are written of.
const NAMED: [Namespace; 5] = [
    Namespace::Feed,
    Namespace::Animal,
    Namespace::Targets,
    Namespace::Lot,
    Namespace::Method,
];

/// Lines of which an ingredient has one: the strongest is counted.
const ONCE_BESIDE_CONTENTS: [&str; 8] = [
    "dry-matter",
    "price",
    "bulk-density",
    "sold",
    "form",
    "particle-size",
    "particle-density",
    "nothing",
];

/// What is written of a name, as a page of text; none where nothing of that name is seen.
///
/// An animal is told with the kinds it is one of, whose bounds hold for it too.
#[must_use]
pub fn written(view: &View<'_>, name: &str, width: usize) -> Option<String> {
    let told: Vec<String> = NAMED
        .iter()
        .filter_map(|namespace| of_kind(view, *namespace, name, width))
        .collect();
    (!told.is_empty()).then(|| told.join("\n"))
}

/// The names that [`written`] knows something of.
#[must_use]
pub fn names(view: &View<'_>) -> BTreeSet<String> {
    let of_kind = |namespace: &Namespace| view.names(*namespace);
    let names = NAMED.iter().flat_map(of_kind);
    names.map(|known| known.name.to_string()).collect()
}

fn of_kind(view: &View<'_>, namespace: Namespace, name: &str, width: usize) -> Option<String> {
    let kinds = match namespace {
        Namespace::Animal => view.kinds(name).into_iter().map(Into::into).collect(),
        _ => vec![name.to_owned()],
    };
    let mut page = String::new();
    for kind in &kinds {
        let mut counted = BTreeSet::new();
        for (file, item) in view.written(namespace, kind).into_iter().rev() {
            page.push_str(&of_item(view.farm(), file, item, &mut counted, width));
        }
    }
    (!page.is_empty()).then_some(page)
}

/// One item: its header and where it stands, then its lines. `counted` are the words that stronger items wrote already.
fn of_item(
    farm: &Farm,
    file: FileId,
    item: &Item,
    counted: &mut BTreeSet<String>,
    width: usize,
) -> String {
    let at = |span: Span| text_at(farm, Place::new(file, span));
    let source = farm.sources().get(file.index());
    let line = source.map_or(1, |source| source.position(item.header.start as usize).line);
    let name = source.map_or("", |source| source.name());
    let mut text = hanging("", &format!("{} ({name}:{line})", at(item.header)), width);
    for origin in item.origins.iter().filter(|origin| origin.of.is_none()) {
        text.push_str(&hanging("  all ", &origin_words(origin), width));
    }
    let mut stronger = counted.clone();
    for line in parts::lines(&item.body) {
        let span = line.span();
        let own = item.origins.iter().find(|origin| origin.of == Some(span));
        let end = own.map_or(span.end, |origin| origin.span.start);
        let written = at(Span { end, ..span });
        let key = written.split(' ').next().unwrap_or("").to_owned();
        let is_one = is_once(&item.body, &key);
        let is_overruled = is_one && counted.contains(&key);
        let beaten = if is_overruled {
            " (not counted: written above)"
        } else {
            ""
        };
        text.push_str(&hanging(
            "  ",
            &format!("{}{beaten}", printable(&written)),
            width,
        ));
        if let Some(origin) = own {
            text.push_str(&hanging("      ", &origin_words(origin), width));
        }
        stronger.insert(key);
    }
    *counted = stronger;
    text
}

/// Whether a line of that first word overrules those of weaker items.
fn is_once(body: &ItemBody, key: &str) -> bool {
    let is_ingredient = matches!(body, ItemBody::Ingredient(_));
    let is_content = !trug_syntax::words::is_reserved(key);
    is_ingredient && (is_content || ONCE_BESIDE_CONTENTS.contains(&key))
}

fn origin_words(origin: &Origin) -> String {
    let source = origin.source.as_ref().map(|source| source.text.as_str());
    let told = read_in(source, origin.unverified.is_some());
    match origin.unverified {
        Some(_) => told,
        None => format!("read in: {told}"),
    }
}
