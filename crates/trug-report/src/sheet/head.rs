//! The head of a sheet: which ration, how much, which batch of how many, for whom, on what day.

use trug_plan::plan::{Batch, Plan};

use super::Fact;
use super::writing::Writing;
use crate::speech::Part;

/// Which of the batches done alike a sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Which {
    /// All of them: the sheet says how often it is done.
    All,
    /// This one, counted from 1 over the whole plan.
    One(u32),
}

/// How many batches a plan has, all done.
pub(super) fn batches_of(plan: &Plan) -> u32 {
    let times = plan.batches.iter().map(|batch| batch.times);
    times.fold(0, u32::saturating_add)
}

impl Writing<'_> {
    pub(super) fn subtitle(&self, batch: &Batch, which: Which) -> Option<String> {
        let ration = &self.plan.order.ration;
        let name = (self.title() != ration).then(|| ration.clone());
        let parts: Vec<String> = name
            .into_iter()
            .chain(self.batch_of(batch, which))
            .collect();
        (!parts.is_empty()).then(|| parts.join(" · "))
    }

    /// `batch 1 of 3`, or `batches 1 to 3 of 4` where a sheet is for all that are done alike and others are not; none where there is
    /// one only, or the sheet is for all of them.
    pub(super) fn batch_of(&self, batch: &Batch, which: Which) -> Option<String> {
        let all = batches_of(self.plan);
        let (first, last) = match which {
            Which::One(number) => (number, number),
            Which::All if self.plan.batches.len() > 1 => {
                let earlier = self.plan.batches.iter();
                let earlier = earlier.take_while(|other| other.number < batch.number);
                let before = earlier
                    .map(|other| other.times)
                    .fold(0, u32::saturating_add);
                (before.saturating_add(1), before.saturating_add(batch.times))
            }
            Which::All => return None,
        };
        let count = ("count", Part::Count(all as usize));
        let said = if first == last {
            let parts = [("number", Part::Count(first as usize)), count];
            self.speech.say_of("batch-of", &parts)
        } else {
            let parts = [
                ("first", Part::Count(first as usize)),
                ("last", Part::Count(last as usize)),
                count,
            ];
            self.speech.say_of("batches-of", &parts)
        };
        (all > 1).then_some(said)
    }

    /// A heading, and how often what stands under it is done.
    pub(super) fn heading(&self, phrase: &str, batch: &Batch, which: Which) -> String {
        let heading = self.speech.say(phrase);
        if which != Which::All || batch.times < 2 {
            return heading;
        }
        let parts = [
            ("heading", Part::Words(&heading)),
            ("count", Part::Count(batch.times as usize)),
        ];
        self.speech.say_of("times-over", &parts)
    }

    pub(super) fn facts(&self, batch: &Batch) -> Vec<Fact> {
        let plan = self.plan;
        let is_split = batches_of(plan) > 1;
        let differs = plan.ordered_g != plan.weighed_g;
        let facts = [
            ("fact-mass", Some(self.whole_mass())),
            ("fact-batch", is_split.then(|| self.mass(&batch.total_g))),
            ("fact-ordered", differs.then(|| self.mass(&plan.ordered_g))),
            ("fact-group", self.group_and_days()),
            ("fact-animal", self.about.animal.clone()),
            ("fact-day", Some(self.speech.date(&self.about.today))),
            ("fact-written", Some(self.about.file.clone())),
        ];
        let known = facts
            .into_iter()
            .filter_map(|(phrase, value)| Some((phrase, value?)));
        known
            .map(|(phrase, value)| Fact {
                what: self.speech.say(phrase),
                value,
            })
            .collect()
    }

    /// `240 kg: 2 batches of 120 kg`.
    pub(super) fn whole_mass(&self) -> String {
        let total = self.mass(&self.plan.weighed_g);
        let batches = self.plan.batches.as_slice();
        let count = batches_of(self.plan);
        match batches {
            [batch, others @ ..]
                if count > 1 && others.iter().all(|it| it.total_g == batch.total_g) =>
            {
                let parts = [
                    ("total", Part::Words(&total)),
                    ("count", Part::Count(count as usize)),
                    ("each", Part::Words(&self.mass(&batch.total_g))),
                ];
                self.speech.say_of("mass-in-batches", &parts)
            }
            _ => total,
        }
    }

    fn group_and_days(&self) -> Option<String> {
        let days = self.about.days.map(|days| self.speech.days(days as usize));
        let parts = self.group().into_iter().chain(days).chain(self.fed());
        let parts: Vec<String> = parts.collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// `12 November 2026 – 15 November 2026`: on which days it is fed, where the group eats it by its age.
    fn fed(&self) -> Option<String> {
        let fed = self.about.fed.as_ref()?;
        let day = |day: jiff::civil::Date| self.speech.date(&day.to_string());
        if fed.from == fed.to {
            return Some(day(fed.from));
        }
        Some(format!("{} – {}", day(fed.from), day(fed.to)))
    }

    /// What people call the group.
    pub(super) fn group(&self) -> Option<String> {
        let called = self.about.group_called.as_ref();
        let telling = called.filter(|label| !label.trim().is_empty());
        telling.or(self.about.group.as_ref()).cloned()
    }
}
