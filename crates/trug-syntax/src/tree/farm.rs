//! What there is to work with, and what was done: uses, measures, scales, vessels, methods, groups, records.

use super::{Accept, Date, Name, Number, Quantity, Text, UnitText};
use trug_findings::Span;

/// `use "yard.trug"`, `use book poultry`, `use "prices.csv"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// What is used.
    pub source: UseSource,
}

/// What a `use` names.
#[derive(Clone, Debug, PartialEq)]
pub enum UseSource {
    /// A text of the language, relative to this one.
    File(Text),
    /// A table, relative to this text; its path ends in `.csv`.
    Table(Text),
    /// A bundled book.
    Book(UsedBook),
}

/// `book poultry`, `book poultry 2026`.
#[derive(Clone, Debug, PartialEq)]
pub struct UsedBook {
    /// Its name.
    pub name: Name,
    /// The year of its edition; none is the newest there is.
    pub edition: Option<Number>,
}

impl UsedBook {
    /// Where, from its name to its year.
    #[must_use]
    pub fn span(&self) -> Span {
        let edition = self.edition.as_ref();
        edition.map_or(self.name.span, |year| self.name.span.to(year.span))
    }
}

/// `unit basket = 18 L`, `unit basket of maize = 14 kg`.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// The measure.
    pub name: Name,
    /// The ingredient it is measured for.
    pub of: Option<Name>,
    /// How much one holds.
    pub equals: Quantity,
}

/// `rate 1 EUR = 325 LKR`.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitRate {
    /// So much money
    pub from: Quantity,
    /// is worth so much.
    pub to: Quantity,
}

/// `scale hook "Hanging scale" 100 kg by 100 g class III minimum 2 kg`.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// The most it weighs.
    pub capacity: Quantity,
    /// The steps it shows.
    pub division: Quantity,
    /// Its accuracy class.
    pub class: Option<(ScaleClass, Span)>,
    /// The least it weighs.
    pub minimum: Option<Quantity>,
}

/// The accuracy classes of OIML R 76.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the classes are called by these numerals")]
pub enum ScaleClass {
    I,
    II,
    III,
    IIII,
}

/// `vessel basin 3 of 30 L`.
#[derive(Clone, Debug, PartialEq)]
pub struct Vessel {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// How many there are; none is one.
    pub count: Option<Number>,
    /// What each holds.
    pub volume: Quantity,
}

/// `method shovel "Shovel and floor"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Method {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<MethodLine>,
}

/// A line of a method.
#[derive(Clone, Debug, PartialEq)]
pub struct MethodLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says; none where it could not be read.
    pub rule: Option<MethodRule>,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of a method says.
#[derive(Clone, Debug, PartialEq)]
pub enum MethodRule {
    /// `small below 3 %`.
    Small(Quantity),
    /// `pre-blend 20 %`.
    PreBlend(Quantity),
    /// `step at most 1 in 20`: the 20.
    Step(Number),
    /// `weigh within 2 %`.
    Weigh(Quantity),
    /// `even within 10 %`.
    Even(Quantity),
    /// `floor 300 kg`.
    Floor(Quantity),
    /// `in drum`: a vessel that mixes.
    In(Name),
    /// `lift 25 kg`.
    Lift(Quantity),
    /// `turn 6 times`.
    Turn(Number),
    /// `portions 4`.
    Portions(Number),
    /// `accept CODE "why"`.
    Accept(Accept),
}

/// `group pond-house "Pond house"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<GroupLine>,
}

/// A line of a group.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says; none where it could not be read.
    pub statement: Option<GroupStatement>,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of a group says.
#[derive(Clone, Debug, PartialEq)]
pub enum GroupStatement {
    /// `320 laying-duck`.
    Animals {
        /// How many.
        count: Number,
        /// Of which kind.
        animal: Name,
    },
    /// `eats river-layer 165 g/day from 2026-12-01 to 2027-02-28`.
    Eats {
        /// The ration.
        ration: Name,
        /// How much of it an animal takes a day; none is the ration's own intake.
        intake: Option<Quantity>,
        /// The first day.
        from: Option<Date>,
        /// The last day.
        to: Option<Date>,
    },
    /// `placed on 2026-11-01`, `placed on 2026-11-01 at day 7`.
    Placed {
        /// The day they came.
        date: Date,
        /// How old they were then, in days; none is the day of hatching or birth.
        age: Option<Number>,
    },
    /// `mix for at most 14 days`.
    MixFor(Quantity),
    /// `accept CODE "why"`.
    Accept(Accept),
}

/// `record R-0412 of river-layer`.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Its name.
    pub name: Name,
    /// The ration that was mixed.
    pub of: Name,
    /// Its lines.
    pub lines: Vec<RecordLine>,
}

/// A line of a record.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says; none where it could not be read.
    pub statement: Option<RecordStatement>,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of a record says.
#[derive(Clone, Debug, PartialEq)]
pub enum RecordStatement {
    /// `made 2026-11-21 by "N."`.
    Made {
        /// The day.
        date: Date,
        /// Who.
        by: Option<Text>,
    },
    /// `batch 120 kg`.
    Batch(Quantity),
    /// `weighed broken-rice 55.4 kg lot BR-17`.
    Weighed {
        /// The ingredient.
        ingredient: Name,
        /// What the scale showed.
        mass: Quantity,
        /// From which delivery.
        lot: Option<Name>,
    },
    /// `sampled chloride 0.31 0.29 % assay 0.01 %`.
    Sampled {
        /// What was measured.
        nutrient: Name,
        /// The samples, in one unit.
        samples: Vec<Number>,
        /// Their unit.
        unit: Option<UnitText>,
        /// The assay's own standard deviation.
        assay: Option<Quantity>,
    },
    /// `fed to pond-house from 2026-11-22 to 2026-12-04`.
    FedTo {
        /// The group.
        group: Name,
        /// The first day.
        from: Option<Date>,
        /// The last day.
        to: Option<Date>,
    },
    /// `accept CODE "why"`.
    Accept(Accept),
}
