//! What an editor can do for a place: mend what was found, and rewrite what is there.
//!
//! What is applied to many places at once is applied unseen. So it takes only fixes that are sure, and none that
//! touches an amount that can harm, whatever the fix says of itself.

mod accepts;
mod amounts;
mod balance;
mod editions;
mod harm;
mod missing;
mod units;

use std::ops::Range;

use trug_findings::{Edit, FileId, Finding, Fix, Place, Span};
use trug_model::{Farm, View};
use trug_syntax::tree::Item;

use crate::lines::line_at;
use crate::parts::{self, holds, touches, written};

/// Something an editor can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Action {
    /// What it does, beginning with a verb.
    pub title: String,
    /// Whether it mends, and how much.
    pub kind: ActionKind,
    /// Edits that belong together, in the order of the text; none overlaps another.
    pub edits: Vec<Edit>,
    /// Ranks of the findings it mends, among those handed in.
    pub mends: Vec<usize>,
    /// It can be applied without a look.
    pub is_sure: bool,
    /// What is still to be filled in: bytes of the text of the first edit.
    pub to_fill: Option<Range<usize>>,
}

/// Whether an action mends, and how much.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ActionKind {
    /// It mends one finding.
    Mend,
    /// It mends every finding of a code that can be mended surely.
    MendAll,
    /// It says the same, or more, in another way.
    Rewrite,
}

/// What can be done for a range of a text about which these findings were made.
#[must_use]
pub fn actions(farm: &Farm, file: FileId, range: Span, findings: &[Finding]) -> Vec<Action> {
    let Some(source) = written(farm, file) else {
        return Vec::new();
    };
    let view = farm.open(file);
    let asked = Asked {
        view: &view,
        file,
        text: source.text(),
        range,
        lines: whole_lines(source.text(), range),
        item: parts::item_at(&farm.tree(file).items, range.start as usize),
        findings,
    };
    let mut actions = Vec::new();
    asked.mend(&mut actions);
    asked.mend_all(&mut actions);
    asked.missing(&mut actions);
    asked.amounts(&mut actions);
    asked.balance(&mut actions);
    asked.hold_edition(&mut actions);
    asked.convert(&mut actions);
    asked.accept(&mut actions);
    actions
}

/// The edits of every sure fix of these findings, or of those of one code: none touches an amount that can harm.
#[must_use]
pub fn fix_all(farm: &Farm, file: FileId, findings: &[Finding], code: Option<&str>) -> Vec<Edit> {
    let Some(source) = written(farm, file) else {
        return Vec::new();
    };
    let view = farm.open(file);
    let asked = Asked {
        view: &view,
        file,
        text: source.text(),
        range: Span::default(),
        lines: Span::default(),
        item: None,
        findings,
    };
    let is_meant = |finding: &Finding| code.is_none_or(|code| finding.code.name == code);
    asked
        .sure(&is_meant)
        .into_iter()
        .flat_map(|(_, fix)| fix.edits.clone())
        .collect()
}

struct Asked<'a> {
    view: &'a View<'a>,
    file: FileId,
    text: &'a str,
    range: Span,
    /// The lines the range touches, whole.
    lines: Span,
    /// The item the range starts in or below.
    item: Option<&'a Item>,
    findings: &'a [Finding],
}

impl<'a> Asked<'a> {
    /// The findings that stand in the lines of the range and ask for something, with their ranks.
    fn touched(&self) -> impl Iterator<Item = (usize, &'a Finding)> {
        let all = self.findings.iter().enumerate();
        all.filter(|(_, finding)| {
            finding.place.file == self.file
                && finding.is_open()
                && touches(finding.place.span, self.lines)
        })
    }

