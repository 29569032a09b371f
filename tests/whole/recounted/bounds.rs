//! What a finished feed holds of a nutrient, beside what is eaten with it, and how that stands to targets, law and harm.

use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;
use trug_model::analysis::BoundKind;
use trug_model::{Farm, InMemory, Settings};

use super::mixes::{Held, Near, PRODUCTS, Units, Yard, near, yard};
use crate::arithmetic::{config, other, ratio, read, whole};

/// Each is of the next kind.
const KINDS: [&str; 3] = ["duckling", "duck", "bird"];
const NUTRIENTS: [&str; 2] = ["lysine", "vitamin"];
/// A bound on each nutrient a kg of feed is in these, and a day in those.
const UNITS: [[Units; 2]; 2] = [
    [
        &[
            ("%", 1, 100),
            ("g/kg", 1, 1_000),
            ("mg/kg", 1, 1_000_000),
            ("g per 7 kg", 1, 7_000),
        ],
        &[
            ("g/day", 1, 1_000),
            ("mg/day", 1, 1_000_000),
            ("kg/week", 1, 7),
        ],
    ],
    [
        &[("IU/kg", 1, 1), ("IU/g", 1_000, 1)],
        &[("IU/day", 1, 1), ("IU/week", 1, 7)],
    ],
];
/// What a value is of, in the words behind a bound; law and harm that say nothing count at 88 % dry matter.
const BASES: [&str; 5] = [
    "",
    " as fed",
    " of dry-matter",
    " at 88 % dry-matter",
    " at 90.5 % dry-matter",
];

#[derive(Clone, Debug)]
struct Bound {
    kind: BoundKind,
    /// Of law and harm: whose they are.
    animal: usize,
    nutrient: usize,
    is_daily: bool,
    basis: usize,
    unit: usize,
    low: Option<Near>,
    high: Option<Near>,
}

fn bound() -> impl Strategy<Value = Bound> {
    let kinds = vec![BoundKind::Target, BoundKind::Law, BoundKind::Harm];
    (
        prop::sample::select(kinds),
        1..KINDS.len(),
        0..NUTRIENTS.len(),
        prop::bool::weighted(0.25),
        0..BASES.len(),
        any::<prop::sample::Index>(),
        proptest::option::weighted(0.6, near()),
        proptest::option::weighted(0.8, near()),
    )
        .prop_map(
            |(kind, animal, nutrient, is_daily, basis, unit, low, high)| Bound {
                kind,
                animal,
                nutrient,
                is_daily,
                basis: if is_daily { 0 } else { basis },
                unit: unit.index(UNITS[nutrient][usize::from(is_daily)].len()),
                low,
                high,
            },
        )
}

/// A yard of which everything is known.
fn known_yard() -> impl Strategy<Value = Yard> {
    yard().prop_map(|mut yard| {
        for product in &mut yard.products {
            let content = |digits: &str| super::Content {
                digits: digits.to_owned(),
                unit: 0,
                basis: 0,
            };
            product.usual.lysine.get_or_insert_with(|| content("0.25"));
            product.usual.vitamin.get_or_insert_with(|| content("12"));
        }
        yard
    })
}

/// What an animal eats: so much of the feed a day, and beside it perhaps so much of a product.
#[derive(Clone, Debug)]
struct Eaten {
    intake: String,
    beside: Option<(usize, String)>,
}

fn eaten() -> impl Strategy<Value = Eaten> {
    let beside = (0..PRODUCTS.len(), "[1-9][0-9]{0,2}(\\.[0-9]{1,2})?");
    (
        "[1-9][0-9]{1,2}(\\.[0-9]{1,2})?",
        proptest::option::weighted(0.5, beside),
    )
        .prop_map(|(intake, beside)| Eaten { intake, beside })
}

/// What a kg of a feed, or a day's, holds.
struct Fed<'y> {
    yard: &'y Yard,
    held: Held,
    tops: BigRational,
    /// In kg a day.
    intake: BigRational,
    beside: Option<(usize, BigRational)>,
}

