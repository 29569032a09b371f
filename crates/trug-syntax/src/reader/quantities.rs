//! Numbers, units, quantities and bounds.

use std::cmp::Ordering;

use smol_str::SmolStr;
use trug_findings::Span;

use super::{Mistake, Read, Reader, inner};
use crate::grammar::{self, Part, Parts, Rule};
use crate::lines::first_word;
use crate::names::composed;
use crate::spelling;
use crate::tree::{Basis, BasisKind, Bound, Number, Quantity, Scatter, UnitText, UnitWord};

/// Numbers are exact decimals of up to forty digits.
const MOST_DIGITS: usize = 40;

impl Reader<'_> {
    pub(super) fn number(&self, part: &Part<'_>) -> Read<Number> {
        self.number_at(part.as_str(), self.span(part))
    }

    fn number_at(&self, written: &str, span: Span) -> Read<Number> {
        if written.len() > MOST_DIGITS
            && written.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS
        {
            return Err(Mistake::Digits(span));
        }
        let digits = match written.strip_prefix(['-', '+', '\u{2212}', '\u{2013}']) {
            None => SmolStr::new(written),
            Some(digits) if written.starts_with('+') => SmolStr::new(digits),
            Some(digits) => format_negative(digits),
        };
        Ok(Number { digits, span })
    }

    /// The one number inside a part, as in `turn NUMBER times`.
    pub(super) fn number_in(&self, part: Part<'_>) -> Read<Number> {
        let number = part
            .into_inner()
            .find(|inner| inner.as_rule() == Rule::number);
        number.map_or(Err(Mistake::Missing("a number")), |number| {
            self.number(&number)
        })
    }

    /// `kg`, `kg/t`, `LKR per 25 kg`.
    pub(super) fn unit(&mut self, part: &Part<'_>) -> Read<UnitText> {
        let span = self.span(part);
        let written = part.as_str();
        if let Some((unit, per)) = written.split_once('/') {
            let per_start = span.end as usize - per.len();
            let per = Some((None, self.unit_word(per, per_start)));
            let unit = self.unit_word(unit, span.start as usize);
            return Ok(UnitText { unit, per, span });
        }
        let word = first_word(written);
        let unit = self.unit_word(word, span.start as usize);
        let per = match written
            .get(word.len()..)
            .unwrap_or("")
            .trim_start()
            .strip_prefix("per")
        {
            None => None,
            Some(per) => Some(self.unit_per(per.trim_start(), span.end as usize)?),
        };
        Ok(UnitText { unit, per, span })
    }

    /// What follows `per` and ends at `end`: a unit, perhaps after a number.
    fn unit_per(&mut self, per: &str, end: usize) -> Read<(Option<Number>, UnitWord)> {
        let (number, unit) = match grammar::read_start(Rule::number, per) {
            Err(_) => (None, per),
            Ok((part, length)) => {
                let start = end - per.len();
                let number = self.number_at(part.as_str(), Span::new(start, start + length))?;
                (Some(number), per.get(length..).unwrap_or("").trim_start())
            }
        };
        Ok((number, self.unit_word(unit, end - unit.len())))
    }

    /// A word of a unit, in its usual form.
    pub(super) fn unit_word(&mut self, written: &str, start: usize) -> UnitWord {
        let span = Span::new(start, start + written.len());
        let text = match spelling::usual_unit(written) {
            None => composed(written),
            Some(usual) => {
                self.note(span, written, usual);
                SmolStr::new_static(usual)
            }
        };
        UnitWord { text, span }
    }

    pub(super) fn basis(&mut self, part: Part<'_>) -> Read<Basis> {
        let span = self.span(&part);
        let written = part.as_str();
        if part.as_rule() != Rule::as_fed && !written.ends_with("dry-matter") {
            let from = written.rfind("dry").unwrap_or(0);
            let words = Span::new(span.start as usize + from, span.end as usize);
            self.note(words, "dry matter", "dry-matter");
        }
        let kind = match part.as_rule() {
            Rule::as_fed => BasisKind::AsFed,
            Rule::of_dry_matter => BasisKind::OfDryMatter,
            _ => BasisKind::AtDryMatter(self.number_in(part)?),
        };
        Ok(Basis { kind, span })
    }

    pub(super) fn quantity(&mut self, part: Part<'_>) -> Read<Quantity> {
        let span = self.span(&part);
        let written = part.as_str();
        let mut parts = part.into_inner();
        let number = parts.next().ok_or(Mistake::Missing("a number"))?;
        let after_number = written.get(number.as_str().len()..).unwrap_or("");
        let mut quantity = Quantity {
            number: self.number(&number)?,
            scatter: None,
            unit: None,
            basis: None,
            span,
        };
        for part in parts {
            match part.as_rule() {
                Rule::scatter => {
                    let number = self.number_in(part)?;
                    let blanks = after_number.len() - after_number.trim_start().len();
                    let start = quantity.number.span.end as usize + blanks;
                    let span = Span::new(start, number.span.end as usize);
                    quantity.scatter = Some(Scatter { number, span });
                }
                Rule::unit => quantity.unit = Some(self.unit(&part)?),
                _ => quantity.basis = Some(self.basis(part)?),
            }
        }
        Ok(quantity)
    }

    /// The one quantity inside a part, as in `batch QUANTITY`.
    pub(super) fn quantity_in(&mut self, part: Part<'_>) -> Read<Quantity> {
        let quantity = part
            .into_inner()
            .find(|inner| inner.as_rule() == Rule::quantity);
        quantity.map_or(Err(Mistake::Missing("a number")), |quantity| {
            self.quantity(quantity)
        })
    }

    /// The next part, a quantity.
    pub(super) fn next_quantity(&mut self, parts: &mut Parts<'_>) -> Read<Quantity> {
        let part = parts.next().ok_or(Mistake::Missing("a number"))?;
        self.quantity(part)
    }

    /// A range, `at least` or `at most`.
    pub(super) fn bound(&mut self, part: Part<'_>) -> Read<Bound> {
        let span = self.span(&part);
        let rule = part.as_rule();
        let mut bound = Bound {
            low: None,
            high: None,
            unit: None,
            basis: None,
            span,
        };
        for part in part.into_inner() {
            match part.as_rule() {
                Rule::number => {
                    let number = self.number(&part)?;
                    let is_low =
                        rule == Rule::at_least || rule == Rule::range && bound.low.is_none();
                    *(if is_low {
                        &mut bound.low
                    } else {
                        &mut bound.high
                    }) = Some(number);
                }
                Rule::unit => bound.unit = Some(self.unit(&part)?),
                _ => bound.basis = Some(self.basis(part)?),
            }
        }
        in_order(bound)
    }

    /// The next part, a bound.
    pub(super) fn next_bound(&mut self, parts: &mut Parts<'_>) -> Read<Bound> {
        let part = parts.next().ok_or(Mistake::Missing("a bound"))?;
        self.bound(part)
    }

    /// The bound a part holds, as in `within BOUND`.
    pub(super) fn bound_in(&mut self, part: Part<'_>) -> Read<Bound> {
        let bound = inner(part)?;
        self.bound(bound)
    }
}

