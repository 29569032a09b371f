//! The lines of a ration, its own over those of the ration it is like.

use std::collections::BTreeSet;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, Amount, AmountForm, Clauses, ItemBody, Name, RationStatement};

use super::MOST_INGREDIENTS;
use crate::Q;
use crate::farm::Namespace;
use crate::findings::{amount, name};
use crate::quantity::Range;
use crate::view::View;

/// A statement and the text it stands in.
pub(super) type In<'farm, T> = (&'farm T, FileId);

/// A ration's lines before their amounts are made out.
#[derive(Clone)]
pub(super) struct Draft<'farm> {
    pub(super) name: SmolStr,
    pub(super) label: Option<String>,
    pub(super) place: Place,
    pub(super) animal: Option<In<'farm, Name>>,
    pub(super) for_mixing: bool,
    pub(super) meets: Vec<In<'farm, Name>>,
    pub(super) batch: Option<In<'farm, tree::Quantity>>,
    pub(super) method: Option<In<'farm, Name>>,
    pub(super) intake: Option<In<'farm, tree::Quantity>>,
    pub(super) keeps: Option<In<'farm, tree::Quantity>>,
    pub(super) certainty: Option<In<'farm, tree::Quantity>>,
    pub(super) beside: Vec<(In<'farm, Name>, &'farm tree::Quantity, bool)>,
    pub(super) limits: Vec<(In<'farm, tree::Expression>, &'farm tree::Bound, bool)>,
    pub(super) lines: Vec<DraftLine<'farm>>,
    pub(super) is_sound: bool,
    /// The ration it is like can be made out, so what cannot be made out here is this ration's doing.
    pub(super) is_of_sound: bool,
    /// It takes over all amounts of one whose sum is off: that ration says so.
    pub(super) repeats_a_wrong_sum: bool,
}

/// One ingredient's line before its amount is made out.
#[derive(Clone)]
pub(super) struct DraftLine<'farm> {
    pub(super) name: Name,
    /// Where the name stands; where one ingredient replaces another, not beside the amount.
    pub(super) named_at: Place,
    /// This ration puts its ingredient in the place of an inherited one.
    pub(super) is_replaced: bool,
    /// Where the amount stands.
    pub(super) file: FileId,
    pub(super) form: Form<'farm>,
    pub(super) span: Span,
    pub(super) clauses: Clauses,
    /// The range of an inherited `within`: masses of it were for the other ration's batch.
    pub(super) within: Option<Range>,
    pub(super) is_inherited: bool,
}

/// An amount as written, or a mass of the ration this one is like, which keeps its share there.
#[derive(Clone)]
pub(super) enum Form<'farm> {
    Written(&'farm AmountForm),
    Share(Q),
    /// An open mass of the ration this one is like, with the shares it keeps.
    Open(Q, Q),
}

/// Draws up the lines of a ration, whose chain of `like` must end. None where the name is no readable ration.
pub(super) fn draft<'farm>(
    view: &View<'farm>,
    name: &str,
    findings: &mut Vec<Finding>,
) -> Option<Draft<'farm>> {
    let item_ref = view.find(Namespace::Feed, name).any()?;
    let item = view.item(item_ref);
    let ItemBody::Ration(written) = &item.body else {
        return None;
    };
    let file = item_ref.file;
    let place = Place::new(file, written.name.span);
    let mut draft = match &written.like {
        None => Draft::empty(name, place),
        Some(like) => match inherited(view, like, file, findings) {
            Some(parent) => parent,
            None => Draft {
                is_sound: false,
                ..Draft::empty(name, place)
            },
        },
    };
    draft.name = SmolStr::new(name);
    draft.place = place;
    draft.label = written.label.as_ref().map(|label| label.text.clone());
    draft.is_sound &= !item.has_unread_line;
    draft.take(written, file, findings);
    if MOST_INGREDIENTS < draft.lines.len() {
        let lines = draft.lines.len();
        findings.push(amount::too_many(place, name, lines, MOST_INGREDIENTS));
        draft.lines = Vec::new();
        draft.is_sound = false;
    }
    Some(draft)
}

