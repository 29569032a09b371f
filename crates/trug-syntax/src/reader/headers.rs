//! Header lines, to items that have no lines yet.

use trug_findings::Span;

use super::{Mistake, Read, Reader};
use crate::grammar::{Part, Parts, Rule};
use crate::tree::{
    Animal, Group, Ingredient, ItemBody, Lot, Method, Name, Nutrient, NutrientKind, Phase, Ration,
    Record, Scale, ScaleClass, Targets, Text, Unit, UnitRate, Use, UseSource, UsedBook, Vessel,
};

/// Reads a header by the rule its keyword opens.
pub(crate) fn header(reader: &mut Reader<'_>, header: Part<'_>) -> Read<ItemBody> {
    let rule = header.as_rule();
    let mut parts = header.into_inner();
    match rule {
        Rule::use_item => use_item(reader, parts).map(ItemBody::Use),
        Rule::rate_item => {
            let from = reader.next_quantity(&mut parts)?;
            let to = reader.next_quantity(&mut parts)?;
            Ok(ItemBody::Rate(UnitRate { from, to }))
        }
        _ => {
            let name = parts.next().ok_or(Mistake::Missing("a name"))?;
            let name = reader.name(&name);
            named(reader, rule, name, parts)
        }
    }
}

fn use_item(reader: &mut Reader<'_>, mut parts: Parts<'_>) -> Read<Use> {
    let source = parts
        .next()
        .ok_or(Mistake::Missing("a file name in quotes"))?;
    let source = match source.as_rule() {
        Rule::use_book => {
            let mut parts = source.into_inner();
            let name = parts.next().ok_or(Mistake::Missing("a book"))?;
            let name = reader.name(&name);
            let edition = parts.next().map(|edition| reader.number(&edition));
            UseSource::Book(UsedBook {
                name,
                edition: edition.transpose()?,
            })
        }
        _ => {
            let text = reader.text(&source);
            let is_table = text.text.len() >= 4
                && text
                    .text
                    .get(text.text.len() - 4..)
                    .is_some_and(|end| end.eq_ignore_ascii_case(".csv"));
            if is_table {
                UseSource::Table(text)
            } else {
                UseSource::File(text)
            }
        }
    };
    Ok(Use { source })
}

fn named(reader: &mut Reader<'_>, rule: Rule, name: Name, mut parts: Parts<'_>) -> Read<ItemBody> {
    Ok(match rule {
        Rule::unit_item => {
            let has_of = parts
                .peek()
                .is_some_and(|part| part.as_rule() == Rule::of_name);
            let of = if has_of {
                of_name(reader, &mut parts)?
            } else {
                None
            };
            let equals = reader.next_quantity(&mut parts)?;
            ItemBody::Unit(Unit { name, of, equals })
        }
        Rule::nutrient_item => nutrient(reader, name, parts).map(ItemBody::Nutrient)?,
        Rule::scale_item => scale(reader, name, parts).map(ItemBody::Scale)?,
        Rule::vessel_item => vessel(reader, name, parts).map(ItemBody::Vessel)?,
        Rule::record_item => {
            let of = of_name(reader, &mut parts)?.ok_or(Mistake::Missing("`of` a ration"))?;
            ItemBody::Record(Record {
                name,
                of,
                lines: Vec::new(),
            })
        }
        _ => related(reader, rule, name, parts)?,
    })
}

fn of_name(reader: &mut Reader<'_>, parts: &mut Parts<'_>) -> Read<Option<Name>> {
    parts.next().map(|of| reader.name_in(of)).transpose()
}

