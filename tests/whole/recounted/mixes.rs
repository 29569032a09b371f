//! Rations out of products, their deliveries and mixes made beforehand, and what each of them comes to, counted by hand.

use std::collections::BTreeMap;

use num_rational::BigRational;
use proptest::prelude::*;

use super::{BASES, Content, PROTEIN, SHARES, as_fed, content, sized};
use crate::arithmetic::{ratio, read, whole};

/// Units, each with how many of them make how many of the plainest.
pub(super) type Units = &'static [(&'static str, i64, i64)];

/// In IU of a kg.
pub(super) const ACTIVITY: [(&str, i64, i64); 3] =
    [("IU/kg", 1, 1), ("IU/g", 1_000, 1), ("IU per 250 g", 4, 1)];

/// What is delivered, or what every delivery of it holds unless its own analysis says otherwise.
#[derive(Clone, Debug)]
pub(super) struct Analysed {
    pub(super) dry_matter: Option<String>,
    pub(super) lysine: Option<Content>,
    pub(super) vitamin: Option<Content>,
}

#[derive(Clone, Debug)]
pub(super) struct Product {
    pub(super) usual: Analysed,
    pub(super) lots: Vec<Analysed>,
    /// It has a withdrawal: its label weighs more.
    pub(super) is_medicine: bool,
}

/// What an amount is of: a product and perhaps its lot, or a mix made beforehand, by their ranks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    Product(usize, Option<usize>),
    Mix(usize),
}

#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) of: Of,
    pub(super) amount: Content,
    pub(super) on_top: bool,
}

/// The products, of which the first takes the rest of every mix, and the mixes, of which the last is fed.
#[derive(Clone, Debug)]
pub(super) struct Yard {
    pub(super) products: Vec<Product>,
    pub(super) mixes: Vec<Vec<Line>>,
}

/// By product and lot.
pub(super) type Held = BTreeMap<(usize, Option<usize>), BigRational>;

pub(super) const PRODUCTS: [&str; 4] = ["maize", "yeast", "ක්‍රීම්", "premix-5"];
pub(super) const MIXES: [&str; 3] = ["mash", "strong-mix", "weak-mix"];

fn analysed(given: f64) -> impl Strategy<Value = Analysed> {
    let perhaps = |content| proptest::option::weighted(given, content);
    (
        proptest::option::weighted(given, "(6|7|8|9)[0-9](\\.[0-9]{1,3})?"),
        perhaps(content(PROTEIN.1.len(), "[0-7]?[0-9](\\.[0-9]{1,4})?", 3).boxed()),
        perhaps(content(ACTIVITY.len(), "[1-9][0-9]{0,3}(\\.[0-9]{1,2})?", 3).boxed()),
    )
        .prop_map(|(dry_matter, lysine, vitamin)| Analysed {
            dry_matter,
            lysine,
            vitamin,
        })
}

fn product() -> impl Strategy<Value = Product> {
    (
        analysed(0.95),
        prop::collection::vec(analysed(0.6), 0..3),
        any::<bool>(),
    )
        .prop_map(|(mut usual, lots, is_medicine)| {
            // A content on another basis needs it.
            usual.dry_matter.get_or_insert_with(|| "88.5".to_owned());
            Product {
                usual,
                lots,
                is_medicine,
            }
        })
}

/// A yard whose mixes hold products, and every mix but the first also mixes before it.
pub(super) fn yard() -> impl Strategy<Value = Yard> {
    let line = (
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        content(SHARES.len(), "[0-9](\\.[0-9]{1,5})?", 1),
        prop::bool::weighted(0.2),
    );
    (
        prop::collection::vec(product(), 2..=PRODUCTS.len()),
        prop::collection::vec(prop::collection::vec(line, 1..5), 1..=MIXES.len()),
    )
        .prop_map(|(products, drawn)| {
            let mixes = drawn.into_iter().enumerate().map(|(rank, lines)| {
                let lines = lines.into_iter().map(|(of, lot, amount, on_top)| {
                    let of = match of.index(products.len() - 1 + rank) {
                        mix if mix < rank => Of::Mix(mix),
                        product => {
                            let product = product - rank + 1;
                            let lots = products[product].lots.len();
                            Of::Product(product, lot.index(lots + 1).checked_sub(1))
                        }
                    };
                    Line { of, amount, on_top }
                });
                lines.collect()
            });
            let mixes = mixes.collect();
            Yard { products, mixes }
        })
}

