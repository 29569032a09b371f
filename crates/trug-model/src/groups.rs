//! Groups: the animals fed alike, what they eat and when, and what is eaten beside a ration.

use std::sync::Arc;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use crate::Q;
use crate::check::phases;
use crate::farm::{ItemRef, Namespace};
use crate::phases::{Phase, Placed, by_phase};
use crate::ration::Ration;
use crate::view::{Feed, Ingredient, View, Wants, day, number};

/// The animals fed alike: a flock, a pen, a herd.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// Its item, from header to last line.
    pub item: Span,
    /// How many animals, of all kinds.
    pub head: Q,
    /// When they came, and how old they were.
    pub placed: Option<Placed>,
    /// What they eat, in the order of the text. A line that holds on several spans of days stands here for each of them.
    pub eats: Vec<Eats>,
    /// The lines that hold on no day: they were too old for the phase when they came, or another line holds instead.
    pub never: Vec<Eats>,
    /// How long a mix may be made for, in days.
    pub mix_for: Option<Q>,
    /// A line of it could not be read.
    pub has_unread_line: bool,
}

/// What a group eats of a ration, and when.
#[derive(Clone, Debug, PartialEq)]
pub struct Eats {
    /// The ration.
    pub ration: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The line that says so.
    pub line: Span,
    /// What each animal eats of it a day, in kg, where the line says.
    pub intake: Option<Q>,
    /// The first day; none is always.
    pub from: Option<Date>,
    /// The last day; none is on and on.
    pub to: Option<Date>,
    /// The ages its ration is for.
    pub phase: Option<Phase>,
    /// The line itself names its first day.
    pub names_from: bool,
    /// The line itself names its last day.
    pub names_to: bool,
}

/// The animals of a group, and what they are fed.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupOrder {
    /// What people call the group.
    pub label: Option<String>,
    /// How many animals.
    pub head: Q,
    /// What each eats a day, in kg, where the group or the ration says.
    pub intake: Option<Q>,
    /// How long a mix may be made for, in days.
    pub mix_for: Option<Q>,
    /// Where the group says that it eats this ration.
    pub place: Place,
    /// By how old it is, where group and ration say.
    pub phase: Option<PhaseOrder>,
}

/// A group and the phase of a ration that it eats.
#[derive(Clone, Debug, PartialEq)]
pub struct PhaseOrder {
    /// When the group came.
    pub placed: Placed,
    /// The ages the ration is for.
    pub phase: Phase,
    /// The first day that it is eaten.
    pub from: Option<Date>,
    /// The last day that it is eaten by its phase; none where it has no last day, or the group's line names it.
    pub to: Option<Date>,
}

/// Something eaten beside a ration, not mixed into it.
#[derive(Clone, Debug)]
pub struct EatenBeside {
    /// Its name.
    pub name: SmolStr,
    /// The ingredient; none where it is a ration.
    pub ingredient: Option<Arc<Ingredient>>,
    /// The ration; none where it is an ingredient.
    pub ration: Option<Arc<Ration>>,
    /// What an animal eats of it a day, in kg.
    pub daily: Q,
}

impl Eats {
    /// Whether it is eaten on that day.
    #[must_use]
    pub fn is_on(&self, day: Date) -> bool {
        self.from.is_none_or(|from| from <= day) && self.to.is_none_or(|to| day <= to)
    }

    /// Whether the line names a day of its own.
    #[must_use]
    pub fn has_dates(&self) -> bool {
        self.names_from || self.names_to
    }
}

impl Group {
    /// The line that is meant on a day: one that holds then; else the next to come; else the last.
    #[must_use]
    pub fn line_on<'lines>(lines: &[&'lines Eats], day: Option<Date>) -> Option<&'lines Eats> {
        let of_day = lines
            .iter()
            .rfind(|line| day.is_some_and(|day| line.is_on(day)));
        let to_come = lines
            .iter()
            .filter(|line| day.is_some() && day < line.from)
            .min_by_key(|line| line.from);
        of_day.or(to_come).or(lines.last()).copied()
    }
}

