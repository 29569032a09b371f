//! Amounts written by what they give of an active: the share that gives it, and what it comes to.

use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;
use trug_model::{Farm, InMemory, Settings};
use trug_plan::{Refusal, Request, plan_ration};

use super::mixes::{Line, Near, Yard, near, yard};
use super::{Content, MASSES, content, size_of_unit, sized};
use crate::arithmetic::{config, other, ratio, read, whole};

const ACTIVES: [&str; 2] = ["lysine", "vitamin"];
/// What a kg is to hold of each.
const GIVEN: [&[(&str, i64, i64)]; 2] = [
    &[
        ("mg/kg", 1, 1_000_000),
        ("g/t", 1, 1_000_000),
        ("g per 7 kg", 1, 7_000),
        ("ppm", 1, 1_000_000),
        ("g/kg", 1, 1_000),
    ],
    &[("IU/kg", 1, 1), ("IU per 3 kg", 1, 3)],
];
/// A range of shares is in these.
const WITHIN: [(&str, i64, i64); 4] = [
    ("%", 1, 100),
    ("g/kg", 1, 1_000),
    ("ppm", 1, 1_000_000),
    ("g per 7 kg", 1, 7_000),
];
/// A range of masses, for the batch, is in these parts of a kg.
const WITHIN_MASSES: [(&str, i64, i64); 3] = [("kg", 1, 1), ("g", 1, 1_000), ("mg", 1, 1_000_000)];

/// What a line gives, and the range it may be chosen from again.
#[derive(Clone, Debug)]
struct Given {
    active: usize,
    amount: Content,
    within: Option<(Near, Near)>,
    unit: usize,
    is_mass: bool,
    or_none: bool,
}

fn given() -> impl Strategy<Value = Given> {
    (
        0..ACTIVES.len(),
        content(GIVEN[0].len(), "[1-9][0-9]{0,2}(\\.[0-9]{1,4})?", 2),
        proptest::option::weighted(0.7, (near(), near())),
        0..WITHIN.len(),
        any::<bool>(),
        prop::bool::weighted(0.3),
    )
        .prop_map(|(active, mut amount, within, unit, is_mass, or_none)| {
            amount.unit %= GIVEN[active].len();
            Given {
                active,
                amount,
                within,
                unit,
                is_mass,
                or_none,
            }
        })
}

/// How a line is written, its share, and what is said of it.
struct Made {
    line: String,
    share: BigRational,
    code: Option<&'static str>,
}

/// None where nothing is known of the active in it, or there is nothing of it.
fn made(yard: &Yard, line: &Line, given: &Given, batch: &BigRational) -> Option<Made> {
    let of_a_kg = yard.of_a_kg(line.of);
    let in_a_kg = Yard::sum(&of_a_kg, &|delivered| match given.active {
        0 => yard.lysine(delivered),
        _ => yard.vitamin(delivered),
    })?;
    if in_a_kg == whole(0) {
        return None;
    }
    let share = sized(&given.amount, GIVEN[given.active]) / in_a_kg;
    let (unit, _, _) = GIVEN[given.active][given.amount.unit];
    let basis = ["", " as fed"][given.amount.basis];
    let active = ACTIVES[given.active];
    let mut words = format!("giving {} {unit}{basis} {active}", given.amount.digits);
    let mut code = None;
    if !line.on_top {
        let (unit, above, below) = match given.is_mass {
            true => WITHIN_MASSES[given.unit % WITHIN_MASSES.len()],
            false => WITHIN[given.unit],
        };
        let size = match given.is_mass {
            true => ratio(above, below) / batch,
            false => ratio(above, below),
        };
        let ends = given.within.as_ref();
        let ends = ends.and_then(|(low, high)| {
            Some((low.digits(&share, &size)?, high.digits(&share, &size)?))
        });
        if let Some((low, high)) = ends.filter(|(low, high)| read(low) < read(high)) {
            words += &format!(" within {low} .. {high} {unit}");
            if share < read(&low) * &size {
                code = Some("limit/under");
            } else if read(&high) * &size < share {
                code = Some("limit/over");
            }
            if given.or_none {
                words += " or none";
            }
        }
    }
    Some(Made {
        line: yard.line_written(line, &words),
        share,
        code,
    })
}

fn size(unit: &str) -> BigRational {
    if unit == "IU/kg" {
        whole(1)
    } else {
        size_of_unit(unit)
    }
}

