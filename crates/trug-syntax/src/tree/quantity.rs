//! The words all items share: names, numbers with units, ranges, sums, dates, reasons.

use smol_str::SmolStr;
use trug_findings::Span;

/// A name as written, in Unicode's composed form (NFC), so that two spellings of one name are equal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// The name.
    pub text: SmolStr,
    /// Where.
    pub span: Span,
}

/// A text that stood in quotes; doubled quotes inside are single here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// What the quotes held.
    pub text: String,
    /// Where, with its quotes.
    pub span: Span,
}

/// An exact decimal of at most 40 digits: `[+-]?[0-9]+(\.[0-9]+)?`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Number {
    /// The digits in plain form: an ASCII sign where negative, a dot for the decimal point.
    pub digits: SmolStr,
    /// Where.
    pub span: Span,
}

/// A unit as written: `kg`, `kg/t`, `IU/kg`, `LKR per 25 kg`, `basket`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitText {
    /// What is counted.
    pub unit: UnitWord,
    /// What it is counted per, after `/` or `per`.
    pub per: Option<(Option<Number>, UnitWord)>,
    /// Where, whole.
    pub span: Span,
}

/// One word of a unit; everyday spellings (`mcg`, `Kg`, `gm`, `ml`) are already in their usual form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitWord {
    /// The word.
    pub text: SmolStr,
    /// Where.
    pub span: Span,
}

/// A number with its unit, scatter and basis.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// How many.
    pub number: Number,
    /// One standard deviation, in the same unit.
    pub scatter: Option<Scatter>,
    /// Of what; none where the text has none.
    pub unit: Option<UnitText>,
    /// As fed, of dry matter, or at a dry matter.
    pub basis: Option<Basis>,
    /// Where, from the number to the basis.
    pub span: Span,
}

/// `± 0.5`: one standard deviation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scatter {
    /// How many, in the unit of the quantity.
    pub number: Number,
    /// Where, with its sign.
    pub span: Span,
}

/// What a share is a share of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basis {
    /// Which.
    pub kind: BasisKind,
    /// Where.
    pub span: Span,
}

/// The three bases.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BasisKind {
    /// `as fed`.
    AsFed,
    /// `of dry-matter`.
    OfDryMatter,
    /// `at 88 % dry-matter`: the percentage.
    AtDryMatter(Number),
}

/// `16 .. 18 %`, `at least 0.8 %`, `at most 5 %`. Never without both ends, never as one number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    /// The lower end.
    pub low: Option<Number>,
    /// The upper end.
    pub high: Option<Number>,
    /// The unit of both.
    pub unit: Option<UnitText>,
    /// The basis of both.
    pub basis: Option<Basis>,
    /// Where, from its first word to the basis.
    pub span: Span,
}

/// A sum, or one sum over another: `sodium / 22.99 g/eq - chloride / 35.45 g/eq`, `calcium / available-phosphorus`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expression {
    /// The sum, or what is divided.
    pub sum: Sum,
    /// What it is divided by.
    pub over: Option<Sum>,
    /// Where.
    pub span: Span,
}

/// Names added and subtracted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    /// Its terms, at least one.
    pub terms: Vec<Term>,
    /// Where.
    pub span: Span,
}

/// One name of a sum with its sign and factors.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Term {
    /// A `-` stands before it.
    pub is_subtracted: bool,
    /// Numbers it is multiplied or divided by, in order.
    pub factors: Vec<Factor>,
    /// The name.
    pub name: Name,
    /// Where, without the sign.
    pub span: Span,
}

/// A number a term is multiplied or divided by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Factor {
    /// It divides.
    pub divides: bool,
    /// By how much.
    pub quantity: Quantity,
}

/// A calendar day, `2026-11-21`; it exists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Date {
    /// The year.
    pub year: i16,
    /// The month, 1 to 12.
    pub month: i8,
    /// The day, 1 to 31.
    pub day: i8,
    /// Where.
    pub span: Span,
}

/// `accept dose/over "vet's order 14"`, as a clause or as a line of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accept {
    /// The code as written.
    pub code: Name,
    /// Why.
    pub reason: Text,
    /// Where, from `accept` to the reason.
    pub span: Span,
}

/// `source "Tables of 2021"`, `unverified`: where a value is from, at the end of a line or as a line of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The line it ends; none where it stands alone, and is said of every line of the item that ends with none.
    pub of: Option<Span>,
    /// Where the value was read.
    pub source: Option<Text>,
    /// The value was not read in its source.
    pub unverified: Option<Span>,
    /// Where, without blanks at its ends.
    pub span: Span,
}
