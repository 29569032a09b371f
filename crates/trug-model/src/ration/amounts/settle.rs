//! From the drafted lines to a ration: names, amounts, shares, the sum.

use smol_str::SmolStr;
use trug_findings::{Finding, Place};

use super::shares::{self, Shares};
use super::{Frame, blank, feed_of, is_as_fed, judge_clauses, place_of, sums};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::{amount, data};
use crate::quantity::Range;
use crate::ration::draft::{Draft, DraftLine, Form};
use crate::ration::quantified::{Quantified, Written, quantify};
use crate::ration::{Line, Ration};
use crate::view::{Feed, Method, View, Wants};

/// A drafted line with what its name and amount mean.
pub(super) struct Read<'draft, 'farm> {
    pub(super) draft: &'draft DraftLine<'farm>,
    pub(super) feed: Feed,
    pub(super) written: Written,
    pub(super) place: Place,
}

/// Makes out names, amounts and shares of a drafted ration.
pub(crate) fn settle(view: &View<'_>, draft: Draft<'_>, findings: &mut Vec<Finding>) -> Ration {
    let mut ration = blank(&draft);
    read_frame(view, &draft, &mut ration, findings);
    let mut has_amounts = true;
    let lines = read_lines(view, &draft, &mut has_amounts, findings);
    ration.is_sound &= has_amounts;
    if has_amounts && let Some(shares) = shares::share_out(&draft, &lines, &mut ration, findings) {
        ration.adds_up =
            draft.is_sound && sums::judge(view, &draft, &lines, &shares, &ration, findings);
        ration.lines = finish(view, &draft, lines, shares, &ration, findings);
    } else {
        ration.is_sound = false;
    }
    ration
}

fn read_frame(
    view: &View<'_>,
    draft: &Draft<'_>,
    ration: &mut Ration,
    findings: &mut Vec<Finding>,
) {
    let mut frame = Frame {
        view,
        is_sound: true,
    };
    let animal = frame.named(Namespace::Animal, draft.animal, findings);
    ration.animal = animal.map(|(animal, _)| animal);
    for targets in &draft.meets {
        ration
            .meets
            .extend(frame.named(Namespace::Targets, Some(*targets), findings));
    }
    ration.batch = frame.quantity(draft.batch, &Wants::MASS, findings);
    ration.method = frame.named(Namespace::Method, draft.method, findings);
    ration.intake = frame.quantity(draft.intake, &Wants::DAILY_MASS, findings);
    ration.keeps = frame.quantity(draft.keeps, &Wants::TIME, findings);
    ration.certainty = frame.quantity(draft.certainty, &Wants::PERCENT, findings);
    if let (Some(certainty), Some((written, file))) = (&ration.certainty, draft.certainty)
        && (*certainty >= Q::ONE || *certainty < Q::ratio(1, 2))
    {
        let place = Place::new(file, written.span);
        findings.push(data::outside(
            place,
            "certainty",
            &format!("{} %", certainty * Q::int(100)),
            "50 % or more, below 100 %",
        ));
        frame.is_sound = false;
    }
    ration.beside = frame.beside(draft, findings);
    ration.limits = frame.limits(draft, findings);
    ration.is_sound &= frame.is_sound;
}

fn read_lines<'draft, 'farm>(
    view: &View<'farm>,
    draft: &'draft Draft<'farm>,
    is_sound: &mut bool,
    findings: &mut Vec<Finding>,
) -> Vec<Read<'draft, 'farm>> {
    let is_rest = |line: &&DraftLine<'_>| {
        matches!(
            line.form,
            Form::Written(trug_syntax::tree::AmountForm::Rest)
        )
    };
    let mut rests = draft.lines.iter().filter(is_rest);
    let rest = rests.next();
    if let (Some(first), Some(second)) = (rest, rests.next()) {
        *is_sound = false;
        // Of two inherited ones the ration it is like says so; of one moved here, the draft did.
        if second.is_inherited || first.is_inherited {
            return Vec::new();
        }
        let first_place = Place::new(first.file, first.span);
        findings.push(amount::two_rests(
            place_of(draft, second),
            &second.name.text,
            first_place,
            &first.name.text,
        ));
    }
    let mut lines = Vec::with_capacity(draft.lines.len());
    for line in &draft.lines {
        let mut said = Vec::new();
        let feed = feed_of(view, line, &mut said);
        let read = feed.and_then(|feed| {
            let is_fine = judge_clauses(line, &mut said);
            let written = quantify(view, line, &feed, rest.is_some(), &mut said)?;
            is_fine.then_some(Read {
                draft: line,
                feed,
                written,
                place: place_of(draft, line),
            })
        });
        *is_sound &= read.is_some();
        lines.extend(read);
        say_here(draft, line, said, findings);
    }
    lines
}

