//! What the texts of the books say, one value at a time.

use trug_findings::{FileId, Span};
use trug_syntax::tree::{
    AnimalStatement, Basis, BasisKind, Bound, Expression, IngredientStatement, Item, ItemBody,
    Name, Quantity, Strength, UnitText,
};

use crate::books;

/// One value in one of the books.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Said {
    /// Whose it is, what it says, the number and the unit.
    pub(crate) says: String,
    /// Where it is said to be from.
    pub(crate) source: String,
}

/// Every value of all books, in the order of their texts.
pub(crate) fn all() -> Vec<Said> {
    let mut said = Vec::new();
    for (_, text) in books() {
        let tree = trug_syntax::parse(FileId::default(), text);
        for item in &tree.items {
            of_item(item, &mut said);
        }
    }
    said
}

fn of_item(item: &Item, said: &mut Vec<Said>) {
    match &item.body {
        ItemBody::Ingredient(written) => {
            for line in &written.lines {
                if let Some(says) = of_ingredient(&line.statement) {
                    said.push(from(
                        item,
                        line.span,
                        format!("{} {says}", written.name.text),
                    ));
                }
            }
        }
        ItemBody::Animal(written) => {
            for line in &written.lines {
                if let Some(says) = of_animal(&line.statement) {
                    said.push(from(
                        item,
                        line.span,
                        format!("{} {says}", written.name.text),
                    ));
                }
            }
        }
        ItemBody::Targets(written) => {
            let animal = written.for_animal.as_ref().map_or("none", |it| &it.text);
            for line in &written.lines {
                let Some(target) = &line.target else { continue };
                let bound = bound(&target.bound);
                let says = format!(
                    "{} for {animal} {} {bound}",
                    written.name.text,
                    sum(&target.of)
                );
                said.push(from(item, line.span, says));
            }
        }
        _ => {}
    }
}

fn from(item: &Item, at: Span, says: String) -> Said {
    let source = item.origin(at).and_then(|origin| origin.source.as_ref());
    let unverified = item.origin(at).is_some_and(|it| it.unverified.is_some());
    let says = if unverified {
        format!("{says} unverified")
    } else {
        says
    };
    let source = source.map_or_else(String::new, |text| text.text.clone());
    Said { says, source }
}

fn of_ingredient(statement: &IngredientStatement) -> Option<String> {
    Some(match statement {
        IngredientStatement::Content { nutrient, value } => {
            format!("{} {}", nutrient.text, quantity(value))
        }
        IngredientStatement::DryMatter(value) => format!("dry-matter {}", quantity(value)),
        IngredientStatement::BulkDensity(value) => format!("bulk-density {}", quantity(value)),
        IngredientStatement::Limit {
            bound: it,
            for_animal,
        } => format!("{}{}", bound(it), named(" for ", for_animal)),
        IngredientStatement::Dose {
            bound: it,
            active,
            for_animal,
        } => {
            let active = named(" ", active);
            format!("dose {}{active}{}", bound(it), named(" for ", for_animal))
        }
        IngredientStatement::Ceiling {
            value,
            active,
            for_animal,
            ..
        } => {
            let active = named(" ", active);
            let value = quantity(value);
            format!("ceiling {value}{active}{}", named(" for ", for_animal))
        }
        IngredientStatement::NeverFor { animal, .. } => format!("never for {}", animal.text),
        // What the pure substances say of themselves is no row.
        IngredientStatement::Caution(text) if text.text.starts_with("Pure ") => return None,
        IngredientStatement::Caution(_) => "caution".to_owned(),
        IngredientStatement::NothingElse => return None,
        other => panic!("a book holds {other:?}"),
    })
}

fn of_animal(statement: &AnimalStatement) -> Option<String> {
    match statement {
        AnimalStatement::Bound {
            of,
            bound: it,
            strength,
            ..
        } => {
            let strength = match strength {
                Strength::Law => "law",
                Strength::Harm => "harm",
            };
            Some(format!("{} {} {strength}", sum(of), bound(it)))
        }
        AnimalStatement::Gives(_) => None,
        other => panic!("a book holds {other:?}"),
    }
}

fn named(before: &str, name: &Option<Name>) -> String {
    name.as_ref()
        .map_or_else(String::new, |name| format!("{before}{}", name.text))
}

fn sum(of: &Expression) -> String {
    let names = |sum: &trug_syntax::tree::Sum| sum.terms[0].name.text.to_string();
    match &of.over {
        Some(over) => format!("{} / {}", names(&of.sum), names(over)),
        None => names(&of.sum),
    }
}

fn quantity(written: &Quantity) -> String {
    let digits = &written.number.digits;
    format!("{digits}{}{}", unit(&written.unit), basis(&written.basis))
}

fn bound(written: &Bound) -> String {
    let ends = match (&written.low, &written.high) {
        (Some(low), Some(high)) => format!("{} .. {}", low.digits, high.digits),
        (Some(low), None) => format!("at least {}", low.digits),
        (None, Some(high)) => format!("at most {}", high.digits),
        (None, None) => String::new(),
    };
    format!("{ends}{}{}", unit(&written.unit), basis(&written.basis))
}

fn unit(written: &Option<UnitText>) -> String {
    let Some(written) = written else {
        return String::new();
    };
    let per = written.per.as_ref();
    let per = per.map_or_else(String::new, |(_, word)| format!("/{}", word.text));
    format!(" {}{per}", written.unit.text)
}

fn basis(written: &Option<Basis>) -> &'static str {
    match written.as_ref().map(|basis| &basis.kind) {
        None => "",
        Some(BasisKind::AsFed) => " as fed",
        Some(BasisKind::OfDryMatter) => " of dry-matter",
        Some(BasisKind::AtDryMatter(_)) => " at dry-matter",
    }
}