impl Yard {
    /// What a mix is called: the one that is fed is the mash.
    pub(super) fn name(&self, mix: usize) -> &'static str {
        MIXES[self.mixes.len() - 1 - mix]
    }

    /// The text of everything but the mixes, each product with more lines of its own.
    pub(super) fn products_written(&self, more: &dyn Fn(usize) -> String) -> String {
        let mut text = String::from("nutrient lysine in share\nnutrient vitamin in IU\n");
        for (rank, product) in self.products.iter().enumerate() {
            let name = PRODUCTS[rank];
            text += &format!("ingredient {name}\n{}", product.usual.written());
            if product.is_medicine {
                text += "  withdrawal 5 days for eggs\n";
            }
            text += &more(rank);
            for (lot, delivered) in product.lots.iter().enumerate() {
                text += &format!("lot L-{rank}-{lot} of {name}\n{}", delivered.written());
            }
        }
        text
    }

    /// The text of a mix, with lines of its own before its amounts.
    pub(super) fn mix_written(&self, mix: usize, more: &str) -> String {
        let mut text = format!("ration {}\n{more}  maize rest\n", self.name(mix));
        for line in &self.mixes[mix] {
            let amount = format!("{} {}", line.amount.digits, SHARES[line.amount.unit].0);
            text += &self.line_written(line, &amount);
        }
        text
    }

    pub(super) fn line_written(&self, line: &Line, amount: &str) -> String {
        let (name, lot) = match line.of {
            Of::Product(product, lot) => {
                let lot = lot.map(|lot| format!(" lot L-{product}-{lot}"));
                (PRODUCTS[product], lot.unwrap_or_default())
            }
            Of::Mix(mix) => (self.name(mix), String::new()),
        };
        let on_top = if line.on_top { " on top" } else { "" };
        format!("  {name} {amount}{on_top}{lot}\n")
    }

    /// What the 100 % of a mix holds, and what comes on top of them. What is on top is held too.
    pub(super) fn held(&self, mix: usize) -> (Held, BigRational) {
        let shares = self.mixes[mix].iter();
        let shares: Vec<_> = shares.map(|line| sized(&line.amount, &SHARES)).collect();
        self.held_by(mix, &shares)
    }

    /// The same with these shares for its lines.
    pub(super) fn held_by(&self, mix: usize, shares: &[BigRational]) -> (Held, BigRational) {
        let mut held = Held::new();
        let (mut inside, mut tops) = (whole(0), whole(0));
        for (line, share) in self.mixes[mix].iter().zip(shares) {
            *(if line.on_top { &mut tops } else { &mut inside }) += share;
            for (of, part) in self.of_a_kg(line.of) {
                *held.entry(of).or_insert_with(|| whole(0)) += share * part;
            }
        }
        *held.entry((0, None)).or_insert_with(|| whole(0)) += whole(1) - inside;
        (held, tops)
    }

    /// What a kg of a line's feed is made of: of a mix, a kg as it is finished.
    pub(super) fn of_a_kg(&self, of: Of) -> Held {
        match of {
            Of::Product(product, lot) => Held::from([((product, lot), whole(1))]),
            Of::Mix(mix) => {
                let (mut held, tops) = self.held(mix);
                held.values_mut().for_each(|part| *part /= whole(1) + &tops);
                held
            }
        }
    }

    /// The dry matter of a delivery, and of what it holds as fed.
    pub(super) fn dry_matter(&self, (product, lot): (usize, Option<usize>)) -> BigRational {
        let product = &self.products[product];
        let own = lot.and_then(|lot| product.lots[lot].dry_matter.as_ref());
        read(own.or(product.usual.dry_matter.as_ref()).unwrap()) / whole(100)
    }

    pub(super) fn lysine(&self, delivered: (usize, Option<usize>)) -> Option<BigRational> {
        self.content(delivered, &PROTEIN.1, &|analysed| analysed.lysine.as_ref())
    }

    pub(super) fn vitamin(&self, delivered: (usize, Option<usize>)) -> Option<BigRational> {
        self.content(delivered, &ACTIVITY, &|analysed| analysed.vitamin.as_ref())
    }

    fn content(
        &self,
        delivered: (usize, Option<usize>),
        units: &[(&str, i64, i64)],
        of: &dyn Fn(&Analysed) -> Option<&Content>,
    ) -> Option<BigRational> {
        let product = &self.products[delivered.0];
        let own = delivered.1.and_then(|lot| of(&product.lots[lot]));
        let said = own.or_else(|| of(&product.usual))?;
        Some(as_fed(said, units, &self.dry_matter(delivered)))
    }

    /// A sum over what is held; none where a part of it is unknown.
    pub(super) fn sum(
        held: &Held,
        of: &dyn Fn((usize, Option<usize>)) -> Option<BigRational>,
    ) -> Option<BigRational> {
        let parts = held.iter().filter(|(_, part)| **part != whole(0));
        parts
            .map(|(delivered, part)| Some(part * of(*delivered)?))
            .sum()
    }

    /// Whether the lines of some mix are more than the whole.
    pub(super) fn is_over(&self) -> bool {
        let of_mix = |lines: &Vec<Line>| {
            let inside = lines.iter().filter(|line| !line.on_top);
            let inside: BigRational = inside.map(|line| sized(&line.amount, &SHARES)).sum();
            whole(1) < inside
        };
        self.mixes.iter().any(of_mix)
    }
}

