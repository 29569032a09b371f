//! The items of a text with their lines, and items of the whole farm by a part of their name.

mod lines;
mod matching;

use rayon::prelude::*;
use trug_findings::{FileId, Place, Span};
use trug_model::Farm;
use trug_syntax::is_name;
use trug_syntax::tree::{Item, ItemBody, Text, UseSource};

pub(crate) use lines::spans_of;
use matching::{Rank, rank};

/// What a symbol is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the item of that keyword")]
pub enum SymbolKind {
    Use,
    Unit,
    Rate,
    Animal,
    Nutrient,
    Ingredient,
    Lot,
    Targets,
    Ration,
    Scale,
    Vessel,
    Method,
    Group,
    Record,
    /// An item whose header could not be read.
    Unread,
    /// A line of an item.
    Line,
}

/// An item or a line of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// What it is called; the words a line opens with.
    pub name: String,
    /// Its label; what a line says after its first words.
    pub detail: String,
    /// What it is.
    pub kind: SymbolKind,
    /// All of it.
    pub whole: Span,
    /// Its name; lies in the whole.
    pub span: Span,
    /// The lines of an item.
    pub lines: Vec<Symbol>,
}

/// An item of the farm.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundSymbol {
    /// What it is called.
    pub name: String,
    /// Its label; empty where it has none.
    pub label: String,
    /// What it is.
    pub kind: SymbolKind,
    /// Where it is named.
    pub place: Place,
}

impl SymbolKind {
    pub(crate) fn of(body: &ItemBody) -> SymbolKind {
        match body {
            ItemBody::Use(_) => SymbolKind::Use,
            ItemBody::Unit(_) => SymbolKind::Unit,
            ItemBody::Rate(_) => SymbolKind::Rate,
            ItemBody::Animal(_) => SymbolKind::Animal,
            ItemBody::Nutrient(_) => SymbolKind::Nutrient,
            ItemBody::Ingredient(_) => SymbolKind::Ingredient,
            ItemBody::Lot(_) => SymbolKind::Lot,
            ItemBody::Targets(_) => SymbolKind::Targets,
            ItemBody::Ration(_) => SymbolKind::Ration,
            ItemBody::Scale(_) => SymbolKind::Scale,
            ItemBody::Vessel(_) => SymbolKind::Vessel,
            ItemBody::Method(_) => SymbolKind::Method,
            ItemBody::Group(_) => SymbolKind::Group,
            ItemBody::Record(_) => SymbolKind::Record,
            ItemBody::Unread(_) => SymbolKind::Unread,
        }
    }
}

/// The items of a text, each with its lines, in the order of the text.
#[must_use]
pub fn document_symbols(farm: &Farm, file: FileId) -> Vec<Symbol> {
    let text = farm.sources().get(file.index()).map_or("", |it| it.text());
    let items = farm.tree(file).items.iter();
    if farm.is_table(file) {
        // Every line of a row is a cell under its heading: the row says enough.
        return items.map(|item| symbol(item, text, Vec::new())).collect();
    }
    items
        .map(|item| symbol(item, text, lines::of(item, text)))
        .collect()
}

fn symbol(item: &Item, text: &str, lines: Vec<Symbol>) -> Symbol {
    let said = |span: Span| one_line(span.of(text));
    let after_keyword = Span {
        start: item.keyword.end,
        end: item.header.end,
    };
    let (name, span) = match (&item.body, item.body.name()) {
        (ItemBody::Use(used), _) => match &used.source {
            // An editor refuses a symbol without a name.
            UseSource::File(path) | UseSource::Table(path) if path.text.trim().is_empty() => {
                (said(item.header), item.header)
            }
            UseSource::File(path) | UseSource::Table(path) => (path.text.clone(), path.span),
            UseSource::Book(book) => (format!("book {}", said(book.span())), book.span()),
        },
        (_, Some(name)) => (name.text.to_string(), name.span),
        (ItemBody::Rate(rate), None) => (said(after_keyword), rate.from.span.to(rate.to.span)),
        (_, None) => (said(item.header), item.header),
    };
    let after_name = Span {
        start: span.end,
        end: item.header.end,
    };
    let detail = match label(&item.body) {
        Some(label) if label.text != name => label.text.clone(),
        _ => said(after_name),
    };
    Symbol {
        name,
        detail,
        kind: SymbolKind::of(&item.body),
        whole: item.whole,
        span,
        lines,
    }
}

/// The label of an item.
pub(crate) fn label(body: &ItemBody) -> Option<&Text> {
    match body {
        ItemBody::Animal(it) => it.label.as_ref(),
        ItemBody::Nutrient(it) => it.label.as_ref(),
        ItemBody::Ingredient(it) => it.label.as_ref(),
        ItemBody::Lot(it) => it.label.as_ref(),
        ItemBody::Targets(it) => it.label.as_ref(),
        ItemBody::Ration(it) => it.label.as_ref(),
        ItemBody::Scale(it) => it.label.as_ref(),
        ItemBody::Vessel(it) => it.label.as_ref(),
        ItemBody::Method(it) => it.label.as_ref(),
        ItemBody::Group(it) => it.label.as_ref(),
        _ => None,
    }
}

/// Words with one blank between them.
pub(crate) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The items whose name or label has the letters of the query in order, the nearest first, at most so many. The books
/// are left out: nobody works on them.
#[must_use]
pub fn workspace_symbols(farm: &Farm, query: &str, most: usize) -> Vec<FoundSymbol> {
    let query = query.trim().to_lowercase();
    let files: Vec<FileId> = farm.files().filter(|file| !farm.is_book(*file)).collect();
    let ranked: Vec<Vec<(Rank, FoundSymbol)>> = files
        .par_iter()
        .map(|file| {
            let mut found = found_in(farm, *file, &query);
            keep_first(&mut found, most);
            found
        })
        .collect();
    let mut found: Vec<(Rank, FoundSymbol)> = ranked.into_iter().flatten().collect();
    keep_first(&mut found, most);
    found.into_iter().map(|(_, found)| found).collect()
}

fn keep_first(found: &mut Vec<(Rank, FoundSymbol)>, most: usize) {
    found.sort_by(|(rank, one), (other_rank, other)| {
        let key = |found: &FoundSymbol| (found.name.to_lowercase(), found.place);
        rank.cmp(other_rank).then_with(|| key(one).cmp(&key(other)))
    });
    found.truncate(most);
}

fn found_in(farm: &Farm, file: FileId, query: &str) -> Vec<(Rank, FoundSymbol)> {
    let mut found = Vec::new();
    for item in &farm.tree(file).items {
        let Some(name) = item.body.name() else {
            continue;
        };
        // A row that bears a label is of an ingredient that is found by it.
        if farm.is_table(file) && !is_name(&name.text) {
            continue;
        }
        let label = label(&item.body).filter(|label| label.text != name.text.as_str());
        let label = label.map_or("", |label| &label.text);
        let by_name = rank(query, &name.text);
        let by_label = rank(query, label).map(Rank::of_label);
        let Some(best) = by_name.into_iter().chain(by_label).min() else {
            continue;
        };
        let one = FoundSymbol {
            name: name.text.to_string(),
            label: label.to_owned(),
            kind: SymbolKind::of(&item.body),
            place: Place::new(file, name.span),
        };
        found.push((best, one));
    }
    found
}
