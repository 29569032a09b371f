//! Quantities, shares, sums, analyses and costs counted a second time, by other arithmetic and from the words of the text.
//!
//! The other arithmetic is `BigRational` of the crate `num-rational`, which shares nothing with the numbers of the tool;
//! digits are read, units multiplied and bases converted here again, as `grammar/REFERENCE.md` says.

use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;
use trug_model::{Farm, InMemory, Settings};
use trug_plan::{Request, plan_ration};

mod bounds;
mod doses;
mod giving;
mod mixes;

use crate::arithmetic::{config, other, ratio, read, whole};

/// What a nutrient is counted in: its name, and its units with the part of a kg of each. The sources of their sizes are
/// the SI, and 4.184 J a calorie.
const PROTEIN: (&str, [(&str, i64, i64); 7]) = (
    "protein",
    [
        ("%", 1, 100),
        ("g/kg", 1, 1_000),
        ("mg/kg", 1, 1_000_000),
        ("kg/t", 1, 1_000),
        ("ppm", 1, 1_000_000),
        ("g per 100 g", 1, 100),
        ("mg per 250 g", 1, 250_000),
    ],
);
/// In MJ of a kg.
const ENERGY: (&str, [(&str, i64, i64); 5]) = (
    "ame",
    [
        ("MJ/kg", 1, 1),
        ("kJ/g", 1, 1),
        ("kcal/kg", 4_184, 1_000_000),
        ("Mcal/kg", 4_184, 1_000),
        ("MJ per 100 kg", 1, 100),
    ],
);
/// In money a kg.
const PRICES: [(&str, i64, i64); 5] = [
    ("LKR/kg", 1, 1),
    ("LKR/t", 1, 1_000),
    ("LKR per 25 kg", 1, 25),
    ("LKR/lb", 100_000_000, 45_359_237),
    ("EUR/kg", 325, 1),
];
/// In kg.
const MASSES: [(&str, i64, i64); 4] = [
    ("kg", 1, 1),
    ("t", 1_000, 1),
    ("lb", 45_359_237, 100_000_000),
    ("g", 1, 1_000),
];
/// Of the 100 %.
const SHARES: [(&str, i64, i64); 5] = [
    ("%", 1, 100),
    ("kg/t", 1, 1_000),
    ("g/kg", 1, 1_000),
    ("g per 100 kg", 1, 100_000),
    ("ppm", 1, 1_000_000),
];

/// How a content is said: digits, the rank of its unit, and on which basis (as fed, of dry matter, at 88 %).
#[derive(Clone, Debug)]
struct Content {
    digits: String,
    unit: usize,
    basis: usize,
}

#[derive(Clone, Debug)]
struct Ingredient {
    dry_matter: String,
    protein: Option<Content>,
    energy: Option<Content>,
    price: Option<Content>,
    /// Its amount in the ration, of which the last line takes what is left.
    amount: Content,
    on_top: bool,
}

fn content(units: usize, digits: &'static str, bases: usize) -> impl Strategy<Value = Content> {
    (digits, 0..units, 0..bases).prop_map(|(digits, unit, basis)| Content {
        digits,
        unit,
        basis,
    })
}

fn ingredient() -> impl Strategy<Value = Ingredient> {
    let often = |content| proptest::option::weighted(0.9, content);
    (
        "(6|7|8|9)[0-9](\\.[0-9]{1,3})?",
        often(content(7, "[0-9](\\.[0-9]{1,4})?", 3).boxed()),
        often(content(5, "[0-7](\\.[0-9]{1,4})?", 3).boxed()),
        often(content(5, "[1-9][0-9]{0,2}(\\.[0-9]{1,2})?", 1).boxed()),
        content(SHARES.len(), "[0-9](\\.[0-9]{1,5})?", 1),
        prop::bool::weighted(0.15),
    )
        .prop_map(
            |(dry_matter, protein, energy, price, amount, on_top)| Ingredient {
                dry_matter,
                protein,
                energy,
                price,
                amount,
                on_top,
            },
        )
}

const NAMES: [&str; 8] = [
    "maize",
    "broken-rice",
    "rice-bran",
    "soya",
    "කැඩුනු-සහල්",
    "shell",
    "salt",
    "premix",
];

