//! Lines of animals, ingredients and lots.

use super::{Mistake, Read, Reader, inner};
use crate::grammar::{Part, Rule};
use crate::tree::{
    AnimalStatement, Basis, IngredientStatement, LotStatement, Name, Quantity, Strength, Text,
};

/// What may follow the bound of a dose, a ceiling, an inclusion.
#[derive(Default)]
struct Tail {
    active: Option<Name>,
    for_animal: Option<Name>,
    reason: Option<Text>,
    basis: Option<Basis>,
}

pub(crate) fn animal_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<AnimalStatement> {
    if line.as_rule() == Rule::gives_line {
        return Ok(AnimalStatement::Gives(reader.name_in(line)?));
    }
    if line.as_rule() == Rule::accept_line {
        return Ok(AnimalStatement::Accept(reader.accept_in(line)?));
    }
    let mut parts = line.into_inner();
    let of = reader.next_expression(&mut parts)?;
    let mut bound = reader.next_bound(&mut parts)?;
    let mut strength = None;
    let mut reason = None;
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::law => reader.once(&mut strength, span, Strength::Law)?,
            Rule::harm => reader.once(&mut strength, span, Strength::Harm)?,
            Rule::reason => {
                let text = reader.text_in(part)?;
                reader.once(&mut reason, span, text)?;
            }
            _ => {
                let basis = reader.basis(part)?;
                reader.once(&mut bound.basis, span, basis)?;
            }
        }
    }
    let strength = strength.ok_or(Mistake::Missing("`law` or `harm` after the bound"))?;
    Ok(AnimalStatement::Bound {
        of,
        bound,
        strength,
        reason,
    })
}

pub(crate) fn ingredient_line(
    reader: &mut Reader<'_>,
    line: Part<'_>,
) -> Read<IngredientStatement> {
    use IngredientStatement as Statement;
    Ok(match line.as_rule() {
        Rule::content_line => {
            let (nutrient, value) = content(reader, line)?;
            Statement::Content { nutrient, value }
        }
        Rule::dry_matter_line => Statement::DryMatter(reader.quantity_in(line)?),
        Rule::price_line => {
            let (value, as_of) = price(reader, line)?;
            Statement::Price { value, as_of }
        }
        Rule::bulk_density_line => Statement::BulkDensity(reader.quantity_in(line)?),
        Rule::sold_in_line => Statement::SoldIn(reader.quantity_in(line)?),
        Rule::inclusion_line => inclusion(reader, line)?,
        Rule::label_line => label(reader, line)?,
        Rule::nothing_else_line => Statement::NothingElse,
        Rule::form_line => Statement::Form(reader.name_in(line)?),
        Rule::particle_size_line => Statement::ParticleSize(reader.quantity_in(line)?),
        Rule::particle_density_line => Statement::ParticleDensity(reader.quantity_in(line)?),
        Rule::dose_line => dose(reader, line)?,
        Rule::ceiling_line => ceiling(reader, line)?,
        Rule::apart_from_line => apart_from(reader, line)?,
        Rule::never_line => never(reader, line)?,
        Rule::withdrawal_line => {
            let mut parts = line.into_inner();
            let time = reader.next_quantity(&mut parts)?;
            let product = parts
                .next()
                .ok_or(Mistake::Missing("what the animal gives"))?;
            let product = reader.name(&product);
            Statement::Withdrawal { time, product }
        }
        Rule::caution_line => Statement::Caution(reader.text_in(line)?),
        _ => Statement::Accept(reader.accept_in(line)?),
    })
}

pub(crate) fn lot_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<LotStatement> {
    use LotStatement as Statement;
    Ok(match line.as_rule() {
        Rule::received_line => received(reader, line)?,
        Rule::best_before_line => Statement::BestBefore(reader.date_in(line)?),
        Rule::on_hand_line => Statement::OnHand(reader.quantity_in(line)?),
        Rule::content_line => {
            let (nutrient, value) = content(reader, line)?;
            Statement::Content { nutrient, value }
        }
        Rule::dry_matter_line => Statement::DryMatter(reader.quantity_in(line)?),
        Rule::price_line => {
            let (value, as_of) = price(reader, line)?;
            Statement::Price { value, as_of }
        }
        Rule::bulk_density_line => Statement::BulkDensity(reader.quantity_in(line)?),
        _ => Statement::Accept(reader.accept_in(line)?),
    })
}

