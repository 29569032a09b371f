//! What a text says, line by line, with the place of every word; nothing of what it means.
//!
//! The tree owns its words and knows no grammar. Whatever could not be read is an `Unread` with one
//! finding beside it, so that everything else can still be judged.

mod farm;
mod quantity;
mod ration;
mod store;

use trug_findings::{Finding, Span};

pub use farm::{
    Group, GroupLine, GroupStatement, Method, MethodLine, MethodRule, Record, RecordLine,
    RecordStatement, Scale, ScaleClass, Unit, UnitRate, Use, UseSource, UsedBook, Vessel,
};
pub use quantity::{
    Accept, Basis, BasisKind, Bound, Date, Expression, Factor, Name, Number, Origin, Quantity,
    Scatter, Sum, Term, Text, UnitText, UnitWord,
};
pub use ration::{
    Amount, AmountForm, Carry, Clauses, Phase, Ration, RationLine, RationStatement, Target,
    TargetLine, Targets,
};
pub use store::{
    Animal, AnimalLine, AnimalStatement, Ingredient, IngredientLine, IngredientStatement, Lot,
    LotLine, LotStatement, Nutrient, NutrientKind, Strength,
};

/// One text, read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct File {
    /// Its items in the order of the text.
    pub items: Vec<Item>,
    /// What could not be read, and what was understood with a note.
    pub findings: Vec<Finding>,
}

/// An item: its header line and the indented lines below.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The header line, without blanks and comment at its ends.
    pub header: Span,
    /// The keyword it opens with.
    pub keyword: Span,
    /// From the header's start to the end of the last line.
    pub whole: Span,
    /// What it says.
    pub body: ItemBody,
    /// Where what its lines say is from, in the order of the text.
    pub origins: Vec<Origin>,
    /// A line of it could not be read: the item is neither summed nor judged.
    pub has_unread_line: bool,
}

/// What an item says, by its keyword.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "each variant is the item of that keyword")]
#[expect(
    clippy::large_enum_variant,
    reason = "items are few beside their lines; boxing would only make them harder to take apart"
)]
pub enum ItemBody {
    Use(Use),
    Unit(Unit),
    Rate(UnitRate),
    Animal(Animal),
    Nutrient(Nutrient),
    Ingredient(Ingredient),
    Lot(Lot),
    Targets(Targets),
    Ration(Ration),
    Scale(Scale),
    Vessel(Vessel),
    Method(Method),
    Group(Group),
    Record(Record),
    /// A header that could not be read.
    Unread(Unread),
}

/// An item whose header could not be read. Its lines are kept silent.
#[derive(Clone, Debug, PartialEq)]
pub struct Unread {
    /// What it declares, where that could be made out: it counts as known.
    pub name: Option<Name>,
}

impl Item {
    /// Where what stands at a place is from: what its line says of that, else what the item says of all its lines.
    #[must_use]
    pub fn origin(&self, at: Span) -> Option<&Origin> {
        let holds = |line: Span| line.start <= at.start && at.end <= line.end;
        let is_of_line = |origin: &&Origin| origin.of.is_some_and(holds);
        let is_of_all = |origin: &&Origin| origin.of.is_none();
        let of_line = self.origins.iter().find(is_of_line);
        of_line.or_else(|| self.origins.iter().find(is_of_all))
    }
}

impl ItemBody {
    /// Whether its lines may say where they are from: what is known of feed and animals, not what a farm decides or does.
    #[must_use]
    pub fn has_origins(&self) -> bool {
        matches!(
            self,
            ItemBody::Animal(_)
                | ItemBody::Ingredient(_)
                | ItemBody::Lot(_)
                | ItemBody::Targets(_)
                | ItemBody::Method(_)
        )
    }

    /// The name it declares.
    #[must_use]
    pub fn name(&self) -> Option<&Name> {
        match self {
            ItemBody::Use(_) | ItemBody::Rate(_) => None,
            ItemBody::Unit(unit) => Some(&unit.name),
            ItemBody::Animal(animal) => Some(&animal.name),
            ItemBody::Nutrient(nutrient) => Some(&nutrient.name),
            ItemBody::Ingredient(ingredient) => Some(&ingredient.name),
            ItemBody::Lot(lot) => Some(&lot.name),
            ItemBody::Targets(targets) => Some(&targets.name),
            ItemBody::Ration(ration) => Some(&ration.name),
            ItemBody::Scale(scale) => Some(&scale.name),
            ItemBody::Vessel(vessel) => Some(&vessel.name),
            ItemBody::Method(method) => Some(&method.name),
            ItemBody::Group(group) => Some(&group.name),
            ItemBody::Record(record) => Some(&record.name),
            ItemBody::Unread(unread) => unread.name.as_ref(),
        }
    }
}
