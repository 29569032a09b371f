//! Makes the amounts of a ration out: shares of the whole, exactly.

mod settle;
mod shares;
mod sums;

use std::sync::{Arc, OnceLock};

use trug_findings::{Finding, Place};
use trug_syntax::tree;

use super::draft::{Draft, DraftLine, In};
use super::{Beside, Limit, Line, Ration};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::{amount, basis, data};
use crate::quantity::Basis;
use crate::view::{Feed, View, Wants};

pub(super) use settle::settle;

/// Reads the lines of a ration that are no amounts.
struct Frame<'view, 'farm> {
    view: &'view View<'farm>,
    is_sound: bool,
}

impl<'farm> Frame<'_, 'farm> {
    fn named(
        &mut self,
        namespace: Namespace,
        written: Option<In<'farm, tree::Name>>,
        findings: &mut Vec<Finding>,
    ) -> Option<(smol_str::SmolStr, Place)> {
        let (written, file) = written?;
        let place = Place::new(file, written.span);
        if self.view.knows(namespace, written, place, findings) {
            Some((written.text.clone(), place))
        } else {
            self.is_sound = false;
            None
        }
    }

    fn quantity(
        &mut self,
        written: Option<In<'farm, tree::Quantity>>,
        wants: &Wants,
        findings: &mut Vec<Finding>,
    ) -> Option<Q> {
        let (written, file) = written?;
        let value = self.view.positive(written, wants, file, findings);
        self.is_sound &= value.is_some();
        value
    }

    fn beside(&mut self, draft: &Draft<'farm>, findings: &mut Vec<Finding>) -> Vec<Beside> {
        let mut beside = Vec::new();
        for ((written, file), amount, is_inherited) in &draft.beside {
            let place = Place::new(*file, written.span);
            let is_known = self.view.knows(Namespace::Feed, written, place, findings);
            let feed = is_known.then(|| self.view.feed(&written.text)).flatten();
            let amount = self
                .view
                .positive(amount, &Wants::DAILY_MASS, *file, findings);
            match (feed, amount) {
                (Some(feed), Some(amount)) if feed.is_sound() => beside.push(Beside {
                    feed,
                    name: written.text.clone(),
                    place: if *is_inherited { draft.place } else { place },
                    amount,
                }),
                _ => self.is_sound = false,
            }
        }
        beside
    }

    /// The bounds on sums of inclusions; every name in them must be a line of the ration.
    fn limits(&mut self, draft: &Draft<'farm>, findings: &mut Vec<Finding>) -> Vec<Limit> {
        let mut limits = Vec::new();
        for ((expression, file), bound, is_inherited) in &draft.limits {
            let mut silent = Vec::new();
            let out = if *is_inherited {
                &mut silent
            } else {
                &mut *findings
            };
            let reader = self.view.reader(*file);
            let range = match (&expression.over, &bound.unit) {
                (Some(_), None) => Some(reader.plain_range(bound)),
                _ => reader.range(bound, &Wants::SHARE, out),
            };
            let range = range.filter(|range| is_as_fed(range, *file, out));
            let above = self.inclusions(&expression.sum, *file, draft, out);
            let below = expression.over.as_ref();
            let below = below.map(|sum| self.inclusions(sum, *file, draft, out));
            let words = self.view.farm.text_of(Place::new(*file, expression.span));
            let (Some(range), Some(above), false) = (range, above, matches!(below, Some(None)))
            else {
                self.is_sound = false;
                continue;
            };
            let written = Place::new(*file, bound.span);
            limits.push(Limit {
                above,
                below: below.flatten(),
                range,
                words: words.split_whitespace().collect::<Vec<_>>().join(" "),
                place: if *is_inherited { draft.place } else { written },
                written,
            });
        }
        limits
    }

    fn inclusions(
        &self,
        sum: &tree::Sum,
        file: trug_findings::FileId,
        draft: &Draft<'farm>,
        findings: &mut Vec<Finding>,
    ) -> Option<Vec<(Q, smol_str::SmolStr)>> {
        let mut terms = Vec::new();
        let mut is_sound = true;
        for term in &sum.terms {
            let place = Place::new(file, term.name.span);
            let mut factor = if term.is_subtracted {
                Q::int(-1)
            } else {
                Q::ONE
            };
            for by in &term.factors {
                let read = self.view.reader(file).factor(&by.quantity, findings)?;
                factor = if by.divides {
                    factor.over(&read.factor)?
                } else {
                    factor * read.factor
                };
            }
            // A name that is no line of this ration counts nothing; it must be known all the same.
            if !draft
                .lines
                .iter()
                .any(|line| line.name.text == term.name.text)
            {
                is_sound &= self
                    .view
                    .knows(Namespace::Feed, &term.name, place, findings);
            }
            terms.push((factor, term.name.text.clone()));
        }
        is_sound.then_some(terms)
    }
}

