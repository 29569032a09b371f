//! What is known: animals, nutrients, ingredients and their lots.

use super::{Accept, Bound, Date, Expression, Name, Number, Quantity, Text, UnitWord};
use trug_findings::Span;

/// `animal laying-duck is duck "Laying duck"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Animal {
    /// Its name.
    pub name: Name,
    /// What kind of animal it is one of.
    pub is: Option<Name>,
    /// What people call it.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<AnimalLine>,
}

/// A line of an animal.
#[derive(Clone, Debug, PartialEq)]
pub struct AnimalLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says.
    pub statement: AnimalStatement,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of an animal says.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "most lines of an animal are bounds, and boxing each would cost an allocation"
)]
pub enum AnimalStatement {
    /// `gives eggs`.
    Gives(Name),
    /// `selenium at most 0.5 mg/kg law "…"`.
    Bound {
        /// A nutrient, or a sum of some.
        of: Expression,
        /// The bound.
        bound: Bound,
        /// Set by law, or by harm.
        strength: Strength,
        /// Why, or which law.
        reason: Option<Text>,
    },
    /// `accept CODE "why"`.
    Accept(Accept),
    /// A line that could not be read.
    Unread,
}

/// What stands behind an animal's bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Strength {
    /// A regulation.
    Law,
    /// Harm is possible beyond it.
    Harm,
}

/// `nutrient lysine "Lysine" in share`, `nutrient met-cys = methionine + cystine`.
#[derive(Clone, Debug, PartialEq)]
pub struct Nutrient {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// How it is counted.
    pub kind: NutrientKind,
}

/// How a nutrient is counted.
#[derive(Clone, Debug, PartialEq)]
pub enum NutrientKind {
    /// `in share`, `in energy`, `in charge`, `in IU`, `in U`, `in FTU`, `in CFU`.
    In(UnitWord),
    /// From others.
    Of(Expression),
}

/// `ingredient broken-rice "Broken rice"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Ingredient {
    /// Its name.
    pub name: Name,
    /// What people call it.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<IngredientLine>,
}

/// A line of an ingredient.
#[derive(Clone, Debug, PartialEq)]
pub struct IngredientLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says.
    pub statement: IngredientStatement,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of an ingredient says.
#[derive(Clone, Debug, PartialEq)]
pub enum IngredientStatement {
    /// `protein 8.0 ± 0.4 %`.
    Content {
        /// The nutrient.
        nutrient: Name,
        /// How much of it.
        value: Quantity,
    },
    /// `dry-matter 87.5 %`.
    DryMatter(Quantity),
    /// `price 92 LKR/kg as of 2026-11-01`.
    Price {
        /// Money per mass.
        value: Quantity,
        /// The day it was asked.
        as_of: Option<Date>,
    },
    /// `bulk-density 0.80 kg/L`.
    BulkDensity(Quantity),
    /// `sold in 50 kg`.
    SoldIn(Quantity),
    /// `at most 70 %`, `at least 5 % for duckling`.
    Limit {
        /// The bound of its inclusion.
        bound: Bound,
        /// For which animal.
        for_animal: Option<Name>,
    },
    /// `label si "…"`.
    Label {
        /// A language tag (BCP 47).
        language: Name,
        /// The label in that language.
        text: Text,
    },
    /// `nothing else`: what is not listed is zero.
    NothingElse,
    /// `form crystal`.
    Form(Name),
    /// `particle-size 0.5 mm`.
    ParticleSize(Quantity),
    /// `particle-density 1.28 g/mL`.
    ParticleDensity(Quantity),
    /// `dose 0.2 .. 4 g/kg`, `dose 0.1 .. 3 g/kg lysine`.
    Dose {
        /// The label's window.
        bound: Bound,
        /// Of this active, not of the product.
        active: Option<Name>,
        /// For which animal.
        for_animal: Option<Name>,
    },
    /// `ceiling 10 g/kg "…"`.
    Ceiling {
        /// The inclusion above which harm is possible.
        value: Quantity,
        /// Of this active, not of the product.
        active: Option<Name>,
        /// For which animal.
        for_animal: Option<Name>,
        /// Why.
        reason: Option<Text>,
    },
    /// `apart from choline-60 until 1 in 20`.
    ApartFrom {
        /// The other ingredient.
        other: Name,
        /// The dilution from which the two may meet; none is 1 in 10.
        until: Option<Number>,
    },
    /// `never with tiamulin-premix "why"`.
    NeverWith {
        /// The other ingredient.
        other: Name,
        /// Why.
        reason: Option<Text>,
    },
    /// `never for horse "why"`.
    NeverFor {
        /// The animal.
        animal: Name,
        /// Why.
        reason: Option<Text>,
    },
    /// `withdrawal 5 days for meat`.
    Withdrawal {
        /// How long.
        time: Quantity,
        /// What the animal gives.
        product: Name,
    },
    /// `caution "…"`.
    Caution(Text),
    /// `accept CODE "why"`.
    Accept(Accept),
    /// A line that could not be read.
    Unread,
}

/// `lot BR-17 of broken-rice "240817/B"`.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// Its name.
    pub name: Name,
    /// The ingredient it is a delivery of.
    pub of: Name,
    /// What the supplier calls it.
    pub label: Option<Text>,
    /// Its lines.
    pub lines: Vec<LotLine>,
}

/// A line of a lot.
#[derive(Clone, Debug, PartialEq)]
pub struct LotLine {
    /// Where, without blanks and comment at its ends.
    pub span: Span,
    /// What it says.
    pub statement: LotStatement,
    /// `accept CODE "why"` at its end.
    pub accept: Option<Accept>,
}

/// What a line of a lot says.
#[derive(Clone, Debug, PartialEq)]
pub enum LotStatement {
    /// `received 2026-10-30`, `received 500 kg on 2026-10-30`.
    Received {
        /// How much came.
        mass: Option<Quantity>,
        /// The day.
        date: Date,
    },
    /// `best before 2027-01-15`.
    BestBefore(Date),
    /// `on hand 400 kg`.
    OnHand(Quantity),
    /// `protein 7.4 %`.
    Content {
        /// The nutrient.
        nutrient: Name,
        /// How much of it.
        value: Quantity,
    },
    /// `dry-matter 86 %`.
    DryMatter(Quantity),
    /// `price 95 LKR/kg as of 2026-11-01`.
    Price {
        /// Money per mass.
        value: Quantity,
        /// The day it was asked.
        as_of: Option<Date>,
    },
    /// `bulk-density 0.78 kg/L`.
    BulkDensity(Quantity),
    /// `accept CODE "why"`.
    Accept(Accept),
    /// A line that could not be read.
    Unread,
}
