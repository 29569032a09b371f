//! Lines of targets and rations.

use super::{Mistake, Read, Reader, inner};
use crate::grammar::{Part, Rule};
use crate::tree::{Amount, AmountForm, Carry, Clauses, RationStatement, Target};

pub(crate) fn target_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<Target> {
    let mut parts = line.into_inner();
    let of = reader.next_expression(&mut parts)?;
    let bound = reader.next_bound(&mut parts)?;
    Ok(Target { of, bound })
}

pub(crate) fn ration_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<RationStatement> {
    use RationStatement as Statement;
    Ok(match line.as_rule() {
        Rule::for_line => {
            let animal = inner(line)?;
            match animal.as_rule() {
                Rule::mixing => Statement::ForMixing,
                _ => Statement::For(reader.name(&animal)),
            }
        }
        Rule::meets_line => Statement::Meets(reader.name_in(line)?),
        Rule::batch_line => Statement::Batch(reader.quantity_in(line)?),
        Rule::mix_by_line => Statement::MixBy(reader.name_in(line)?),
        Rule::intake_line => Statement::Intake(reader.quantity_in(line)?),
        Rule::beside_line => {
            let mut parts = line.into_inner();
            let name = parts.next().ok_or(Mistake::Missing("an ingredient"))?;
            let name = reader.name(&name);
            let amount = reader.next_quantity(&mut parts)?;
            Statement::Beside { name, amount }
        }
        Rule::keeps_line => Statement::Keeps(reader.quantity_in(line)?),
        Rule::limit_line => {
            let Target { of, bound } = target_line(reader, line)?;
            Statement::Limit { of, bound }
        }
        Rule::certainty_line => Statement::Certainty(reader.quantity_in(line)?),
        Rule::drop_line => Statement::Drop(reader.name_in(line)?),
        Rule::replace_line => {
            let mut parts = line.into_inner();
            match (parts.next(), parts.next()) {
                (Some(what), Some(with)) => Statement::Replace {
                    what: reader.name(&what),
                    with: reader.name(&with),
                },
                _ => return Err(Mistake::Missing("two ingredients")),
            }
        }
        Rule::accept_line => Statement::Accept(reader.accept_in(line)?),
        _ => Statement::Amount(amount_line(reader, line)?),
    })
}

pub(crate) fn amount_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<Amount> {
    let mut parts = line.into_inner();
    let name = parts.next().ok_or(Mistake::Missing("an ingredient"))?;
    let name = reader.name(&name);
    let amount = parts.next().ok_or(Mistake::Missing("an amount"))?;
    let span = reader.span(&amount);
    let form = amount_form(reader, amount)?;
    let mut clauses = Clauses::default();
    for part in parts {
        clause(reader, part, &mut clauses)?;
    }
    Ok(Amount {
        name,
        form,
        span,
        clauses,
    })
}

fn amount_form(reader: &mut Reader<'_>, amount: Part<'_>) -> Read<AmountForm> {
    Ok(match amount.as_rule() {
        Rule::fixed => AmountForm::Fixed(reader.quantity(amount)?),
        Rule::rest => AmountForm::Rest,
        Rule::open => AmountForm::Open(reader.bound_in(amount)?),
        Rule::parts => {
            let mut inner = amount.into_inner();
            let number = inner.next().ok_or(Mistake::Missing("a number"))?;
            let number = reader.number(&number)?;
            if let Some(word) = inner
                .next()
                .filter(|word| word.as_str() == "part" && number.digits != "1")
            {
                let span = reader.span(&word);
                reader.note(span, "part", "parts");
            }
            AmountForm::Parts(number)
        }
        _ => {
            let mut inner = amount.into_inner();
            let quantity = reader.next_quantity(&mut inner)?;
            let active = inner.next().ok_or(Mistake::Missing("an active"))?;
            let active = reader.name(&active);
            AmountForm::Giving { quantity, active }
        }
    })
}

fn clause(reader: &mut Reader<'_>, part: Part<'_>, clauses: &mut Clauses) -> Read<()> {
    let span = reader.span(&part);
    match part.as_rule() {
        Rule::within => {
            let bound = reader.bound_in(part)?;
            reader.once(&mut clauses.within, span, bound)
        }
        Rule::or_none => reader.once(&mut clauses.or_none, span, span),
        Rule::on_top => reader.once(&mut clauses.on_top, span, span),
        Rule::small => reader.once(&mut clauses.carry, span, (Carry::Small, span)),
        Rule::bulk => reader.once(&mut clauses.carry, span, (Carry::Bulk, span)),
        Rule::not_carrier => reader.once(&mut clauses.carry, span, (Carry::NotCarrier, span)),
        Rule::lot => {
            let lot = reader.name_in(part)?;
            reader.once(&mut clauses.lot, span, lot)
        }
        _ => {
            let accept = reader.accept(part)?;
            reader.once(&mut clauses.accept, span, accept)
        }
    }
}
