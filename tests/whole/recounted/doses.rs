//! What a ration holds of each product and of its active, and how that stands to the label's doses and ceilings.

use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;
use trug_findings::Severity;
use trug_model::{Farm, InMemory, Settings};

use super::mixes::{Held, Near, PRODUCTS, Units, Yard, near, yard};
use crate::arithmetic::{config, other, ratio, read, whole};

/// What a label bounds: the product, or one of its actives; with the units of a bound and their sizes.
const BOUNDED: [(&str, Units); 3] = [
    ("", SHARES_OF_LABELS),
    ("lysine", SHARES_OF_LABELS),
    (
        "vitamin",
        &[("IU/kg", 1, 1), ("IU/g", 1_000, 1), ("IU per 40 kg", 1, 40)],
    ),
];
const SHARES_OF_LABELS: Units = &[
    ("g/kg", 1, 1_000),
    ("mg/kg", 1, 1_000_000),
    ("g/t", 1, 1_000_000),
    ("kg/t", 1, 1_000),
    ("%", 1, 100),
    ("ug/kg", 1, 1_000_000_000),
    ("g per 7 kg", 1, 7_000),
];
/// Each is of the next kind.
const KINDS: [&str; 3] = ["duckling", "duck", "bird"];
const ANIMALS: &str = "animal bird\nanimal duck is bird\nanimal duckling is duck\n";

/// A line `dose` or `ceiling`, whose ends stand beside what the ration gives.
#[derive(Clone, Debug)]
struct Label {
    product: usize,
    bounded: usize,
    unit: usize,
    /// For this kind, or for any animal.
    kind: Option<usize>,
    low: Option<Near>,
    high: Near,
    is_open_above: bool,
    is_ceiling: bool,
}

fn label() -> impl Strategy<Value = Label> {
    (
        1..PRODUCTS.len(),
        0..BOUNDED.len(),
        any::<prop::sample::Index>(),
        proptest::option::weighted(0.6, 0..KINDS.len()),
        proptest::option::weighted(0.6, near()),
        near(),
        prop::bool::weighted(0.2),
        prop::bool::weighted(0.35),
    )
        .prop_map(
            |(product, bounded, unit, kind, low, high, is_open_above, is_ceiling)| Label {
                product,
                bounded,
                unit: unit.index(BOUNDED[bounded].1.len()),
                kind,
                low,
                high,
                is_open_above,
                is_ceiling,
            },
        )
}

/// A label as it was written: its line, and its ends as the digits say them.
#[derive(Clone, Debug)]
struct Written {
    label: Label,
    line: String,
    low: Option<BigRational>,
    high: Option<BigRational>,
}

/// The labels as lines; none where its ends would be no window.
fn written(label: &Label, value: Option<&BigRational>) -> Option<Written> {
    let (active, units) = BOUNDED[label.bounded];
    let (unit, above, below) = units[label.unit];
    let size = ratio(above, below);
    // Where there is nothing to stand beside, somewhere.
    let value = value.filter(|value| **value != whole(0)).unwrap_or(&size);
    let low = label.low.as_ref().and_then(|low| low.digits(value, &size));
    let high = label.high.digits(value, &size);
    let high = high.filter(|_| label.is_ceiling || !label.is_open_above);
    let says = |end: &Option<String>| end.as_ref().map(|digits| read(digits) * &size);
    let bound = match (&low, &high) {
        (_, None) if label.is_ceiling => return None,
        (_, Some(high)) if label.is_ceiling => format!("ceiling {high} {unit}"),
        (Some(low), Some(high)) if read(low) < read(high) => format!("dose {low} .. {high} {unit}"),
        (Some(low), None) => format!("dose at least {low} {unit}"),
        (None, Some(high)) => format!("dose at most {high} {unit}"),
        _ => return None,
    };
    let animal = label.kind.map(|kind| format!(" for {}", KINDS[kind]));
    let active = if active.is_empty() {
        String::new()
    } else {
        format!(" {active}")
    };
    Some(Written {
        line: format!("  {bound}{active}{}\n", animal.unwrap_or_default()),
        low: says(&low).filter(|_| !label.is_ceiling),
        high: says(&high),
        label: label.clone(),
    })
}

