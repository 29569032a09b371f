//! Walks an item of a tree and names every name in it.

mod doings;
mod store;

use smol_str::SmolStr;
use trug_findings::Span;
use trug_model::{Namespace, namespace_of, quantity};
use trug_syntax::tree::{
    AmountForm, AnimalStatement, Bound, Clauses, Expression, Item, ItemBody, Name, NutrientKind,
    Quantity, Ration, RationStatement, UnitText, UnitWord,
};

use super::{Named, Role};

/// Adds the names of an item, in no particular order.
pub(super) fn item(rank: u32, item: &Item, names: &mut Vec<Named>) {
    walk_item(rank, item, names, None);
}

/// The quantities, bounds, units and sums of an item, and their parts, in no particular order.
pub(super) fn parts(item: &Item) -> Vec<Span> {
    let mut parts = Vec::new();
    walk_item(0, item, &mut Vec::new(), Some(&mut parts));
    parts
}

fn walk_item(rank: u32, item: &Item, names: &mut Vec<Named>, parts: Option<&mut Vec<Span>>) {
    let mut walk = Walk {
        item: rank,
        of: None,
        names,
        parts,
    };
    if let (Some(namespace), Some(name)) = (namespace_of(&item.body), item.body.name()) {
        walk.of = match &item.body {
            ItemBody::Unit(unit) => unit.of.as_ref().map(|of| of.text.clone()),
            _ => None,
        };
        walk.name(namespace, name, Role::Declares);
        walk.of = None;
    }
    walk.body(&item.body);
}

struct Walk<'n> {
    item: u32,
    /// The ingredient that local measures are asked for here.
    of: Option<SmolStr>,
    names: &'n mut Vec<Named>,
    /// Wanted only where a selection grows.
    parts: Option<&'n mut Vec<Span>>,
}

