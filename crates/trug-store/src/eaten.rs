//! From texts to what is eaten: every line `eats` of every group becomes a meal, or is said not to be counted and why.

use std::ops::RangeInclusive;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_model::ration::Ration;
use trug_model::{Concerns, Eats, Farm, Group, Q, View, refuses, to_be_weighed};
use trug_syntax::tree::{self, ItemBody};

use crate::buying::{Beside, Daily, Fed, Judged, Money, Uncounted, Unfed, WhyUncounted};
use crate::feeds::Feeds;
use crate::mixes::{Day, Days, Meal};
use crate::unfed;

/// What is eaten, as the texts that have groups see it.
pub(crate) struct Table<'farm> {
    pub(crate) views: Vec<View<'farm>>,
    pub(crate) feeds: Feeds,
    pub(crate) meals: Vec<Meal>,
    pub(crate) fed: Vec<Fed>,
    pub(crate) uncounted: Vec<Uncounted>,
    pub(crate) unfed: Vec<Unfed>,
    pub(crate) beside: Vec<Beside>,
}

/// One line `eats` of a group.
struct Line<'a, 'farm> {
    farm: &'farm Farm,
    group: &'a Group,
    eats: &'a Eats,
    /// The view it is seen from, by its rank.
    view: usize,
    first: Day,
    last: Option<Day>,
    /// It is eaten on none of the days asked for.
    is_later: bool,
}

impl<'farm> Table<'farm> {
    /// What the groups of these texts eat in the days asked for, and in those after them.
    pub(crate) fn of(
        farm: &'farm Farm,
        texts: &[FileId],
        judged: Judged<'_>,
        days: &Days,
    ) -> Table<'farm> {
        let mut table = Table {
            views: Vec::new(),
            feeds: Feeds::default(),
            meals: Vec::new(),
            fed: Vec::new(),
            uncounted: Vec::new(),
            unfed: Vec::new(),
            beside: Vec::new(),
        };
        for &text in texts {
            if farm.is_book(text) || farm.is_table(text) {
                continue;
            }
            if let Judged::Found(found) = judged {
                table.unread(farm, text, found);
            }
            let is_group = |item: &tree::Item| matches!(item.body, ItemBody::Group(_));
            if !farm.tree(text).items.iter().any(is_group) {
                continue;
            }
            let view = farm.open(text);
            let mut groups = view.groups();
            if let Judged::AtAGlance { only: Some(only) } = judged {
                groups.retain(|group| group.name == only);
            }
            let rank = table.views.len();
            table.views.push(view);
            table.groups(farm, rank, &groups, judged, days);
        }
        table
    }

    fn groups(
        &mut self,
        farm: &'farm Farm,
        view: usize,
        groups: &[Group],
        judged: Judged<'_>,
        days: &Days,
    ) {
        let mut concerns = None;
        for group in groups {
            self.unfed.extend(unfed::of(group, days));
            for eats in &group.eats {
                let (first, last) = (
                    eats.from.map_or(0, |from| days.of(from)),
                    eats.to.map(|to| days.of(to)),
                );
                if last.is_some_and(|last| last < 0) || *days.after().end() < first {
                    continue;
                }
                let line = Line {
                    farm,
                    group,
                    eats,
                    view,
                    first,
                    last,
                    is_later: *days.fed().end() < first,
                };
                let counted = self.count(&line, judged, &mut concerns);
                match counted {
                    Ok((made, intake)) => self.add(&line, &made, intake, days),
                    Err((why, errors)) => self.uncounted.push(Uncounted {
                        group: Some(group.name.clone()),
                        ration: Some(eats.ration.clone()),
                        place: eats.place,
                        why,
                        is_later: line.is_later,
                        errors,
                    }),
                }
            }
        }
    }

    /// The ration of a line and what each animal eats of it; or why it cannot be counted.
    fn count(
        &self,
        line: &Line<'_, 'farm>,
        judged: Judged<'_>,
        concerns: &mut Option<Concerns<'farm>>,
    ) -> Result<(Arc<Ration>, Q), (WhyUncounted, Vec<Finding>)> {
        let why = |why: WhyUncounted| (why, Vec::new());
        let Some(view) = self.views.get(line.view) else {
            return Err(why(WhyUncounted::NotKnown));
        };
        let made = view.made_out(&line.eats.ration);
        let errors = match judged {
            Judged::Found(found) => {
                let concerns =
                    concerns.get_or_insert_with(|| Concerns::among(line.farm, view.sees()));
                line.errors(made.as_deref(), concerns, found)
            }
            Judged::AtAGlance { .. } => {
                let of_ration = made.iter().flat_map(|made| view.judge(made));
                of_ration.filter(refuses).collect()
            }
        };
        if !errors.is_empty() || line.group.has_unread_line {
            return Err((WhyUncounted::HasErrors, errors));
        }
        let made = made
            .filter(|made| made.is_known())
            .ok_or(why(WhyUncounted::NotKnown))?;
        if !line.group.head.is_positive() {
            return Err(why(WhyUncounted::NoAnimals));
        }
        let intake = line.eats.intake.clone().or_else(|| made.intake.clone());
        let intake = intake.ok_or(why(WhyUncounted::NoIntake))?;
        Ok((made, intake))
    }

    fn add(&mut self, line: &Line<'_, 'farm>, made: &Ration, intake: Q, days: &Days) {
        let group = line.group;
        let daily = &group.head * &intake;
        let mix_days = mix_days(group.mix_for.as_ref(), made.keeps.as_ref());
        let feed = self.feeds.ration(&self.views, line.view, made);
        let meal = line.meal(self.fed.len(), feed, daily.clone(), mix_days.unwrap_or(1));
        let cost = self.views.get(line.view).and_then(|view| view.cost(made));
        self.fed.push(Fed {
            group: group.name.clone(),
            label: group.label.clone(),
            place: line.eats.place,
            ration: made.name.clone(),
            ration_label: made.label.clone(),
            head: group.head.clone(),
            cost: cost.map(|cost| Daily {
                money: Money {
                    amount: &cost.per_kg * &daily,
                    currency: SmolStr::new(&cost.currency),
                },
                complete: cost.complete,
            }),
            intake,
            daily,
            from: line.eats.from,
            to: line.eats.to,
            mix_days,
            days: meal.count(&days.fed()),
            mixes: u32::try_from(meal.mixes(&days.fed()).count()).unwrap_or(u32::MAX),
            short: Vec::new(),
        });
        self.meals.push(meal);
        self.beside(line, made, &days.fed());
    }

    /// What is eaten beside is taken day by day where it is something that is bought or kept.
    fn beside(&mut self, line: &Line<'_, 'farm>, made: &Ration, span: &RangeInclusive<Day>) {
        for one in made.eaten_beside() {
            let Some(view) = self.views.get(line.view) else {
                continue;
            };
            let is_bought = one.ingredient.as_ref().is_none_or(|ingredient| {
                ingredient.price.is_some()
                    || ingredient.sold_in.is_some()
                    || !view.lots_of(&one.name).is_empty()
            });
            let daily = &line.group.head * &one.daily;
            let feed = self.feeds.named(&self.views, line.view, &one.name);
            let Some(feed) = feed else {
                continue;
            };
            let meal = line.meal(self.fed.len().saturating_sub(1), feed, daily, 1);
            if is_bought {
                self.meals.push(meal);
                continue;
            }
            let mass = &meal.daily * &Q::int(i64::from(meal.count(span)));
            if !mass.is_positive() {
                continue;
            }
            match self.beside.iter_mut().find(|known| known.name == one.name) {
                Some(known) => known.mass += mass,
                None => self.beside.push(Beside {
                    label: one.ingredient.and_then(|it| it.label.clone()),
                    name: one.name,
                    mass,
                }),
            }
        }
    }

    /// Items whose header could not be read: each may be a group, or what one eats. A text that is none hides everything.
    fn unread(&mut self, farm: &Farm, text: FileId, found: &[Finding]) {
        let items = &farm.tree(text).items;
        let unread = items
            .iter()
            .filter(|item| matches!(item.body, ItemBody::Unread(_)));
        let mut spans: Vec<Span> = unread.map(|item| item.header).collect();
        if items.is_empty() {
            let here = found.iter().filter(|one| one.place.file == text);
            spans.extend(here.filter(|one| refuses(one)).map(|one| one.place.span));
        }
        for span in spans {
            let errors = errors_within(text, span, found);
            let is_accepted = errors.is_empty();
            if is_accepted {
                continue;
            }
            self.uncounted.push(Uncounted {
                group: None,
                ration: None,
                place: Place::new(text, span),
                why: WhyUncounted::Unread,
                is_later: false,
                errors,
            });
        }
    }
}

