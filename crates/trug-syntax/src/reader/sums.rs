//! Sums of names, and one sum over another.

use super::{Mistake, Read, Reader};
use crate::grammar::{Part, Parts, Rule};
use crate::tree::{Expression, Factor, Quantity, Sum, Term};

impl Reader<'_> {
    pub(super) fn expression(&mut self, part: Part<'_>) -> Read<Expression> {
        let span = self.span(&part);
        if part.as_rule() == Rule::name {
            return Ok(self.one_name(&part));
        }
        let mut sums = part.into_inner();
        let sum = sums.next().ok_or(Mistake::Missing("a name"))?;
        let sum = self.sum(sum)?;
        let over = match sums.next() {
            None => None,
            Some(over) => Some(self.sum(over)?),
        };
        Ok(Expression { sum, over, span })
    }

    fn one_name(&self, part: &Part<'_>) -> Expression {
        let name = self.name(part);
        let span = name.span;
        let term = Term {
            is_subtracted: false,
            factors: Vec::new(),
            name,
            span,
        };
        let terms = vec![term];
        Expression {
            sum: Sum { terms, span },
            over: None,
            span,
        }
    }

    /// The next part, an expression or a single name.
    pub(super) fn next_expression(&mut self, parts: &mut Parts<'_>) -> Read<Expression> {
        let part = parts.next().ok_or(Mistake::Missing("a name"))?;
        self.expression(part)
    }

    fn sum(&mut self, part: Part<'_>) -> Read<Sum> {
        let span = self.span(&part);
        let mut terms = Vec::new();
        let mut is_subtracted = false;
        for part in part.into_inner() {
            match part.as_rule() {
                Rule::plus => is_subtracted = false,
                Rule::minus => is_subtracted = true,
                _ => terms.push(self.term(part, is_subtracted)?),
            }
        }
        Ok(Sum { terms, span })
    }

    fn term(&mut self, part: Part<'_>, is_subtracted: bool) -> Read<Term> {
        let span = self.span(&part);
        let mut factors = Vec::new();
        let mut name = None;
        for part in part.into_inner() {
            match part.as_rule() {
                Rule::name => name = Some(self.name(&part)),
                rule => factors.push(Factor {
                    divides: rule == Rule::factor_over,
                    quantity: self.factor(part)?,
                }),
            }
        }
        let name = name.ok_or(Mistake::Missing("a name"))?;
        Ok(Term {
            is_subtracted,
            factors,
            name,
            span,
        })
    }

    fn factor(&mut self, part: Part<'_>) -> Read<Quantity> {
        let factor = part
            .into_inner()
            .next()
            .ok_or(Mistake::Missing("a number"))?;
        self.quantity(factor)
    }
}
