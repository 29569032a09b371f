//! Findings that the text accepts, with a reason.

use std::collections::{BTreeMap, BTreeSet};

use smol_str::SmolStr;
use trug_findings::{Acceptance, Code, FileId, Finding, Place, Span};
use trug_syntax::tree::{
    Accept, AnimalStatement, GroupStatement, IngredientStatement, Item, ItemBody, LotStatement,
    MethodRule, RationStatement, RecordStatement,
};

use crate::farm::{Farm, Namespace};
use crate::findings::{self, accept};
use crate::view::View;

/// The families that are judged, or judged again, when a plan is made.
const PLANNED: [&str; 5] = ["mix", "weigh", "vessel", "store", "cost"];

/// The acceptances of one text.
#[derive(Debug)]
pub struct Acceptances {
    file: FileId,
    all: Vec<One>,
    /// Those of each item that has any, in the order of the text.
    items: Vec<OfItem>,
}

/// The acceptances of one item, by their ranks: looked up, not walked through, since a text may have as many as findings.
#[derive(Debug)]
struct OfItem {
    whole: Span,
    /// For the whole item, by code: all of one code silence the same.
    wide: BTreeMap<SmolStr, Vec<usize>>,
    /// Each for its line, in the order of the lines.
    lines: Vec<usize>,
    /// What `meets` lines silence at the ration's name.
    asked_for: Vec<usize>,
}

#[derive(Debug)]
struct One {
    accept: Accept,
    /// Where it silences: its line, or its item.
    range: Span,
    /// Rank of its item.
    item: usize,
    /// Whether its item is one that is planned, or judged with what it is planned for.
    is_planned: bool,
    /// What it silences at the ration's name.
    asked_for: Option<AskedFor>,
}

/// Some targets and the ration that should meet them.
#[derive(Debug)]
struct AskedFor {
    /// The ration's name, where findings about the whole of it stand.
    ration: Span,
    targets: Vec<Place>,
}

impl One {
    /// Whether a finding of this text stands where this silences.
    fn is_about(&self, finding: &Finding) -> bool {
        holds(self.range, finding)
            || self
                .asked_for
                .as_ref()
                .is_some_and(|asked_for| asked_for.is_about(finding))
    }
}

fn holds(range: Span, finding: &Finding) -> bool {
    let start = finding.place.span.start;
    range.start <= start && start <= range.end
}

impl AskedFor {
    /// Whether a finding says of the whole ration how it stands to these targets, and to no others.
    fn is_about(&self, finding: &Finding) -> bool {
        let is_ours = |place: Place| {
            self.targets.iter().any(|targets| {
                targets.file == place.file
                    && targets.span.start <= place.span.start
                    && place.span.end <= targets.span.end
            })
        };
        finding.code.name.starts_with("target/")
            && finding.place.span == self.ration
            && !finding.related.is_empty()
            && finding.related.iter().all(|related| is_ours(related.place))
    }
}

impl Acceptances {
    /// All acceptances of a text.
    #[must_use]
    pub fn of(farm: &Farm, file: FileId) -> Acceptances {
        let mut acceptances = Acceptances {
            file,
            all: Vec::new(),
            items: Vec::new(),
        };
        for (rank, item) in farm.tree(file).items.iter().enumerate() {
            acceptances.take(farm, rank, item);
        }
        acceptances
    }

    /// Those of the items in which one of these places stands.
    #[must_use]
    pub fn around(farm: &Farm, file: FileId, places: impl Iterator<Item = Place>) -> Acceptances {
        let mut acceptances = Acceptances {
            file,
            all: Vec::new(),
            items: Vec::new(),
        };
        let items = &farm.tree(file).items;
        let places = places.filter(|place| place.file == file);
        let ranks = places.filter_map(|place| {
            let after = items.partition_point(|item| item.whole.start <= place.span.start);
            after.checked_sub(1)
        });
        for rank in ranks.collect::<BTreeSet<usize>>() {
            if let Some(item) = items.get(rank) {
                acceptances.take(farm, rank, item);
            }
        }
        acceptances
    }

    fn take(&mut self, farm: &Farm, rank: usize, item: &Item) {
        let mut of_item = OfItem {
            whole: item.whole,
            wide: BTreeMap::new(),
            lines: Vec::new(),
            asked_for: Vec::new(),
        };
        let first = self.all.len();
        for (accept, line) in written(&item.body) {
            let one = self.all.len();
            let asked_for = asked_for(farm, self.file, &item.body, line);
            match line {
                Some(_) => of_item.lines.push(one),
                None => {
                    let of_code = of_item.wide.entry(accept.code.text.clone());
                    of_code.or_default().push(one);
                }
            }
            if asked_for.is_some() {
                of_item.asked_for.push(one);
            }
            self.all.push(One {
                accept: accept.clone(),
                range: line.unwrap_or(item.whole),
                item: rank,
                is_planned: matches!(item.body, ItemBody::Ration(_) | ItemBody::Group(_)),
                asked_for,
            });
        }
        if first < self.all.len() {
            self.items.push(of_item);
        }
    }

