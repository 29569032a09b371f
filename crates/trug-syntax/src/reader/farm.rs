//! Lines of methods, groups and records.

use super::{Mistake, Read, Reader};
use crate::grammar::{Part, Parts, Rule};
use crate::tree::{Date, GroupStatement, MethodRule, Name, RecordStatement};

pub(crate) fn method_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<MethodRule> {
    Ok(match line.as_rule() {
        Rule::small_line => MethodRule::Small(reader.quantity_in(line)?),
        Rule::pre_blend_line => MethodRule::PreBlend(reader.quantity_in(line)?),
        Rule::step_line => MethodRule::Step(reader.number_in(line)?),
        Rule::weigh_line => MethodRule::Weigh(reader.quantity_in(line)?),
        Rule::even_line => MethodRule::Even(reader.quantity_in(line)?),
        Rule::floor_line => MethodRule::Floor(reader.quantity_in(line)?),
        Rule::in_line => MethodRule::In(reader.name_in(line)?),
        Rule::lift_line => MethodRule::Lift(reader.quantity_in(line)?),
        Rule::turn_line => MethodRule::Turn(reader.number_in(line)?),
        Rule::portions_line => MethodRule::Portions(reader.number_in(line)?),
        _ => MethodRule::Accept(reader.accept_in(line)?),
    })
}

pub(crate) fn group_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<GroupStatement> {
    Ok(match line.as_rule() {
        Rule::animals_line => {
            let mut parts = line.into_inner();
            let count = parts.next().ok_or(Mistake::Missing("a number"))?;
            let count = reader.number(&count)?;
            let animal = next_name(reader, &mut parts)?;
            GroupStatement::Animals { count, animal }
        }
        Rule::eats_line => eats(reader, line)?,
        Rule::placed_line => {
            let mut parts = line.into_inner();
            let date = parts.next().ok_or(Mistake::Missing("a day"))?;
            let date = reader.date(&date)?;
            let age = parts.next().map(|age| reader.number_in(age)).transpose()?;
            GroupStatement::Placed { date, age }
        }
        Rule::mix_for_line => GroupStatement::MixFor(reader.quantity_in(line)?),
        _ => GroupStatement::Accept(reader.accept_in(line)?),
    })
}

pub(crate) fn record_line(reader: &mut Reader<'_>, line: Part<'_>) -> Read<RecordStatement> {
    Ok(match line.as_rule() {
        Rule::made_line => {
            let mut parts = line.into_inner();
            let date = parts.next().ok_or(Mistake::Missing("a day"))?;
            let date = reader.date(&date)?;
            let by = match parts.next() {
                None => None,
                Some(by) => Some(reader.text_in(by)?),
            };
            RecordStatement::Made { date, by }
        }
        Rule::batch_line => RecordStatement::Batch(reader.quantity_in(line)?),
        Rule::weighed_line => {
            let mut parts = line.into_inner();
            let ingredient = next_name(reader, &mut parts)?;
            let mass = reader.next_quantity(&mut parts)?;
            let lot = match parts.next() {
                None => None,
                Some(lot) => Some(reader.name_in(lot)?),
            };
            RecordStatement::Weighed {
                ingredient,
                mass,
                lot,
            }
        }
        Rule::sampled_line => sampled(reader, line)?,
        Rule::fed_to_line => {
            let mut parts = line.into_inner();
            let group = next_name(reader, &mut parts)?;
            let (from, to) = days(reader, parts)?;
            RecordStatement::FedTo { group, from, to }
        }
        _ => RecordStatement::Accept(reader.accept_in(line)?),
    })
}

fn next_name(reader: &Reader<'_>, parts: &mut Parts<'_>) -> Read<Name> {
    let name = parts.next().ok_or(Mistake::Missing("a name"))?;
    Ok(reader.name(&name))
}

fn eats(reader: &mut Reader<'_>, line: Part<'_>) -> Read<GroupStatement> {
    let mut parts = line.into_inner();
    let ration = next_name(reader, &mut parts)?;
    let has_intake = parts
        .peek()
        .is_some_and(|part| part.as_rule() == Rule::quantity);
    let intake = if has_intake {
        Some(reader.next_quantity(&mut parts)?)
    } else {
        None
    };
    let (from, to) = days(reader, parts)?;
    Ok(GroupStatement::Eats {
        ration,
        intake,
        from,
        to,
    })
}

/// `from` a day, `to` a day.
fn days(reader: &mut Reader<'_>, parts: Parts<'_>) -> Read<(Option<Date>, Option<Date>)> {
    let mut from = None;
    let mut to = None;
    for part in parts {
        let is_from = part.as_rule() == Rule::from_date;
        let date = reader.date_in(part)?;
        *(if is_from { &mut from } else { &mut to }) = Some(date);
    }
    Ok((from, to))
}

fn sampled(reader: &mut Reader<'_>, line: Part<'_>) -> Read<RecordStatement> {
    let mut parts = line.into_inner();
    let nutrient = next_name(reader, &mut parts)?;
    let mut samples = Vec::new();
    let mut unit = None;
    let mut assay = None;
    for part in parts {
        match part.as_rule() {
            Rule::number => samples.push(reader.number(&part)?),
            Rule::unit => unit = Some(reader.unit(&part)?),
            _ => assay = Some(reader.quantity_in(part)?),
        }
    }
    Ok(RecordStatement::Sampled {
        nutrient,
        samples,
        unit,
        assay,
    })
}
