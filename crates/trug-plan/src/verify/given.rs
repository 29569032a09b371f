//! What a plan was given, as it says itself: method, scales, vessels and ingredients.

use std::collections::BTreeSet;

use serde_json::Value;
use trug_model::Q;

use super::document::{IngredientPart, MethodPart, ScalePart, VesselPart, part};
use super::number::Number;
use super::resolve::{Ranks, ranks};
use super::sheet::{AccuracyClass, Class, Ingredient, Method, Scale, Vessel};
use super::{Breaches, Rule};

/// How the class is written.
pub(super) fn word(class: Class) -> &'static str {
    match class {
        Class::Small => "small",
        Class::Bulk => "bulk",
        Class::Liquid => "liquid",
    }
}

/// Reads the method.
pub(super) fn method(given: &MethodPart, found: &mut Breaches) -> Method {
    let place = "the method";
    // How sensible a method is, its text is judged by; here it need only mean something.
    let shares = [
        ("small", Some(&given.small_percent)),
        ("pre-blend", Some(&given.preblend_percent)),
        ("weigh", Some(&given.weigh_percent)),
        ("even", given.even_percent.as_ref()),
    ];
    for (what, share) in shares {
        if share.is_some_and(|share| share.value.is_negative()) {
            found.add(Rule::Form, place, format!("{what} is below 0 %"));
        }
    }
    if given.dilutes.value < Q::ONE {
        let says = format!("a step of 1 in {} takes away", given.dilutes);
        found.add(Rule::Form, place, says);
    }
    for bound in [&given.floor_g, &given.lift_g].into_iter().flatten() {
        if !bound.is_positive() {
            found.add(
                Rule::Form,
                place,
                "what the floor or one person takes is not above 0 g",
            );
        }
    }
    let hundredth = Q::ratio(1, 100);
    Method {
        pre_blend: &given.preblend_percent.value * &hundredth,
        dilutes: given.dilutes.value.clone(),
        weigh: &given.weigh_percent.value * &hundredth,
        floor: given.floor_g.clone(),
        lift: given.lift_g.clone(),
    }
}

/// Reads the scales.
pub(super) fn scales(values: &[Value], found: &mut Breaches) -> Vec<Scale> {
    let mut scales = Vec::new();
    for (index, value) in values.iter().enumerate() {
        let place = format!("scale {}", index + 1);
        let Some(given) = part::<ScalePart>(value, &place, found) else {
            continue;
        };
        let class = match given.accuracy_class.as_deref() {
            None => None,
            Some("I") => Some(AccuracyClass::One),
            Some("II") => Some(AccuracyClass::Two),
            Some("III") => Some(AccuracyClass::Three),
            Some("IIII") => Some(AccuracyClass::Four),
            Some(other) => {
                found.add(Rule::Form, &place, format!("{other} is no accuracy class"));
                None
            }
        };
        let masses = [&given.capacity_g, &given.division_g, &given.minimum_g];
        if masses.into_iter().any(|mass| mass.value.is_negative()) {
            found.add(
                Rule::Form,
                &place,
                "its capacity, division or minimum is below 0 g",
            );
        }
        scales.push(Scale {
            name: given.name,
            capacity: given.capacity_g,
            division: given.division_g,
            minimum: given.minimum_g,
            class,
        });
    }
    check_names(
        scales.iter().map(|scale| scale.name.as_str()),
        "scale",
        found,
    );
    scales
}

/// Reads the vessels.
pub(super) fn vessels(values: &[Value], found: &mut Breaches) -> Vec<Vessel> {
    let mut vessels = Vec::new();
    for (index, value) in values.iter().enumerate() {
        let place = format!("vessel {}", index + 1);
        let Some(given) = part::<VesselPart>(value, &place, found) else {
            continue;
        };
        if given.litres.value.is_negative() {
            found.add(Rule::Form, &place, "it holds less than nothing");
        }
        vessels.push(Vessel {
            name: given.name,
            count: given.count,
            litres: given.litres,
        });
    }
    check_names(
        vessels.iter().map(|vessel| vessel.name.as_str()),
        "vessel",
        found,
    );
    vessels
}

/// Reads the ingredients.
pub(super) fn ingredients(values: &[Value], found: &mut Breaches) -> Vec<Ingredient> {
    let mut parts = Vec::new();
    for (index, value) in values.iter().enumerate() {
        parts.extend(part::<IngredientPart>(
            value,
            &format!("ingredient {}", index + 1),
            found,
        ));
    }
    let names = ranks(parts.iter().map(|given| given.name.as_str()));
    check_names(
        parts.iter().map(|given| given.name.as_str()),
        "ingredient",
        found,
    );
    let mut ingredients = Vec::new();
    for given in parts {
        let place = format!("ingredient {}", given.name);
        let share = share(&given, &place, found);
        let class = match given.class.as_str() {
            "small" => Class::Small,
            "bulk" => Class::Bulk,
            "liquid" => Class::Liquid,
            other => {
                found.add(Rule::Form, &place, format!("{other} is no class"));
                Class::Bulk
            }
        };
        if given.carrier && class != Class::Bulk {
            found.add(Rule::Carrier, &place, "it may carry, and is not bulk");
        }
        if given
            .g_per_litre
            .as_ref()
            .is_some_and(|density| !density.is_positive())
        {
            found.add(Rule::Form, &place, "its density is not above 0 g/L");
        }
        let apart = apart(&given, &names, &place, found);
        let lots = super::lots::read(given.lots, &place, found);
        ingredients.push(Ingredient {
            name: given.name,
            share,
            on_top: given.on_top,
            class,
            carrier: given.carrier,
            g_per_litre: given.g_per_litre,
            apart,
            lots,
        });
    }
    ingredients
}

/// Ranks of what it is apart from, and how thin each is to be.
fn apart(
    given: &IngredientPart,
    names: &Ranks,
    place: &str,
    found: &mut Breaches,
) -> Vec<(usize, Q)> {
    let mut apart = Vec::new();
    for pair in &given.apart {
        match names.get(&pair.from) {
            Some(rank) if pair.from != given.name => {
                apart.push((*rank, pair.times.value.clone()));
            }
            _ => {
                let says = format!("apart from {}: there is no other of that name", pair.from);
                found.add(Rule::Reference, place, says);
            }
        }
        if pair.times.value.is_negative() {
            found.add(Rule::Form, place, "apart by less than nothing");
        }
    }
    apart
}

/// The share of one: exact where the decimals do not end.
fn share(given: &IngredientPart, place: &str, found: &mut Breaches) -> Number {
    let hundredth = Q::ratio(1, 100);
    let mut share = given.share_percent.clone();
    if let Some(text) = &given.exact {
        match Q::fraction(text) {
            Some(exact) if exact.exact() == *text && exact.to_string() == share.to_string() => {
                share = Number::exact(exact);
            }
            _ => {
                let says = format!("{share} % is not {text} rounded to twelve decimals");
                found.add(Rule::Shares, place, says);
            }
        }
    } else if !share.slack.is_zero() {
        // Twelve decimals may end there, but then they are exact.
        share = Number::exact(share.value);
    }
    if share.value.is_negative() {
        found.add(Rule::Shares, place, format!("its share is {share} %"));
    }
    share.times(&hundredth)
}

fn check_names<'a>(names: impl Iterator<Item = &'a str>, what: &str, found: &mut Breaches) {
    let mut seen = BTreeSet::new();
    for name in names {
        if name.is_empty() || !seen.insert(name) {
            let says = format!("the name “{name}” is empty or given twice");
            found.add(Rule::Name, what, says);
        }
    }
}