/// The lines a ration takes over. Acceptances are not taken over, and a mass keeps its share.
fn inherited<'farm>(
    view: &View<'farm>,
    like: &Name,
    file: FileId,
    findings: &mut Vec<Finding>,
) -> Option<Draft<'farm>> {
    let place = Place::new(file, like.span);
    if !view.knows(Namespace::Feed, like, place, findings) {
        return None;
    }
    let parent_item = view.find(Namespace::Feed, &like.text).any()?;
    if matches!(view.item(parent_item).body, ItemBody::Ingredient(_)) {
        findings.push(name::no_ration(place, &like.text));
        return None;
    }
    if !view.chain_ends(Namespace::Feed, &like.text) {
        return None;
    }
    let mut parent = draft(view, &like.text, &mut Vec::new())?;
    let settled = view.ration(&like.text);
    parent.is_of_sound = settled.as_ref().is_some_and(|ration| ration.is_sound);
    parent.repeats_a_wrong_sum = settled.as_ref().is_some_and(|ration| !ration.adds_up);
    for (rank, line) in parent.lines.iter_mut().enumerate() {
        line.is_inherited = true;
        line.is_replaced = false;
        line.clauses.accept = None;
        let same = settled.as_ref().and_then(|ration| ration.lines.get(rank));
        let same = same.filter(|same| same.name == line.name.text);
        line.within = same.and_then(|same| same.within.clone());
        if is_of_the_batch(&line.form) {
            match same {
                Some(same) if same.is_open => {
                    line.form = Form::Open(same.low.clone(), same.high.clone());
                }
                Some(same) => line.form = Form::Share(same.low.clone()),
                None => parent.is_sound = false,
            }
        }
    }
    for limit in &mut parent.limits {
        limit.2 = true;
    }
    for beside in &mut parent.beside {
        beside.2 = true;
    }
    Some(parent)
}

/// Whether an amount is a mass or a measure, which stands for a share of the batch it is written for.
fn is_of_the_batch(form: &Form<'_>) -> bool {
    let unit = match form {
        Form::Written(AmountForm::Fixed(quantity)) => quantity.unit.as_ref(),
        Form::Written(AmountForm::Open(bound)) => bound.unit.as_ref(),
        _ => None,
    };
    unit.is_some_and(|unit| unit.per.is_none() && unit.unit.text != "%" && unit.unit.text != "ppm")
}