/// The words behind a content that say its basis.
const BASES: [&str; 3] = ["", " of dry-matter", " at 88 % dry-matter"];

fn written(ingredients: &[Ingredient], batch: &Content) -> String {
    let mut text =
        String::from("rate 1 EUR = 325 LKR\nnutrient protein in share\nnutrient ame in energy\n");
    for (name, one) in NAMES.iter().zip(ingredients) {
        text += &format!("ingredient {name}\n  dry-matter {} %\n", one.dry_matter);
        for (content, (nutrient, units)) in [
            (&one.protein, (PROTEIN.0, &PROTEIN.1[..])),
            (&one.energy, (ENERGY.0, &ENERGY.1[..])),
        ] {
            if let Some(said) = content {
                text += &format!(
                    "  {nutrient} {} {}{}\n",
                    said.digits, units[said.unit].0, BASES[said.basis]
                );
            }
        }
        if let Some(price) = &one.price {
            text += &format!("  price {} {}\n", price.digits, PRICES[price.unit].0);
        }
    }
    text += &format!(
        "ration mash\n  for mixing\n  batch {} {}\n",
        batch.digits, MASSES[batch.unit].0
    );
    let last = ingredients.len() - 1;
    for (rank, (name, one)) in NAMES.iter().zip(ingredients).enumerate() {
        match rank == last {
            true => text += &format!("  {name} rest\n"),
            false => {
                let on_top = if one.on_top { " on top" } else { "" };
                text += &format!(
                    "  {name} {} {}{on_top}\n",
                    one.amount.digits, SHARES[one.amount.unit].0
                );
            }
        }
    }
    text
}

/// Digits times the size of their unit.
fn sized(said: &Content, units: &[(&str, i64, i64)]) -> BigRational {
    let (_, above, below) = units[said.unit];
    read(&said.digits) * ratio(above, below)
}

/// A content as fed.
fn as_fed(said: &Content, units: &[(&str, i64, i64)], dry_matter: &BigRational) -> BigRational {
    let value = sized(said, units);
    match said.basis {
        0 => value,
        1 => value * dry_matter,
        _ => value * dry_matter / ratio(88, 100),
    }
}

/// What the ration comes to, counted here.
struct Counted {
    /// Of the 100 %, by ingredient.
    shares: Vec<BigRational>,
    tops: BigRational,
    protein: (BigRational, bool),
    energy: (BigRational, bool),
    dry_matter: BigRational,
    cost: (BigRational, bool),
}

fn counted(ingredients: &[Ingredient]) -> Counted {
    let mut shares: Vec<BigRational> = ingredients
        .iter()
        .map(|one| sized(&one.amount, &SHARES))
        .collect();
    let last = ingredients.len() - 1;
    let (mut inside, mut tops) = (whole(0), whole(0));
    for (share, one) in shares.iter().zip(ingredients).take(last) {
        if one.on_top {
            tops += share
        } else {
            inside += share
        }
    }
    shares[last] = whole(1) - inside;
    let finished = whole(1) + &tops;
    let sum = |of: &dyn Fn(&Ingredient) -> Option<BigRational>| {
        let (mut sum, mut is_complete) = (whole(0), true);
        for (share, one) in shares
            .iter()
            .zip(ingredients)
            .filter(|(share, _)| **share != whole(0))
        {
            match of(one) {
                Some(value) => sum += share * value,
                None => is_complete = false,
            }
        }
        (sum / &finished, is_complete)
    };
    let dry = |one: &Ingredient| read(&one.dry_matter) / whole(100);
    Counted {
        protein: sum(&|one| {
            one.protein
                .as_ref()
                .map(|said| as_fed(said, &PROTEIN.1, &dry(one)))
        }),
        energy: sum(&|one| {
            one.energy
                .as_ref()
                .map(|said| as_fed(said, &ENERGY.1, &dry(one)))
        }),
        dry_matter: sum(&|one| Some(dry(one))).0,
        cost: sum(&|one| one.price.as_ref().map(|said| sized(said, &PRICES))),
        tops,
        shares,
    }
}

