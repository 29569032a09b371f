//! What another edition of a bundled book changes: its year, and every value of it that is another.

use std::collections::BTreeMap;

use trug_syntax::tree::{ItemBody, UseSource};

use super::{LastOpened, cause, declared_in, facts};
use crate::change::{Cause, CauseKind, FactChange, Pair};
use crate::matching;
use crate::said::Said;
use crate::side::Side;

/// The years in which each text uses each book.
type Years = BTreeMap<(String, String), u16>;

/// Books that a text uses in another edition than before.
pub(super) fn editions(before: &Side<'_>, after: &Side<'_>) -> Vec<Cause> {
    let (then, now) = (years(before), years(after));
    let mut causes = Vec::new();
    for ((file, book), year) in &then {
        let Some(other) = now.get(&(file.clone(), book.clone())) else {
            continue;
        };
        if year != other {
            let says = |year: &u16| Some(Said::default().word(year.to_string()));
            causes.push(Cause {
                kind: CauseKind::Book,
                name: book.clone(),
                file: Pair::both(file.clone(), file.clone()),
                changes: vec![FactChange {
                    what: "edition".to_owned(),
                    says: Pair {
                        before: says(year),
                        after: says(other),
                    },
                }],
            });
        }
    }
    causes
}

fn years(side: &Side<'_>) -> Years {
    let library = side.farm.settings().library;
    let mut years = Years::new();
    for text in side.own_texts() {
        for item in &side.farm.tree(text).items {
            let ItemBody::Use(used) = &item.body else {
                continue;
            };
            let UseSource::Book(book) = &used.source else {
                continue;
            };
            let file = side.name(text);
            let known = library.target(&file, book);
            if let Some(year) = known.and_then(|name| library.year(&name)) {
                years.insert((file, book.name.text.to_string()), year);
            }
        }
    }
    years
}

/// Values that differ between the editions the two sides use.
pub(super) fn values(then: &mut LastOpened<'_>, now: &mut LastOpened<'_>) -> Vec<Cause> {
    let (before, after) = (declared(then.side), declared(now.side));
    if before
        .iter()
        .map(|one| &one.file)
        .eq(after.iter().map(|one| &one.file))
    {
        return Vec::new();
    }
    let library = then.side.farm.settings().library;
    let key = |one: &super::Declared<'_>| {
        let book = library.book(&one.file).unwrap_or(&one.file);
        (book.to_owned(), format!("{} {}", one.kind.word(), one.name))
    };
    let mut causes = Vec::new();
    for pair in matching::pairs(&before, &after, key) {
        let changes = match (&pair.before, &pair.after) {
            (Some(one), Some(other)) if one.file != other.file => {
                facts::changes(&then.facts(one), &now.facts(other))
            }
            _ => Vec::new(),
        };
        let is_in_both = pair.before.is_some() && pair.after.is_some();
        if !changes.is_empty() || !is_in_both {
            causes.extend(cause(&pair, changes));
        }
    }
    causes
}

fn declared<'a>(side: &Side<'a>) -> Vec<super::Declared<'a>> {
    let farm = side.farm;
    let books = farm.files().filter(|text| farm.is_book(*text));
    books.flat_map(|book| declared_in(side, book)).collect()
}
