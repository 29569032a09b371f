//! An animal on one card: whose kind it is, what it gives, and what law and harm bound for it.

use trug_findings::Place;
use trug_model::{Namespace, View};
use trug_syntax::tree::{AnimalStatement, ItemBody, Strength};

use super::{origin, text_at};
use crate::markdown::{heading, paragraphs, plain, table, typed};

pub(super) fn animal(view: &View<'_>, name: &str) -> Option<String> {
    view.declaration(Namespace::Animal, name)?;
    let kinds = view.kinds(name);
    let called = view.animal_called(name);
    let head = heading(
        Some(called.as_str()).filter(|called| *called != name),
        name,
        "animal",
    );
    let above: Vec<String> = kinds.iter().skip(1).map(|kind| typed(kind)).collect();
    let above = match above.is_empty() {
        true => String::new(),
        false => format!("is a kind of {}", above.join(", which is a kind of ")),
    };
    let mut gives = Vec::new();
    let mut rows = Vec::new();
    for kind in &kinds {
        for (file, item) in view.written(Namespace::Animal, kind) {
            let ItemBody::Animal(written) = &item.body else {
                continue;
            };
            for line in &written.lines {
                match &line.statement {
                    AnimalStatement::Gives(product) if kind == name => {
                        gives.push(plain(&product.text))
                    }
                    AnimalStatement::Bound {
                        of,
                        bound,
                        strength,
                        reason,
                    } => {
                        let at = |span| text_at(view.farm(), Place::new(file, span));
                        let kind = match strength {
                            Strength::Law => "law",
                            Strength::Harm => "harm",
                        };
                        let why = reason
                            .as_ref()
                            .map_or_else(String::new, |reason| plain(&reason.text));
                        rows.push(vec![
                            kind.to_owned(),
                            typed(&at(of.span)),
                            plain(&at(bound.span)),
                            why,
                            plain(&origin(view.farm(), Place::new(file, bound.span))),
                        ]);
                    }
                    _ => {}
                }
            }
        }
    }
    rows.sort_by_key(|row| row.first().map(|kind| kind == "law"));
    let gives = match gives.is_empty() {
        true => String::new(),
        false => format!("gives {}", gives.join(", ")),
    };
    let note = match rows.is_empty() {
        true => "No bound of law or harm is written for it or its kinds.".to_owned(),
        false => "These bounds are checked and no others; they count every source, at 88 % dry matter unless they say otherwise. Product label, veterinarian and local feed law decide.".to_owned(),
    };
    let bounds = table(&["bound", "of", "", "why", "written in"], &rows);
    Some(paragraphs([head, above, gives, bounds, note]))
}