impl Fed<'_> {
    fn of<'y>(yard: &'y Yard, eaten: &Eaten) -> Fed<'y> {
        let (held, tops) = yard.held(yard.mixes.len() - 1);
        let kg = |grams: &str| read(grams) / whole(1_000);
        let beside = eaten.beside.as_ref();
        Fed {
            yard,
            held,
            tops,
            intake: kg(&eaten.intake),
            beside: beside.map(|(product, grams)| (*product % yard.products.len(), kg(grams))),
        }
    }

    /// Of something a kg holds: in a kg of the finished feed, and in what is eaten beside it in a day.
    fn both(
        &self,
        of: &dyn Fn((usize, Option<usize>)) -> BigRational,
    ) -> (BigRational, BigRational) {
        let in_feed = Yard::sum(&self.held, &|delivered| Some(of(delivered))).unwrap();
        let beside = self.beside.as_ref();
        let beside = beside.map_or_else(|| whole(0), |(product, kg)| kg * of((*product, None)));
        (in_feed / (whole(1) + &self.tops), beside)
    }

    fn value(&self, bound: &Bound) -> BigRational {
        let holds = |delivered| match bound.nutrient {
            0 => self.yard.lysine(delivered).unwrap(),
            _ => self.yard.vitamin(delivered).unwrap(),
        };
        let (in_kg, beside) = self.both(&holds);
        if bound.is_daily {
            return in_kg * &self.intake + beside;
        }
        let brought_to = match (bound.basis, bound.kind) {
            (0, BoundKind::Target) | (1, _) => None,
            (2, _) => Some(whole(1)),
            (4, _) => Some(ratio(905, 1_000)),
            _ => Some(ratio(88, 100)),
        };
        let counts_as = |delivered| match &brought_to {
            None => whole(1),
            Some(fraction) => self.yard.dry_matter(delivered) / fraction,
        };
        let (of_kg, of_beside) = self.both(&counts_as);
        match bound.kind {
            BoundKind::Harm => (in_kg * &self.intake + beside) / (of_kg * &self.intake + of_beside),
            _ => in_kg / of_kg,
        }
    }
}

/// How a ration stands to a bound.
#[derive(Clone, Debug, PartialEq)]
struct Stands {
    kind: BoundKind,
    value: BigRational,
    min: Option<BigRational>,
    max: Option<BigRational>,
    met: bool,
}

impl Stands {
    fn code(&self) -> Option<&'static str> {
        let is_under = self.min.as_ref().is_some_and(|least| self.value < *least);
        let is_over = self.max.as_ref().is_some_and(|most| *most < self.value);
        match (self.kind, is_under, is_over) {
            (_, false, false) => None,
            (BoundKind::Target, true, _) => Some("target/under"),
            (BoundKind::Target, ..) => Some("target/over"),
            (BoundKind::Law, true, _) => Some("law/under"),
            (BoundKind::Law, ..) => Some("law/over"),
            (BoundKind::Harm | BoundKind::Limit, ..) => Some("harm/animal"),
        }
    }
}

/// A bound as a line, and how the ration stands to what its digits say; none where it would be no bound.
fn written(bound: &Bound, value: &BigRational) -> Option<(String, Stands, BigRational)> {
    let (unit, above, below) = UNITS[bound.nutrient][usize::from(bound.is_daily)][bound.unit];
    let size = ratio(above, below);
    let beside = if *value == whole(0) { &size } else { value };
    let digits = |end: &Option<Near>| end.as_ref().and_then(|end| end.digits(beside, &size));
    let (low, high) = (digits(&bound.low), digits(&bound.high));
    let range = match (&low, &high) {
        (Some(low), Some(high)) if read(low) < read(high) => format!("{low} .. {high}"),
        (Some(low), None) => format!("at least {low}"),
        (None, Some(high)) => format!("at most {high}"),
        _ => return None,
    };
    let strength = match bound.kind {
        BoundKind::Law => " law \"so it is written\"",
        BoundKind::Harm => " harm \"so it is known\"",
        BoundKind::Target | BoundKind::Limit => "",
    };
    let nutrient = NUTRIENTS[bound.nutrient];
    let says = |end: Option<String>| end.map(|digits| read(&digits) * &size);
    let mut stands = Stands {
        kind: bound.kind,
        value: value.clone(),
        min: says(low),
        max: says(high),
        met: true,
    };
    stands.met = stands.code().is_none();
    let line = format!(
        "  {nutrient} {range} {unit}{}{strength}\n",
        BASES[bound.basis]
    );
    Some((line, stands, size))
}