/// What the 100 % hold of a product, or of what it brings of its active.
fn given(yard: &Yard, held: &Held, product: usize, bounded: usize) -> Option<BigRational> {
    let of_product = held.iter().filter(|((of, _), _)| *of == product);
    let of_product: Held = of_product.map(|(of, part)| (*of, part.clone())).collect();
    Yard::sum(&of_product, &|delivered| match bounded {
        0 => Some(whole(1)),
        1 => yard.lysine(delivered),
        _ => yard.vitamin(delivered),
    })
}

/// Those for the nearest kind of an animal, or else for any.
fn nearest<'w>(of: impl Iterator<Item = &'w Written>, animal: usize) -> Vec<&'w Written> {
    let far = |one: &Written| {
        one.label
            .kind
            .map_or(Some(KINDS.len()), |kind| kind.checked_sub(animal))
    };
    let of: Vec<_> = of.filter_map(|one| Some((far(one)?, one))).collect();
    let least = of.iter().map(|(far, _)| *far).min();
    of.into_iter()
        .filter(|(far, _)| Some(*far) == least)
        .map(|(_, one)| one)
        .collect()
}

/// How one product stands to what its label says of it or of one active.
#[derive(Clone, Debug, PartialEq)]
struct Stands {
    value: Option<BigRational>,
    min: Option<BigRational>,
    max: Option<BigRational>,
    ceiling: Option<BigRational>,
    met: Option<bool>,
}

/// What is said of it, and how heavily.
fn code(stands: &Stands, is_medicine: bool) -> Option<(&'static str, Severity)> {
    let Some(value) = &stands.value else {
        return Some(("data/unknown", Severity::Warning));
    };
    let weight = if is_medicine {
        Severity::Error
    } else {
        Severity::Warning
    };
    if stands.ceiling.as_ref().is_some_and(|most| most < value) {
        Some(("harm/ceiling", Severity::Error))
    } else if stands.min.as_ref().is_some_and(|least| value < least) {
        Some(("dose/under", weight))
    } else if stands.max.as_ref().is_some_and(|most| most < value) {
        Some(("dose/over", weight))
    } else {
        None
    }
}

/// Product and active, how it stands, and the size of the unit it is told in.
type Standing = BTreeMap<(usize, usize), (Stands, BigRational)>;

fn standing(yard: &Yard, held: &Held, labels: &[Written], animal: usize) -> Standing {
    let mut standing = Standing::new();
    for product in 1..yard.products.len() {
        for (bounded, (_, units)) in BOUNDED.iter().enumerate() {
            let is_in = held
                .iter()
                .any(|((of, _), part)| *of == product && *part != whole(0));
            let of = |is_ceiling: bool| {
                nearest(
                    labels.iter().filter(|one| {
                        let label = &one.label;
                        label.product == product
                            && label.bounded == bounded
                            && label.is_ceiling == is_ceiling
                    }),
                    animal,
                )
            };
            let (windows, ceilings) = (of(false), of(true));
            let least = ceilings.iter().min_by(|a, b| a.high.cmp(&b.high));
            let (Some(told), true) = (windows.first().or(least), is_in) else {
                continue;
            };
            let value = given(yard, held, product, bounded);
            let window = windows.first();
            let mut stands = Stands {
                min: window.and_then(|window| window.low.clone()),
                max: window.and_then(|window| window.high.clone()),
                ceiling: least.and_then(|ceiling| ceiling.high.clone()),
                met: None,
                value,
            };
            let is_kept = code(&stands, false).is_none();
            stands.met = stands.value.is_some().then_some(is_kept);
            let (_, above, below) = units[told.label.unit];
            standing.insert((product, bounded), (stands, ratio(above, below)));
        }
    }
    standing
}

