//! A plan as the sheet that lies beside the heap: every word and number final, in one language.
//!
//! Text, page and PDF are drawn from here, so that they say the same. Whoever draws adds no words and no numbers.

mod booklet;
mod doses;
mod found;
mod hazards;
mod head;
pub mod html;
mod label;
mod masses;
pub mod picture;
mod steps;
pub mod svg;
mod text;
mod totals;
mod weighing;
mod writing;

use picture::Picture;

pub use booklet::{Copies, booklet};
pub(crate) use hazards::hazard_words;
pub use text::booklet_text;

/// The sheets of one order or one day, in the order of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Booklet {
    /// The language of the fixed phrases (BCP 47).
    pub phrases: String,
    /// The language asked for, which labels are in where the text has them (BCP 47).
    pub language: String,
    /// What the whole is called.
    pub title: String,
    /// The order of the day, where there is more than one sheet.
    pub day: Option<DayOrder>,
    /// One for every batch.
    pub sheets: Vec<Sheet>,
}

/// What is mixed one after the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayOrder {
    /// `Order of the day`.
    pub heading: String,
    /// What stands above the columns of the rows.
    pub columns: [String; 4],
    /// One for every sheet: its number, what is mixed, how much, and what to see to.
    pub rows: Vec<[String; 4]>,
}

/// One side of paper: one batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// The ration's name.
    pub ration: String,
    /// What people call the ration; its name where it has no label.
    pub title: String,
    /// The ration's name where the title is another, and which batch this is: `laying-mash · batch 1 of 3`.
    pub subtitle: Option<String>,
    /// It must not be mixed as it is.
    pub draft: Option<Draft>,
    /// The facts at the head, in their order: mass, ordered, for whom, day, where written.
    pub facts: Vec<Fact>,
    /// What to beware of with the whole feed.
    pub beware: Option<Section>,
    /// What is weighed.
    pub weigh: WeighingTable,
    /// What is done.
    pub mix: Steps,
    /// The dilution as a picture.
    pub picture: Picture,
    /// What of each ingredient goes in; the column adds up.
    pub totals: Totals,
    /// What each dose and bound can be.
    pub doses: Option<Doses>,
    /// What was found, and what was accepted.
    pub found: Option<Section>,
    /// What the tool says of itself.
    pub defers: String,
    /// What is tied to the bag.
    pub label: Label,
    /// What the phone page writes down.
    pub record: Record,
}

/// What a draft says of itself, on every page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// `DRAFT`.
    pub word: String,
    /// `Not to be mixed as it is: 1 error under FOUND.`
    pub why: String,
}

/// A fact with what it is a fact of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// `mass`.
    pub what: String,
    /// `120 kg`.
    pub value: String,
}

/// A heading with sentences under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// `BEWARE`.
    pub heading: String,
    /// A sentence or finding each; a line end in one sets the rest under it.
    pub lines: Vec<String>,
}

/// The weighing table, in the order of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeighingTable {
    /// `WEIGH, in the order of work`.
    pub heading: String,
    /// What stands above the columns.
    pub columns: WeighingColumns,
    /// Some weighing names a lot; if none does, there is no such column.
    pub has_lots: bool,
    /// A block for every step that something is weighed for.
    pub blocks: Vec<WeighingBlock>,
    /// All weighings together: the last row of the table.
    pub together: Fact,
}

/// The headings of the weighing table.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the heading of the field of that name")]
pub struct WeighingColumns {
    pub what: String,
    pub lot: String,
    pub mass: String,
    pub scale: String,
    pub range: String,
    pub done: String,
    pub actual: String,
}

/// What is weighed for one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeighingBlock {
    /// `for step 2`.
    pub heading: String,
    /// The weighings.
    pub rows: Vec<WeighingRow>,
}

