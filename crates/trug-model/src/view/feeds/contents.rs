//! What is known of what an ingredient holds.

use std::collections::BTreeMap;

use smol_str::SmolStr;

use super::{Content, Ingredient};
use crate::Q;
use crate::view::{Interval, Nutrient};

impl Ingredient {
    /// What is known of a nutrient in one kg of it.
    pub(crate) fn content(&self, nutrient: &Nutrient) -> Interval {
        if let Some(content) = self.contents.get(&nutrient.name) {
            return content.interval();
        }
        let Some(formula) = &nutrient.formula else {
            return self.not_given(nutrient);
        };
        if formula.terms.iter().any(|(_, part)| part.formula.is_some()) {
            return self.summed(nutrient, &mut BTreeMap::new());
        }
        let mut sum = Interval::ZERO;
        for (factor, part) in &formula.terms {
            sum = sum.plus(&self.content(part).times(factor));
        }
        sum
    }

    /// The same of a sum of sums. Each part is added up once: sums may share parts, and theirs again.
    fn summed(&self, nutrient: &Nutrient, known: &mut BTreeMap<SmolStr, Interval>) -> Interval {
        if let Some(content) = self.contents.get(&nutrient.name) {
            return content.interval();
        }
        let Some(formula) = &nutrient.formula else {
            return self.not_given(nutrient);
        };
        if let Some(sum) = known.get(&nutrient.name) {
            return sum.clone();
        }
        let mut sum = Interval::ZERO;
        for (factor, part) in &formula.terms {
            sum = sum.plus(&self.summed(part, known).times(factor));
        }
        known.insert(nutrient.name.clone(), sum.clone());
        sum
    }

    /// What is known of a nutrient that nothing is said of.
    fn not_given(&self, nutrient: &Nutrient) -> Interval {
        if self.nothing_else {
            return Interval::ZERO;
        }
        Interval::unknown(nutrient.greatest())
    }

    /// What is known of its dry matter.
    pub(crate) fn dry_matter(&self) -> Interval {
        self.dry_matter
            .as_ref()
            .map_or_else(|| Interval::unknown(Some(Q::ONE)), Content::interval)
    }
}

impl Content {
    pub(crate) fn interval(&self) -> Interval {
        let deviation = self.deviation.clone().unwrap_or_default();
        Interval {
            variance: &deviation * &deviation,
            ..Interval::exactly(self.value.clone())
        }
    }
}
