//! The parts of a header or a line that was read, each with its place: names, quantities, bounds, texts.

mod lines;

use trug_findings::{FileId, Source, Span};
use trug_model::{Farm, Namespace};
use trug_syntax::tree::{
    Accept, Bound, Date, Expression, Item, ItemBody, Name, Number, NutrientKind, Quantity, Sum,
    Text, UnitText, UnitWord, UseSource, UsedBook,
};

pub(crate) use lines::{LineRef, lines};

/// A part of a header or a line.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Part<'t> {
    /// The name an item declares.
    Declares(Namespace, &'t Name),
    /// The name of another item.
    Name(Namespace, &'t Name),
    /// A number with its unit.
    Quantity(&'t Quantity),
    /// Two ends with their unit.
    Bound(&'t Bound),
    /// A number alone.
    Number(&'t Number),
    /// A unit alone.
    Unit(&'t UnitText),
    /// How a nutrient is counted.
    Counted(&'t UnitWord),
    /// A label or a reason.
    Text(&'t Text),
    /// Another text, or a table.
    Path(&'t Text),
    /// A bundled book.
    Book(&'t UsedBook),
    /// A day.
    Date(&'t Date),
    /// A word that names no item: a form, a product, a language.
    Plain(&'t Name),
    /// What is accepted.
    Accept(&'t Accept),
}

impl Part<'_> {
    pub(crate) fn span(&self) -> Span {
        match self {
            Part::Declares(_, name) | Part::Name(_, name) | Part::Plain(name) => name.span,
            Part::Book(book) => book.span(),
            Part::Quantity(quantity) => quantity.span,
            Part::Bound(bound) => bound.span,
            Part::Number(number) => number.span,
            Part::Unit(unit) => unit.span,
            Part::Counted(word) => word.span,
            Part::Text(text) | Part::Path(text) => text.span,
            Part::Date(date) => date.span,
            Part::Accept(accept) => accept.span,
        }
    }
}

/// Whether an offset stands in a span or right behind it.
pub(crate) fn holds(span: Span, offset: usize) -> bool {
    span.start as usize <= offset && offset <= span.end as usize
}

/// Whether two spans share a place; empty ones touch.
pub(crate) fn touches(one: Span, other: Span) -> bool {
    one.start <= other.end && other.start <= one.end
}

/// A text that was written as one: a table is read another way.
pub(crate) fn written(farm: &Farm, file: FileId) -> Option<&Source> {
    let source = farm.sources().get(file.index());
    source.filter(|_| !farm.is_table(file))
}

/// The item whose header or lines an offset stands in, or below which it stands.
pub(crate) fn item_at(items: &[Item], offset: usize) -> Option<&Item> {
    let after = items.partition_point(|item| item.whole.start as usize <= offset);
    items.get(after.checked_sub(1)?)
}

/// The parts of a header, in the order of the text.
pub(crate) fn header(body: &ItemBody) -> Vec<Part<'_>> {
    let mut parts = Vec::new();
    match body {
        ItemBody::Use(used) => parts.push(match &used.source {
            UseSource::File(path) | UseSource::Table(path) => Part::Path(path),
            UseSource::Book(book) => Part::Book(book),
        }),
        ItemBody::Unit(unit) => {
            parts.push(Part::Declares(Namespace::Unit, &unit.name));
            parts.extend(unit.of.iter().map(|of| Part::Name(Namespace::Feed, of)));
            parts.push(Part::Quantity(&unit.equals));
        }
        ItemBody::Rate(rate) => {
            parts.extend([Part::Quantity(&rate.from), Part::Quantity(&rate.to)])
        }
        ItemBody::Animal(animal) => {
            parts.push(Part::Declares(Namespace::Animal, &animal.name));
            parts.extend(animal.is.iter().map(|is| Part::Name(Namespace::Animal, is)));
            parts.extend(animal.label.iter().map(Part::Text));
        }
        ItemBody::Nutrient(nutrient) => {
            parts.push(Part::Declares(Namespace::Nutrient, &nutrient.name));
            parts.extend(nutrient.label.iter().map(Part::Text));
            match &nutrient.kind {
                NutrientKind::In(word) => parts.push(Part::Counted(word)),
                NutrientKind::Of(of) => expression(Namespace::Nutrient, of, &mut parts),
            }
        }
        ItemBody::Ingredient(ingredient) => {
            parts.push(Part::Declares(Namespace::Feed, &ingredient.name));
            parts.extend(ingredient.label.iter().map(Part::Text));
        }
        ItemBody::Lot(lot) => {
            parts.push(Part::Declares(Namespace::Lot, &lot.name));
            parts.push(Part::Name(Namespace::Feed, &lot.of));
            parts.extend(lot.label.iter().map(Part::Text));
        }
        ItemBody::Targets(targets) => {
            parts.push(Part::Declares(Namespace::Targets, &targets.name));
            parts.extend(
                targets
                    .for_animal
                    .iter()
                    .map(|it| Part::Name(Namespace::Animal, it)),
            );
            let phase = targets.phase.iter();
            let ages = phase.flat_map(|phase| phase.from.iter().chain(&phase.to));
            parts.extend(ages.map(Part::Number));
            parts.extend(targets.label.iter().map(Part::Text));
        }
        ItemBody::Ration(ration) => {
            parts.push(Part::Declares(Namespace::Feed, &ration.name));
            parts.extend(ration.like.iter().map(|it| Part::Name(Namespace::Feed, it)));
            parts.extend(ration.label.iter().map(Part::Text));
        }
        _ => yard(body, &mut parts),
    }
    parts.sort_by_key(Part::span);
    parts
}

fn yard<'t>(body: &'t ItemBody, parts: &mut Vec<Part<'t>>) {
    match body {
        ItemBody::Scale(scale) => {
            parts.push(Part::Declares(Namespace::Scale, &scale.name));
            parts.extend(scale.label.iter().map(Part::Text));
            parts.extend([
                Part::Quantity(&scale.capacity),
                Part::Quantity(&scale.division),
            ]);
            parts.extend(scale.minimum.iter().map(Part::Quantity));
        }
        ItemBody::Vessel(vessel) => {
            parts.push(Part::Declares(Namespace::Vessel, &vessel.name));
            parts.extend(vessel.label.iter().map(Part::Text));
            parts.extend(vessel.count.iter().map(Part::Number));
            parts.push(Part::Quantity(&vessel.volume));
        }
        ItemBody::Method(method) => {
            parts.push(Part::Declares(Namespace::Method, &method.name));
            parts.extend(method.label.iter().map(Part::Text));
        }
        ItemBody::Group(group) => {
            parts.push(Part::Declares(Namespace::Group, &group.name));
            parts.extend(group.label.iter().map(Part::Text));
        }
        ItemBody::Record(record) => {
            parts.push(Part::Declares(Namespace::Record, &record.name));
            parts.push(Part::Name(Namespace::Feed, &record.of));
        }
        _ => {}
    }
}

/// The names and factors of a sum, or of one sum over another.
pub(crate) fn expression<'t>(
    namespace: Namespace,
    expression: &'t Expression,
    parts: &mut Vec<Part<'t>>,
) {
    let mut add = |sum: &'t Sum| {
        for term in &sum.terms {
            parts.push(Part::Name(namespace, &term.name));
            parts.extend(
                term.factors
                    .iter()
                    .map(|factor| Part::Quantity(&factor.quantity)),
            );
        }
    };
    add(&expression.sum);
    if let Some(over) = &expression.over {
        add(over);
    }
}