/// What an analysis says of a nutrient, in parts of a kg or in MJ.
fn size_of_unit(unit: &str) -> BigRational {
    match unit {
        "%" => ratio(1, 100),
        "g/kg" => ratio(1, 1_000),
        "mg/kg" => ratio(1, 1_000_000),
        "MJ/kg" => whole(1),
        unit => panic!("an analysis is in {unit}"),
    }
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn a_ration_comes_to_what_is_counted_by_hand(
        ingredients in prop::collection::vec(ingredient(), 2..8),
        batch in content(MASSES.len(), "[1-9][0-9]{0,2}(\\.[0-9]{1,3})?", 1),
    ) {
        let text = written(&ingredients, &batch);
        let expected = counted(&ingredients);
        let farm = Farm::read(&["farm.trug".to_owned()], &InMemory::new([("farm.trug", text.as_str())]), Settings::default());
        let view = farm.open(farm.file("farm.trug").unwrap());
        let ration = view.made_out("mash");
        // A rest below nothing is no amount: the lines alone are over the whole.
        let is_over = expected.shares.iter().any(|share| *share < whole(0));
        let codes: Vec<_> = farm.check().iter().map(|finding| finding.code.name).collect();
        prop_assert_eq!(codes.contains(&"sum/over"), is_over, "{}\n{:?}", text, codes);
        if is_over {
            return Ok(());
        }
        let ration = ration.unwrap();
        for (line, share) in ration.lines.iter().zip(&expected.shares) {
            prop_assert_eq!(&other(&line.low), share, "{} in\n{}", line.name, text);
        }
        prop_assert_eq!(other(&ration.tops()), expected.tops.clone());
        let kg = sized(&batch, &MASSES);
        prop_assert_eq!(ration.batch.as_ref().map(other), Some(kg.clone()), "{}", text);

        let analysis = view.analyse(&ration);
        let finished_g = &kg * (whole(1) + &expected.tops) * whole(1_000);
        prop_assert_eq!(analysis.mass_g.as_ref().map(other), Some(finished_g));
        let values: BTreeMap<&str, _> = analysis.nutrients.iter().map(|one| (one.name.as_str(), one)).collect();
        for (name, (value, is_complete)) in [(PROTEIN.0, &expected.protein), (ENERGY.0, &expected.energy)] {
            let Some(said) = values.get(name) else {
                prop_assert_eq!(value, &whole(0), "{} is not told of\n{}", name, text);
                continue;
            };
            let unit = size_of_unit(&said.unit);
            prop_assert_eq!(other(&said.value) * &unit, value.clone(), "{} of\n{}", name, text);
            prop_assert_eq!(said.complete, *is_complete, "{} of\n{}", name, text);
            let dry = said.value_dry_matter.as_ref().map(|value| other(value) * &unit);
            prop_assert_eq!(dry, Some(value / &expected.dry_matter), "{} of dry matter of\n{}", name, text);
        }
        let cost = analysis.cost.as_ref().map(|cost| {
            // The currency is that of the ration's first price; a rate stands in the text.
            let rate = if cost.currency == "EUR" { whole(325) } else { whole(1) };
            (other(&cost.per_kg) * rate, cost.complete)
        });
        let has_price = expected.shares.iter().zip(&ingredients).any(|(_, one)| one.price.is_some());
        prop_assert_eq!(cost, has_price.then(|| expected.cost.clone()), "{}", text);

        let planned = plan_ration(&view, &ration, &Request::default());
        let planned = planned.map_err(|refusal| TestCaseError::fail(format!("{refusal:?} of\n{text}")))?;
        let plan = &planned.plan;
        let names = plan.order.ingredients.iter().map(|one| one.name.as_str());
        let mut ordered: BTreeMap<&str, BigRational> = names.map(|name| (name, whole(0))).collect();
        for batch in &plan.batches {
            for amount in &batch.amounts {
                let name = plan.order.ingredients[amount.ingredient].name.as_str();
                *ordered.get_mut(name).unwrap() += other(&amount.ordered_g) * whole(i64::from(batch.times));
            }
        }
        for (name, share) in NAMES.iter().zip(&expected.shares) {
            let grams = ordered.get(name).cloned().unwrap_or_else(|| whole(0));
            prop_assert_eq!(grams, share * &kg * whole(1_000), "{} of\n{}", name, text);
        }
    }
}
