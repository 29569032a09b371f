//! Findings that the text accepts, with a reason.

use trug_findings::{Acceptance, Code, FileId, Finding, Place, Span};
use trug_syntax::tree::{
    Accept, GroupStatement, IngredientStatement, ItemBody, LotStatement, MethodRule,
    RationStatement, RecordStatement,
};

use crate::farm::Farm;
use crate::findings::{self, accept};

/// The families that are only judged when a plan is made.
const PLANNED: [&str; 5] = ["mix", "weigh", "vessel", "store", "cost"];

/// The acceptances of one text.
#[derive(Debug)]
pub struct Acceptances {
    file: FileId,
    all: Vec<One>,
}

#[derive(Debug)]
struct One {
    accept: Accept,
    /// Where it silences: its line, or its item.
    range: Span,
    /// Rank of its item.
    item: usize,
}

impl Acceptances {
    /// All acceptances of a text.
    #[must_use]
    pub fn of(farm: &Farm, file: FileId) -> Acceptances {
        let mut all = Vec::new();
        for (rank, item) in farm.tree(file).items.iter().enumerate() {
            for (accept, line) in written(&item.body) {
                let range = line.unwrap_or(item.whole);
                all.push(One {
                    accept: accept.clone(),
                    range,
                    item: rank,
                });
            }
        }
        Acceptances { file, all }
    }

    /// Marks the findings that are accepted, and says which acceptances may not silence or silence nothing.
    pub(crate) fn settle(&self, judged: &[usize], findings: &mut Vec<Finding>) {
        let used = self.mark(findings);
        for (one, is_used) in self.all.iter().zip(used) {
            let code = one.accept.code.text.as_str();
            let code_place = Place::new(self.file, one.accept.code.span);
            match known(code) {
                Some(known) if !known.may_be_accepted() => {
                    findings.push(accept::refused(code_place, code))
                }
                Some(_) if !is_used && judged.contains(&one.item) => {
                    findings.push(accept::unused(Place::new(self.file, one.accept.span), code));
                }
                Some(_) => {}
                None if is_planned(code) => {}
                None => findings.push(accept::unknown(code_place, code)),
            }
        }
    }

    /// Says which acceptances of findings that only planning makes silence nothing in the item at `item`.
    pub fn settle_planned(&self, item: Span, findings: &mut Vec<Finding>) {
        let used = self.mark(findings);
        for (one, is_used) in self.all.iter().zip(used) {
            let code = one.accept.code.text.as_str();
            let sits_in_item =
                item.start <= one.accept.span.start && one.accept.span.end <= item.end;
            if sits_in_item && !is_used && is_planned(code) && is_made(code) {
                findings.push(accept::unused(Place::new(self.file, one.accept.span), code));
            }
        }
    }

    /// Marks accepted findings; which acceptances were of use.
    fn mark(&self, findings: &mut [Finding]) -> Vec<bool> {
        let mut used = vec![false; self.all.len()];
        for finding in findings {
            if finding.place.file != self.file || !finding.code.may_be_accepted() {
                continue;
            }
            for (one, used) in self.all.iter().zip(&mut used) {
                let start = finding.place.span.start;
                let is_there = one.range.start <= start && start <= one.range.end;
                if is_there && one.accept.code.text == finding.code.name {
                    *used = true;
                    finding.accepted.get_or_insert_with(|| Acceptance {
                        reason: one.accept.reason.text.clone(),
                        place: Place::new(self.file, one.accept.span),
                    });
                }
            }
        }
        used
    }
}

fn known(code: &str) -> Option<&'static Code> {
    let families = findings::ALL
        .iter()
        .chain(std::iter::once(&trug_syntax::findings::ALL));
    families
        .flat_map(|family| family.iter())
        .find(|known| known.name == code)
        .copied()
}

fn is_planned(code: &str) -> bool {
    code.split_once('/')
        .is_some_and(|(family, _)| PLANNED.contains(&family))
}

/// The families this version judges when it plans.
fn is_made(code: &str) -> bool {
    ["mix/", "weigh/", "vessel/"]
        .iter()
        .any(|family| code.starts_with(family))
}

/// The acceptances of an item: those at the end of a line with that line's place, the others with none.
fn written(body: &ItemBody) -> Vec<(&Accept, Option<Span>)> {
    match body {
        ItemBody::Ration(ration) => ration
            .lines
            .iter()
            .filter_map(|line| match &line.statement {
                RationStatement::Accept(accept) => Some((accept, None)),
                RationStatement::Amount(amount) => amount
                    .clauses
                    .accept
                    .as_ref()
                    .map(|accept| (accept, Some(line.span))),
                _ => None,
            })
            .collect(),
        ItemBody::Ingredient(ingredient) => {
            of_lines(&ingredient.lines, |line| match &line.statement {
                IngredientStatement::Accept(accept) => Some(accept),
                _ => None,
            })
        }
        ItemBody::Lot(lot) => of_lines(&lot.lines, |line| match &line.statement {
            LotStatement::Accept(accept) => Some(accept),
            _ => None,
        }),
        ItemBody::Method(method) => of_lines(&method.lines, |line| match &line.rule {
            Some(MethodRule::Accept(accept)) => Some(accept),
            _ => None,
        }),
        ItemBody::Group(group) => of_lines(&group.lines, |line| match &line.statement {
            Some(GroupStatement::Accept(accept)) => Some(accept),
            _ => None,
        }),
        ItemBody::Record(record) => of_lines(&record.lines, |line| match &line.statement {
            Some(RecordStatement::Accept(accept)) => Some(accept),
            _ => None,
        }),
        _ => Vec::new(),
    }
}

fn of_lines<Line>(
    lines: &[Line],
    accept: impl Fn(&Line) -> Option<&Accept>,
) -> Vec<(&Accept, Option<Span>)> {
    lines
        .iter()
        .filter_map(|line| Some((accept(line)?, None)))
        .collect()
}