    /// Ranks of those that may be about a finding, in the order of the text.
    fn near(&self, finding: &Finding, used: &[bool]) -> Vec<usize> {
        let start = finding.place.span.start;
        let after = self.items.partition_point(|item| item.whole.start <= start);
        let of_item = after.checked_sub(1).and_then(|last| self.items.get(last));
        let Some(of_item) = of_item.filter(|item| holds(item.whole, finding)) else {
            return Vec::new();
        };
        let lines = &of_item.lines;
        let after = lines.partition_point(|one| self.all[*one].range.start <= start);
        let line = after.checked_sub(1).map(|last| lines[last]);
        let wide = of_item.wide.get(finding.code.name);
        let wide = wide.map_or(&[][..], |wide| {
            // Once one of them was of use, all are.
            let is_used = wide.first().is_some_and(|first| used[*first]);
            if is_used { &wide[..1] } else { wide }
        });
        let mut near: Vec<usize> = wide.iter().copied().chain(line).collect();
        if finding.code.name.starts_with("target/") {
            near.extend(&of_item.asked_for);
        }
        near.sort_unstable();
        near.dedup();
        near
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
                // A larger order, or a plan for a group, may want more of a lot than is judged here.
                Some(_) if is_planned(code) && one.is_planned => {}
                // A group is past its phase on some days and not on others.
                Some(known) if known == &findings::target::PHASE && one.is_planned => {}
                Some(_) if !is_used && judged.contains(&one.item) => {
                    findings.push(accept::unused(Place::new(self.file, one.accept.span), code));
                }
                Some(_) => {}
                None if is_planned(code) => {}
                // What records are found to be beside a plan is judged after this, and is what was done.
                None if code.starts_with("record/") => {
                    findings.push(accept::refused(code_place, code));
                }
                None => findings.push(accept::unknown(code_place, code)),
            }
        }
    }

    /// Marks what planning found, and says which acceptances of such findings silence nothing in the item at `item`: neither of
    /// these nor of what was `judged` before.
    pub fn settle_planned(&self, item: Span, judged: &[Finding], findings: &mut Vec<Finding>) {
        let used = self.mark(findings);
        let used_before = self.mark(&mut judged.to_vec());
        let used = used.into_iter().zip(used_before);
        for (one, (is_used, was_used)) in self.all.iter().zip(used) {
            let is_used = is_used || was_used;
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
            for rank in self.near(finding, &used) {
                let one = &self.all[rank];
                if one.accept.code.text == finding.code.name && one.is_about(finding) {
                    used[rank] = true;
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
    ["mix/", "weigh/", "vessel/", "store/"]
        .iter()
        .any(|family| code.starts_with(family))
}

/// The acceptances of an item: those at the end of a line with that line's place, the others with none.
fn written(body: &ItemBody) -> Vec<(&Accept, Option<Span>)> {
    match body {
        ItemBody::Animal(animal) => of_lines(&animal.lines, |line| match &line.statement {
            AnimalStatement::Accept(accept) => (Some(accept), None, line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Ingredient(ingredient) => {
            of_lines(&ingredient.lines, |line| match &line.statement {
                IngredientStatement::Accept(accept) => (Some(accept), None, line.span),
                _ => (None, line.accept.as_ref(), line.span),
            })
        }
        ItemBody::Lot(lot) => of_lines(&lot.lines, |line| match &line.statement {
            LotStatement::Accept(accept) => (Some(accept), None, line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Targets(targets) => of_lines(&targets.lines, |line| match &line.target {
            None => (line.accept.as_ref(), None, line.span),
            Some(_) => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Ration(ration) => of_lines(&ration.lines, |line| match &line.statement {
            RationStatement::Accept(accept) => (Some(accept), None, line.span),
            RationStatement::Amount(amount) => (None, amount.clauses.accept.as_ref(), line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Method(method) => of_lines(&method.lines, |line| match &line.rule {
            Some(MethodRule::Accept(accept)) => (Some(accept), None, line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Group(group) => of_lines(&group.lines, |line| match &line.statement {
            Some(GroupStatement::Accept(accept)) => (Some(accept), None, line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        ItemBody::Record(record) => of_lines(&record.lines, |line| match &line.statement {
            Some(RecordStatement::Accept(accept)) => (Some(accept), None, line.span),
            _ => (None, line.accept.as_ref(), line.span),
        }),
        _ => Vec::new(),
    }
}

/// What the lines accept. `parts` says of a line: what it accepts as a line of its own, what at its end, its place.
fn of_lines<'lines, Line>(
    lines: &'lines [Line],
    parts: impl Fn(&'lines Line) -> (Option<&'lines Accept>, Option<&'lines Accept>, Span),
) -> Vec<(&'lines Accept, Option<Span>)> {
    let accepted = lines.iter().filter_map(|line| match parts(line) {
        (Some(of_item), _, _) => Some((of_item, None)),
        (None, at_end, span) => at_end.map(|accept| (accept, Some(span))),
    });
    accepted.collect()
}

/// What a line `meets …` silences beside what stands at it: what its targets say about the ration as a whole.
fn asked_for(farm: &Farm, file: FileId, body: &ItemBody, line: Option<Span>) -> Option<AskedFor> {
    let (ItemBody::Ration(ration), Some(span)) = (body, line) else {
        return None;
    };
    let lines = &ration.lines;
    let after = lines.partition_point(|line| line.span.start <= span.start);
    let statement = &lines.get(after.checked_sub(1)?)?.statement;
    let RationStatement::Meets(targets) = statement else {
        return None;
    };
    let view = View::new(farm, file);
    let items = view.items(Namespace::Targets, &targets.text);
    Some(AskedFor {
        ration: ration.name.span,
        targets: items
            .into_iter()
            .map(|(item_ref, item)| Place::new(item_ref.file, item.whole))
            .collect(),
    })
}
