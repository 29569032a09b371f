//! Which rows are ingredients, and what each is called.

use std::collections::BTreeMap;

use trug_findings::Span;

use super::{LONGEST_LABEL, Maker, unguarded};
use crate::items::{Ingredient, label};
use crate::names::is_free_name;
use crate::remarks::{Remark, short};
use crate::words::is_total;

impl Maker<'_> {
    /// Makes an ingredient of each row that is called something and is no sum.
    pub(super) fn ingredients(&mut self) {
        let layout = self.layout;
        let said = self.said();
        let mut labels: BTreeMap<String, usize> = BTreeMap::new();
        for (rank, name) in layout.names.iter().enumerate() {
            self.ranks.push(None);
            let first = said.get(rank).copied().flatten();
            let Some(name) = name else {
                if let Some(span) = first {
                    self.remarks.push(Remark::left_out(
                        span,
                        "this row names no ingredient, so it is left out",
                        "write the ingredient's name beside it, if it is one",
                    ));
                }
                continue;
            };
            let text = unguarded(&name.text);
            if let Some(remark) = self.no_ingredient(text, name.span, first.is_some()) {
                self.remarks.push(remark);
                continue;
            }
            let called = label(text);
            let key = if self.is_own {
                text.trim().to_owned()
            } else {
                called.to_lowercase()
            };
            let next = self.items.ingredients.len();
            let first = *labels.entry(key).or_insert(next);
            if first != next && self.is_own {
                // A ration may take an ingredient on several lines.
                if let Some(rank) = self.ranks.last_mut() {
                    *rank = Some(first);
                }
                continue;
            }
            if first != next {
                self.remarks.push(Remark::lost(
                    name.span,
                    format!("{} has a second row, which is left out", short(&called)),
                    "keep one row for each ingredient",
                ));
                continue;
            }
            let is_name = self.is_own && is_free_name(text.trim());
            let name = if is_name && self.names.take(text.trim()) {
                text.trim().to_owned()
            } else {
                self.names.name(&called)
            };
            if let Some(rank) = self.ranks.last_mut() {
                *rank = Some(next);
            }
            self.items.ingredients.push(Ingredient {
                label: if is_name || called == name {
                    String::new()
                } else {
                    called
                },
                name,
                lines: Vec::new(),
                is_used: true,
            });
        }
    }

    /// Where each row says something besides its name.
    fn said(&self) -> Vec<Option<Span>> {
        let mut said = vec![None; self.layout.names.len()];
        for (rank, cell) in self.layout.columns.iter().flat_map(|column| &column.cells) {
            if let Some(first) = said.get_mut(*rank) {
                let before = first.get_or_insert(cell.span);
                if cell.span < *before {
                    *before = cell.span;
                }
            }
        }
        said
    }

    fn no_ingredient(&self, text: &str, span: Span, says_more: bool) -> Option<Remark> {
        let called = short(text);
        if LONGEST_LABEL < text.len() {
            let says = format!("`{called}` is too long for a name");
            return Some(Remark::lost(
                span,
                says,
                "write what people call it, and the rest elsewhere",
            ));
        }
        if is_total(text) {
            let says = format!("{called} is no ingredient: this row is left out");
            return Some(Remark::left_out(span, says, ""));
        }
        if !text.chars().any(char::is_alphabetic) {
            let says = format!("`{called}` names no ingredient, so this row is left out");
            return Some(Remark::lost(
                span,
                says,
                "write the ingredient's name in this cell",
            ));
        }
        if !says_more && !self.is_own {
            let says = format!("nothing stands beside {called}, so it is left out");
            return Some(Remark::left_out(span, says, ""));
        }
        None
    }
}
