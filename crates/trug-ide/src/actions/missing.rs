//! A name that nothing declares: the item it wants, or the text of the farm that has it.

use trug_findings::{FileId, Finding, Span};
use trug_model::Namespace;
use trug_syntax::is_reserved;
use trug_syntax::tree::{GroupStatement, Item, ItemBody, Name};

use super::{Action, ActionKind, Asked};
use crate::lines::line_at;
use crate::parts::{self, LineRef, Part, item_at};
use crate::paths::relative;

/// So many texts are offered to be used.
const MOST_TEXTS: usize = 4;

/// A name that is not known, and what it would be.
struct Missing<'a> {
    name: &'a Name,
    namespace: Namespace,
    /// A header that would declare it.
    header: Option<String>,
}

impl Asked<'_> {
    pub(super) fn missing(&self, actions: &mut Vec<Action>) {
        for (rank, finding) in self.touched() {
            if finding.code.name != "name/unknown" {
                continue;
            }
            let Some(missing) = self.missing_at(finding) else {
                continue;
            };
            for file in self.declaring(&missing) {
                actions.extend(self.used(file, &missing, rank));
            }
            if let Some(header) = &missing.header {
                let title = format!("declare {} in this text", missing.name.text);
                actions.push(Action {
                    mends: vec![rank],
                    kind: ActionKind::Mend,
                    ..self.rewrite(title, vec![self.appended(header)])
                });
            }
        }
    }

    fn missing_at(&self, finding: &Finding) -> Option<Missing<'_>> {
        let span = finding.place.span;
        let items = &self.view.farm().tree(self.file).items;
        let item = item_at(items, span.start as usize)?;
        let line = parts::lines(&item.body)
            .into_iter()
            .find(|line| parts::holds(line.span(), span.start as usize));
        let all = line.map_or_else(|| parts::header(&item.body), LineRef::parts);
        let (namespace, name) = all.iter().find_map(|part| match part {
            Part::Name(namespace, name) if name.span == span => Some((*namespace, *name)),
            _ => None,
        })?;
        Some(Missing {
            name,
            namespace,
            header: header(namespace, name, item, line, &all),
        })
    }

    /// Texts that declare the name and are not used yet, the nearest first; none that would close a circle.
    fn declaring(&self, missing: &Missing<'_>) -> Vec<FileId> {
        let farm = self.view.farm();
        let own = farm
            .sources()
            .get(self.file.index())
            .map_or("", |source| source.name());
        let mut files = farm.declaring(missing.namespace, &missing.name.text);
        files.retain(|file| !self.view.sees().contains(file));
        let far = |file: &FileId| {
            let name = farm
                .sources()
                .get(file.index())
                .map_or("", |source| source.name());
            relative(own, name).matches('/').count()
        };
        files.sort_by_key(|file| (far(file), *file));
        files.truncate(MOST_TEXTS);
        files.retain(|file| !farm.open(*file).sees().contains(&self.file));
        files
    }

    fn used(&self, file: FileId, missing: &Missing<'_>, rank: usize) -> Option<Action> {
        let farm = self.view.farm();
        let name = farm.sources().get(file.index())?.name();
        let own = farm.sources().get(self.file.index())?.name();
        let line = match farm.settings().library.used_as(name) {
            Some(book) => format!("use {book}"),
            None if name.contains('"') => return None,
            None => format!("use \"{}\"", relative(own, name)),
        };
        let title = format!("{line}: it declares {}", missing.name.text);
        Some(Action {
            mends: vec![rank],
            kind: ActionKind::Mend,
            ..self.rewrite(title, vec![self.with_uses(&line)])
        })
    }

    /// The line behind the last `use`, or above the first item.
    fn with_uses(&self, line: &str) -> trug_findings::Edit {
        let end = self.line_end();
        let items = &self.view.farm().tree(self.file).items;
        let last = items
            .iter()
            .rev()
            .find(|item| matches!(item.body, ItemBody::Use(_)));
        if let Some(last) = last {
            let at = line_at(self.text, last.header.end as usize).whole.end;
            return self.edit(Span::at(at), format!("{end}{line}"));
        }
        match items.first() {
            Some(first) => {
                let at = line_at(self.text, first.header.start as usize).whole.start;
                self.edit(Span::at(at), format!("{line}{end}{end}"))
            }
            None => self.appended(line),
        }
    }

    /// An item at the end of the text.
    fn appended(&self, header: &str) -> trug_findings::Edit {
        let end = self.line_end();
        let gap = if self.text.is_empty() || self.text.ends_with(&format!("{end}{end}")) {
            String::new()
        } else if self.text.ends_with(['\n', '\r']) {
            end.to_owned()
        } else {
            format!("{end}{end}")
        };
        self.edit(Span::at(self.text.len()), format!("{gap}{header}{end}"))
    }
}

/// A header that declares the name; none where it would need a number that only the farm knows.
fn header(
    namespace: Namespace,
    name: &Name,
    item: &Item,
    line: Option<LineRef<'_>>,
    parts: &[Part<'_>],
) -> Option<String> {
    let name = &name.text;
    if is_reserved(name) {
        return None;
    }
    let label = labelled(name);
    Some(match namespace {
        Namespace::Feed if wants_ration(item, line) => format!("ration {name} \"{label}\""),
        Namespace::Feed => format!("ingredient {name} \"{label}\""),
        Namespace::Animal => format!("animal {name} \"{label}\""),
        Namespace::Nutrient => format!("nutrient {name} \"{label}\" in share"),
        Namespace::Targets => format!("targets {name}"),
        Namespace::Method => format!("method {name} \"{label}\""),
        Namespace::Group => format!("group {name} \"{label}\""),
        Namespace::Lot => {
            let of = parts.iter().find_map(|part| match part {
                Part::Name(Namespace::Feed, of) => Some(&of.text),
                _ => None,
            })?;
            format!("lot {name} of {of}")
        }
        _ => return None,
    })
}

/// Whether the name must be that of a ration.
fn wants_ration(item: &Item, line: Option<LineRef<'_>>) -> bool {
    match (&item.body, line) {
        (ItemBody::Ration(_) | ItemBody::Record(_), None) => true,
        (_, Some(LineRef::Group(line))) => {
            matches!(line.statement, Some(GroupStatement::Eats { .. }))
        }
        _ => false,
    }
}

/// A name as people would say it: `broken-rice` is Broken rice.
fn labelled(name: &str) -> String {
    let spaced = name.replace('-', " ");
    let mut letters = spaced.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