/// Each label once: of two doses of one product, active and kind there is no telling which is meant.
fn labels_written(yard: &Yard, held: &Held, labels: &[Label]) -> Vec<Written> {
    let mut all: Vec<Written> = Vec::new();
    for label in labels
        .iter()
        .filter(|label| label.product < yard.products.len())
    {
        let value = given(yard, held, label.product, label.bounded);
        let is_said = all.iter().any(|one| {
            let known = &one.label;
            !label.is_ceiling
                && !known.is_ceiling
                && (known.product, known.bounded, known.kind)
                    == (label.product, label.bounded, label.kind)
        });
        if !is_said {
            all.extend(written(label, value.as_ref()));
        }
    }
    all
}

fn text_of(yard: &Yard, labels: &[Written], animal: usize) -> String {
    let mut text = ANIMALS.to_owned();
    text += &yard.products_written(&|product| {
        let own = labels.iter().filter(|one| one.label.product == product);
        own.map(|one| one.line.as_str()).collect()
    });
    let fed = yard.mixes.len() - 1;
    for mix in 0..fed {
        text += &yard.mix_written(mix, "  for mixing\n");
    }
    text + &yard.mix_written(fed, &format!("  for {}\n", KINDS[animal]))
}

proptest! {
    #![proptest_config(config(800))]

    #[test]
    fn a_dose_is_judged_as_it_is_counted_by_hand(
        yard in yard(),
        labels in prop::collection::vec(label(), 1..8),
        animal in 0..KINDS.len(),
    ) {
        prop_assume!(!yard.is_over());
        let (held, tops) = yard.held(yard.mixes.len() - 1);
        let labels = labels_written(&yard, &held, &labels);
        let expected = standing(&yard, &held, &labels, animal);
        let text = text_of(&yard, &labels, animal);

        let farm = Farm::read(&["farm.trug".to_owned()], &InMemory::new([("farm.trug", text.as_str())]), Settings::default());
        let view = farm.open(farm.file("farm.trug").unwrap());
        let ration = view.made_out("mash").unwrap();
        prop_assert_eq!(other(&ration.tops()), tops, "{}", text);
        let analysis = view.analyse(&ration);
        let mut told = Standing::new();
        for dose in &analysis.doses {
            let product = PRODUCTS.iter().position(|name| *name == dose.ingredient).unwrap();
            let active = dose.nutrient.as_deref().unwrap_or_default();
            let bounded = BOUNDED.iter().position(|(name, _)| *name == active).unwrap();
            let unit = BOUNDED[bounded].1.iter().find(|(unit, ..)| *unit == dose.unit);
            let (_, above, below) = unit.unwrap();
            let size = ratio(*above, *below);
            let sized = |value: &Option<trug_model::Q>| value.as_ref().map(|value| other(value) * &size);
            let stands = Stands {
                value: sized(&dose.value),
                min: sized(&dose.min),
                max: sized(&dose.max),
                ceiling: sized(&dose.ceiling),
                met: dose.met,
            };
            let twice = told.insert((product, bounded), (stands, size.clone()));
            prop_assert!(twice.is_none(), "{} of {} twice in\n{}", active, dose.ingredient, text);
        }
        prop_assert_eq!(&told, &expected, "{}", text);

        let mut said: Vec<(&str, Severity, String)> = Vec::new();
        for finding in farm.check() {
            let code = finding.code.name;
            let is_of_label = code.starts_with("dose/") || code == "harm/ceiling" || code == "data/unknown";
            prop_assert!(is_of_label || code == "harm/unjudged", "{} {} in\n{}", code, finding.message, text);
            let name = finding.message.split(' ').next().unwrap().to_owned();
            said.push((code, finding.severity, name));
        }
        let mut due: Vec<(&str, Severity, String)> = Vec::new();
        for ((product, _), (stands, _)) in &expected {
            let code = code(stands, yard.products[*product].is_medicine);
            due.extend(code.map(|(code, weight)| (code, weight, PRODUCTS[*product].to_owned())));
        }
        said.sort();
        due.sort();
        prop_assert_eq!(said, due, "{}", text);
    }
}
