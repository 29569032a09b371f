//! What is known of one ration on one side: its amounts, what they come to, how they are mixed, what was found.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use trug_findings::{Finding, Place};
use trug_model::analysis::Analysis;
use trug_model::ration::{Line, Ration};
use trug_model::{Concerns, Phase, Q, RationName, View, refuses, to_be_weighed};
use trug_plan::{Refusal, Request, analyse_ration, plan_ration};

use crate::change::{Amount, Hindrance, Work};
use crate::found::Found;
use crate::said::Said;
use crate::side::Side;
use crate::work;

/// All that is known of a ration.
#[derive(Default)]
pub(crate) struct State {
    pub(crate) ration: Option<Arc<Ration>>,
    /// The ages it is for, by the targets it meets.
    pub(crate) phase: Option<Phase>,
    pub(crate) analysis: Option<Analysis>,
    /// Whose the bounds are, by the places they are written at.
    pub(crate) whose: BTreeMap<Place, String>,
    pub(crate) work: Option<Work>,
    pub(crate) hindrances: BTreeSet<Hindrance>,
    pub(crate) found: Vec<Found>,
}

/// What one text sees, opened for its rations.
pub(crate) struct Opened<'a> {
    pub(crate) side: &'a Side<'a>,
    pub(crate) view: View<'a>,
    concerns: Concerns<'a>,
    found: Vec<Finding>,
}

impl<'a> Opened<'a> {
    pub(crate) fn new(side: &'a Side<'a>, file: trug_findings::FileId) -> Opened<'a> {
        let view = side.farm.open(file);
        let seen = view.sees();
        Opened {
            concerns: Concerns::among(side.farm, seen),
            found: seen
                .iter()
                .flat_map(|file| side.found(*file))
                .cloned()
                .collect(),
            view,
            side,
        }
    }

    /// Works out all there is to know of a ration.
    pub(crate) fn state(&self, name: &RationName) -> State {
        let found = self.concerns.concerning(name, None, &self.found);
        let mut state = State::default();
        let mut told = found.clone();
        if let Some(ration) = self.view.made_out(&name.name) {
            self.work_out(&ration, found, &mut state, &mut told);
            if state.analysis.is_some() {
                let bounds = self.view.additions(&ration).into_iter();
                state.whose = bounds
                    .map(|one| (one.place, one.whose.to_string()))
                    .collect();
            }
            state.phase = self.view.phase_of(&ration);
            state.ration = Some(ration);
        } else {
            state.hindrances.insert(Hindrance::Unread);
        }
        state.found = told.iter().map(|one| Found::of(self.side, one)).collect();
        state
    }

    /// Plans the ration where it can be planned; else only analyses it.
    fn work_out(
        &self,
        ration: &Ration,
        found: Vec<Finding>,
        state: &mut State,
        told: &mut Vec<Finding>,
    ) {
        if ration
            .lines
            .iter()
            .any(|line| line.is_open || !line.is_fixed())
        {
            state.hindrances.insert(Hindrance::Open);
        } else if found
            .into_iter()
            .map(to_be_weighed)
            .any(|one| refuses(&one))
        {
            state.hindrances.insert(Hindrance::Errors);
        } else {
            match plan_ration(&self.view, ration, &Request::default()) {
                Ok(planned) => {
                    state.work = work::of(&planned.plan);
                    told.extend(planned.plan.findings);
                    state.analysis = Some(planned.analysis);
                    return;
                }
                Err(Refusal::HowMuch) => {
                    state.hindrances.insert(Hindrance::NoBatch);
                }
                Err(_) => {}
            }
        }
        let analysed = analyse_ration(&self.view, ration, None, true);
        state.analysis = analysed.map(|analysed| analysed.analysis);
        if state.analysis.is_none() {
            state.hindrances.insert(Hindrance::NotWhole);
        }
    }
}

impl State {
    /// What is said of it beside its amounts.
    pub(crate) fn facts(&self) -> BTreeMap<&'static str, Said> {
        let Some(ration) = &self.ration else {
            return BTreeMap::new();
        };
        let word = |word: &str| Said::default().word(word);
        let mut facts = BTreeMap::new();
        let mut add = |what, said: Option<Said>| {
            if let Some(said) = said {
                facts.insert(what, said);
            }
        };
        let kg = |value: &Q| Said::quantity(value, "kg");
        add(
            "label",
            ration
                .label
                .as_deref()
                .map(|label| word(&format!("\"{label}\""))),
        );
        add("for", ration.animal.as_deref().map(word));
        add("for mixing", ration.for_mixing.then(|| word("yes")));
        let meets: Vec<&str> = ration.meets.iter().map(|(name, _)| name.as_str()).collect();
        add(
            "meets",
            (!meets.is_empty()).then(|| word(&meets.join(", "))),
        );
        let phase = self.phase.as_ref();
        add("for ages", phase.map(|phase| word(&phase.words())));
        add("batch", ration.batch.as_ref().map(kg));
        add("mix by", ration.method.as_ref().map(|(name, _)| word(name)));
        let daily = |value: &Q| Said::quantity(&(value * &Q::int(1000)), "g/day");
        add("intake", ration.intake.as_ref().map(daily));
        add(
            "keeps",
            ration
                .keeps
                .as_ref()
                .map(|days| Said::quantity(days, "days")),
        );
        let percent = |part: &Q| Said::quantity(&(part * &Q::int(100)), "%");
        add("certainty", ration.certainty.as_ref().map(percent));
        facts
    }

    /// Its amounts by ingredient, in the order of the text; lines of one ingredient add up.
    pub(crate) fn amounts(&self) -> Vec<((String, bool), Amount)> {
        let mut amounts: Vec<((String, bool), Amount)> = Vec::new();
        for line in self.ration.iter().flat_map(|ration| &ration.lines) {
            let key = (line.name.to_string(), line.on_top);
            let own = amount(line);
            match amounts.iter_mut().find(|(known, _)| *known == key) {
                Some((_, amount)) => amount.add(own),
                None => amounts.push((key, own)),
            }
        }
        let batch = self
            .ration
            .as_ref()
            .and_then(|ration| ration.batch.as_ref());
        for (_, amount) in &mut amounts {
            amount.kg = batch.map(|batch| (&amount.low * batch, &amount.high * batch));
        }
        amounts
    }
}

fn amount(line: &Line) -> Amount {
    Amount {
        low: line.low.clone(),
        high: line.high.clone(),
        is_open: line.is_open,
        or_none: line.or_none,
        kg: None,
        lots: line.lot.iter().map(ToString::to_string).collect(),
    }
}

impl Amount {
    fn add(&mut self, other: Amount) {
        self.low = &self.low + &other.low;
        self.high = &self.high + &other.high;
        self.is_open |= other.is_open;
        self.or_none &= other.or_none;
        self.lots.extend(other.lots);
        self.lots.sort();
    }
}
