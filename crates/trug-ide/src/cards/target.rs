//! A target against the value in each ration that meets it, and targets on one card.

use std::sync::Arc;

use trug_findings::{FileId, Place};
use trug_model::ration::Ration;
use trug_model::{Namespace, View};
use trug_syntax::tree::{ItemBody, Target};

use super::amount::{met, now};
use super::{origin, text_at};
use crate::fed;
use crate::markdown::{heading, paragraphs, plain, points, table, typed};

/// So many rations are looked at for one answer.
const MOST_RATIONS: usize = 8;

/// The rations of the view's own text that meet these targets.
pub(crate) fn meeting(view: &View<'_>, targets: &str) -> Vec<Arc<Ration>> {
    let named = view.farm().rations(view.file()).into_iter();
    let made = named.filter_map(|named| view.made_out(&named.name));
    let meets =
        |made: &Arc<Ration>| made.is_sound && made.meets.iter().any(|(met, _)| met == targets);
    made.filter(meets).take(MOST_RATIONS).collect()
}

/// One target: what each ration that meets it holds now.
pub(crate) fn target(view: &View<'_>, file: FileId, targets: &str, target: &Target) -> String {
    let at = |span| text_at(view.farm(), Place::new(file, span));
    let head = format!(
        "**{}** {}",
        plain(&at(target.of.span)),
        plain(&at(target.bound.span))
    );
    let place = Place::new(file, target.bound.span);
    let mut rows = Vec::new();
    for ration in meeting(view, targets) {
        for bound in &view.additions_of(&ration, targets, Some(place)) {
            let basis = if bound.basis == "ratio" {
                ""
            } else {
                &bound.basis
            };
            rows.push(vec![
                typed(&ration.name),
                now(bound),
                plain(basis),
                met(bound.met).to_owned(),
            ]);
        }
    }
    let none = match rows.is_empty() {
        true => format!("No ration of this text meets {}.", typed(targets)),
        false => String::new(),
    };
    let from = format!("written in {}", plain(&origin(view.farm(), place)));
    let rations = table(&["ration", "now", "", ""], &rows);
    paragraphs([head, from, none, rations])
}

pub(super) fn targets(view: &View<'_>, name: &str) -> Option<String> {
    let (file, item) = view.declaration(Namespace::Targets, name)?;
    let ItemBody::Targets(written) = &item.body else {
        return None;
    };
    let label = written.label.as_ref().map(|label| label.text.as_str());
    let kind = written.for_animal.as_ref().map_or_else(
        || "targets".to_owned(),
        |animal| format!("targets for {}", typed(&animal.text)),
    );
    let at = |span| plain(&text_at(view.farm(), Place::new(file, span)));
    let bounds: Vec<Vec<String>> = written
        .lines
        .iter()
        .filter_map(|line| line.target.as_ref())
        .map(|target| {
            let from = origin(view.farm(), Place::new(file, target.bound.span));
            vec![at(target.of.span), at(target.bound.span), plain(&from)]
        })
        .collect();
    let mut told = Vec::new();
    for ration in meeting(view, name) {
        let own = view.additions_of(&ration, name, None);
        let missed = own.iter().filter(|bound| bound.met == Some(false)).count();
        let undecided = own.iter().filter(|bound| bound.met.is_none()).count();
        let met = own.len() - missed - undecided;
        told.push(format!(
            "{}: {met} met, {missed} missed, {undecided} undecided",
            typed(&ration.name)
        ));
    }
    if let Some(phase) = view.phase_of_targets(name) {
        told.insert(0, format!("for {} of age", phase.words()));
        told.extend(fed::in_phase(view, name, &phase));
    }
    let head = heading(label, name, &kind);
    Some(paragraphs([
        head,
        table(&["bounded", "bound", "written in"], &bounds),
        points(&told),
    ]))
}