/// By the line of the text a bound stands in, counted from 0: how the ration stands, and the size of the bound's unit.
type Standing = BTreeMap<usize, (Stands, BigRational)>;

/// The text of the farm, and how its ration stands to every bound in it.
fn text_of(fed: &Fed<'_>, bounds: &[Bound], eaten: &Eaten, animal: usize) -> (String, Standing) {
    let (yard, mut standing) = (fed.yard, Standing::new());
    let mut text = String::new();
    let heads = [
        "animal duckling is duck\n",
        "animal duck is bird\n",
        "animal bird\n",
        "targets lay for bird\n",
    ];
    for (owner, head) in heads.into_iter().enumerate() {
        text += head;
        for bound in bounds {
            let own = if bound.kind == BoundKind::Target {
                KINDS.len()
            } else {
                bound.animal
            };
            if own != owner {
                continue;
            }
            if let Some((line, stands, size)) = written(bound, &fed.value(bound)) {
                // A bound of a further kind is none of this animal's.
                if animal <= owner {
                    standing.insert(text.lines().count(), (stands, size));
                }
                text += &line;
            }
        }
    }
    text += &yard.products_written(&|_| String::new());
    let last = yard.mixes.len() - 1;
    for mix in 0..last {
        text += &yard.mix_written(mix, "  for mixing\n");
    }
    let mut head = format!(
        "  for {}\n  meets lay\n  intake {} g/day\n",
        KINDS[animal], eaten.intake
    );
    if let (Some((product, _)), Some((_, grams))) = (&fed.beside, &eaten.beside) {
        head += &format!("  beside {} {grams} g/day\n", PRODUCTS[*product]);
    }
    text += &yard.mix_written(last, &head);
    (text, standing)
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn a_bound_is_judged_as_it_is_counted_by_hand(
        yard in known_yard(),
        bounds in prop::collection::vec(bound(), 1..8),
        eaten in eaten(),
        animal in 0..KINDS.len(),
    ) {
        prop_assume!(!yard.is_over());
        let fed = Fed::of(&yard, &eaten);
        let (text, expected) = text_of(&fed, &bounds, &eaten, animal);

        let farm = Farm::read(&["farm.trug".to_owned()], &InMemory::new([("farm.trug", text.as_str())]), Settings::default());
        let view = farm.open(farm.file("farm.trug").unwrap());
        let analysis = view.analyse(&view.made_out("mash").unwrap());
        let mut told = BTreeMap::new();
        for bound in &analysis.bounds {
            let line = text[..usize::try_from(bound.place.span.start).unwrap()].matches('\n').count();
            let Some((_, size)) = expected.get(&line) else {
                return Err(TestCaseError::fail(format!("line {line} bounds nothing of\n{text}")));
            };
            let sized = |value: &Option<trug_model::Q>| value.as_ref().map(|value| other(value) * size);
            let stands = Stands {
                kind: bound.kind,
                value: sized(&bound.value).unwrap(),
                min: sized(&bound.min),
                max: sized(&bound.max),
                met: bound.met.unwrap(),
            };
            told.insert(line, (stands, size.clone()));
        }
        prop_assert_eq!(&told, &expected, "{}", text);

        let mut said: Vec<&str> = farm.check().iter().map(|finding| finding.code.name).collect();
        let mut due: Vec<&str> = expected.values().filter_map(|(stands, _)| stands.code()).collect();
        said.sort_unstable();
        due.sort_unstable();
        prop_assert_eq!(said, due, "{}", text);
    }
}