/// Items whose header has a label and at most one other name.
fn related(reader: &mut Reader<'_>, rule: Rule, name: Name, parts: Parts<'_>) -> Read<ItemBody> {
    let mut label = None;
    let mut other = None;
    let mut ages = None;
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::label => {
                let text = reader.text_in(part)?;
                reader.once(&mut label, span, text)?;
            }
            Rule::phase => {
                let phase = phase(reader, span, part)?;
                reader.once(&mut ages, span, phase)?;
            }
            _ => {
                let name = reader.name_in(part)?;
                reader.once(&mut other, span, name)?;
            }
        }
    }
    Ok(match rule {
        Rule::animal_item => ItemBody::Animal(Animal {
            name,
            is: other,
            label,
            lines: Vec::new(),
        }),
        Rule::ingredient_item => ItemBody::Ingredient(Ingredient {
            name,
            label,
            lines: Vec::new(),
        }),
        Rule::lot_item => ItemBody::Lot(Lot {
            name,
            of: other.ok_or(Mistake::Missing("`of` an ingredient"))?,
            label,
            lines: Vec::new(),
        }),
        Rule::targets_item => ItemBody::Targets(Targets {
            name,
            for_animal: other,
            phase: ages,
            label,
            lines: Vec::new(),
        }),
        Rule::ration_item => ItemBody::Ration(Ration {
            name,
            label,
            like: other,
            lines: Vec::new(),
        }),
        Rule::method_item => ItemBody::Method(Method {
            name,
            label,
            lines: Vec::new(),
        }),
        _ => ItemBody::Group(Group {
            name,
            label,
            lines: Vec::new(),
        }),
    })
}

/// The ages that targets are for.
fn phase(reader: &mut Reader<'_>, span: Span, part: Part<'_>) -> Read<Phase> {
    let mut phase = Phase {
        from: None,
        to: None,
        span,
    };
    for end in part.into_inner() {
        let is_first = end.as_rule() == Rule::first_day;
        let day = reader.number_in(end)?;
        *(if is_first {
            &mut phase.from
        } else {
            &mut phase.to
        }) = Some(day);
    }
    Ok(phase)
}

fn nutrient(reader: &mut Reader<'_>, name: Name, parts: Parts<'_>) -> Read<Nutrient> {
    let mut label = None;
    let mut kind = None;
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::label => {
                let text = reader.text_in(part)?;
                reader.once(&mut label, span, text)?;
            }
            Rule::counted_in => {
                let unit = super::inner(part)?;
                let start = reader.span(&unit).start as usize;
                let unit = reader.unit_word(unit.as_str(), start);
                reader.once(&mut kind, span, NutrientKind::In(unit))?;
            }
            _ => {
                let of = reader.next_expression(&mut part.into_inner())?;
                reader.once(&mut kind, span, NutrientKind::Of(of))?;
            }
        }
    }
    let kind = kind.ok_or(Mistake::Missing(
        "`in share` or the like, or `=` a sum of others",
    ))?;
    Ok(Nutrient { name, label, kind })
}

fn scale(reader: &mut Reader<'_>, name: Name, parts: Parts<'_>) -> Read<Scale> {
    let mut label: Option<Text> = None;
    let mut capacity = None;
    let mut division = None;
    let mut class = None;
    let mut minimum = None;
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::label => {
                let text = reader.text_in(part)?;
                reader.once(&mut label, span, text)?;
            }
            Rule::class => {
                let named = super::inner(part)?;
                let span = reader.span(&named);
                reader.once(&mut class, span, (scale_class(named.as_str()), span))?;
            }
            Rule::minimum => {
                let quantity = reader.quantity_in(part)?;
                reader.once(&mut minimum, span, quantity)?;
            }
            _ => {
                let quantity = reader.quantity(part)?;
                let place = if capacity.is_none() {
                    &mut capacity
                } else {
                    &mut division
                };
                *place = Some(quantity);
            }
        }
    }
    match (capacity, division) {
        (Some(capacity), Some(division)) => Ok(Scale {
            name,
            label,
            capacity,
            division,
            class,
            minimum,
        }),
        _ => Err(Mistake::Missing("the most it weighs, `by` and its steps")),
    }
}

fn scale_class(numeral: &str) -> ScaleClass {
    match numeral {
        "I" => ScaleClass::I,
        "II" => ScaleClass::II,
        "III" => ScaleClass::III,
        _ => ScaleClass::IIII,
    }
}

fn vessel(reader: &mut Reader<'_>, name: Name, parts: Parts<'_>) -> Read<Vessel> {
    let mut label = None;
    let mut count = None;
    let mut volume = None;
    for part in parts {
        let span = reader.span(&part);
        match part.as_rule() {
            Rule::label => {
                let text = reader.text_in(part)?;
                reader.once(&mut label, span, text)?;
            }
            Rule::vessel_count => count = Some(reader.number_in(part)?),
            _ => volume = Some(reader.quantity(part)?),
        }
    }
    let volume = volume.ok_or(Mistake::Missing("what each holds"))?;
    Ok(Vessel {
        name,
        label,
        count,
        volume,
    })
}