    /// Every fix of every finding here; what a ration's sum wants, from anywhere in the ration.
    fn mend(&self, actions: &mut Vec<Action>) {
        let sums = self.findings.iter().enumerate().filter(|(_, finding)| {
            let is_here = |item: &Item| {
                holds(item.header, finding.place.span.start as usize)
                    && touches(item.whole, self.range)
            };
            finding.code.family() == "sum"
                && finding.place.file == self.file
                && self.item.is_some_and(is_here)
        });
        let mut done = Vec::new();
        for (rank, finding) in self.touched().chain(sums) {
            if done.contains(&rank) {
                continue;
            }
            done.push(rank);
            for fix in &finding.fixes {
                actions.push(Action {
                    title: fix.title.clone(),
                    kind: ActionKind::Mend,
                    edits: in_order(&fix.edits),
                    mends: vec![rank],
                    is_sure: fix.sure,
                    to_fill: None,
                });
            }
        }
        actions.sort_by_key(|action| !action.is_sure);
    }

    /// All of one code, where there are several.
    fn mend_all(&self, actions: &mut Vec<Action>) {
        let mut codes: Vec<&'static str> = Vec::new();
        for (_, finding) in self.touched() {
            if finding.fixes.iter().any(|fix| fix.sure) && !codes.contains(&finding.code.name) {
                codes.push(finding.code.name);
            }
        }
        for code in codes {
            let fixes = self.sure(&|finding: &Finding| finding.code.name == code);
            if fixes.len() < 2 {
                continue;
            }
            let edits: Vec<Edit> = fixes
                .iter()
                .flat_map(|(_, fix)| fix.edits.clone())
                .collect();
            actions.push(Action {
                title: format!("mend all {} of {code} in this text", fixes.len()),
                kind: ActionKind::MendAll,
                edits: in_order(&edits),
                mends: fixes.iter().map(|(rank, _)| *rank).collect(),
                is_sure: true,
                to_fill: None,
            });
        }
    }

    /// The first sure fix of each finding meant, in this text alone, none over another or over what can harm.
    fn sure(&self, is_meant: &dyn Fn(&Finding) -> bool) -> Vec<(usize, &'a Fix)> {
        let mut taken: Vec<Span> = Vec::new();
        let mut fixes = Vec::new();
        for (rank, finding) in self.findings.iter().enumerate() {
            if finding.place.file != self.file || !finding.is_open() || !is_meant(finding) {
                continue;
            }
            let Some(fix) = finding.fixes.iter().find(|fix| fix.sure) else {
                continue;
            };
            let may_be = |edit: &Edit| {
                let span = edit.place.span;
                let is_free = !taken.iter().any(|taken| overlap(*taken, span));
                edit.place.file == self.file && is_free && !self.can_harm(edit)
            };
            if !fix.edits.is_empty() && fix.edits.iter().all(may_be) {
                taken.extend(fix.edits.iter().map(|edit| edit.place.span));
                fixes.push((rank, fix));
            }
        }
        fixes
    }

    /// An edit of this text.
    fn edit(&self, span: Span, text: impl Into<String>) -> Edit {
        Edit {
            place: Place::new(self.file, span),
            text: text.into(),
        }
    }

    /// A way to say it otherwise.
    fn rewrite(&self, title: impl Into<String>, edits: Vec<Edit>) -> Action {
        Action {
            title: title.into(),
            kind: ActionKind::Rewrite,
            edits,
            mends: Vec::new(),
            is_sure: false,
            to_fill: None,
        }
    }

    /// The line end this text is written with.
    fn line_end(&self) -> &'static str {
        if self.text.contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        }
    }
}

/// From the start of the first line of a range to the end of its last.
fn whole_lines(text: &str, range: Span) -> Span {
    let start = line_at(text, range.start as usize).whole.start;
    Span::new(start, line_at(text, range.end as usize).whole.end)
}

fn in_order(edits: &[Edit]) -> Vec<Edit> {
    let mut edits = edits.to_vec();
    edits.sort_by_key(|edit| (edit.place.file, edit.place.span));
    edits.dedup();
    edits
}

fn overlap(one: Span, other: Span) -> bool {
    one.start < other.end && other.start < one.end || one == other
}
