//! What a line says that others may be like, and the same with another name and number.

use smol_str::SmolStr;
use trug_findings::Span;

use crate::tree::{
    Amount, AmountForm, Basis, BasisKind, Bound, Clauses, Expression, IngredientLine,
    IngredientStatement, ItemBody, LotLine, LotStatement, Name, Number, Quantity, RationLine,
    RationStatement, Target, TargetLine, UnitText,
};

/// A line of one quantity or bound.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "few are kept, and boxing each would cost every line an allocation"
)]
pub(super) enum Statement {
    Ingredient(IngredientStatement),
    Lot(LotStatement),
    Amount(Amount),
    Target(Target),
}

/// What is another in another line, and where it stands.
pub(super) struct Changes<'l> {
    /// Its name; empty where it opens with a word.
    pub(super) name: &'l str,
    /// Where its content starts.
    pub(super) at: usize,
    /// Its number; none where that is no other.
    pub(super) digits: Option<&'l str>,
    /// Where the name ended, and where it ends now.
    pub(super) name_end: (usize, usize),
    /// The same of the number, where it is another.
    pub(super) number_end: Option<(usize, usize)>,
}

impl Statement {
    /// Of the last line of an item, which stands there; none where others cannot be like it.
    pub(super) fn last_of(body: &ItemBody, at: Span) -> Option<Statement> {
        use {IngredientStatement as S, LotStatement as L};
        match body {
            ItemBody::Ingredient(item) => {
                let line = item.lines.last()?;
                let line = Some(line).filter(|line| line.span == at && line.accept.is_none())?;
                let has_quantity = matches!(
                    line.statement,
                    S::Content { .. } | S::DryMatter(_) | S::Price { .. } | S::BulkDensity(_)
                );
                has_quantity.then(|| Statement::Ingredient(line.statement.clone()))
            }
            ItemBody::Lot(item) => {
                let line = item.lines.last()?;
                let line = Some(line).filter(|line| line.span == at && line.accept.is_none())?;
                let has_quantity = matches!(
                    line.statement,
                    L::Content { .. } | L::DryMatter(_) | L::Price { .. } | L::BulkDensity(_)
                );
                has_quantity.then(|| Statement::Lot(line.statement.clone()))
            }
            ItemBody::Ration(item) => {
                let line = item.lines.last()?;
                let line = Some(line).filter(|line| line.span == at && line.accept.is_none())?;
                let RationStatement::Amount(amount) = &line.statement else {
                    return None;
                };
                let has_one = matches!(amount.form, AmountForm::Fixed(_) | AmountForm::Open(_));
                let is_plain = has_one && amount.clauses == Clauses::default();
                is_plain.then(|| Statement::Amount(amount.clone()))
            }
            ItemBody::Targets(item) => {
                let line = item.lines.last()?;
                let line = Some(line).filter(|line| line.span == at && line.accept.is_none())?;
                let target = line.target.as_ref()?;
                one_name(&target.of)?;
                Some(Statement::Target(target.clone()))
            }
            _ => None,
        }
    }

    /// Puts it into an item as a line; false where that is none of its kind.
    pub(super) fn put(self, body: &mut ItemBody, span: Span) -> bool {
        let accept = None;
        match (self, body) {
            (Statement::Ingredient(statement), ItemBody::Ingredient(item)) => {
                item.lines.push(IngredientLine {
                    span,
                    statement,
                    accept,
                });
            }
            (Statement::Lot(statement), ItemBody::Lot(item)) => {
                item.lines.push(LotLine {
                    span,
                    statement,
                    accept,
                });
            }
            (Statement::Amount(amount), ItemBody::Ration(item)) => {
                item.lines.push(RationLine {
                    span,
                    statement: RationStatement::Amount(amount),
                    accept,
                });
            }
            (Statement::Target(target), ItemBody::Targets(item)) => {
                item.lines.push(TargetLine {
                    span,
                    target: Some(target),
                    accept,
                });
            }
            _ => return false,
        }
        true
    }

