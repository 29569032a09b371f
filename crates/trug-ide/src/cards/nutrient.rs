//! A nutrient on one card: how it is counted, and what it is the sum of.

use trug_findings::Place;
use trug_model::{Namespace, View};
use trug_syntax::tree::{ItemBody, NutrientKind};

use super::text_at;
use crate::markdown::{heading, paragraphs, typed};

pub(super) fn nutrient(view: &View<'_>, name: &str) -> Option<String> {
    let (file, item) = view.declaration(Namespace::Nutrient, name)?;
    let ItemBody::Nutrient(written) = &item.body else {
        return None;
    };
    let label = written.label.as_ref().map(|label| label.text.as_str());
    let head = heading(label, name, "nutrient");
    let made_of = match &written.kind {
        NutrientKind::In(_) => String::new(),
        NutrientKind::Of(of) => {
            format!(
                "the sum {}",
                typed(&text_at(view.farm(), Place::new(file, of.span)))
            )
        }
    };
    let counted = view.counted(name).map_or_else(
        || "How it is counted could not be made out.".to_owned(),
        |counted| {
            format!(
                "A content of it is {}, written in {} and the like.",
                counted.dimension,
                counted
                    .units
                    .iter()
                    .map(|unit| typed(unit))
                    .collect::<Vec<_>>()
                    .join(", ")
            )
        },
    );
    Some(paragraphs([head, made_of, counted]))
}