impl<'farm> Draft<'farm> {
    fn empty(name: &str, place: Place) -> Draft<'farm> {
        Draft {
            name: SmolStr::new(name),
            label: None,
            place,
            animal: None,
            for_mixing: false,
            meets: Vec::new(),
            batch: None,
            method: None,
            intake: None,
            keeps: None,
            certainty: None,
            beside: Vec::new(),
            limits: Vec::new(),
            lines: Vec::new(),
            is_sound: true,
            is_of_sound: false,
            repeats_a_wrong_sum: false,
        }
    }

    /// Lays a ration's own lines over what it took over.
    fn take(&mut self, written: &'farm tree::Ration, file: FileId, findings: &mut Vec<Finding>) {
        let mut own_meets = Vec::new();
        let mut own_lines: Vec<DraftLine<'farm>> = Vec::new();
        for line in &written.lines {
            match &line.statement {
                RationStatement::For(animal) => {
                    self.animal = Some((animal, file));
                    self.for_mixing = false;
                }
                RationStatement::ForMixing => {
                    self.animal = None;
                    self.for_mixing = true;
                }
                RationStatement::Meets(targets) => own_meets.push((targets, file)),
                RationStatement::Batch(quantity) => self.batch = Some((quantity, file)),
                RationStatement::MixBy(method) => self.method = Some((method, file)),
                RationStatement::Intake(quantity) => self.intake = Some((quantity, file)),
                RationStatement::Keeps(quantity) => self.keeps = Some((quantity, file)),
                RationStatement::Certainty(quantity) => self.certainty = Some((quantity, file)),
                RationStatement::Beside { name, amount } => {
                    self.beside.push(((name, file), amount, false))
                }
                RationStatement::Limit { of, bound } => {
                    self.limits.push(((of, file), bound, false))
                }
                RationStatement::Accept(_) => {}
                RationStatement::Drop(name) => self.drop_line(name, file, findings),
                RationStatement::Replace { what, with } => self.replace(what, with, file, findings),
                RationStatement::Amount(amount) => own_lines.push(DraftLine::own(amount, file)),
                RationStatement::Unread(_) => {}
            }
        }
        if !own_meets.is_empty() {
            self.meets = own_meets;
        }
        let drops = |line: &tree::RationLine| matches!(line.statement, RationStatement::Drop(_));
        self.repeats_a_wrong_sum &= own_lines.is_empty() && !written.lines.iter().any(drops);
        self.lay_over(own_lines, findings);
    }

    fn drop_line(&mut self, name: &Name, file: FileId, findings: &mut Vec<Finding>) {
        let before = self.lines.len();
        self.lines.retain(|line| line.name.text != name.text);
        if self.lines.len() == before && self.is_sound {
            findings.push(amount::not_inherited(
                Place::new(file, name.span),
                &name.text,
                &self.name,
            ));
            self.is_sound = false;
        }
    }

    /// The new ingredient takes over the amount, not lot or class.
    fn replace(&mut self, what: &Name, with: &Name, file: FileId, findings: &mut Vec<Finding>) {
        let mut is_found = false;
        for line in &mut self.lines {
            if line.name.text == what.text {
                is_found = true;
                line.name = with.clone();
                line.named_at = Place::new(file, with.span);
                line.is_replaced = true;
                line.clauses.lot = None;
                line.clauses.carry = None;
                line.clauses.accept = None;
            }
        }
        if !is_found && self.is_sound {
            findings.push(amount::not_inherited(
                Place::new(file, what.span),
                &what.text,
                &self.name,
            ));
            self.is_sound = false;
        }
    }

    fn lay_over(&mut self, own: Vec<DraftLine<'farm>>, findings: &mut Vec<Finding>) {
        let own_rest = own
            .iter()
            .find(|line| matches!(line.form, Form::Written(AmountForm::Rest)));
        let has_own_rest =
            own_rest.map(|line| (line.name.text.clone(), Place::new(line.file, line.span)));
        let inherited = self.lines.iter().filter(|known| known.is_inherited);
        let inherited: BTreeSet<SmolStr> = inherited.map(|known| known.name.text.clone()).collect();
        for line in own {
            let mut lines = self.lines.iter();
            let replaces = inherited.contains(&line.name.text);
            let known = replaces
                .then(|| {
                    lines.position(|known| known.is_inherited && known.name.text == line.name.text)
                })
                .flatten();
            match known {
                Some(rank) => {
                    let name = line.name.text.clone();
                    self.lines[rank] = line;
                    // Further inherited lines of the same ingredient are replaced too.
                    self.lines
                        .retain(|other| !(other.is_inherited && other.name.text == name));
                }
                None => self.lines.push(line),
            }
        }
        let Some((new_rest, place)) = has_own_rest else {
            return;
        };
        let old_rest = self
            .lines
            .iter()
            .find(|line| line.is_inherited && matches!(line.form, Form::Written(AmountForm::Rest)));
        if let Some(old) = old_rest {
            findings.push(amount::rest_moved(
                place,
                &new_rest,
                &old.name.text,
                Place::new(old.file, old.span),
            ));
            self.is_sound = false;
        }
    }
}

impl<'farm> DraftLine<'farm> {
    fn own(amount: &'farm Amount, file: FileId) -> DraftLine<'farm> {
        DraftLine {
            name: amount.name.clone(),
            named_at: Place::new(file, amount.name.span),
            is_replaced: false,
            file,
            form: Form::Written(&amount.form),
            span: amount.span,
            clauses: amount.clauses.clone(),
            within: None,
            is_inherited: false,
        }
    }
}
