//! Says which targets, laws and harms a ration misses or leaves undecided.

use smol_str::SmolStr;
use trug_findings::{Finding, Place};
use trug_syntax::tree::ItemBody;

use super::bounds::{self, Bounded, Wanting};
use super::enemies;
use super::mix::{Asks, Mix};
use super::outcome::{End, Side, Verdict};
use super::unverified::Unverified;
use crate::Q;
use crate::analysis::BoundKind;
use crate::farm::Namespace;
use crate::findings::{basis, harm, law, target};
use crate::ration::Ration;
use crate::view::View;

/// What could not be decided, gathered into one finding for all targets and one for law and harm.
#[derive(Default)]
struct Undecided {
    targets: Vec<(String, Vec<SmolStr>, Place)>,
    harms: Vec<(String, Vec<SmolStr>, Place)>,
    dry_matter: Vec<SmolStr>,
    counted_as_fed: Vec<SmolStr>,
    as_fed_places: Vec<Place>,
    dry_matter_places: Vec<Place>,
    intake: Vec<(String, Place)>,
}

pub(super) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    judge_targets_animals(view, ration, findings);
    if ration.for_mixing {
        return;
    }
    let mut undecided = Undecided::default();
    let mut unverified = Unverified::new(view);
    for bounded in bounds::verdicts(view, ration) {
        unverified.bound(&bounded);
        match &bounded.wanting {
            Some(Wanting::Intake) if bounded.kind == BoundKind::Target => {
                undecided
                    .intake
                    .push((bounded.what.clone(), bounded.written));
            }
            Some(Wanting::Intake) => {
                undecided
                    .harms
                    .push((bounded.what.clone(), Vec::new(), bounded.written));
            }
            Some(Wanting::DryMatter(names)) => {
                add_names(&mut undecided.dry_matter, names);
                undecided.dry_matter_places.push(bounded.written);
            }
            None => {
                if !bounded.counted_as_fed.is_empty() {
                    add_names(&mut undecided.counted_as_fed, &bounded.counted_as_fed);
                    undecided.as_fed_places.push(bounded.written);
                }
                one(ration, &bounded, &mut undecided, findings);
            }
        }
    }
    undecided.say(ration, findings);
    unverified.say(ration, findings);
}

/// What harms an animal that is given a ration, or is against its law, at `place`, where the ration's own animal
/// does not say so already: it may be made for another, or for a kind this one is of, or for none.
pub(crate) fn for_other_animal(
    view: &View<'_>,
    ration: &Ration,
    animal: &str,
    place: Place,
) -> Vec<Finding> {
    let is_judgeable =
        ration.is_sound && ration.adds_up && ration.lines.iter().all(|line| line.feed.is_sound());
    if !is_judgeable {
        return Vec::new();
    }
    let mut findings = Vec::new();
    enemies::never_for(
        view,
        ration,
        animal,
        ration.animal.as_deref(),
        &mut findings,
    );
    let is_judged = |kind: &SmolStr| {
        let own = ration.animal.as_ref();
        own.is_some_and(|own| view.steps_up(own, kind).is_some())
    };
    let mut undecided = Vec::new();
    for bounded in bounds::of_animal(view, &Mix::of(ration).asking(Asks::Verdicts), animal) {
        if is_judged(&bounded.whose) {
            continue;
        }
        if bounded.met().is_none() {
            let blame = [&bounded.low, &bounded.high].into_iter().flatten();
            let blame = blame.flat_map(|side| side.blame.clone()).collect();
            undecided.push((bounded.what.clone(), blame, bounded.written));
        }
        for (end, side) in [(End::AtLeast, &bounded.low), (End::AtMost, &bounded.high)] {
            if let Some(side) = side.as_ref().filter(|side| side.verdict == Verdict::Missed) {
                findings.push(missed(ration, &bounded, side, end));
            }
        }
    }
    // Fed to another animal altogether, that is what it has to be told.
    let is_for_kind = |own: &SmolStr| view.steps_up(animal, own).is_some();
    if !undecided.is_empty() && ration.animal.as_ref().is_some_and(is_for_kind) {
        findings.push(harm::undecided(place, &ration.name, &undecided));
    }
    for finding in &mut findings {
        finding.place = place;
    }
    findings
}

