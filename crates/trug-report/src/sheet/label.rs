//! What is tied to the bag, and what the phone page writes into the farm's texts.

use std::collections::BTreeMap;

use jiff::Span;
use jiff::civil::Date;
use trug_model::Q;
use trug_plan::Hazard;
use trug_plan::plan::Batch;

use super::head::Which;
use super::masses::shown;
use super::writing::Writing;
use super::{Fact, Label, Record, RecordWords, hazard_words};
use crate::speech::{Part, Speech};

impl Writing<'_> {
    pub(super) fn label(&self, batch: &Batch, which: Which) -> Label {
        let facts = [
            ("fact-batch", Some(self.label_batch(batch, which))),
            ("label-mixed", Some(self.speech.date(&self.about.today))),
            ("label-keeps", self.keeps_until()),
            ("label-animals", self.animals()),
            ("label-lots", self.lots(batch)),
            ("label-mixed-by", Some(String::new())),
        ];
        let known = facts
            .into_iter()
            .filter_map(|(phrase, value)| Some((phrase, value?)));
        Label {
            heading: self.speech.say("label"),
            title: self.title().to_owned(),
            alarm: self.alarm(),
            facts: known
                .map(|(phrase, value)| Fact {
                    what: self.speech.say(phrase),
                    value,
                })
                .collect(),
            lines: self.label_lines(),
        }
    }

    /// `120 kg, batch 1 of 3`.
    fn label_batch(&self, batch: &Batch, which: Which) -> String {
        let mass = [self.mass(&batch.total_g)];
        let parts: Vec<String> = mass
            .into_iter()
            .chain(self.batch_of(batch, which))
            .collect();
        parts.join(", ")
    }

    fn alarm(&self) -> Option<String> {
        let is_draft = self.about.is_draft(self.plan);
        let alarms = [
            is_draft.then_some("draft"),
            self.about.for_mixing.then_some("not-a-feed"),
        ];
        let alarms: Vec<String> = alarms
            .into_iter()
            .flatten()
            .map(|phrase| self.speech.say(phrase))
            .collect();
        (!alarms.is_empty()).then(|| alarms.join(" · "))
    }

    /// The last day it may be fed, when it is mixed on the day of the plan. Part of a day does not count.
    fn keeps_until(&self) -> Option<String> {
        let days = self.about.keeps.as_ref()?.floor().to_i64()?;
        let mixed: Date = self.about.today.parse().ok()?;
        let until = mixed.checked_add(Span::new().try_days(days).ok()?).ok()?;
        let parts = [
            ("date", Part::Words(&self.speech.date(&until.to_string()))),
            (
                "days",
                Part::Words(&self.speech.days(usize::try_from(days).ok()?)),
            ),
        ];
        Some(self.speech.say_of("label-keeps-value", &parts))
    }

    /// `Pond house, Laying duck: 320`.
    fn animals(&self) -> Option<String> {
        let animal = self.about.animal.as_ref().map(|animal| {
            let head = self.about.head.as_ref();
            head.map_or_else(
                || animal.clone(),
                |head| {
                    let head = self.speech.number(&head.to_string());
                    let parts = [
                        ("animal", Part::Words(animal)),
                        ("head", Part::Words(&head)),
                    ];
                    self.speech.say_of("label-head", &parts)
                },
            )
        });
        let parts: Vec<String> = self.group().into_iter().chain(animal).collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// `Fish meal FM-07 and FM-09, Duck premix DP-12`, in the order of the ration.
    fn lots(&self, batch: &Batch) -> Option<String> {
        let mut weighed: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        for weighing in &batch.weighings {
            if let Some(lot) = &weighing.lot {
                let lots = weighed.entry(weighing.ingredient).or_default();
                if !lots.contains(lot) {
                    lots.push(lot.clone());
                }
            }
        }
        let lots = weighed.into_iter().map(|(rank, lots)| {
            let parts = [
                ("ingredient", Part::Words(self.name_of(rank))),
                ("lot", Part::Words(&self.speech.list(&lots))),
            ];
            self.speech.say_of("label-lot", &parts)
        });
        let lots: Vec<String> = lots.collect();
        (!lots.is_empty()).then(|| lots.join(", "))
    }

    /// What who feeds it must know, and not only who mixes it.
    fn label_lines(&self) -> Vec<String> {
        let concerns_feeding = |hazard: &Hazard| match hazard {
            Hazard::NotAFeed
            | Hazard::NoAnimal
            | Hazard::Withdrawal { .. }
            | Hazard::KeepFrom { .. } => true,
            Hazard::Written(_) | Hazard::Medicated => false,
        };
        let mut lines: Vec<String> = Vec::new();
        for caution in &self.about.cautions {
            let words = hazard_words(caution, &self.plan.order.ration, self.speech);
            if concerns_feeding(&caution.hazard) && !lines.contains(&words) {
                lines.push(words);
            }
        }
        lines
    }

    pub(super) fn record(&self, batch: &Batch, number: u32) -> Record {
        let ration = &self.plan.order.ration;
        let day = &self.about.today;
        // The batch counts the 100 %; what is on top is in the weighings.
        let whole: Q = batch
            .amounts
            .iter()
            .filter(|amount| {
                let ingredient = self.plan.order.ingredients.get(amount.ingredient);
                ingredient.is_none_or(|ingredient| !ingredient.on_top)
            })
            .map(|amount| &amount.weighed_g)
            .sum();
        let say = |phrase: &str| self.speech.say(phrase);
        Record {
            name: format!("{ration}-{day}-{number}"),
            day: day.clone(),
            batch: shown(&whole, Speech::english()),
            words: RecordWords {
                mixed_by: say("page-mixed-by"),
                made: say("page-made"),
                text: say("page-text"),
                not_weighed: say("page-not-weighed"),
                only_ticked: say("page-only-ticked"),
                copy: say("page-copy"),
                copied: say("page-copied"),
                clear: say("page-clear"),
                clear_sure: say("page-clear-sure"),
                outside: self.speech.say_one("page-outside", "range", "{range}"),
                unreadable: say("page-unreadable"),
                left: say("page-left"),
                all_done: say("page-all-done"),
                not_kept: say("page-not-kept"),
                print: say("page-print"),
            },
        }
    }
}
