//! Judges every text of a farm, each alone with what it uses.

mod accepted;
mod doings;
mod items;
mod once;
pub(crate) mod phases;
mod tables;

use std::collections::BTreeSet;

use rayon::prelude::*;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{Item, ItemBody};

use crate::farm::{Farm, Namespace, Scope, names};
use crate::findings::{name, store, used};
use crate::view::View;

pub use accepted::Acceptances;

/// Says more of a text than can be said without planning, before it is settled what is accepted. It sees what was found.
pub type More<'more> = &'more (dyn Fn(&View<'_>, &mut Vec<Finding>) + Sync);

impl Farm {
    /// Everything there is to say about the texts asked for and the texts they use, in the order of files and places.
    ///
    /// Texts are judged in parallel; the order does not depend on it.
    #[must_use]
    pub fn check(&self) -> Vec<Finding> {
        self.check_with(None, &|| {})
    }

    /// The same, with what `more` has to say of each text, and telling `done` each time a text is judged.
    pub fn check_with(&self, more: Option<More<'_>>, done: &(dyn Fn() + Sync)) -> Vec<Finding> {
        let check = |file: &FileId| {
            let findings = self.check_file_with(*file, more);
            done();
            findings
        };
        let files: Vec<FileId> = self.judged().collect();
        let per_file: Vec<Vec<Finding>> = files.par_iter().map(check).collect();
        let mut findings: Vec<Finding> = per_file.into_iter().flatten().collect();
        trug_findings::sort(&mut findings);
        findings
    }

    /// The texts that are judged for themselves, and not in those that use them.
    fn judged(&self) -> impl Iterator<Item = FileId> {
        self.files()
            .filter(|file| !self.is_book(*file) && !self.is_table(*file))
    }

    /// The same as [`Farm::check`], and a text opened: what judging it made out need not be made out again.
    #[must_use]
    pub fn check_and_open(&self, opened: FileId) -> (Vec<Finding>, View<'_>) {
        let check = |file: &FileId| {
            let view = View::new(self, *file);
            let findings = self.check_view(&view, None);
            (findings, (*file == opened).then_some(view))
        };
        let files: Vec<FileId> = self.judged().collect();
        let per_file: Vec<(Vec<Finding>, Option<View<'_>>)> = files.par_iter().map(check).collect();
        let (mut findings, mut view) = (Vec::new(), None);
        for (of_file, of_opened) in per_file {
            findings.extend(of_file);
            view = view.or(of_opened);
        }
        trug_findings::sort(&mut findings);
        (findings, view.unwrap_or_else(|| self.open(opened)))
    }

    /// What there is to say about one text, alone with what it uses. Books can be judged so too.
    #[must_use]
    pub fn check_file(&self, file: FileId) -> Vec<Finding> {
        self.check_file_with(file, None)
    }

    /// The same, with what `more` has to say of it.
    #[must_use]
    pub fn check_file_with(&self, file: FileId, more: Option<More<'_>>) -> Vec<Finding> {
        self.check_view(&View::new(self, file), more)
    }

    fn check_view(&self, view: &View<'_>, more: Option<More<'_>>) -> Vec<Finding> {
        let file = view.scope.own();
        let mut findings = self.reading_findings(file);
        findings.extend(self.entry(file).findings.iter().cloned());
        tables::judge(view, &mut findings);
        judge_uses(view, &mut findings);
        judge_editions(view, &mut findings);
        judge_names(view, &mut findings);
        let mut judged = Vec::new();
        for part in self.judge_items(view, more.is_some()) {
            findings.extend(part.findings);
            judged.extend(part.judged);
        }
        once_a_lot(&mut findings);
        if let Some(more) = more {
            more(view, &mut findings);
        }
        Acceptances::of(self, file).settle(&judged, &mut findings);
        trug_findings::sort(&mut findings);
        findings
    }

    /// The items of a text one by one; those of a long one in several parts side by side, each seeing the text for itself.
    fn judge_items(&self, view: &View<'_>, with_records: bool) -> Vec<Part> {
        let file = view.scope.own();
        let items = &self.tree(file).items;
        if items.len() <= ITEMS_AT_ONCE {
            return vec![part(view, items, 0, with_records)];
        }
        // Each part makes out for itself what it needs of the rest, so there are never more than so many.
        let seen = view.seen();
        let at_once = items.len().div_ceil(MOST_PARTS).max(ITEMS_AT_ONCE);
        let parts = items.par_chunks(at_once).enumerate();
        let parts = parts.map(|(rank, items)| {
            let view = View::beside(self, seen.clone());
            part(&view, items, rank * at_once, with_records)
        });
        parts.collect()
    }
}

/// A text with more items is judged in parts of so many.
const ITEMS_AT_ONCE: usize = 400;
const MOST_PARTS: usize = 64;

/// What was found in some items of a text.
struct Part {
    findings: Vec<Finding>,
    /// The ranks of those that could be judged whole.
    judged: Vec<usize>,
}

fn part(view: &View<'_>, items: &[Item], first: usize, with_records: bool) -> Part {
    let (mut findings, mut judged) = (Vec::new(), Vec::new());
    for (rank, item) in items.iter().enumerate() {
        let before = findings.len();
        let is_whole = items::judge(view, item, &mut findings);
        let is_sound = is_whole && !item.has_unread_line;
        let is_broken = findings[before..].iter().any(|finding: &Finding| {
            !finding.code.may_be_accepted() && finding.severity == trug_findings::Severity::Error
        });
        // What a record could have accepted is only said where its weights are judged too.
        let is_judged = with_records || !matches!(item.body, ItemBody::Record(_));
        if is_sound && !is_broken && is_judged {
            judged.push(first + rank);
        }
    }
    Part { findings, judged }
}

/// A delivery past its day is one mistake: where a line of this text takes from it, that line says so and the lot does not.
fn once_a_lot(findings: &mut Vec<Finding>) {
    let expired = findings.iter().filter(|it| it.code == &store::EXPIRED);
    let said: BTreeSet<Place> = expired
        .flat_map(|it| it.related.iter().map(|related| related.place))
        .collect();
    if !said.is_empty() {
        findings.retain(|it| it.code != &store::EXPIRED || !said.contains(&it.place));
    }
}

/// Circles of files, and chains too long to follow.
fn judge_uses(view: &View<'_>, findings: &mut Vec<Finding>) {
    let own = view.scope.own();
    let uses = |file: FileId| {
        view.farm
            .entry(file)
            .uses
            .iter()
            .filter_map(|(_, target)| *target)
    };
    if let Some(span) = view.scope.too_deep {
        // A chain is too long from its head on; the last text for which it is says so.
        let is_too_deep = |file| Scope::of(view.farm, file).too_deep.is_some();
        if !uses(own).any(is_too_deep) {
            findings.push(used::deep(Place::new(own, span)));
        }
    }
    // Every file of a circle sees it; the first by name says so.
    let Some(circle) = view.farm.circle_of(own) else {
        return;
    };
    if circle.first() != Some(&own) {
        return;
    }
    let entry = view.farm.entry(own);
    let leads_back = |(_, target): &&(trug_findings::Span, Option<FileId>)| {
        target.is_some_and(|target| circle.contains(&target))
    };
    if let Some((span, _)) = entry.uses.iter().find(leads_back) {
        let names: Vec<String> = circle
            .iter()
            .map(|file| view.farm.sources()[file.index()].name().to_owned())
            .collect();
        findings.push(used::cycle(Place::new(own, *span), &names));
    }
}

/// Books of two editions in one text's sight: said where the text itself brings them together.
fn judge_editions(view: &View<'_>, findings: &mut Vec<Finding>) {
    let library = view.farm.settings().library;
    let year_of = |file: &FileId| library.year(view.farm.sources()[file.index()].name());
    let mut books = view.scope.files.iter().filter_map(|file| {
        let through = view.scope.through.get(file)?;
        Some((year_of(file)?, *through))
    });
    let Some((year, through)) = books.next() else {
        return;
    };
    if let Some((other, second)) = books.find(|(other, at)| *other != year && *at != through) {
        let own = view.scope.own();
        let edition = |year: u16| format!("the book of {year}");
        let (place, first) = (Place::new(own, second), Place::new(own, through));
        findings.push(used::editions(
            place,
            &edition(other),
            first,
            &edition(year),
        ));
    }
}

/// Names declared twice: in this text, here and in a text it uses, or in two that it uses.
fn judge_names(view: &View<'_>, findings: &mut Vec<Finding>) {
    let own = view.scope.own();
    let entry = view.farm.entry(own);
    let place_of = |file: FileId, rank: u32| {
        let item = &view.farm.tree(file).items[rank as usize];
        let span = item.body.name().map_or(item.header, |name| name.span);
        Place::new(file, span)
    };
    for declared in entry.names.all() {
        if declared.namespace == Namespace::Any {
            continue;
        }
        if declared.namespace == Namespace::Unit && crate::quantity::word(&declared.name).is_some()
        {
            findings.push(name::unit_twice(
                place_of(own, declared.rank),
                &declared.name,
            ));
            continue;
        }
        if let Some((file, other)) = declared_before(view, declared) {
            let place = place_of(own, declared.rank);
            findings.push(name::twice(
                place,
                &declared.name,
                &other.name,
                place_of(file, other.rank),
            ));
        }
    }
    for clash in view.scope.clashes(view.farm) {
        let span = view
            .scope
            .through
            .get(&clash.second.file)
            .copied()
            .unwrap_or_default();
        findings.push(name::twice_among_used(
            Place::new(own, span),
            &clash.name,
            place_of(clash.first.file, clash.first.rank),
            place_of(clash.second.file, clash.second.rank),
        ));
    }
}

/// The same name declared earlier in this text, or in a text it uses. A book's own name is added to, not taken twice.
fn declared_before<'farm>(
    view: &View<'farm>,
    declared: &names::Declared,
) -> Option<(FileId, &'farm names::Declared)> {
    for &file in &view.scope.files {
        let entry = view.farm.entry(file);
        for other in entry.names.folded(declared.namespace, &declared.folded) {
            let is_own = file == view.scope.own();
            let is_same = other.of == declared.of;
            let adds_to_book = entry.is_book && other.name == declared.name;
            if is_same && !adds_to_book && (!is_own || other.rank < declared.rank) {
                return Some((file, other));
            }
        }
    }
    None
}