fn judge_targets_animals(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    let Some(animal) = &ration.animal else { return };
    for (targets, place) in &ration.meets {
        for (item_ref, item) in view.items(Namespace::Targets, targets) {
            let ItemBody::Targets(written) = &item.body else {
                continue;
            };
            let Some(wanted) = &written.for_animal else {
                continue;
            };
            let is_known = view.animal(&wanted.text).is_some();
            if is_known && view.steps_up(animal, &wanted.text).is_none() {
                let written = Place::new(item_ref.file, wanted.span);
                let place = if place.file == ration.file {
                    *place
                } else {
                    ration.place
                };
                findings.push(target::animal(
                    place,
                    targets,
                    (&wanted.text, written),
                    animal,
                ));
            }
        }
    }
}

fn one(ration: &Ration, bounded: &Bounded, undecided: &mut Undecided, findings: &mut Vec<Finding>) {
    let sides = [(End::AtLeast, &bounded.low), (End::AtMost, &bounded.high)];
    for (end, side) in sides {
        let Some(side) = side else { continue };
        match side.verdict {
            Verdict::Met => uncertain(ration, bounded, side, findings),
            Verdict::Missed => findings.push(missed(ration, bounded, side, end)),
            Verdict::Undecided => {
                let entry = (bounded.what.clone(), side.blame.clone(), bounded.written);
                let list = match bounded.kind {
                    BoundKind::Target => &mut undecided.targets,
                    _ => &mut undecided.harms,
                };
                if list.last().is_none_or(|last| last.2 != entry.2) {
                    list.push(entry);
                }
            }
        }
    }
}

fn uncertain(ration: &Ration, bounded: &Bounded, side: &Side, findings: &mut Vec<Finding>) {
    let (Some(certainty), Some(probability)) = (&ration.certainty, side.probability) else {
        return;
    };
    if bounded.kind == BoundKind::Target && ration.is_fixed() && probability < certainty.to_f64() {
        let wanted = (certainty * Q::int(100)).to_string();
        let finding = target::uncertain(
            ration.place,
            &bounded.what,
            &bounded.range.words(),
            probability,
            &wanted,
        );
        findings.push(finding.also(bounded.written, format!("{} bounds it here", bounded.whose)));
    }
}

fn missed(ration: &Ration, bounded: &Bounded, side: &Side, end: End) -> Finding {
    let is_open = !ration.is_fixed();
    let (side_word, limit) = match end {
        End::AtLeast => ("below", &bounded.range.low),
        End::AtMost => ("above", &bounded.range.high),
    };
    let limit = limit.clone().unwrap_or_default();
    let unit = &bounded.range.unit;
    let value = side.nearest.as_ref();
    let value = value.map(|value| unit.say_apart(value, &limit));
    let value = value.unwrap_or_else(|| "out of reach".to_owned());
    let beyond = format!("{side_word} {}", unit.say_exactly(&limit));
    let told = target::Told {
        ration: &ration.name,
        what: &bounded.what,
        whose: &bounded.whose,
        value: &value,
        bound: &bounded.range.words(),
        beyond: &beyond,
        basis: &bounded.basis,
        is_best_of_open: is_open,
        reason: bounded.reason.as_deref(),
        written: bounded.written,
    };
    let place = match (bounded.only_source, end) {
        (Some(rank), End::AtMost) if bounded.kind != BoundKind::Target => ration.lines[rank].place,
        _ => ration.place,
    };
    match (bounded.kind, end) {
        (BoundKind::Target, End::AtLeast) => target::under(place, &told),
        (BoundKind::Target, End::AtMost) => target::over(place, &told),
        (BoundKind::Law, End::AtLeast) => law::under(place, &told),
        (BoundKind::Law, End::AtMost) => law::over(place, &told),
        _ => harm::animal(place, &told),
    }
}

impl Undecided {
    fn say(self, ration: &Ration, findings: &mut Vec<Finding>) {
        if !self.targets.is_empty() {
            findings.push(target::undecided(ration.place, &ration.name, &self.targets));
        }
        if !self.harms.is_empty() {
            findings.push(harm::undecided(ration.place, &ration.name, &self.harms));
        }
        if !self.dry_matter.is_empty() {
            findings.push(basis::targets_unknown(
                ration.place,
                &ration.name,
                &self.dry_matter,
                &self.dry_matter_places,
            ));
        }
        if !self.counted_as_fed.is_empty() {
            findings.push(basis::counted_as_fed(
                ration.place,
                &ration.name,
                &self.counted_as_fed,
                &self.as_fed_places,
            ));
        }
        if !self.intake.is_empty() {
            findings.push(target::intake(ration.place, &ration.name, &self.intake));
        }
    }
}

fn add_names(names: &mut Vec<SmolStr>, more: &[SmolStr]) {
    for name in more {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
}
