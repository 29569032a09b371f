//! A ration with its lines as the deliveries that are really taken were analysed.

use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

use crate::Q;
use crate::ration::{Line, Ration};
use crate::view::{Content, Feed, Ingredient, View};

/// What of one line comes from one delivery.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Delivered {
    /// Rank of the line in the ration.
    pub line: usize,
    /// The delivery; none for what is taken from no known one.
    pub lot: Option<String>,
    /// Which part of the line's mass, a fraction.
    pub part: Q,
}

impl View<'_> {
    /// The ration with the analyses of these deliveries in place of the ingredient's, each by its part of the line's mass: to be
    /// judged, since a line may have become several.
    ///
    /// A line that names a lot has that lot's analysis already.
    #[must_use]
    pub fn as_delivered(&self, ration: &Ration, delivered: &[Delivered]) -> Ration {
        let mut lines = Vec::with_capacity(ration.lines.len());
        for (rank, line) in ration.lines.iter().enumerate() {
            let taken = delivered.iter().filter(|taken| taken.line == rank);
            let parts = match &line.feed {
                Feed::Ingredient(ingredient) if line.lot.is_none() => taken
                    .map(|taken| (self.taken(ingredient, taken.lot.as_deref()), &taken.part))
                    .collect(),
                _ => Vec::new(),
            };
            // What is known of some parts only must not be lost in a mean: then each is a line of its own.
            let parts: Vec<(Ingredient, &Q)> = parts;
            let blend = self.blend(&parts);
            if parts.is_empty() {
                lines.push(line.clone());
            } else if let Some(blend) = blend {
                let feed = Feed::Ingredient(Arc::new(blend));
                lines.push(Line {
                    feed,
                    ..line.clone()
                });
            } else {
                lines.extend(parts.into_iter().map(|(ingredient, part)| Line {
                    feed: Feed::Ingredient(Arc::new(ingredient)),
                    low: &line.low * part,
                    high: &line.high * part,
                    ..line.clone()
                }));
            }
        }
        Ration {
            lines,
            leaves: OnceLock::new(),
            ..ration.clone()
        }
    }

    fn taken(&self, ingredient: &Ingredient, lot: Option<&str>) -> Ingredient {
        lot.map_or_else(
            || ingredient.clone(),
            |lot| self.ingredient_of_lot(ingredient, lot, &mut Vec::new()),
        )
    }

    /// Whether a delivery holds other than the ingredient's own lines say.
    #[must_use]
    pub fn is_analysed(&self, lot: &str) -> bool {
        let Some((lot, delivered)) = self.delivery(lot) else {
            return false;
        };
        self.ingredient(&lot.of).is_some_and(|ingredient| {
            ingredient.contents != delivered.contents
                || ingredient.dry_matter != delivered.dry_matter
        })
    }

    /// Ingredients by their parts; none where something is known of one and not of another.
    ///
    /// Their scatter counts as one: the mean of the deviations, which is never less than that of independent ones.
    fn blend(&self, parts: &[(Ingredient, &Q)]) -> Option<Ingredient> {
        let (first, _) = parts.first()?;
        let mut blend = first.clone();
        let mean = |content_of: &dyn Fn(&Ingredient) -> Option<Content>| {
            let mut mean = content_of(first)?;
            let (mut value, mut deviation) = (Q::ZERO, Q::ZERO);
            for (ingredient, part) in parts {
                let content = content_of(ingredient)?;
                value += content.value * *part;
                deviation += content.deviation.unwrap_or_default() * *part;
            }
            mean.value = value;
            mean.deviation = deviation.is_positive().then_some(deviation);
            Some(mean)
        };
        let all = parts.iter().flat_map(|(it, _)| it.contents.keys());
        for nutrient in BTreeSet::from_iter(all) {
            let content = mean(&|ingredient| self.content_of(ingredient, nutrient))?;
            blend.contents.insert(nutrient.clone(), content);
        }
        if parts.iter().any(|(it, _)| it.dry_matter.is_some()) {
            blend.dry_matter = Some(mean(&|ingredient| ingredient.dry_matter.clone())?);
        }
        blend.is_sound = parts.iter().all(|(it, _)| it.is_sound);
        Some(blend)
    }

    /// What is known of a nutrient, where all of it is.
    fn content_of(&self, ingredient: &Ingredient, nutrient: &str) -> Option<Content> {
        if let Some(content) = ingredient.contents.get(nutrient) {
            return Some(content.clone());
        }
        let known = ingredient.content(&*self.nutrient(nutrient)?);
        known.is_complete.then_some(Content {
            value: known.known,
            deviation: None,
            place: ingredient.place,
        })
    }
}