proptest! {
    #![proptest_config(config(500))]

    #[test]
    fn an_amount_by_its_active_gives_what_is_counted_by_hand(
        yard in yard(),
        given in prop::collection::vec(given(), 5),
        batch in content(MASSES.len(), "[1-9][0-9]{0,2}(\\.[0-9]{1,3})?", 1),
    ) {
        prop_assume!(!yard.is_over());
        let kg = sized(&batch, &MASSES);
        let last = yard.mixes.len() - 1;
        let mut text = yard.products_written(&|_| String::new());
        for mix in 0..last {
            text += &yard.mix_written(mix, "  for mixing\n");
        }
        text += &format!("ration mash\n  for mixing\n  batch {} {}\n  maize rest\n", batch.digits, MASSES[batch.unit].0);
        let lines = yard.mixes[last].iter().zip(&given);
        let all: Option<Vec<Made>> = lines.map(|(line, given)| made(&yard, line, given, &kg)).collect();
        let Some(all) = all else {
            // It cannot be made out, and says so, whatever is given.
            let lines = yard.mixes[last].iter().zip(&given);
            for (line, given) in lines {
                let (unit, _, _) = GIVEN[given.active][given.amount.unit];
                let words = format!("giving {} {unit} {}", given.amount.digits, ACTIVES[given.active]);
                text += &yard.line_written(line, &words);
            }
            let farm = read_farm(&text);
            let codes: Vec<&str> = farm.check().iter().map(|finding| finding.code.name).collect();
            prop_assert!(!codes.is_empty() && codes.iter().all(|code| *code == "data/unknown"), "{:?} in\n{}", codes, text);
            return Ok(());
        };
        text.extend(all.iter().map(|made| made.line.as_str()));
        let shares: Vec<BigRational> = all.iter().map(|made| made.share.clone()).collect();
        let (held, tops) = yard.held_by(last, &shares);
        let inside = yard.mixes[last].iter().zip(&shares).filter(|(line, _)| !line.on_top);
        let inside: BigRational = inside.map(|(_, share)| share).sum();

        let farm = read_farm(&text);
        let mut said: Vec<&str> = farm.check().iter().map(|finding| finding.code.name).collect();
        if whole(1) < inside {
            prop_assert!(said.contains(&"sum/over"), "{:?} in\n{}", said, text);
            return Ok(());
        }
        let mut due: Vec<&str> = all.iter().filter_map(|made| made.code).collect();
        said.sort_unstable();
        due.sort_unstable();
        prop_assert_eq!(said, due, "{}", text);

        let view = farm.open(farm.file("farm.trug").unwrap());
        let ration = view.made_out("mash").unwrap();
        prop_assert_eq!(other(&ration.lines[0].low), whole(1) - &inside, "{}", text);
        for (line, share) in ration.lines[1..].iter().zip(&shares) {
            prop_assert_eq!(&other(&line.low), share, "{} in\n{}", line.name, text);
            prop_assert_eq!(&other(&line.high), share, "{} in\n{}", line.name, text);
        }
        prop_assert_eq!(other(&ration.tops()), tops.clone(), "{}", text);
        let analysis = view.analyse(&ration);
        for nutrient in &analysis.nutrients {
            let counted = Yard::sum(&held, &|delivered| match nutrient.name.as_str() {
                "lysine" => yard.lysine(delivered),
                _ => yard.vitamin(delivered),
            });
            prop_assert_eq!(nutrient.complete, counted.is_some(), "{} of\n{}", nutrient.name, text);
            let told = other(&nutrient.value) * size(&nutrient.unit);
            if let Some(counted) = counted {
                prop_assert_eq!(told, counted / (whole(1) + &tops), "{} of\n{}", nutrient.name, text);
            }
        }

        let planned = plan_ration(&view, &ration, &Request::default());
        if let Err(Refusal::Both(name)) = &planned {
            let own = || ration.lines.iter().filter(|line| line.name == *name);
            prop_assert!(own().any(|line| line.on_top) && own().any(|line| !line.on_top), "{} in\n{}", name, text);
            return Ok(());
        }
        let plan = planned.map_err(|refusal| TestCaseError::fail(format!("{refusal:?} of\n{text}")))?.plan;
        let mut ordered: BTreeMap<&str, BigRational> = BTreeMap::new();
        for batch in &plan.batches {
            for amount in &batch.amounts {
                let name = plan.order.ingredients[amount.ingredient].name.as_str();
                let grams = other(&amount.ordered_g) * whole(i64::from(batch.times));
                *ordered.entry(name).or_insert_with(|| whole(0)) += grams;
            }
        }
        let mut asked: BTreeMap<&str, BigRational> = BTreeMap::new();
        for line in &ration.lines {
            *asked.entry(line.name.as_str()).or_insert_with(|| whole(0)) += other(&line.low) * &kg * whole(1_000);
        }
        asked.retain(|_, grams| *grams != whole(0));
        ordered.retain(|_, grams| *grams != whole(0));
        prop_assert_eq!(ordered, asked, "{}", text);
    }
}

fn read_farm(text: &str) -> Farm {
    let texts = InMemory::new([("farm.trug", text)]);
    Farm::read(&["farm.trug".to_owned()], &texts, Settings::default())
}
