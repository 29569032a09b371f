//! A ration with its amounts made out: what of each ingredient one kg of the mix holds.

mod amounts;
mod draft;
mod leaves;
mod mixed;
mod quantified;

use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::Carry;

use crate::Q;
use crate::farm::Namespace;
use crate::findings::amount;
use crate::quantity::Range;
use crate::view::{Feed, View};

pub(crate) use leaves::{Inclusion, Leaf};
pub use mixed::Weight;

/// A ration, as one text sees it. Shares are fractions of the 100 %, as fed; masses in kg.
#[derive(Clone, Debug)]
pub struct Ration {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// The text it stands in.
    pub file: FileId,
    /// The animal it is for.
    pub animal: Option<SmolStr>,
    /// Not fed as it is: judged in every ration that holds it.
    pub for_mixing: bool,
    /// Its ingredients in the order of the text.
    pub lines: Vec<Line>,
    /// The targets it meets, and where that is written.
    pub meets: Vec<(SmolStr, Place)>,
    /// The 100 % of one batch.
    pub batch: Option<Q>,
    /// The method it is mixed by, and where that is written.
    pub method: Option<(SmolStr, Place)>,
    /// What an animal eats of it, in kg a day.
    pub intake: Option<Q>,
    /// How long it keeps, in days.
    pub keeps: Option<Q>,
    /// What is eaten beside, in kg a day.
    pub(crate) beside: Vec<Beside>,
    /// Bounds on sums of its inclusions.
    pub(crate) limits: Vec<Limit>,
    /// The probability its targets hold with, a fraction.
    pub certainty: Option<Q>,
    /// Every line could be read and every name is known: it may be judged.
    pub is_sound: bool,
    /// Its amounts make the whole.
    pub adds_up: bool,
    /// Every line of it gives its amount a day.
    pub is_per_day: bool,
    /// The ingredients of one kg of finished feed.
    pub(crate) leaves: std::sync::OnceLock<Vec<Leaf>>,
}

/// One ingredient's line.
#[derive(Clone, Debug)]
pub struct Line {
    /// The ingredient or ration.
    pub name: SmolStr,
    /// What the name means.
    pub(crate) feed: Feed,
    /// Where a finding about it stands: at its amount, or at the ration's name where it is inherited.
    pub place: Place,
    /// Where its name is written.
    pub named: Place,
    /// Where its amount is written.
    pub written: Place,
    /// Its least inclusion.
    pub low: Q,
    /// Its greatest inclusion; the same where the amount is not open.
    pub high: Q,
    /// The amount is open: chosen at least cost.
    pub is_open: bool,
    /// It may be left out.
    pub or_none: bool,
    /// Dosed beyond the 100 %.
    pub on_top: bool,
    /// It takes what the others leave.
    pub is_rest: bool,
    /// Its amount was written by what it gives.
    pub gives_active: bool,
    /// Its amount was written as a share of the 100 %, as fed.
    pub is_share: bool,
    /// Its amount was written in a measure of volume, or of the farm's own.
    pub is_by_measure: bool,
    /// A class written on the line.
    pub carry: Option<Carry>,
    /// The delivery it is taken from.
    pub lot: Option<SmolStr>,
    /// The range its written amount must keep.
    pub within: Option<Range>,
    /// The range its amount is chosen from, where no amount is written.
    pub(crate) open: Option<Range>,
    /// The line comes from the ration this one is like.
    pub is_inherited: bool,
}

/// Something eaten beside the ration.
#[derive(Clone, Debug)]
pub(crate) struct Beside {
    pub(crate) feed: Feed,
    pub(crate) name: SmolStr,
    /// Where a finding about it stands.
    pub(crate) place: Place,
    /// In kg a day.
    pub(crate) amount: Q,
}

/// A bound on a sum of inclusions.
#[derive(Clone, Debug)]
pub(crate) struct Limit {
    /// Names with the numbers they are multiplied by.
    pub(crate) above: Vec<(Q, SmolStr)>,
    /// What that is divided by, where it is a ratio.
    pub(crate) below: Option<Vec<(Q, SmolStr)>>,
    pub(crate) range: Range,
    pub(crate) words: String,
    pub(crate) place: Place,
    pub(crate) written: Place,
}

impl Line {
    /// Whether it has one amount.
    #[must_use]
    pub fn is_fixed(&self) -> bool {
        self.low == self.high
    }

    /// The ingredient; none where it is a ration mixed beforehand.
    #[must_use]
    pub fn ingredient(&self) -> Option<&Arc<crate::view::Ingredient>> {
        match &self.feed {
            Feed::Ingredient(ingredient) => Some(ingredient),
            Feed::Ration(_) => None,
        }
    }

    /// The ration mixed beforehand; none where it is an ingredient.
    #[must_use]
    pub fn nested(&self) -> Option<&Arc<Ration>> {
        match &self.feed {
            Feed::Ration(ration) => Some(ration),
            Feed::Ingredient(_) => None,
        }
    }
}

impl Ration {
    /// Whether every amount is known.
    #[must_use]
    pub fn is_fixed(&self) -> bool {
        self.lines.iter().all(Line::is_fixed)
    }

    /// What comes on top, over the 100 %.
    #[must_use]
    pub fn tops(&self) -> Q {
        let tops = self.lines.iter().filter(|line| line.on_top);
        tops.map(|line| &line.low).sum()
    }
}

/// Ingredients of one ration, those of mixes inside it counted each time: many times what is ever mixed. A text may hold a
/// million rations, and each of them is judged over all of its ingredients.
const MOST_INGREDIENTS: usize = 1_000;

/// Makes out a ration. Says what is wrong with its lines; none where no line of it can be used.
pub(crate) fn make(view: &View<'_>, name: &str, findings: &mut Vec<Finding>) -> Option<Ration> {
    if !view.chain_ends(Namespace::Feed, name) {
        return None;
    }
    let draft = draft::draft(view, name, findings)?;
    let mut ration = amounts::settle(view, draft, findings);
    let held = ration.lines.iter().map(|line| match &line.feed {
        Feed::Ration(mix) if mix.is_sound => mix.leaves().len(),
        _ => 1,
    });
    let held = held.sum();
    if MOST_INGREDIENTS < held {
        let too_many = amount::too_many(ration.place, name, held, MOST_INGREDIENTS);
        findings.push(too_many);
        ration.lines = Vec::new();
        ration.is_sound = false;
        ration.adds_up = false;
    }
    Some(ration)
}
