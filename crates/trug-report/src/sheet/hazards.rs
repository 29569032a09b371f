//! What to beware of, in words.

use trug_model::Q;
use trug_plan::Hazard;

use super::Section;
use super::writing::Writing;
use crate::plan::Caution;
use crate::speech::{Part, Speech};

/// A caution in the words of a language; what the text says itself stays as it is.
pub(crate) fn hazard_words(caution: &Caution, ration: &str, speech: &Speech) -> String {
    let words = match &caution.hazard {
        Hazard::Written(text) => text.clone(),
        Hazard::NotAFeed => speech.say_one("hazard-not-a-feed", "ration", ration),
        Hazard::NoAnimal => speech.say_one("hazard-no-animal", "ration", ration),
        Hazard::Medicated => speech.say("hazard-medicated"),
        Hazard::Withdrawal { product, days } => withdrawal(product, days, speech),
        Hazard::KeepFrom { animal, reason } => {
            let keep = speech.say_one("hazard-keep-from", "animal", animal);
            match reason {
                Some(reason) => format!("{keep} {reason}"),
                None => keep,
            }
        }
    };
    match &caution.mixed_in {
        Some(ingredient) => {
            let parts = [
                ("ingredient", Part::Words(ingredient)),
                ("hazard", Part::Words(&words)),
            ];
            speech.say_of("hazard-in", &parts)
        }
        None => words,
    }
}

fn withdrawal(product: &str, days: &Q, speech: &Speech) -> String {
    // Part of a day counts as a whole one.
    let whole = days.ceil().to_i64().and_then(|it| usize::try_from(it).ok());
    let days = speech.days(whole.unwrap_or(usize::MAX));
    let product = match product {
        "eggs" => speech.say("product-eggs"),
        "milk" => speech.say("product-milk"),
        "meat" => speech.say("product-meat"),
        other => other.to_owned(),
    };
    let parts = [
        ("product", Part::Words(&product)),
        ("days", Part::Words(&days)),
    ];
    speech.say_of("hazard-withdrawal", &parts)
}

impl Writing<'_> {
    /// What to beware of with the feed as a whole; an ingredient's own stands where it is weighed.
    pub(super) fn beware(&self) -> Option<Section> {
        let lines = self.cautions_of(None);
        (!lines.is_empty()).then(|| Section {
            heading: self.speech.say("beware"),
            lines,
        })
    }

    /// The cautions of an ingredient, or of the whole.
    pub(super) fn cautions_of(&self, ingredient: Option<&str>) -> Vec<String> {
        let cautions = self.about.cautions.iter();
        cautions
            .filter(|caution| caution.ingredient.as_deref() == ingredient)
            .map(|caution| hazard_words(caution, &self.plan.order.ration, self.speech))
            .collect()
    }
}
