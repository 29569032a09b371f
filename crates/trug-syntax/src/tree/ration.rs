//! What is wanted: targets and rations.

use super::{Accept, Bound, Expression, Name, Number, Quantity, Text};
use trug_findings::Span;

/// `targets duck-lay for laying-duck`.
#[derive(Clone, Debug, PartialEq)]
pub struct Targets {
    /// Their name.
    pub name: Name,
    /// The animal they are for.
    pub for_animal: Option<Name>,
    /// The ages they are for; none is every age.
    pub phase: Option<Phase>,
    /// What people call them.
    pub label: Option<Text>,
    /// Their lines.
    pub lines: Vec<TargetLine>,
}

/// `from day 0 to 21`, `from day 22`, `to day 21`: ages in days, both ends among them.
#[derive(Clone, Debug, PartialEq)]
pub struct Phase {
    /// The first day; none is the day of hatching or birth.
    pub from: Option<Number>,
    /// The last day; none is on and on.
    pub to: Option<Number>,
    /// Where.
    pub span: Span,
}

/// A line of targets.
#[derive(Clone, Debug, PartialEq)]
pub struct TargetLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// The target; none where the line could not be read, or says only what is accepted.
    pub target: Option<Target>,
    /// `accept CODE "why"`, at its end or as a line of its own.
    pub accept: Option<Accept>,
}

/// `calcium / available-phosphorus 6 .. 10`.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What is bounded.
    pub of: Expression,
    /// Its bounds.
    pub bound: Bound,
}

/// `ration river-layer "River layer mash"`, `ration river-grower like river-layer`.
#[derive(Clone, Debug, PartialEq)]
pub struct Ration {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// The ration it takes its lines from.
    pub like: Option<Name>,
    /// Its lines.
    pub lines: Vec<RationLine>,
}

/// A line of a ration.
#[derive(Clone, Debug, PartialEq)]
pub struct RationLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says.
    pub statement: RationStatement,
    /// `accept CODE "why"` at its end. An amount has its own among its clauses.
    pub accept: Option<Accept>,
}

/// What a line of a ration says.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "most lines of a ration are amounts, and boxing each would cost an allocation"
)]
pub enum RationStatement {
    /// `for laying-duck`.
    For(Name),
    /// `for mixing`: not fed as it is.
    ForMixing,
    /// `meets duck-lay`.
    Meets(Name),
    /// `batch 120 kg`.
    Batch(Quantity),
    /// `mix by shovel`.
    MixBy(Name),
    /// `intake 165 g/day`.
    Intake(Quantity),
    /// `beside green-fodder 40 g/day`.
    Beside {
        /// What is eaten beside.
        name: Name,
        /// How much a day.
        amount: Quantity,
    },
    /// `keeps 21 days`.
    Keeps(Quantity),
    /// `limit soya-meal + sesame-cake at most 26 %`.
    Limit {
        /// The inclusions that are summed.
        of: Expression,
        /// The bound.
        bound: Bound,
    },
    /// `certainty 90 %`.
    Certainty(Quantity),
    /// `drop lysine-hcl`.
    Drop(Name),
    /// `replace fish-meal with blood-meal`.
    Replace {
        /// The inherited ingredient.
        what: Name,
        /// The one that takes its amount.
        with: Name,
    },
    /// `accept CODE "why"`.
    Accept(Accept),
    /// `broken-rice 46 %`: an ingredient, or another ration, with its amount.
    Amount(Amount),
    /// A line that could not be read. Its first word, where it is a name, tells what it was about.
    Unread(Option<Name>),
}

/// An ingredient's line in a ration.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// The ingredient or ration.
    pub name: Name,
    /// How much.
    pub form: AmountForm,
    /// Where the amount stands, without name and clauses.
    pub span: Span,
    /// What follows the amount.
    pub clauses: Clauses,
}

/// The forms of an amount.
#[derive(Clone, Debug, PartialEq)]
pub enum AmountForm {
    /// `46 %`, `4 kg`, `2.5 kg/t`, `2 basket`, `22 kg/day`.
    Fixed(Quantity),
    /// `6 parts`.
    Parts(Number),
    /// `rest`.
    Rest,
    /// `12 .. 24 %`: chosen at least cost.
    Open(Bound),
    /// `giving 0.6 g/kg lysine`.
    Giving {
        /// How much of the active is added.
        quantity: Quantity,
        /// The active.
        active: Name,
    },
}

/// The clauses after an amount; the text has each at most once, in any order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Clauses {
    /// `within 12 .. 24 %`: the range in which the written amount may be chosen again.
    pub within: Option<Bound>,
    /// `or none`: it may be left out.
    pub or_none: Option<Span>,
    /// `on top`: dosed beyond the 100 %.
    pub on_top: Option<Span>,
    /// `small`, `bulk` or `not carrier`.
    pub carry: Option<(Carry, Span)>,
    /// `lot FM-02`.
    pub lot: Option<Name>,
    /// `accept CODE "why"`.
    pub accept: Option<Accept>,
}

/// A class written on the line, against the one its share would give.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carry {
    /// Pre-blended whatever its share.
    Small,
    /// On the heap whatever its share.
    Bulk,
    /// On the heap, and never a carrier.
    NotCarrier,
}