/// What is wrong with an inherited line is said where it is written, but what only this ration makes
/// wrong, here: it took the rest away, or put another ingredient in the place of the first.
fn say_here(
    draft: &Draft<'_>,
    line: &DraftLine<'_>,
    said: Vec<Finding>,
    findings: &mut Vec<Finding>,
) {
    if !line.is_inherited {
        findings.extend(said);
    } else if draft.is_of_sound {
        let place = place_of(draft, line);
        findings.extend(said.into_iter().map(|finding| Finding {
            place,
            fixes: if finding.place == place {
                finding.fixes
            } else {
                Vec::new()
            },
            ..finding
        }));
    }
}

fn finish(
    view: &View<'_>,
    draft: &Draft<'_>,
    lines: Vec<Read<'_, '_>>,
    shares: Shares,
    ration: &Ration,
    findings: &mut Vec<Finding>,
) -> Vec<Line> {
    let small = ration
        .method
        .as_ref()
        .and_then(|(name, _)| view.method(name, &mut Vec::new()));
    let small = small.unwrap_or_else(|| Method::common(draft.place)).small;
    let mut finished = Vec::with_capacity(lines.len());
    for (read, (low, high)) in lines.into_iter().zip(shares.ranges) {
        let line = read.draft;
        if read.written.is_by_measure
            && !line.is_inherited
            && high < small
            && !read.feed_is_liquid()
        {
            findings.push(amount::by_measure(read.place, &line.name.text, &high));
        }
        let clauses = &line.clauses;
        finished.push(Line {
            name: line.name.text.clone(),
            place: read.place,
            named: Place::new(line.file, line.name.span),
            written: Place::new(line.file, line.span),
            is_share: matches!(read.written.amount, Quantified::Share(_, None))
                && !read.written.gives_active,
            is_open: matches!(
                read.written.amount,
                Quantified::Open(_) | Quantified::OpenMass(_)
            ),
            or_none: clauses.or_none.is_some(),
            on_top: clauses.on_top.is_some(),
            is_rest: matches!(read.written.amount, Quantified::Rest),
            gives_active: read.written.gives_active,
            is_by_measure: read.written.is_by_measure,
            carry: clauses.carry.map(|(carry, _)| carry),
            lot: clauses.lot.as_ref().map(|lot| lot.text.clone()),
            within: within(view, line, shares.batch.as_ref(), findings),
            open: open(&read.written.amount, shares.batch.as_ref()),
            is_inherited: line.is_inherited,
            feed: read.feed,
            low,
            high,
        });
    }
    finished
}

impl Read<'_, '_> {
    pub(super) fn name(&self) -> &SmolStr {
        &self.draft.name.text
    }

    pub(super) fn is_on_top(&self) -> bool {
        self.draft.clauses.on_top.is_some()
    }

    fn feed_is_liquid(&self) -> bool {
        matches!(&self.feed, Feed::Ingredient(ingredient) if ingredient.is_liquid())
    }
}

/// The range a written amount must keep, as fractions of the 100 %.
fn within(
    view: &View<'_>,
    line: &DraftLine<'_>,
    batch: Option<&Q>,
    findings: &mut Vec<Finding>,
) -> Option<Range> {
    let bound = line.clauses.within.as_ref()?;
    if line.is_inherited {
        return line.within.clone();
    }
    let reader = view.reader_of(line.file, &line.name.text);
    let range = reader.range(bound, &Wants::AMOUNT, findings)?;
    if !is_as_fed(&range, line.file, findings) {
        return None;
    }
    as_share(range, batch)
}

/// The range an amount is chosen from, as fractions of the 100 %.
fn open(amount: &Quantified, batch: Option<&Q>) -> Option<Range> {
    match amount {
        Quantified::Open(range) | Quantified::OpenMass(range) => as_share(range.clone(), batch),
        _ => None,
    }
}

/// A range of masses as one of shares: a mass is for the batch named.
fn as_share(mut range: Range, batch: Option<&Q>) -> Option<Range> {
    if range.dimension.is_share() {
        return Some(range);
    }
    let batch = batch?;
    range.low = range.low.and_then(|low| low.over(batch));
    range.high = range.high.and_then(|high| high.over(batch));
    range.unit.factor = range.unit.factor.over(batch)?;
    Some(range)
}
