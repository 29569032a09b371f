//! Judges what is done on the farm: what groups eat, and what was mixed.

use trug_findings::{Finding, Place};
use trug_syntax::tree::{self, Date, GroupStatement, ItemBody, Name, RecordStatement};

use super::phases;
use crate::farm::Namespace;
use crate::findings::{data, harm, name, target};
use crate::judge;
use crate::ration::Ration;
use crate::view::{View, Wants, count};

pub(super) fn group(
    view: &View<'_>,
    item: &tree::Item,
    written: &tree::Group,
    findings: &mut Vec<Finding>,
) {
    let file = view.scope.own();
    let mut animals: Vec<&Name> = Vec::new();
    // The animals first, wherever they stand: what is eaten is judged for each of them.
    for line in &written.lines {
        if let Some(GroupStatement::Animals {
            count: written,
            animal,
        }) = &line.statement
        {
            count(written, file, findings);
            if view.knows(Namespace::Animal, animal, view.place(animal.span), findings) {
                animals.push(animal);
            }
        }
    }
    for line in &written.lines {
        match &line.statement {
            Some(GroupStatement::Eats {
                ration,
                intake,
                from,
                to,
            }) => {
                eats(view, ration, &animals, findings);
                if let Some(intake) = intake {
                    view.positive(intake, &Wants::DAILY_MASS, file, findings);
                }
                days(view, from.as_ref(), to.as_ref(), findings);
            }
            Some(GroupStatement::MixFor(time)) => {
                view.positive(time, &Wants::TIME, file, findings);
            }
            Some(
                GroupStatement::Animals { .. }
                | GroupStatement::Placed { .. }
                | GroupStatement::Accept(_),
            )
            | None => {}
        }
    }
    view.placed(written, file, findings);
    phases::group(view, (item, written), findings);
}

/// What a group is fed must be fit for every kind of animal in it.
fn eats(view: &View<'_>, written: &Name, animals: &[&Name], findings: &mut Vec<Finding>) {
    let place = view.place(written.span);
    if !view.knows(Namespace::Feed, written, place, findings) {
        return;
    }
    let Some(ration) = view.ration(&written.text) else {
        let item = view
            .find(Namespace::Feed, &written.text)
            .any()
            .map(|item| view.item(item));
        if item.is_some_and(|item| matches!(item.body, ItemBody::Ingredient(_))) {
            findings.push(name::no_ration(place, &written.text));
        }
        return;
    };
    fit_for(view, &ration, animals, place, findings);
}

/// Says at `place` for which of these animals a ration is not made.
fn fit_for(
    view: &View<'_>,
    ration: &Ration,
    animals: &[&Name],
    place: Place,
    findings: &mut Vec<Finding>,
) {
    if ration.for_mixing {
        findings.push(harm::fed_unmixed(place, &ration.name, ration.place));
    }
    for animal in animals {
        if let Some(fed_to) = &ration.animal
            && view.steps_up(&animal.text, fed_to).is_none()
        {
            findings.push(target::group_animal(
                place,
                &ration.name,
                (fed_to, ration.place),
                &animal.text,
            ));
        }
        findings.extend(judge::for_other_animal(view, ration, &animal.text, place));
    }
}

/// What a group was fed that it does not eat by its own lines must be fit for its animals all the same.
fn fed_to(view: &View<'_>, of: &Name, group: &Name, findings: &mut Vec<Finding>) {
    let found = view.find(Namespace::Group, &group.text).any();
    let (Some(ration), Some(item)) = (view.ration(&of.text), found.map(|at| view.item(at))) else {
        return;
    };
    let ItemBody::Group(fed) = &item.body else {
        return;
    };
    if view.order_of(&group.text, &ration).is_some() {
        return;
    }
    let place = view.place(group.span);
    let animals = fed.lines.iter().filter_map(|line| match &line.statement {
        Some(GroupStatement::Animals { animal, .. }) => Some(animal),
        _ => None,
    });
    let animals: Vec<&Name> = animals
        .filter(|animal| view.find(Namespace::Animal, &animal.text).any().is_some())
        .collect();
    fit_for(view, &ration, &animals, place, findings);
}

fn days(view: &View<'_>, from: Option<&Date>, to: Option<&Date>, findings: &mut Vec<Finding>) {
    if let (Some(from), Some(to)) = (from, to) {
        let key = |date: &Date| (date.year, date.month, date.day);
        if key(to) < key(from) {
            findings.push(data::days_backwards(
                view.place(to.span),
                view.place(from.span),
            ));
        }
    }
}

pub(super) fn record(view: &View<'_>, written: &tree::Record, findings: &mut Vec<Finding>) {
    let file = view.scope.own();
    let place = view.place(written.of.span);
    if view.knows(Namespace::Feed, &written.of, place, findings)
        && view.ingredient(&written.of.text).is_some()
    {
        findings.push(name::no_ration(place, &written.of.text));
    }
    for line in &written.lines {
        match &line.statement {
            Some(RecordStatement::Batch(mass)) => {
                view.positive(mass, &Wants::MASS, file, findings);
            }
            Some(RecordStatement::Weighed {
                ingredient,
                mass,
                lot,
            }) => {
                let is_known = view.knows(
                    Namespace::Feed,
                    ingredient,
                    view.place(ingredient.span),
                    findings,
                );
                let reader = view.reader_of(file, &ingredient.text);
                reader.quantity(mass, &Wants::MASS, findings);
                if let (true, Some(lot)) = (is_known, lot) {
                    weighed_lot(view, ingredient, lot, findings);
                }
            }
            Some(sampled @ RecordStatement::Sampled { .. }) => {
                view.sampled(sampled, file, findings);
            }
            Some(RecordStatement::FedTo { group, from, to }) => {
                if view.knows(Namespace::Group, group, view.place(group.span), findings) {
                    fed_to(view, &written.of, group, findings);
                    phases::fed_on(
                        view,
                        &written.of,
                        (group, from.as_ref(), to.as_ref()),
                        findings,
                    );
                }
                days(view, from.as_ref(), to.as_ref(), findings);
            }
            Some(RecordStatement::Made { .. } | RecordStatement::Accept(_)) | None => {}
        }
    }
}

fn weighed_lot(view: &View<'_>, ingredient: &Name, lot: &Name, findings: &mut Vec<Finding>) {
    let place = view.place(lot.span);
    // A mix made beforehand is told apart by its record.
    let is_lot = view.find(Namespace::Lot, &lot.text).any().is_some();
    if let Some(record) = view.record_called(&lot.text).filter(|_| !is_lot) {
        if record.of != ingredient.text {
            findings.push(data::lot(
                place,
                &lot.text,
                &record.of,
                &ingredient.text,
                record.place,
            ));
        }
        return;
    }
    if !view.knows(Namespace::Lot, lot, place, findings) {
        return;
    }
    if let Some(known) = view.lot(&lot.text)
        && known.of != ingredient.text
    {
        findings.push(data::lot(
            place,
            &lot.text,
            &known.of,
            &ingredient.text,
            known.place,
        ));
    }
}
