//! The second wall: whether an edit touches an amount that can harm, whatever the fix says of itself.

use trug_findings::Edit;
use trug_syntax::tree::ItemBody;

use super::Asked;
use crate::lines::{line_at, tokens};
use crate::parts::item_at;

impl Asked<'_> {
    /// Whether an edit changes words or numbers of a line that gives or bounds an amount that can harm. Such a line
    /// may be one that cannot be read yet, so it is known by its item and its first word.
    pub(super) fn can_harm(&self, edit: &Edit) -> bool {
        let says = |text: &str| {
            text.chars()
                .any(|it| it.is_alphanumeric() || matches!(it, '%' | '.' | ','))
        };
        if !says(&edit.text) && !says(edit.place.span.of(self.text)) {
            return false;
        }
        let start = line_at(self.text, edit.place.span.start as usize);
        let end = line_at(self.text, edit.place.span.end as usize);
        if start != end {
            return true;
        }
        let items = &self.view.farm().tree(self.file).items;
        let Some(item) = item_at(items, start.content.start) else {
            return false;
        };
        let words: Vec<&str> = tokens(self.text, start.content.clone())
            .into_iter()
            .map(|token| token.span.of(self.text))
            .collect();
        let first = words.first().copied().unwrap_or("");
        match &item.body {
            ItemBody::Ration(_) => {
                self.is_harmful(first) || words.get(1).is_some_and(|it| self.is_harmful(it))
            }
            ItemBody::Ingredient(ingredient) => {
                let is_bound = ["dose", "ceiling", "withdrawal", "never", "apart"].contains(&first);
                is_bound || self.is_harmful(&ingredient.name.text)
            }
            ItemBody::Lot(lot) => self.is_harmful(&lot.of.text),
            ItemBody::Animal(_) => first != "gives",
            ItemBody::Unread(_) => true,
            _ => false,
        }
    }

    /// Whether too much or too little of a feed can hurt, or of anything in it.
    fn is_harmful(&self, name: &str) -> bool {
        if let Some(ingredient) = self.view.ingredient_called(name) {
            return ingredient.can_harm() || !ingredient.is_sound;
        }
        let Some(ration) = self.view.made_out(name) else {
            return false;
        };
        ration
            .ingredients()
            .iter()
            .any(|ingredient| ingredient.can_harm())
    }
}