fn in_order(bound: Bound) -> Read<Bound> {
    let (Some(low), Some(high)) = (&bound.low, &bound.high) else {
        return Ok(bound);
    };
    if is_reversed(&low.digits, &high.digits) {
        return Err(Mistake::Reversed {
            range: low.span.to(high.span),
            turned: format!("{} .. {}", high.digits, low.digits),
        });
    }
    Ok(bound)
}

fn format_negative(digits: &str) -> SmolStr {
    let mut negative = String::with_capacity(digits.len() + 1);
    negative.push('-');
    negative.push_str(digits);
    SmolStr::from(negative)
}

/// Whether the first of two decimals is the greater one.
pub(crate) fn is_reversed(low: &str, high: &str) -> bool {
    compare(low, high) == Ordering::Greater
}

/// Compares two decimals by their digits.
fn compare(a: &str, b: &str) -> Ordering {
    match (is_negative(a), is_negative(b)) {
        (false, false) => compare_sizes(a, b),
        (true, true) => compare_sizes(b, a),
        (true, false) => Ordering::Less,
        (false, true) => Ordering::Greater,
    }
}

fn is_negative(digits: &str) -> bool {
    digits.starts_with('-') && digits.bytes().any(|byte| matches!(byte, b'1'..=b'9'))
}

fn compare_sizes(a: &str, b: &str) -> Ordering {
    let (whole_a, part_a) = size(a);
    let (whole_b, part_b) = size(b);
    let wholes = whole_a
        .len()
        .cmp(&whole_b.len())
        .then_with(|| whole_a.cmp(whole_b));
    wholes.then_with(|| part_a.cmp(part_b))
}

/// The digits before and after the point, without sign and without zeros that say nothing.
fn size(digits: &str) -> (&str, &str) {
    let digits = digits.trim_start_matches('-');
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    (whole.trim_start_matches('0'), part.trim_end_matches('0'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_compare_by_value() {
        for (low, high) in [
            ("1.5", "1.50"),
            ("-0", "0"),
            ("0", "-0.0"),
            ("9", "10"),
            ("-10", "-9"),
            ("1.05", "1.5"),
            ("-1", "0"),
        ] {
            assert!(!is_reversed(low, high), "{low} {high}");
        }
        for (low, high) in [
            ("10", "9"),
            ("-9", "-10"),
            ("1.5", "1.05"),
            ("0", "-1"),
            ("007", "6.99"),
        ] {
            assert!(is_reversed(low, high), "{low} {high}");
        }
    }
}
