//! What a comparison says, as plain data: before and after side by side, exact.

use trug_findings::Severity;
use trug_model::Q;

use crate::bounded::{StandingChange, Turn};
use crate::found::Found;
use crate::said::Said;

/// Something before and after; none on the side where it is not there.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pair<T> {
    /// On the first side.
    pub before: Option<T>,
    /// On the second side.
    pub after: Option<T>,
}

impl<T> Default for Pair<T> {
    fn default() -> Pair<T> {
        Pair {
            before: None,
            after: None,
        }
    }
}

impl<T> Pair<T> {
    /// On both sides.
    pub fn both(before: T, after: T) -> Pair<T> {
        Pair {
            before: Some(before),
            after: Some(after),
        }
    }

    /// The later one, or else the earlier.
    #[must_use]
    pub fn any(&self) -> Option<&T> {
        self.after.as_ref().or(self.before.as_ref())
    }

    /// What a function makes of each.
    pub fn map<U>(&self, make: impl Fn(&T) -> U) -> Pair<U> {
        Pair {
            before: self.before.as_ref().map(&make),
            after: self.after.as_ref().map(&make),
        }
    }
}

impl<T: PartialEq> Pair<T> {
    /// Whether the two differ.
    #[must_use]
    pub fn differs(&self) -> bool {
        self.before != self.after
    }
}

/// What changed between two states of a farm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Comparison {
    /// Ingredients, animals, targets and the like whose own values changed: the reasons, each once.
    pub causes: Vec<Cause>,
    /// Rations that changed, came or went, by file and name.
    pub rations: Vec<RationChange>,
    /// Groups that eat something else, or more or less of it.
    pub groups: Vec<GroupChange>,
    /// Findings that came or went and belong to no ration that is told of.
    pub elsewhere: Vec<FoundChange>,
    /// How many rations are on both sides and alike.
    pub alike: usize,
    /// A text differs, were it only in how something is written.
    pub texts_differ: bool,
}

impl Comparison {
    /// Whether nothing that is compared changed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.causes.is_empty()
            && self.rations.is_empty()
            && self.groups.is_empty()
            && self.elsewhere.is_empty()
    }
}

/// The kinds of item that a ration rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the item of that keyword")]
pub enum CauseKind {
    Book,
    Ingredient,
    Lot,
    Animal,
    Targets,
    Nutrient,
    Unit,
    Rate,
    Method,
    Scale,
    Vessel,
}

impl CauseKind {
    /// The keyword of the item.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            CauseKind::Book => "book",
            CauseKind::Ingredient => "ingredient",
            CauseKind::Lot => "lot",
            CauseKind::Animal => "animal",
            CauseKind::Targets => "targets",
            CauseKind::Nutrient => "nutrient",
            CauseKind::Unit => "unit",
            CauseKind::Rate => "rate",
            CauseKind::Method => "method",
            CauseKind::Scale => "scale",
            CauseKind::Vessel => "vessel",
        }
    }
}

/// An item whose own values changed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cause {
    /// What it is.
    pub kind: CauseKind,
    /// Its name.
    pub name: String,
    /// The text it stands in, relative to each side; none on the side where it is not there.
    pub file: Pair<String>,
    /// What of it changed; empty where it came or went as a whole.
    pub changes: Vec<FactChange>,
}

/// One line of an item, before and after.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FactChange {
    /// What it is about: `price`, `protein`.
    pub what: String,
    /// What it says.
    pub says: Pair<Said>,
}

/// Why something of a ration could not be compared on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hindrance {
    /// It could not be made out at all.
    Unread,
    /// Lines of it could not be read, or its amounts do not make the whole: it has no contents and no cost.
    NotWhole,
    /// Amounts are open: contents, doses and cost are counted at the middle of their ranges.
    Open,
    /// It has errors, so it is not planned.
    Errors,
    /// Nobody says how much of it is mixed, so it is not planned.
    NoBatch,
}

/// What changed in a ration.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RationChange {
    /// Its name.
    pub name: String,
    /// The text it stands in, relative to each side; none on the side where it is not there.
    pub file: Pair<String>,
    /// What stood in the way of comparing all of it.
    pub hindrances: Pair<Vec<Hindrance>>,
    /// For whom it is, how much is mixed and by which method.
    pub facts: Vec<FactChange>,
    /// Its amounts.
    pub amounts: Vec<AmountChange>,
    /// Where it stands in bounds and doses, the worst first.
    pub standings: Vec<StandingChange>,
    /// What it holds.
    pub nutrients: Vec<NutrientChange>,
    /// What it costs; none where that has not changed.
    pub cost: Option<Pair<CostAt>>,
    /// How it is mixed; none where that has not changed.
    pub work: Option<Pair<Work>>,
    /// What was found in it, and no longer is.
    pub found: Vec<FoundChange>,
}