    /// Where its one number stands that may be any. Of two ends neither may: the lower is to be the lower.
    pub(super) fn number(&self) -> Option<Span> {
        use {IngredientStatement as S, LotStatement as L};
        let one_end = |bound: &Bound| match (&bound.low, &bound.high) {
            (Some(end), None) | (None, Some(end)) => Some(end.span),
            _ => None,
        };
        match self {
            Statement::Ingredient(
                S::Content { value, .. }
                | S::DryMatter(value)
                | S::Price { value, .. }
                | S::BulkDensity(value),
            )
            | Statement::Lot(
                L::Content { value, .. }
                | L::DryMatter(value)
                | L::Price { value, .. }
                | L::BulkDensity(value),
            ) => Some(value.number.span),
            Statement::Amount(amount) => match &amount.form {
                AmountForm::Fixed(value) => Some(value.number.span),
                AmountForm::Open(bound) => one_end(bound),
                _ => None,
            },
            Statement::Target(target) => one_end(&target.bound),
            _ => None,
        }
    }

    /// Says what another line does.
    pub(super) fn become_that_of(&mut self, other: &Changes<'_>) {
        use {IngredientStatement as S, LotStatement as L};
        match self {
            Statement::Ingredient(S::Content { nutrient, value })
            | Statement::Lot(L::Content { nutrient, value }) => {
                other.name(nutrient);
                other.quantity(value);
            }
            Statement::Ingredient(S::DryMatter(value) | S::BulkDensity(value))
            | Statement::Lot(L::DryMatter(value) | L::BulkDensity(value)) => other.quantity(value),
            Statement::Ingredient(S::Price { value, as_of })
            | Statement::Lot(L::Price { value, as_of }) => {
                other.quantity(value);
                if let Some(date) = as_of {
                    other.span(&mut date.span);
                }
            }
            Statement::Amount(amount) => {
                other.name(&mut amount.name);
                other.span(&mut amount.span);
                match &mut amount.form {
                    AmountForm::Fixed(value) => other.quantity(value),
                    AmountForm::Open(bound) => other.bound(bound),
                    _ => {}
                }
            }
            Statement::Target(target) => {
                other.bound(&mut target.bound);
                let Expression { sum, span, .. } = &mut target.of;
                for term in &mut sum.terms {
                    other.name(&mut term.name);
                    term.span = term.name.span;
                    (sum.span, *span) = (term.span, term.span);
                }
            }
            Statement::Ingredient(_) | Statement::Lot(_) => {}
        }
    }
}

/// The name of an expression that is no more than one.
fn one_name(expression: &Expression) -> Option<&Name> {
    match (expression.sum.terms.as_slice(), &expression.over) {
        ([term], None) if term.factors.is_empty() && !term.is_subtracted => Some(&term.name),
        _ => None,
    }
}

impl Changes<'_> {
    fn name(&self, name: &mut Name) {
        name.text = SmolStr::new(self.name);
        name.span = Span::new(self.at, self.name_end.1);
    }

    /// A place behind the name.
    fn span(&self, span: &mut Span) {
        let moved = |at: u32| {
            let at = at as usize;
            let (before, now) = match self.number_end {
                Some(end) if end.0 <= at => end,
                _ => self.name_end,
            };
            now + at.saturating_sub(before)
        };
        *span = Span::new(moved(span.start), moved(span.end));
    }

    fn quantity(&self, quantity: &mut Quantity) {
        self.span(&mut quantity.span);
        self.own_number(&mut quantity.number);
        if let Some(scatter) = &mut quantity.scatter {
            self.span(&mut scatter.span);
            self.span(&mut scatter.number.span);
        }
        self.behind(&mut quantity.unit, &mut quantity.basis);
    }

    fn bound(&self, bound: &mut Bound) {
        self.span(&mut bound.span);
        for end in [&mut bound.low, &mut bound.high].into_iter().flatten() {
            self.own_number(end);
        }
        self.behind(&mut bound.unit, &mut bound.basis);
    }

    fn own_number(&self, number: &mut Number) {
        self.span(&mut number.span);
        if let Some(digits) = self.digits {
            number.digits = SmolStr::new(digits);
        }
    }

    fn behind(&self, unit: &mut Option<UnitText>, basis: &mut Option<Basis>) {
        if let Some(unit) = unit {
            self.span(&mut unit.span);
            self.span(&mut unit.unit.span);
            if let Some((count, per)) = &mut unit.per {
                self.span(&mut per.span);
                if let Some(count) = count {
                    self.span(&mut count.span);
                }
            }
        }
        if let Some(basis) = basis {
            self.span(&mut basis.span);
            if let BasisKind::AtDryMatter(percent) = &mut basis.kind {
                self.span(&mut percent.span);
            }
        }
    }
}
