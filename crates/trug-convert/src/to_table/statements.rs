//! Lines of an ingredient as headings and cells.

use trug_syntax::tree::{Bound, IngredientStatement, Name, Quantity};

use super::words::{bound, number, quoted, unit};

/// The headings and cells of a line; none where a table has no place for it.
pub(super) fn cells(statement: &IngredientStatement) -> Option<Vec<(String, String)>> {
    use IngredientStatement as S;
    Some(match statement {
        S::Content { nutrient, value } => vec![measured(&nutrient.text, value)?],
        S::DryMatter(value) => vec![measured("dry-matter", value)?],
        S::Price { value, as_of } => {
            let (mut heading, cell) = measured("price", value)?;
            if let Some(day) = as_of {
                heading = format!(
                    "{heading} as of {:04}-{:02}-{:02}",
                    day.year, day.month, day.day
                );
            }
            vec![(heading, cell)]
        }
        S::BulkDensity(value) => vec![measured("bulk-density", value)?],
        S::SoldIn(value) => vec![measured("sold in", value)?],
        S::ParticleSize(value) => vec![measured("particle-size", value)?],
        S::ParticleDensity(value) => vec![measured("particle-density", value)?],
        S::Limit { bound, for_animal } => limit(bound, for_animal.as_ref())?,
        S::Label { language, text } => {
            vec![(format!("label {}", language.text), text.text.clone())]
        }
        S::NothingElse => vec![("nothing else".to_owned(), "yes".to_owned())],
        S::Form(form) => vec![("form".to_owned(), form.text.to_string())],
        S::Dose {
            bound: window,
            active,
            for_animal,
        } => {
            let (cell, unit) = bound(window)?;
            vec![(
                of("dose", &unit, active.as_ref(), for_animal.as_ref()),
                cell,
            )]
        }
        S::Ceiling {
            value,
            active,
            for_animal,
            reason,
        } => {
            let mut heading = of(
                "ceiling",
                &unit(value)?,
                active.as_ref(),
                for_animal.as_ref(),
            );
            if let Some(reason) = reason {
                heading = format!("{heading} {}", quoted(reason));
            }
            vec![(heading, number(value))]
        }
        S::ApartFrom { other, until } => {
            let until = until
                .as_ref()
                .map(|until| format!(" until 1 in {}", until.digits));
            let cell = format!("{}{}", other.text, until.unwrap_or_default());
            vec![("apart from".to_owned(), cell)]
        }
        S::NeverWith { other, reason } => {
            let reason = reason.as_ref().map(|reason| format!(" {}", quoted(reason)));
            let cell = format!("{}{}", other.text, reason.unwrap_or_default());
            vec![("never with".to_owned(), cell)]
        }
        S::NeverFor { animal, reason } => {
            let reason = reason.as_ref().map(|reason| format!(" {}", quoted(reason)));
            let cell = format!("{}{}", animal.text, reason.unwrap_or_default());
            vec![("never for".to_owned(), cell)]
        }
        S::Withdrawal { time, product } => {
            let heading = format!("withdrawal {} for {}", unit(time)?, product.text);
            vec![(heading, number(time))]
        }
        S::Caution(text) => vec![("caution".to_owned(), text.text.clone())],
        S::Accept(_) | S::Unread => return None,
    })
}

fn measured(word: &str, value: &Quantity) -> Option<(String, String)> {
    Some((format!("{word} {}", unit(value)?), number(value)))
}

fn of(word: &str, unit: &str, active: Option<&Name>, animal: Option<&Name>) -> String {
    let mut heading = format!("{word} {unit}");
    if let Some(active) = active {
        heading = format!("{heading} {}", active.text);
    }
    if let Some(animal) = animal {
        heading = format!("{heading} for {}", animal.text);
    }
    heading
}

/// A line of one bound, or two of a range: a heading names its end.
fn limit(range: &Bound, animal: Option<&Name>) -> Option<Vec<(String, String)>> {
    let (_, unit) = bound(range)?;
    let ends = [("at least", &range.low), ("at most", &range.high)];
    let ends = ends.into_iter().filter_map(|(word, end)| {
        let end = end.as_ref()?;
        Some((of(word, &unit, None, animal), end.digits.to_string()))
    });
    Some(ends.collect())
}
