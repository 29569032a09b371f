//! Tables that the tool has written: their headings are those of the language, and each cell is a part of a line.

use std::collections::BTreeMap;

use trug_findings::{FileId, Span};
use trug_model::quantity;
use trug_model::table::{CellKind, Heading};
use trug_syntax::tree::{IngredientStatement, ItemBody, UnitText};

use super::{Maker, unguarded};
use crate::book::kind;
use crate::items::{Ration, fault};
use crate::layout::{self, Layout};
use crate::remarks::{Remark, short};

/// The heading of amounts, alone or before their unit.
pub(crate) const AMOUNT: &str = "amount";

/// The heading of what follows an amount.
pub(crate) const CLAUSES: &str = "clauses";

/// The heading by which such a table is known.
pub(crate) const LABEL: &str = "label";

/// Whether the table is one of those.
pub(super) fn is_own(layout: &Layout<'_>) -> bool {
    let headings = layout.columns.iter().filter_map(|column| column.heading);
    layout
        .corner
        .is_some_and(|corner| layout::is_own(corner, headings))
}

/// Amounts and what follows them, by the row they stand in.
type Amounts<'g> = BTreeMap<usize, (Option<(String, Span)>, &'g str)>;

/// Reads every column.
pub(super) fn columns(maker: &mut Maker<'_>) {
    let layout = maker.layout;
    let mut amounts = Amounts::new();
    let mut has_amounts = false;
    for column in &layout.columns {
        let Some(heading) = column.heading else {
            maker.remarks.extend(column.cells.first().map(|(_, cell)| {
                Remark::lost(
                    cell.span,
                    "this stands under no heading",
                    "write one above it",
                )
            }));
            continue;
        };
        let text = heading.text.trim();
        let unit = text
            .strip_prefix(AMOUNT)
            .filter(|unit| unit.is_empty() || unit.starts_with(' '));
        has_amounts |= unit.is_some();
        let known = Heading::of(heading);
        if known.is_none() && unit.is_none() && text != CLAUSES {
            let says = format!("{} is no line of an ingredient", short(text));
            maker.remarks.push(Remark::lost(
                heading.span,
                says,
                "write a line's word and its unit",
            ));
            continue;
        }
        for (rank, cell) in &column.cells {
            let whole = unguarded(&cell.text);
            let said = whole.trim();
            if let Some(unit) = unit {
                let value = format!("{said}{unit}");
                amounts.entry(*rank).or_default().0 = Some((value, cell.span));
            } else if text == CLAUSES {
                amounts.entry(*rank).or_default().1 = said;
            } else if let Some(known) = &known {
                line(maker, known, *rank, (whole, cell.span));
            }
        }
    }
    if has_amounts {
        ration(maker, &amounts);
    }
}

fn line(maker: &mut Maker<'_>, heading: &Heading, rank: usize, (said, span): (&str, Span)) {
    let Some(Some(ingredient)) = maker.ranks.get(rank).copied() else {
        return;
    };
    if heading.cell == CellKind::Label {
        if let Some(ingredient) = maker.items.ingredients.get_mut(ingredient) {
            said.clone_into(&mut ingredient.label);
        }
        return;
    }
    let said = if heading.cell == CellKind::Text {
        said
    } else {
        said.trim()
    };
    let Some(line) = heading.line(said, maker.grid.has_decimal_comma) else {
        let says = format!("this cell is no {}", heading.word);
        return maker
            .remarks
            .push(Remark::lost(span, says, "write it as the reference does"));
    };
    declare(maker, &line);
    maker.line(ingredient, line, span);
}

/// Declares the nutrient of a content, in the book or as one of its own.
fn declare(maker: &mut Maker<'_>, line: &str) {
    let text = format!("ingredient x\n  {line}\n");
    let file = trug_syntax::parse(FileId::default(), &text);
    let Some(ItemBody::Ingredient(ingredient)) = file.items.first().map(|item| &item.body) else {
        return;
    };
    let Some(IngredientStatement::Content { nutrient, value }) =
        ingredient.lines.first().map(|line| &line.statement)
    else {
        return;
    };
    let name = nutrient.text.as_str();
    if maker.book.nutrient(name).is_some() {
        maker.items.uses_book = true;
    } else if let Some(kind) = value.unit.as_ref().and_then(counted) {
        let entry = maker.items.nutrients.entry(name.to_owned());
        entry.or_insert_with(|| (String::new(), kind));
    }
}

/// How what is counted in this unit is declared.
fn counted(unit: &UnitText) -> Option<&'static str> {
    let above = quantity::word(&unit.unit.text)?.dimension;
    let dimension = match &unit.per {
        Some((_, below)) => above.over(&quantity::word(&below.text)?.dimension)?,
        None => above,
    };
    kind(&dimension)
}

fn ration(maker: &mut Maker<'_>, amounts: &Amounts<'_>) {
    let (name, label) = maker.ration_name("");
    let mut lines = Vec::new();
    for (rank, (amount, clauses)) in amounts {
        let ingredient = maker.ranks.get(*rank).copied().flatten();
        let ingredient = ingredient.and_then(|rank| maker.items.ingredients.get(rank));
        let (Some(ingredient), Some((amount, span))) = (ingredient, amount) else {
            continue;
        };
        let line = format!("{} {amount} {clauses}", ingredient.name);
        match fault("ration x", line.trim_end()) {
            Some((says, help)) => maker.remarks.push(Remark::lost(*span, says, help)),
            None => lines.push(line.trim_end().to_owned()),
        }
    }
    maker.items.rations.push(Ration {
        label: if label == name { String::new() } else { label },
        name,
        animal: maker.wishes.animal.clone(),
        lines,
    });
}