/// One weighing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeighingRow {
    /// Its id in the plan: `w1`.
    pub id: String,
    /// Counted from 1 over the whole table; the picture uses the same numbers.
    pub number: usize,
    /// The ingredient's name.
    pub ingredient: String,
    /// What people call the ingredient.
    pub what: String,
    /// From which delivery.
    pub lot: Option<String>,
    /// How much: `1.2 kg`.
    pub mass: String,
    /// On which scale; a word that none will do.
    pub scale: String,
    /// What the scale may read: `1.176 to 1.224 kg`; empty where no scale will do.
    pub range: String,
    /// The unit a person types the actual weight in: `g` or `kg`.
    pub unit: &'static str,
    /// How many grams that unit is.
    pub grams_per_unit: u32,
    /// In how many loads, and which; none for one.
    pub loads: Option<String>,
    /// What to beware of, where the ingredient is first handled.
    pub cautions: Vec<String>,
    /// The exact mass in grams, as programs read it.
    pub mass_g: String,
    /// The least it may read, in grams.
    pub from_g: String,
    /// The most it may read, in grams.
    pub to_g: String,
}

/// The steps of mixing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    /// `MIX`.
    pub heading: String,
    /// In the order of work; sampling, bagging and cleaning come last.
    pub steps: Vec<StepLine>,
}

/// One step in short sentences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLine {
    /// Its id in the plan: `s1`; none for what is done after mixing.
    pub id: Option<String>,
    /// Counted from 1.
    pub number: usize,
    /// What is done.
    pub text: String,
    /// What comes of it: `1.7413 kg`; none for what is done after mixing.
    pub output: Option<String>,
}

/// What goes into a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Totals {
    /// `TOTALS of one batch`.
    pub heading: String,
    /// One for every ingredient: its name for people, and kilograms with as many decimals as all the others.
    pub rows: Vec<Fact>,
    /// The sum, in the same form.
    pub together: Fact,
    /// The ingredients that are weighed in parts: `Maize, ground: 1.2 kg + 2.7 kg = 3.9 kg`.
    pub in_parts: Vec<String>,
}

/// What doses and bounds can be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doses {
    /// `DOSES, and how far they can be off`.
    pub heading: String,
    /// What stands above the columns.
    pub columns: DoseColumns,
    /// A row each.
    pub rows: Vec<DoseRow>,
}

/// The headings of the doses.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the heading of the field of that name")]
pub struct DoseColumns {
    pub what: String,
    pub value: String,
    pub bound: String,
    pub batch: String,
    pub portion: String,
}

/// What one dose or bound can be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoseRow {
    /// `Salt, fine: dose`, `selenium, law`.
    pub what: String,
    /// It can hurt: a dose, a law, a harm bound; not a target.
    pub can_hurt: bool,
    /// What the plan comes to, with its unit.
    pub value: String,
    /// The bound it is held against, with its unit; empty where there is none.
    pub bound: String,
    /// Between what a batch lies; empty where that is not known.
    pub batch: String,
    /// Between what one animal's portion lies; empty where that is not known.
    pub portion: String,
    /// The whole row as it is said over the telephone.
    pub sentence: String,
}

/// What is cut out and tied to the bag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// `Label: cut out`.
    pub heading: String,
    /// The ration, for people.
    pub title: String,
    /// `NOT A FEED`, where it is for mixing only; `DRAFT`, where it is one.
    pub alarm: Option<String>,
    /// Batch, day, keeps until, animals, lots; one without a value is to be written in by hand.
    pub facts: Vec<Fact>,
    /// Sentences that go with the bag: withdrawals, what to keep it from.
    pub lines: Vec<String>,
}

/// What the phone page needs to write down what was done, as a `record` in the language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// A name for the record that is not taken: the ration's, the day's, the batch's.
    pub name: String,
    /// The day, as the language writes it: `2026-11-25`.
    pub day: String,
    /// The mass of the batch without tops, as the language writes it: `120 kg`.
    pub batch: String,
    /// The words of the page.
    pub words: RecordWords,
}

/// What the phone page says.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is what its name says")]
pub struct RecordWords {
    pub mixed_by: String,
    pub made: String,
    /// `Record`: what the text to copy is called.
    pub text: String,
    /// `not weighed`: a comment in that text.
    pub not_weighed: String,
    /// `ticked, no weight typed`: a comment in that text.
    pub only_ticked: String,
    pub copy: String,
    pub copied: String,
    pub clear: String,
    pub clear_sure: String,
    /// `{range}` stands for what the scale may read.
    pub outside: String,
    pub unreadable: String,
    /// `{n}` stands for how many.
    pub left: String,
    pub all_done: String,
    pub not_kept: String,
    pub print: String,
}
