//! The places of a line made from a table: numbers stand in the cell, words and units in the heading.

use trug_findings::Span;
use trug_syntax::tree::{
    Basis, BasisKind, Bound, IngredientStatement, Name, Number, Quantity, Scatter, Text, UnitText,
    UnitWord,
};

/// The statement with its places in the table.
pub(super) fn moved(
    statement: IngredientStatement,
    cell: Span,
    heading: Span,
) -> IngredientStatement {
    use IngredientStatement as S;
    let of = Moved { cell, heading };
    match statement {
        S::Content { nutrient, value } => S::Content {
            nutrient: of.name(nutrient),
            value: of.quantity(value),
        },
        S::DryMatter(value) => S::DryMatter(of.quantity(value)),
        S::Price { value, as_of } => S::Price {
            value: of.quantity(value),
            as_of,
        },
        S::BulkDensity(value) => S::BulkDensity(of.quantity(value)),
        S::SoldIn(value) => S::SoldIn(of.quantity(value)),
        S::ParticleSize(value) => S::ParticleSize(of.quantity(value)),
        S::ParticleDensity(value) => S::ParticleDensity(of.quantity(value)),
        S::Form(word) => S::Form(Name { span: cell, ..word }),
        S::Limit { bound, for_animal } => S::Limit {
            bound: of.bound(bound),
            for_animal: for_animal.map(|name| of.name(name)),
        },
        S::Dose {
            bound,
            active,
            for_animal,
        } => S::Dose {
            bound: of.bound(bound),
            active: active.map(|name| of.name(name)),
            for_animal: for_animal.map(|name| of.name(name)),
        },
        S::Ceiling {
            value,
            active,
            for_animal,
            reason,
        } => S::Ceiling {
            value: of.quantity(value),
            active: active.map(|name| of.name(name)),
            for_animal: for_animal.map(|name| of.name(name)),
            reason: reason.map(|text| of.text(text)),
        },
        S::Withdrawal { time, product } => S::Withdrawal {
            time: of.quantity(time),
            product: of.name(product),
        },
        S::Label { language, text } => S::Label {
            language: of.name(language),
            text: of.text(text),
        },
        S::ApartFrom { other, until } => S::ApartFrom {
            other: Name {
                span: cell,
                ..other
            },
            until: until.map(|number| of.number(number)),
        },
        S::NeverWith { other, reason } => S::NeverWith {
            other: Name {
                span: cell,
                ..other
            },
            reason: reason.map(|text| of.text(text)),
        },
        S::NeverFor { animal, reason } => S::NeverFor {
            animal: Name {
                span: cell,
                ..animal
            },
            reason: reason.map(|text| of.text(text)),
        },
        S::Caution(text) => S::Caution(of.text(text)),
        S::NothingElse | S::Accept(_) | S::Unread => statement,
    }
}

struct Moved {
    cell: Span,
    heading: Span,
}

impl Moved {
    fn name(&self, name: Name) -> Name {
        Name {
            span: self.heading,
            ..name
        }
    }

    fn text(&self, text: Text) -> Text {
        Text {
            span: self.cell,
            ..text
        }
    }

    fn number(&self, number: Number) -> Number {
        Number {
            span: self.cell,
            ..number
        }
    }

    fn word(&self, word: UnitWord) -> UnitWord {
        UnitWord {
            span: self.heading,
            ..word
        }
    }

    fn unit(&self, unit: UnitText) -> UnitText {
        let number = |number| Number {
            span: self.heading,
            ..number
        };
        UnitText {
            unit: self.word(unit.unit),
            per: unit
                .per
                .map(|(count, word)| (count.map(number), self.word(word))),
            span: self.heading,
        }
    }

    fn basis(&self, basis: Basis) -> Basis {
        let kind = match basis.kind {
            BasisKind::AtDryMatter(number) => BasisKind::AtDryMatter(Number {
                span: self.heading,
                ..number
            }),
            other => other,
        };
        Basis {
            kind,
            span: self.heading,
        }
    }

    fn quantity(&self, quantity: Quantity) -> Quantity {
        Quantity {
            number: self.number(quantity.number),
            scatter: quantity.scatter.map(|scatter| Scatter {
                number: self.number(scatter.number),
                span: self.cell,
            }),
            unit: quantity.unit.map(|unit| self.unit(unit)),
            basis: quantity.basis.map(|basis| self.basis(basis)),
            span: self.cell,
        }
    }

    fn bound(&self, bound: Bound) -> Bound {
        Bound {
            low: bound.low.map(|number| self.number(number)),
            high: bound.high.map(|number| self.number(number)),
            unit: bound.unit.map(|unit| self.unit(unit)),
            basis: bound.basis.map(|basis| self.basis(basis)),
            span: self.cell,
        }
    }
}
