//! Lines into the item they belong to: those that were read, and the places of those that were not.

use trug_findings::Span;

use crate::grammar::{Part, Rule};
use crate::lines::first_word;
use crate::names::composed;
use crate::reader::{self, Mistake, Read, Reader};
use crate::tree::{
    Accept, AnimalLine, AnimalStatement, GroupLine, IngredientLine, IngredientStatement, ItemBody,
    LotLine, LotStatement, MethodLine, Name, RationLine, RationStatement, RecordLine, TargetLine,
};
use crate::words;

/// Puts a line that was read into its item.
pub(super) fn put(
    body: &mut ItemBody,
    span: Span,
    reader: &mut Reader<'_>,
    part: Part<'_>,
    accept: Option<Accept>,
) -> Read<()> {
    match body {
        ItemBody::Ration(ration) => {
            let statement = reader::ration_line(reader, part)?;
            ration.lines.push(RationLine {
                span,
                statement,
                accept,
            });
        }
        ItemBody::Ingredient(ingredient) => {
            let statement = reader::ingredient_line(reader, part)?;
            ingredient.lines.push(IngredientLine {
                span,
                statement,
                accept,
            });
        }
        ItemBody::Lot(lot) => {
            let statement = reader::lot_line(reader, part)?;
            lot.lines.push(LotLine {
                span,
                statement,
                accept,
            });
        }
        ItemBody::Animal(animal) => {
            let statement = reader::animal_line(reader, part)?;
            animal.lines.push(AnimalLine {
                span,
                statement,
                accept,
            });
        }
        ItemBody::Targets(targets) if part.as_rule() == Rule::accept_line => {
            let accept = Some(reader.accept_in(part)?);
            let target = None;
            targets.lines.push(TargetLine {
                span,
                target,
                accept,
            });
        }
        ItemBody::Targets(targets) => {
            let target = Some(reader::target_line(reader, part)?);
            targets.lines.push(TargetLine {
                span,
                target,
                accept,
            });
        }
        ItemBody::Method(method) => {
            let rule = Some(reader::method_line(reader, part)?);
            method.lines.push(MethodLine { span, rule, accept });
        }
        ItemBody::Group(group) => {
            let statement = Some(reader::group_line(reader, part)?);
            group.lines.push(GroupLine {
                span,
                statement,
                accept,
            });
        }
        ItemBody::Record(record) => {
            let statement = Some(reader::record_line(reader, part)?);
            record.lines.push(RecordLine {
                span,
                statement,
                accept,
            });
        }
        _ => return Err(Mistake::Form(0)),
    }
    Ok(())
}

/// Keeps the place of a line that could not be read.
pub(super) fn add_unread(body: &mut ItemBody, span: Span, content: &str) {
    match body {
        ItemBody::Ration(ration) => {
            let first = first_word(content);
            let is_about = !words::is_reserved(first) && crate::is_name(first);
            let start = span.start as usize;
            let name = is_about.then(|| Name {
                text: composed(first),
                span: Span::new(start, start + first.len()),
            });
            let statement = RationStatement::Unread(name);
            ration.lines.push(RationLine {
                span,
                statement,
                accept: None,
            });
        }
        ItemBody::Ingredient(ingredient) => ingredient.lines.push(IngredientLine {
            span,
            statement: IngredientStatement::Unread,
            accept: None,
        }),
        ItemBody::Lot(lot) => lot.lines.push(LotLine {
            span,
            statement: LotStatement::Unread,
            accept: None,
        }),
        ItemBody::Animal(animal) => animal.lines.push(AnimalLine {
            span,
            statement: AnimalStatement::Unread,
            accept: None,
        }),
        ItemBody::Targets(targets) => targets.lines.push(TargetLine {
            span,
            target: None,
            accept: None,
        }),
        ItemBody::Method(method) => method.lines.push(MethodLine {
            span,
            rule: None,
            accept: None,
        }),
        ItemBody::Group(group) => group.lines.push(GroupLine {
            span,
            statement: None,
            accept: None,
        }),
        ItemBody::Record(record) => record.lines.push(RecordLine {
            span,
            statement: None,
            accept: None,
        }),
        _ => {}
    }
}