impl View<'_> {
    /// The groups that the text itself declares, in the order of the text.
    #[must_use]
    pub fn groups(&self) -> Vec<Group> {
        let file = self.file();
        let items = self.farm.tree(file).items.iter().enumerate();
        let groups = items.filter(|(_, item)| matches!(item.body, ItemBody::Group(_)));
        let item_ref = |rank: usize| ItemRef {
            file,
            rank: u32::try_from(rank).unwrap_or(u32::MAX),
        };
        groups
            .filter_map(|(rank, _)| self.group_at(item_ref(rank)))
            .collect()
    }

    /// The group of that name.
    #[must_use]
    pub fn group(&self, name: &str) -> Option<Group> {
        self.group_at(self.find(Namespace::Group, name).any()?)
    }

    /// The group that an item of the view's own text declares.
    pub(crate) fn own_group(&self, item: &tree::Item, written: &tree::Group) -> Group {
        self.made_group(self.file(), item, written)
    }

    fn group_at(&self, item_ref: ItemRef) -> Option<Group> {
        let item = self.farm.item_at(item_ref)?;
        let ItemBody::Group(written) = &item.body else {
            return None;
        };
        Some(self.made_group(item_ref.file, item, written))
    }

    fn made_group(&self, file: FileId, item: &tree::Item, written: &tree::Group) -> Group {
        let mut group = Group {
            name: written.name.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            place: Place::new(file, written.name.span),
            item: item.whole,
            head: Q::ZERO,
            placed: self.placed(written, file, &mut Vec::new()),
            eats: Vec::new(),
            never: Vec::new(),
            mix_for: None,
            has_unread_line: item.has_unread_line,
        };
        for line in &written.lines {
            self.group_line(line, &mut group);
        }
        if let Some(placed) = &group.placed {
            let lines = std::mem::take(&mut group.eats);
            (group.eats, group.never) = by_phase(lines, placed);
        }
        group
    }

    fn group_line(&self, line: &tree::GroupLine, group: &mut Group) {
        let file = group.place.file;
        match &line.statement {
            Some(GroupStatement::Animals { count, .. }) => group.head += number(count),
            Some(GroupStatement::MixFor(time)) => {
                group.mix_for = self.positive(time, &Wants::TIME, file, &mut Vec::new());
            }
            Some(GroupStatement::Eats {
                ration,
                intake,
                from,
                to,
            }) => {
                let intake = intake.as_ref().and_then(|intake| {
                    self.positive(intake, &Wants::DAILY_MASS, file, &mut Vec::new())
                });
                let made = self.ration(&ration.text);
                group.eats.push(Eats {
                    ration: ration.text.clone(),
                    place: Place::new(file, ration.span),
                    line: line.span,
                    intake,
                    from: from.as_ref().and_then(day),
                    to: to.as_ref().and_then(day),
                    phase: made.and_then(|made| self.phase_of(&made)),
                    names_from: from.is_some(),
                    names_to: to.is_some(),
                });
            }
            Some(GroupStatement::Placed { .. } | GroupStatement::Accept(_)) | None => {}
        }
    }

    /// What a group eats of a ration; none where there is no such group, or it does not eat it.
    ///
    /// Of several lines for one ration, the one of today counts; else the next to come; else the last.
    #[must_use]
    pub fn order_of(&self, group: &str, ration: &Ration) -> Option<GroupOrder> {
        let group = self.group(group)?;
        let of_ration = |lines: &'_ [Eats]| -> Vec<Eats> {
            let lines = lines.iter().filter(|line| line.ration == ration.name);
            lines.cloned().collect()
        };
        let (eaten, never) = (of_ration(&group.eats), of_ration(&group.never));
        let eaten: Vec<&Eats> = eaten.iter().collect();
        let line = Group::line_on(&eaten, self.farm.settings().today).or(never.last())?;
        Some(GroupOrder {
            intake: line.intake.clone().or_else(|| ration.intake.clone()),
            place: line.place,
            phase: group
                .placed
                .zip(line.phase.clone())
                .map(|(placed, phase)| PhaseOrder {
                    placed,
                    phase,
                    from: line.from,
                    to: line.to.filter(|_| !line.names_to),
                }),
            label: group.label.clone(),
            head: group.head.clone(),
            mix_for: group.mix_for.clone(),
        })
    }

    /// What `check` says of a group's age beside what it eats.
    #[must_use]
    pub fn judge_age(&self, group: &Group) -> Vec<Finding> {
        let mut findings = Vec::new();
        phases::judge(group, self.farm.settings().today, &mut findings);
        findings
    }

    /// The rations that a group is mixed for today, where something it eats goes by its age: what it eats today; else what
    /// comes next; else what it ate last.
    #[must_use]
    pub fn eaten_by_age(&self, group: &str) -> Option<Vec<SmolStr>> {
        let (group, today) = (self.group(group)?, self.farm.settings().today?);
        group.placed?;
        let mut all = group.eats.iter().chain(&group.never);
        all.find(|line| line.phase.is_some())?;
        let lines: Vec<&Eats> = group.eats.iter().collect();
        let of_today = lines.iter().filter(|line| line.is_on(today));
        let of_today: Vec<SmolStr> = of_today.map(|line| line.ration.clone()).collect();
        if !of_today.is_empty() {
            return Some(of_today);
        }
        let to_come = lines.iter().filter(|line| Some(today) < line.from);
        let next = to_come.min_by_key(|line| line.from);
        let last = lines.iter().max_by_key(|line| line.to);
        Some(vec![next.or(last)?.ration.clone()])
    }

    /// Whether a group of that name can be seen.
    #[must_use]
    pub fn knows_group(&self, group: &str) -> bool {
        self.find(Namespace::Group, group).any().is_some()
    }
}

impl Ration {
    /// What is eaten beside it.
    #[must_use]
    pub fn eaten_beside(&self) -> Vec<EatenBeside> {
        let beside = self.beside.iter();
        beside
            .map(|one| {
                let (ingredient, ration) = match &one.feed {
                    Feed::Ingredient(ingredient) => (Some(Arc::clone(ingredient)), None),
                    Feed::Ration(ration) => (None, Some(Arc::clone(ration))),
                };
                EatenBeside {
                    name: one.name.clone(),
                    ingredient,
                    ration,
                    daily: one.amount.clone(),
                }
            })
            .collect()
    }
}