impl Line<'_, '_> {
    fn meal(&self, fed: usize, feed: usize, daily: Q, every: u32) -> Meal {
        Meal {
            fed,
            feed,
            view: self.view,
            daily,
            first: self.first,
            last: self.last,
            every,
        }
    }

    /// The errors by which it cannot be counted: of the group but for what else it eats, of the ration, and of all that this
    /// rests on.
    fn errors(
        &self,
        made: Option<&Ration>,
        concerns: &Concerns<'_>,
        found: &[Finding],
    ) -> Vec<Finding> {
        let name = made.and_then(|made| self.farm.ration_named_at(made.place));
        let of_ration = name.map(|name| concerns.concerning(&name, None, found));
        let weighed = of_ration.into_iter().flatten().map(to_be_weighed);
        let mut errors: Vec<Finding> = weighed.filter(refuses).collect();
        for error in errors_within(self.group.place.file, self.group.item, found) {
            let start = error.place.span.start;
            let is_of_other = self.group.eats.iter().any(|other| {
                other.line != self.eats.line && other.line.start <= start && start <= other.line.end
            });
            if !is_of_other && !errors.contains(&error) {
                errors.push(error);
            }
        }
        errors
    }
}

/// The errors in a part of a text.
pub(crate) fn errors_within(text: FileId, span: Span, found: &[Finding]) -> Vec<Finding> {
    let is_there = |finding: &&Finding| {
        let place = finding.place;
        place.file == text && span.start <= place.span.start && place.span.start <= span.end
    };
    found
        .iter()
        .filter(is_there)
        .filter(|one| refuses(one))
        .cloned()
        .collect()
}

/// For how many days one mix is made: as many as group and keeping both allow, a part of a day being a day.
fn mix_days(mix_for: Option<&Q>, keeps: Option<&Q>) -> Option<u32> {
    let least = [mix_for, keeps].into_iter().flatten().min()?;
    let whole = least.floor().to_i64().unwrap_or(i64::MAX).max(1);
    Some(u32::try_from(whole).unwrap_or(u32::MAX))
}
