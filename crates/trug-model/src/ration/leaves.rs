//! What a line is made of, down to ingredients.

use std::collections::BTreeMap;
use std::sync::Arc;

use smol_str::SmolStr;

use super::{Line, Ration};
use crate::Q;
use crate::view::{Feed, Ingredient, Interval, Linear, Nutrient};

/// An ingredient inside a line, as it was delivered, with its fraction of the line's mass.
#[derive(Clone, Debug)]
pub(crate) struct Leaf {
    pub(crate) ingredient: Arc<Ingredient>,
    pub(crate) fraction: Q,
}

impl Feed {
    /// The ingredients one kg of it is made of.
    pub(crate) fn leaves(&self) -> Vec<Leaf> {
        match self {
            Feed::Ingredient(ingredient) => vec![Leaf {
                ingredient: Arc::clone(ingredient),
                fraction: Q::ONE,
            }],
            Feed::Ration(ration) => ration.leaves().to_vec(),
        }
    }

    /// What is known of a nutrient in one kg of it.
    pub(crate) fn content(&self, nutrient: &Nutrient) -> Interval {
        match self {
            Feed::Ingredient(ingredient) => ingredient.content(nutrient),
            Feed::Ration(ration) => ration.mean(&|leaf| leaf.content(nutrient)),
        }
    }

    /// What is known of its dry matter.
    pub(crate) fn dry_matter(&self) -> Interval {
        match self {
            Feed::Ingredient(ingredient) => ingredient.dry_matter(),
            Feed::Ration(ration) => ration.mean(&Ingredient::dry_matter),
        }
    }

    /// What is known of a sum of nutrients in one kg of it.
    pub(crate) fn linear(&self, linear: &Linear) -> Interval {
        let mut sum = Interval::ZERO;
        if let [(factor, nutrient)] = linear.terms.as_slice()
            && *factor == Q::ONE
        {
            return self.content(nutrient);
        }
        for (factor, nutrient) in &linear.terms {
            sum = sum.plus(&self.content(nutrient).times(factor));
        }
        sum
    }

    pub(crate) fn is_sound(&self) -> bool {
        match self {
            Feed::Ingredient(ingredient) => ingredient.is_sound,
            Feed::Ration(ration) => ration.is_sound && ration.adds_up && ration.is_fixed(),
        }
    }

    /// Bulk density in kg/L, where known.
    pub(crate) fn bulk_density(&self) -> Option<Q> {
        match self {
            Feed::Ingredient(ingredient) => ingredient.bulk_density.clone(),
            // Volumes add up, near enough for a basin: the mean of litres per kg.
            Feed::Ration(ration) => {
                let mut litres = Q::ZERO;
                for (line, fraction) in ration.fractions() {
                    litres += fraction.over(&line.feed.bulk_density()?)?;
                }
                litres.inverse()
            }
        }
    }
}

impl Ration {
    /// Its lines with their fractions of the finished feed, tops included.
    fn fractions(&self) -> Vec<(&Line, Q)> {
        let whole = Q::ONE + self.tops();
        let fraction = |line: &Line| line.low.over(&whole).unwrap_or_default();
        self.lines
            .iter()
            .map(|line| (line, fraction(line)))
            .collect()
    }

    /// The ingredients one kg of the finished feed is made of. Kept, since a ration may sit in many others.
    pub(crate) fn leaves(&self) -> &[Leaf] {
        self.leaves.get_or_init(|| {
            let mut leaves: Vec<Leaf> = Vec::new();
            // Of two deliveries of one ingredient each holds what its own analysis says.
            let mut ranks: BTreeMap<(SmolStr, Option<SmolStr>), usize> = BTreeMap::new();
            for (line, fraction) in self.fractions() {
                for leaf in line.feed.leaves() {
                    let fraction = leaf.fraction * &fraction;
                    let delivered = (
                        leaf.ingredient.name.clone(),
                        leaf.ingredient.delivery.clone(),
                    );
                    let rank = *ranks.entry(delivered).or_insert(leaves.len());
                    match leaves.get_mut(rank) {
                        Some(known) => known.fraction += fraction,
                        None => leaves.push(Leaf {
                            ingredient: leaf.ingredient,
                            fraction,
                        }),
                    }
                }
            }
            leaves
        })
    }

    fn mean(&self, of: &dyn Fn(&Ingredient) -> Interval) -> Interval {
        let mut sum = Interval::ZERO;
        for leaf in self.leaves() {
            sum = sum.plus(&of(&leaf.ingredient).times(&leaf.fraction));
        }
        sum
    }

    /// All ingredients it is made of, with their least and greatest inclusion of the 100 %.
    pub(crate) fn inclusions(&self) -> Vec<Inclusion<'_>> {
        let mut inclusions: Vec<Inclusion<'_>> = Vec::new();
        let mut ranks: BTreeMap<SmolStr, usize> = BTreeMap::new();
        for (line_rank, line) in self.lines.iter().enumerate() {
            for leaf in line.feed.leaves() {
                let name = leaf.ingredient.name.clone();
                let low = if line.or_none {
                    Q::ZERO
                } else {
                    &line.low * &leaf.fraction
                };
                let high = &line.high * &leaf.fraction;
                let rank = *ranks.entry(name).or_insert(inclusions.len());
                match inclusions.get_mut(rank) {
                    Some(known) => {
                        known.low += low;
                        known.high += high;
                        known.add(line_rank, line, leaf);
                    }
                    None => inclusions.push(Inclusion {
                        ingredient: Arc::clone(&leaf.ingredient),
                        low,
                        high,
                        lines: vec![line],
                        ranks: vec![line_rank],
                        fractions: vec![leaf.fraction.clone()],
                        or_none: line.or_none,
                        deliveries: vec![(line_rank, leaf)],
                    }),
                }
            }
        }
        inclusions
    }
}

/// An ingredient with its inclusion, summed over wherever it sits.
pub(crate) struct Inclusion<'ration> {
    /// The first of its deliveries: what they hold may differ, what its label says does not.
    pub(crate) ingredient: Arc<Ingredient>,
    pub(crate) low: Q,
    pub(crate) high: Q,
    pub(crate) lines: Vec<&'ration Line>,
    /// Of these lines in the ration.
    pub(crate) ranks: Vec<usize>,
    /// Which fraction of each of them it is.
    pub(crate) fractions: Vec<Q>,
    pub(crate) or_none: bool,
    /// The same by delivery, each with the rank of the line it sits in.
    pub(crate) deliveries: Vec<(usize, Leaf)>,
}

impl<'ration> Inclusion<'ration> {
    /// One more place it sits in. A mix may hold several deliveries of it.
    fn add(&mut self, rank: usize, line: &'ration Line, leaf: Leaf) {
        match self.fractions.last_mut() {
            Some(fraction) if self.ranks.last() == Some(&rank) => *fraction += &leaf.fraction,
            _ => {
                self.lines.push(line);
                self.ranks.push(rank);
                self.fractions.push(leaf.fraction.clone());
                self.or_none &= line.or_none;
            }
        }
        self.deliveries.push((rank, leaf));
    }
}