fn received(reader: &mut Reader<'_>, line: Part<'_>) -> Read<LotStatement> {
    let mut parts = line.into_inner();
    let first = parts.clone().next();
    let has_mass = first.is_some_and(|part| part.as_rule() == Rule::quantity);
    let mass = if has_mass {
        Some(reader.next_quantity(&mut parts)?)
    } else {
        None
    };
    let date = parts.next().ok_or(Mistake::Missing("a day"))?;
    Ok(LotStatement::Received {
        mass,
        date: reader.date(&date)?,
    })
}

fn content(reader: &mut Reader<'_>, line: Part<'_>) -> Read<(Name, Quantity)> {
    let mut parts = line.into_inner();
    let nutrient = parts.next().ok_or(Mistake::Missing("a nutrient"))?;
    let nutrient = reader.name(&nutrient);
    let value = reader.next_quantity(&mut parts)?;
    Ok((nutrient, value))
}

fn price(reader: &mut Reader<'_>, line: Part<'_>) -> Read<(Quantity, Option<crate::tree::Date>)> {
    let mut parts = line.into_inner();
    let value = reader.next_quantity(&mut parts)?;
    let as_of = match parts.next() {
        None => None,
        Some(as_of) => Some(reader.date_in(as_of)?),
    };
    Ok((value, as_of))
}

fn tail(reader: &mut Reader<'_>, parts: crate::grammar::Parts<'_>) -> Read<Tail> {
    let mut tail = Tail::default();
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::active => {
                let active = reader.name_in(part)?;
                reader.once(&mut tail.active, span, active)?;
            }
            Rule::for_animal => {
                let animal = reader.name_in(part)?;
                reader.once(&mut tail.for_animal, span, animal)?;
            }
            Rule::reason => {
                let reason = reader.text_in(part)?;
                reader.once(&mut tail.reason, span, reason)?;
            }
            _ => {
                let basis = reader.basis(part)?;
                reader.once(&mut tail.basis, span, basis)?;
            }
        }
    }
    Ok(tail)
}

fn inclusion(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let mut parts = line.into_inner();
    let bound = reader.next_bound(&mut parts)?;
    let tail = tail(reader, parts)?;
    Ok(IngredientStatement::Limit {
        bound,
        for_animal: tail.for_animal,
    })
}

fn dose(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let mut parts = line.into_inner();
    let mut bound = reader.next_bound(&mut parts)?;
    let tail = tail(reader, parts)?;
    if let Some(basis) = tail.basis {
        let span = basis.span;
        reader.once(&mut bound.basis, span, basis)?;
    }
    Ok(IngredientStatement::Dose {
        bound,
        active: tail.active,
        for_animal: tail.for_animal,
    })
}

fn ceiling(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let mut parts = line.into_inner();
    let value = reader.next_quantity(&mut parts)?;
    let tail = tail(reader, parts)?;
    Ok(IngredientStatement::Ceiling {
        value,
        active: tail.active,
        for_animal: tail.for_animal,
        reason: tail.reason,
    })
}

fn label(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let mut parts = line.into_inner();
    let language = parts.next().ok_or(Mistake::Missing("a language"))?;
    let text = parts.next().ok_or(Mistake::Missing("a text in quotes"))?;
    Ok(IngredientStatement::Label {
        language: reader.name(&language),
        text: reader.text(&text),
    })
}

fn apart_from(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let mut parts = line.into_inner();
    let other = parts.next().ok_or(Mistake::Missing("an ingredient"))?;
    let other = reader.name(&other);
    let until = match parts.next() {
        None => None,
        Some(until) => Some(reader.number_in(until)?),
    };
    Ok(IngredientStatement::ApartFrom { other, until })
}

fn never(reader: &mut Reader<'_>, line: Part<'_>) -> Read<IngredientStatement> {
    let never = inner(line)?;
    let is_with = never.as_rule() == Rule::never_with;
    let mut parts = never.into_inner();
    let other = parts.next().ok_or(Mistake::Missing("a name"))?;
    let other = reader.name(&other);
    let reason = tail(reader, parts)?.reason;
    Ok(if is_with {
        IngredientStatement::NeverWith { other, reason }
    } else {
        IngredientStatement::NeverFor {
            animal: other,
            reason,
        }
    })
}
