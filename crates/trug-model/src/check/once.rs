//! Lines that an item has once: where one stands there again, nobody can tell which of the two holds.

use trug_findings::{Finding, Span};
use trug_syntax::tree::{
    GroupStatement, IngredientStatement, Item, ItemBody, LotStatement, MethodRule, RationStatement,
    RecordStatement,
};

use crate::findings::data;
use crate::view::View;

/// Says which lines stand twice in an item that has them once.
pub(super) fn judge(view: &View<'_>, item: &Item, findings: &mut Vec<Finding>) {
    let mut seen: Vec<(&str, Span)> = Vec::new();
    for (word, span) in lines_of(item) {
        match seen.iter().find(|(known, _)| *known == word) {
            Some((_, first)) => {
                findings.push(data::word_twice(view.place(span), word, view.place(*first)))
            }
            None => seen.push((word, span)),
        }
    }
}

/// The lines of an item that it has once, by their words.
fn lines_of(item: &Item) -> Vec<(&'static str, Span)> {
    match &item.body {
        ItemBody::Ration(ration) => {
            let lines = ration.lines.iter();
            lines
                .filter_map(|line| Some((of_ration(&line.statement)?, line.span)))
                .collect()
        }
        ItemBody::Ingredient(ingredient) => {
            let lines = ingredient.lines.iter();
            lines
                .filter_map(|line| Some((of_ingredient(&line.statement)?, line.span)))
                .collect()
        }
        ItemBody::Lot(lot) => {
            let lines = lot.lines.iter();
            lines
                .filter_map(|line| Some((of_lot(&line.statement)?, line.span)))
                .collect()
        }
        ItemBody::Method(method) => {
            let lines = method.lines.iter();
            lines
                .filter_map(|line| Some((of_method(line.rule.as_ref()?)?, line.span)))
                .collect()
        }
        ItemBody::Group(group) => {
            let lines = group.lines.iter();
            lines
                .filter_map(|line| Some((of_group(line.statement.as_ref()?)?, line.span)))
                .collect()
        }
        ItemBody::Record(record) => {
            let lines = record.lines.iter();
            lines
                .filter_map(|line| Some((of_record(line.statement.as_ref()?)?, line.span)))
                .collect()
        }
        _ => Vec::new(),
    }
}

fn of_ration(statement: &RationStatement) -> Option<&'static str> {
    Some(match statement {
        RationStatement::For(_) | RationStatement::ForMixing => "for",
        RationStatement::Batch(_) => "batch",
        RationStatement::MixBy(_) => "mix by",
        RationStatement::Intake(_) => "intake",
        RationStatement::Keeps(_) => "keeps",
        RationStatement::Certainty(_) => "certainty",
        _ => return None,
    })
}

/// A price with its day may stand beside older ones.
fn of_ingredient(statement: &IngredientStatement) -> Option<&'static str> {
    Some(match statement {
        IngredientStatement::DryMatter(_) => "dry-matter",
        IngredientStatement::Price { as_of: None, .. } => "price",
        IngredientStatement::BulkDensity(_) => "bulk-density",
        IngredientStatement::SoldIn(_) => "sold in",
        IngredientStatement::Form(_) => "form",
        IngredientStatement::ParticleSize(_) => "particle-size",
        IngredientStatement::ParticleDensity(_) => "particle-density",
        _ => return None,
    })
}

fn of_lot(statement: &LotStatement) -> Option<&'static str> {
    Some(match statement {
        LotStatement::DryMatter(_) => "dry-matter",
        LotStatement::Price { as_of: None, .. } => "price",
        LotStatement::BulkDensity(_) => "bulk-density",
        LotStatement::Received { .. } => "received",
        LotStatement::BestBefore(_) => "best before",
        LotStatement::OnHand(_) => "on hand",
        _ => return None,
    })
}

fn of_method(rule: &MethodRule) -> Option<&'static str> {
    Some(match rule {
        MethodRule::Small(_) => "small",
        MethodRule::PreBlend(_) => "pre-blend",
        MethodRule::Step(_) => "step",
        MethodRule::Weigh(_) => "weigh",
        MethodRule::Even(_) => "even",
        MethodRule::Floor(_) | MethodRule::In(_) => "floor",
        MethodRule::Lift(_) => "lift",
        MethodRule::Turn(_) => "turn",
        MethodRule::Portions(_) => "portions",
        MethodRule::Accept(_) => return None,
    })
}

fn of_group(statement: &GroupStatement) -> Option<&'static str> {
    Some(match statement {
        GroupStatement::Placed { .. } => "placed on",
        GroupStatement::MixFor(_) => "mix for",
        _ => return None,
    })
}

fn of_record(statement: &RecordStatement) -> Option<&'static str> {
    Some(match statement {
        RecordStatement::Made { .. } => "made",
        RecordStatement::Batch(_) => "batch",
        _ => return None,
    })
}