impl RationChange {
    /// Whether it is there on the second side only.
    #[must_use]
    pub fn is_added(&self) -> bool {
        self.file.before.is_none()
    }

    /// Whether it is there on the first side only.
    #[must_use]
    pub fn is_removed(&self) -> bool {
        self.file.after.is_none()
    }

    /// By file and name; what was removed where its file stood.
    pub(crate) fn rank(&self) -> (Option<&String>, &String, bool) {
        (self.file.any(), &self.name, self.is_added())
    }

    /// Whether nothing of it changed.
    pub(crate) fn is_empty(&self) -> bool {
        self.facts.is_empty()
            && self.amounts.is_empty()
            && self.standings.is_empty()
            && self.nutrients.is_empty()
            && self.cost.is_none()
            && self.work.is_none()
            && self.found.is_empty()
            && !self.hindrances.differs()
    }

    /// How many bounds and doses are missed now and were not before.
    #[must_use]
    pub fn newly_missed(&self) -> usize {
        let turns = self.standings.iter().map(StandingChange::turn);
        turns.filter(|turn| *turn == Turn::Missed).count()
    }

    /// How many errors that stand open there are now and were not before.
    #[must_use]
    pub fn new_errors(&self) -> usize {
        let is_error = |change: &&FoundChange| {
            change.is_new && !change.found.is_accepted && change.found.severity == Severity::Error
        };
        self.found.iter().filter(is_error).count()
    }
}

/// One ingredient of a ration, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AmountChange {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: String,
    /// Beyond the 100 %.
    pub on_top: bool,
    /// How much.
    pub amount: Pair<Amount>,
}

/// How much of an ingredient a ration holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amount {
    /// Its least inclusion, as a fraction of the 100 %.
    pub low: Q,
    /// Its greatest inclusion; the same where the amount is not open.
    pub high: Q,
    /// The amount is open: chosen at least cost.
    pub is_open: bool,
    /// It may be left out.
    pub or_none: bool,
    /// What the batch holds of it, in kg: least and greatest; none where there is no batch.
    pub kg: Option<(Q, Q)>,
    /// The deliveries it is taken from.
    pub lots: Vec<String>,
}

/// What a ration holds of a nutrient, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NutrientChange {
    /// The nutrient.
    pub name: String,
    /// What people call it.
    pub label: Option<String>,
    /// How much, as fed.
    pub at: Pair<NutrientAt>,
}

/// How much of a nutrient the finished feed holds, as fed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NutrientAt {
    /// The sum of what is known.
    pub value: Q,
    /// Its unit.
    pub unit: String,
    /// Every ingredient's content is known.
    pub complete: bool,
}

/// What finished feed costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostAt {
    /// ISO 4217 code.
    pub currency: String,
    /// Money for one kg.
    pub per_kg: Q,
    /// Every ingredient has a price that could be counted.
    pub complete: bool,
}

/// How a ration is mixed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Work {
    /// How many batches.
    pub batches: u32,
    /// How many weighings one batch takes.
    pub weighings: usize,
    /// The steps of one batch, in the order of work.
    pub steps: Vec<StepAt>,
    /// The vessels it takes, in the order of their names; `floor` is one.
    pub vessels: Vec<String>,
    /// The scales it takes, in the order of their names.
    pub scales: Vec<String>,
}

/// One act of mixing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StepAt {
    /// The word of its kind: `together`, `dilute`, `preblend`, `liquid`, `heap`, `final`.
    pub kind: &'static str,
    /// Where.
    pub vessel: String,
    /// The ingredients weighed into it, in the order they go in.
    pub ingredients: Vec<String>,
    /// How often it is turned.
    pub turns: Option<u32>,
}

/// A finding that came or went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundChange {
    /// It came; else it went.
    pub is_new: bool,
    /// What was found.
    pub found: Found,
}

/// What a group eats, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GroupChange {
    /// Its name.
    pub name: String,
    /// The text it stands in, relative to each side; none on the side where it is not there.
    pub file: Pair<String>,
    /// The rations of which it eats more or less, or that cost it more or less.
    pub eats: Vec<EatenChange>,
}

/// What a group eats of one ration, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EatenChange {
    /// The ration.
    pub ration: String,
    /// How much.
    pub eaten: Pair<Eaten>,
}

/// What a group eats of one ration in a day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Eaten {
    /// How many animals.
    pub head: Q,
    /// How much all of them eat a day, in kg; none where nobody says.
    pub kg: Option<Q>,
    /// What that costs a day; none where a price is unknown.
    pub cost: Option<(Q, String)>,
}
