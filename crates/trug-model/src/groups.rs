//! Groups: the animals fed alike, what they eat and when, and what is eaten beside a ration.

use std::sync::Arc;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{Place, Span};
use trug_syntax::tree::{self, GroupStatement, ItemBody};

use crate::Q;
use crate::farm::{ItemRef, Namespace};
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
    /// What they eat, in the order of the text.
    pub eats: Vec<Eats>,
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

    fn group_at(&self, item_ref: ItemRef) -> Option<Group> {
        let item = self.farm.item_at(item_ref)?;
        let ItemBody::Group(written) = &item.body else {
            return None;
        };
        let mut group = Group {
            name: written.name.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            place: Place::new(item_ref.file, written.name.span),
            item: item.whole,
            head: Q::ZERO,
            eats: Vec::new(),
            mix_for: None,
            has_unread_line: item.has_unread_line,
        };
        for line in &written.lines {
            self.group_line(line, &mut group);
        }
        Some(group)
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
                group.eats.push(Eats {
                    ration: ration.text.clone(),
                    place: Place::new(file, ration.span),
                    line: line.span,
                    intake,
                    from: from.as_ref().and_then(day),
                    to: to.as_ref().and_then(day),
                });
            }
            Some(GroupStatement::Accept(_)) | None => {}
        }
    }

    /// What a group eats of a ration; none where there is no such group, or it does not eat it.
    ///
    /// Of several lines for one ration, the one of today counts; else the next to come; else the last.
    #[must_use]
    pub fn order_of(&self, group: &str, ration: &Ration) -> Option<GroupOrder> {
        let group = self.group(group)?;
        let mut lines: Vec<&Eats> = group.eats.iter().collect();
        lines.retain(|line| line.ration == ration.name);
        let today = self.farm.settings().today;
        let of_today = lines
            .iter()
            .rfind(|line| today.is_some_and(|today| line.is_on(today)));
        let to_come = lines
            .iter()
            .filter(|line| today.is_some() && today < line.from)
            .min_by_key(|line| line.from);
        let line = of_today.or(to_come).or(lines.last())?;
        Some(GroupOrder {
            intake: line.intake.clone().or_else(|| ration.intake.clone()),
            place: line.place,
            label: group.label.clone(),
            head: group.head.clone(),
            mix_for: group.mix_for.clone(),
        })
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
