//! From plans to sheets: one for every batch, in the order of the day.

use trug_model::Q;
use trug_plan::plan::{Batch, Plan};

use super::head::{Which, batches_of};
use super::picture::{Picture, PictureWords, picture};
use super::writing::Writing;
use super::{Booklet, DayOrder, Sheet};
use crate::plan::PlanAbout;
use crate::speech::{Part, Speech};

/// Batches that get a sheet each; of more, one sheet says how often it is done.
const MOST_SHEETS: u32 = 60;

/// Whether batches done alike have a sheet each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Copies {
    /// One sheet that says how often it is done: to be read.
    One,
    /// A sheet for every batch, each to be ticked; up to 60 of a plan.
    EachBatch,
}

/// The sheets of plans, which stand in the order they are mixed in.
#[must_use]
pub fn booklet(plans: &[(&Plan, &PlanAbout<'_>)], speech: &Speech, copies: Copies) -> Booklet {
    let mut sheets = Vec::new();
    let mut rows = Vec::new();
    for (plan, about) in plans {
        let writing = Writing::of(plan, about, speech);
        let each = copies == Copies::EachBatch && batches_of(plan) <= MOST_SHEETS;
        let mut number = 0;
        for batch in &plan.batches {
            let times = if each { batch.times } else { 1 };
            for _ in 0..times {
                number += 1;
                let which = if each { Which::One(number) } else { Which::All };
                rows.push(writing.day_row(rows.len() + 1, batch, which));
                sheets.push(writing.sheet(batch, which, number));
            }
        }
    }
    let day = (sheets.len() > 1).then(|| day_order(rows, speech));
    let title = match sheets.as_slice() {
        [only] => only.title.clone(),
        _ => day
            .as_ref()
            .map_or_else(String::new, |day| day.heading.clone()),
    };
    Booklet {
        phrases: speech.phrases().to_owned(),
        language: speech.language(),
        title,
        day,
        sheets,
    }
}

fn day_order(rows: Vec<[String; 4]>, speech: &Speech) -> DayOrder {
    DayOrder {
        heading: speech.say("day-order"),
        columns: ["day-sheet", "day-what", "day-mass", "day-see-to"]
            .map(|phrase| speech.say(phrase)),
        rows,
    }
}

impl Writing<'_> {
    fn day_row(&self, number: usize, batch: &Batch, which: Which) -> [String; 4] {
        let see_to = [
            self.about.is_draft(self.plan).then_some("draft"),
            self.about.for_mixing.then_some("day-not-a-feed"),
            self.about.is_medicated.then_some("day-clean"),
        ];
        let see_to: Vec<String> = see_to
            .into_iter()
            .flatten()
            .map(|phrase| self.speech.say(phrase))
            .collect();
        let what: Vec<String> = [self.title().to_owned()]
            .into_iter()
            .chain(self.batch_of(batch, which))
            .collect();
        let mass = match which {
            Which::All if self.plan.batches.len() > 1 => {
                self.mass(&(&batch.total_g * &Q::int(i64::from(batch.times))))
            }
            Which::All => self.whole_mass(),
            Which::One(_) => self.mass(&batch.total_g),
        };
        [
            number.to_string(),
            what.join(", "),
            mass,
            see_to.join(" · "),
        ]
    }

    fn sheet(&self, batch: &Batch, which: Which, number: u32) -> Sheet {
        Sheet {
            ration: self.plan.order.ration.clone(),
            title: self.title().to_owned(),
            subtitle: self.subtitle(batch, which),
            draft: self.draft(),
            facts: self.facts(batch),
            beware: self.beware(),
            weigh: self.weighing_table(batch, self.heading("weigh", batch, which)),
            mix: self.steps(batch, self.heading("mix", batch, which)),
            picture: self.picture(batch),
            totals: self.totals(batch),
            doses: self.doses(),
            found: self.found(),
            defers: self.speech.say("defers"),
            label: self.label(batch, which),
            record: self.record(batch, number),
        }
    }

    fn picture(&self, batch: &Batch) -> Picture {
        let step = |rank: usize| {
            let parts = [("step", Part::Count(rank + 1))];
            self.speech.say_of("picture-step", &parts)
        };
        let words = PictureWords {
            title: self.speech.say("picture"),
            description: self.told(batch),
            steps: (0..batch.steps.len()).map(step).collect(),
            floor: self.speech.say("picture-floor"),
            mass: &|grams| self.mass(grams),
        };
        picture(self.plan, batch, &words)
    }
}