impl Walk<'_> {
    fn part(&mut self, span: Span) {
        if let Some(parts) = &mut self.parts {
            parts.push(span);
        }
    }

    fn name(&mut self, namespace: Namespace, name: &Name, role: Role) {
        let of = if namespace == Namespace::Unit {
            self.of.clone()
        } else {
            None
        };
        self.names.push(Named {
            namespace,
            text: name.text.clone(),
            span: name.span,
            role,
            of,
            item: self.item,
        });
    }

    fn uses(&mut self, namespace: Namespace, name: &Name) {
        self.name(namespace, name, Role::Uses);
    }

    /// Walks what stands with measures of this ingredient.
    fn of(&mut self, ingredient: &Name, walk: impl FnOnce(&mut Self)) {
        self.of = Some(ingredient.text.clone());
        walk(self);
        self.of = None;
    }

    fn body(&mut self, body: &ItemBody) {
        match body {
            ItemBody::Use(_) | ItemBody::Unread(_) => {}
            ItemBody::Unit(unit) => {
                if let Some(of) = &unit.of {
                    self.uses(Namespace::Feed, of);
                    self.of(of, |walk| walk.quantity(&unit.equals));
                } else {
                    self.quantity(&unit.equals);
                }
            }
            ItemBody::Rate(rate) => {
                self.quantity(&rate.from);
                self.quantity(&rate.to);
            }
            ItemBody::Animal(animal) => {
                if let Some(kind) = &animal.is {
                    self.uses(Namespace::Animal, kind);
                }
                for line in &animal.lines {
                    if let AnimalStatement::Bound { of, bound, .. } = &line.statement {
                        self.expression(Namespace::Nutrient, of);
                        self.bound(bound);
                    }
                }
            }
            ItemBody::Nutrient(nutrient) => {
                if let NutrientKind::Of(expression) = &nutrient.kind {
                    self.expression(Namespace::Nutrient, expression);
                }
            }
            ItemBody::Ingredient(ingredient) => self.of(&ingredient.name, |walk| {
                for line in &ingredient.lines {
                    walk.ingredient_line(&line.statement);
                }
            }),
            ItemBody::Lot(lot) => {
                self.uses(Namespace::Feed, &lot.of);
                self.of(&lot.of, |walk| {
                    for line in &lot.lines {
                        walk.lot_line(&line.statement);
                    }
                });
            }
            ItemBody::Targets(targets) => {
                if let Some(animal) = &targets.for_animal {
                    self.uses(Namespace::Animal, animal);
                }
                for target in targets.lines.iter().filter_map(|line| line.target.as_ref()) {
                    self.expression(Namespace::Nutrient, &target.of);
                    self.bound(&target.bound);
                }
            }
            ItemBody::Ration(ration) => self.ration(ration),
            ItemBody::Scale(scale) => {
                self.quantity(&scale.capacity);
                self.quantity(&scale.division);
                scale.minimum.iter().for_each(|it| self.quantity(it));
            }
            ItemBody::Vessel(vessel) => self.quantity(&vessel.volume),
            ItemBody::Method(method) => {
                let rules = method.lines.iter().filter_map(|line| line.rule.as_ref());
                rules.for_each(|rule| self.method_line(rule));
            }
            ItemBody::Group(group) => {
                let lines = group.lines.iter();
                lines
                    .filter_map(|line| line.statement.as_ref())
                    .for_each(|statement| self.group_line(statement));
            }
            ItemBody::Record(record) => {
                self.uses(Namespace::Feed, &record.of);
                let lines = record.lines.iter();
                lines
                    .filter_map(|line| line.statement.as_ref())
                    .for_each(|statement| self.record_line(statement));
            }
        }
    }

    fn ration(&mut self, ration: &Ration) {
        if let Some(parent) = &ration.like {
            self.uses(Namespace::Feed, parent);
        }
        for line in &ration.lines {
            match &line.statement {
                RationStatement::For(animal) => self.uses(Namespace::Animal, animal),
                RationStatement::Meets(targets) => self.uses(Namespace::Targets, targets),
                RationStatement::MixBy(method) => self.uses(Namespace::Method, method),
                RationStatement::Beside { name, amount } => {
                    self.uses(Namespace::Feed, name);
                    self.quantity(amount);
                }
                RationStatement::Limit { of, bound } => {
                    self.expression(Namespace::Feed, of);
                    self.bound(bound);
                }
                RationStatement::Drop(name) => self.uses(Namespace::Feed, name),
                RationStatement::Replace { what, with } => {
                    self.uses(Namespace::Feed, what);
                    self.uses(Namespace::Feed, with);
                }
                RationStatement::Batch(value)
                | RationStatement::Intake(value)
                | RationStatement::Keeps(value)
                | RationStatement::Certainty(value) => self.quantity(value),
                RationStatement::Amount(amount) => {
                    self.part(amount.span);
                    self.uses(Namespace::Feed, &amount.name);
                    self.amount(&amount.name, &amount.form, &amount.clauses);
                }
                RationStatement::Unread(about) => {
                    about.iter().for_each(|it| self.uses(Namespace::Feed, it));
                }
                RationStatement::ForMixing | RationStatement::Accept(_) => {}
            }
        }
    }

    fn amount(&mut self, name: &Name, form: &AmountForm, clauses: &Clauses) {
        match form {
            AmountForm::Fixed(value) => self.of(name, |walk| walk.quantity(value)),
            AmountForm::Open(bound) => self.of(name, |walk| walk.bound(bound)),
            AmountForm::Giving { quantity, active } => {
                self.quantity(quantity);
                self.uses(Namespace::Nutrient, active);
            }
            AmountForm::Parts(_) | AmountForm::Rest => {}
        }
        if let Some(within) = &clauses.within {
            self.of(name, |walk| walk.bound(within));
        }
        if let Some(lot) = &clauses.lot {
            self.uses(Namespace::Lot, lot);
        }
    }

    fn animals(&mut self, animal: &Option<Name>) {
        animal
            .iter()
            .for_each(|it| self.uses(Namespace::Animal, it));
    }

    fn actives(&mut self, active: &Option<Name>) {
        active
            .iter()
            .for_each(|it| self.uses(Namespace::Nutrient, it));
    }

    fn expression(&mut self, namespace: Namespace, expression: &Expression) {
        let below = expression.over.iter().flat_map(|sum| &sum.terms);
        self.part(expression.span);
        self.part(expression.sum.span);
        expression.over.iter().for_each(|sum| self.part(sum.span));
        for term in expression.sum.terms.iter().chain(below) {
            self.part(term.span);
            self.uses(namespace, &term.name);
            for factor in &term.factors {
                self.quantity(&factor.quantity);
            }
        }
    }

    fn quantity(&mut self, quantity: &Quantity) {
        self.part(quantity.span);
        quantity.unit.iter().for_each(|unit| self.unit(unit));
    }

    fn bound(&mut self, bound: &Bound) {
        self.part(bound.span);
        bound.unit.iter().for_each(|unit| self.unit(unit));
    }

    fn unit(&mut self, unit: &UnitText) {
        self.part(unit.span);
        self.unit_word(&unit.unit);
        if let Some((_, per)) = &unit.per {
            self.unit_word(per);
        }
    }

    fn unit_word(&mut self, word: &UnitWord) {
        if quantity::word(&word.text).is_none() {
            let name = Name {
                text: word.text.clone(),
                span: word.span,
            };
            self.uses(Namespace::Unit, &name);
        }
    }
}