/// Whether a bound of inclusions is as fed, like the inclusions. Says so where it is not.
fn is_as_fed(
    range: &crate::quantity::Range,
    file: trug_findings::FileId,
    findings: &mut Vec<Finding>,
) -> bool {
    match &range.basis {
        None | Some(Basis::AsFed) => true,
        Some(other) => {
            let place = Place::new(file, range.span);
            findings.push(basis::inclusion(place, &other.words()));
            false
        }
    }
}

/// The feed a line names, as the delivery on the line was analysed. Says what is wrong; none then.
fn feed_of(view: &View<'_>, line: &DraftLine<'_>, findings: &mut Vec<Finding>) -> Option<Feed> {
    let place = line.named_at;
    if !view.knows(Namespace::Feed, &line.name, place, findings) {
        return None;
    }
    let feed = view.feed(&line.name.text)?;
    let Some(lot) = &line.clauses.lot else {
        return Some(feed);
    };
    let lot_place = Place::new(line.file, lot.span);
    if !view.knows(Namespace::Lot, lot, lot_place, findings) {
        return None;
    }
    let known = view.lot(&lot.text)?;
    match feed {
        Feed::Ingredient(ingredient) if known.of == line.name.text => {
            let delivered = view.ingredient_of_lot(&ingredient, &lot.text, &mut Vec::new());
            Some(Feed::Ingredient(Arc::new(delivered)))
        }
        _ => {
            findings.push(data::lot(
                lot_place,
                &lot.text,
                &known.of,
                &line.name.text,
                known.place,
            ));
            None
        }
    }
}

/// Where a finding about a line stands: an inherited line has no place of its own in this ration.
fn place_of(draft: &Draft<'_>, line: &DraftLine<'_>) -> Place {
    match (line.is_inherited, line.is_replaced) {
        (true, true) => line.named_at,
        (true, false) => draft.place,
        (false, _) => Place::new(line.file, line.span),
    }
}

/// Clauses that do not go with the form of the amount.
fn judge_clauses(line: &DraftLine<'_>, findings: &mut Vec<Finding>) -> bool {
    use trug_syntax::tree::AmountForm;
    let super::draft::Form::Written(form) = &line.form else {
        return true;
    };
    let is_fixed = matches!(form, AmountForm::Fixed(_) | AmountForm::Giving { .. });
    if let Some(on_top) = line.clauses.on_top
        && (!is_fixed || line.clauses.within.is_some() || line.clauses.or_none.is_some())
    {
        findings.push(amount::open_top(
            Place::new(line.file, on_top),
            &line.name.text,
        ));
        return false;
    }
    true
}

fn blank(draft: &Draft<'_>) -> Ration {
    Ration {
        name: draft.name.clone(),
        label: draft.label.clone(),
        place: draft.place,
        file: draft.place.file,
        animal: None,
        for_mixing: draft.for_mixing,
        lines: Vec::<Line>::new(),
        meets: Vec::new(),
        batch: None,
        method: None,
        intake: None,
        keeps: None,
        beside: Vec::new(),
        limits: Vec::new(),
        certainty: None,
        is_sound: draft.is_sound,
        adds_up: false,
        is_per_day: false,
        leaves: OnceLock::new(),
    }
}
