//! What a plan is asked for: everything that decides it, exact and without text.

use jiff::civil::Date;
use trug_findings::Place;
use trug_model::Q;

/// One ration to be mixed in one amount, with what there is to mix it.
#[derive(Clone, Debug)]
pub struct Order {
    /// The ration's name.
    pub ration: String,
    /// Where the ration is named.
    pub place: Place,
    /// How much of the 100 % is wanted, in grams; tops come on top of it.
    pub mass_g: Q,
    /// The ingredients in the order of the ration; shares without tops sum to one.
    pub ingredients: Vec<Ingredient>,
    /// How it is mixed.
    pub method: Method,
    /// The scales there are, in the order of their names.
    pub scales: Vec<Scale>,
    /// The vessels there are, in the order of their names.
    pub vessels: Vec<Vessel>,
    /// What one animal eats of it a day, in grams, where known.
    pub portion_g: Option<Q>,
    /// The empty place behind the ration, where another item can be put in; none where nothing can be written.
    pub after: Option<Place>,
}

/// An ingredient, or a ration mixed beforehand, with its amount.
#[derive(Clone, Debug)]
pub struct Ingredient {
    /// Its name.
    pub name: String,
    /// Where its amount is written.
    pub place: Place,
    /// Its inclusion, as a fraction of the 100 %.
    pub share: Q,
    /// Dosed beyond the 100 %.
    pub on_top: bool,
    /// `form liquid`.
    pub is_liquid: bool,
    /// The class the line gives it, against its share.
    pub carry: Option<Carry>,
    /// Bulk density in grams a litre, where known.
    pub g_per_litre: Option<Q>,
    /// Its deliveries that may be taken, the one to be used first at the head.
    pub lots: Vec<Lot>,
    /// What its lines take from one delivery and from no other.
    pub named: Vec<Named>,
    /// What it may not meet early.
    pub apart: Vec<Apart>,
    /// The bounds that its own inclusion decides, the others as written.
    pub windows: Vec<Window>,
    /// Its amount was written by what it gives: snapped up, never down.
    pub gives_active: bool,
    /// Size and density of one particle, where known.
    pub particle: Option<Particle>,
    /// How its line is written, for offers that rewrite it; none where it is not this ration's own line.
    pub line: Option<Line>,
}

/// A delivery of an ingredient.
#[derive(Clone, Debug)]
pub struct Lot {
    /// Its name.
    pub name: String,
    /// The day until which it is best.
    pub best_before: Option<Date>,
    /// What is left of it, in grams; none where nobody says, and it is taken to suffice.
    pub on_hand_g: Option<Q>,
    /// A line that names no lot may take from it.
    pub is_open: bool,
}

/// What a line takes from the lot it names.
#[derive(Clone, Debug)]
pub struct Named {
    /// Rank of the lot among those of its ingredient.
    pub lot: usize,
    /// Which part of the ingredient, a fraction.
    pub part: Q,
}

/// How the text gives one amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Where the name stands.
    pub name: Place,
    /// What the amount is.
    pub form: AmountForm,
}

/// What an amount is in the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AmountForm {
    /// `rest`.
    Rest,
    /// A share of the 100 %.
    Share,
    /// Anything else: a mass, parts, what it gives.
    Other,
}

/// A class written on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carry {
    /// Pre-blended whatever its share.
    Small,
    /// On the heap whatever its share; it may carry.
    Bulk,
    /// On the heap, and never a carrier.
    NotCarrier,
}

/// Another ingredient that must be met late.
#[derive(Clone, Debug)]
pub struct Apart {
    /// Rank of the other in the order's ingredients.
    pub from: usize,
    /// Each must be in an output so many times its mass before the two meet.
    pub times: Q,
    /// Where it is written.
    pub place: Place,
}

/// The inclusions of one ingredient that keep one bound.
#[derive(Clone, Debug)]
pub struct Window {
    /// What the bound is.
    pub kind: WindowKind,
    /// Least inclusion, as a fraction of the 100 %.
    pub low: Option<Q>,
    /// Greatest inclusion, as a fraction of the 100 %.
    pub high: Option<Q>,
    /// What is bounded, for people: `its dose`, `selenium by law`.
    pub what: String,
    /// Where the bound is written.
    pub place: Place,
}

/// What stands behind a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WindowKind {
    /// The product's label.
    Dose,
    /// The ingredient's own ceiling.
    Ceiling,
    /// A regulation on the whole feed.
    Law,
    /// Harm from the whole feed.
    Harm,
}

/// The grain of a product, for how evenly it can be spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Particle {
    /// Diameter in millimetres.
    pub millimetres: f64,
    /// Density in grams a millilitre.
    pub g_per_millilitre: f64,
}

/// How a mix is made. Fractions are of one.
#[derive(Clone, Debug)]
pub struct Method {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub place: Place,
    /// An ingredient below this share is small.
    pub small: Q,
    /// The pre-blend's share of the batch.
    pub preblend: Q,
    /// The largest ratio of one step.
    pub dilutes: Q,
    /// The possible error allowed to a weighing, over its mass.
    pub weigh: Q,
    /// The coefficient of variation wanted.
    pub even: Option<Q>,
    /// What the floor, or the vessel that mixes, takes.
    pub mixes_in: MixesIn,
    /// The most one person lifts, in grams.
    pub lift_g: Option<Q>,
    /// How often the heap is turned.
    pub turns: Option<u32>,
    /// In how many portions the pre-blend is spread.
    pub portions: Option<u32>,
}

/// Where the whole batch is mixed.
#[derive(Clone, Debug)]
pub enum MixesIn {
    /// On the floor, so many grams at once; none where no bound is written.
    Floor(Option<Q>),
    /// In this vessel, by its rank in the order's vessels.
    Vessel(usize),
}

/// A scale.
#[derive(Clone, Debug)]
pub struct Scale {
    /// Its name.
    pub name: String,
    /// The most it weighs, in grams.
    pub capacity_g: Q,
    /// The steps it shows, in grams.
    pub division_g: Q,
    /// The least it weighs, in grams; one division where none is written.
    pub minimum_g: Q,
    /// Its accuracy class.
    pub class: Option<AccuracyClass>,
}

/// Accuracy classes of OIML R 76.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the classes are called by these numerals")]
pub enum AccuracyClass {
    I,
    II,
    III,
    IIII,
}

impl AccuracyClass {
    /// The numeral.
    #[must_use]
    pub fn numeral(self) -> &'static str {
        match self {
            AccuracyClass::I => "I",
            AccuracyClass::II => "II",
            AccuracyClass::III => "III",
            AccuracyClass::IIII => "IIII",
        }
    }
}

/// A vessel, or several alike.
#[derive(Clone, Debug)]
pub struct Vessel {
    /// Its name.
    pub name: String,
    /// How many there are.
    pub count: u32,
    /// What each holds, in litres.
    pub litres: Q,
}