impl Analysed {
    fn written(&self) -> String {
        let mut text = String::new();
        if let Some(dry_matter) = &self.dry_matter {
            text += &format!("  dry-matter {dry_matter} %\n");
        }
        let contents = [
            ("lysine", &self.lysine, &PROTEIN.1[..]),
            ("vitamin", &self.vitamin, &ACTIVITY[..]),
        ];
        for (nutrient, said, units) in contents {
            if let Some(said) = said {
                let (unit, basis) = (units[said.unit].0, BASES[said.basis]);
                text += &format!("  {nutrient} {} {unit}{basis}\n", said.digits);
            }
        }
        text
    }
}

/// An end of a bound beside a value, in the unit it is written in.
#[derive(Clone, Debug)]
pub(super) struct Near {
    /// From the value downward, in hundredths of it; usually none.
    off: i64,
    decimals: u32,
    /// So many units of the last decimal away.
    step: i64,
}

pub(super) fn near() -> impl Strategy<Value = Near> {
    let off = prop_oneof![6 => Just(100_i64).boxed(), 1 => (40..200_i64).boxed()];
    let decimals = prop::sample::select(vec![4_u32, 8, 20, 30]);
    (off, decimals, -1..=1_i64).prop_map(|(off, decimals, step)| Near {
        off,
        decimals,
        step,
    })
}

impl Near {
    /// Its digits; none where they would be nothing or less.
    pub(super) fn digits(&self, value: &BigRational, unit: &BigRational) -> Option<String> {
        let scale = num_bigint::BigInt::from(10).pow(self.decimals);
        let value = value * ratio(self.off, 100) / unit * BigRational::from_integer(scale);
        let end = value.floor() + whole(self.step);
        if end <= whole(0) {
            return None;
        }
        let width = usize::try_from(self.decimals).unwrap() + 1;
        let digits = format!("{:0>width$}", end.numer().to_string());
        let (front, back) = digits.split_at(digits.len() + 1 - width);
        Some(format!("{front}.{back}"))
    }
}
