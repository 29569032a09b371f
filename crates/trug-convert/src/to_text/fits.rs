//! The units that fit a column: what its line counts.

use trug_model::quantity::{Base, Dimension};

use crate::units::Unit;

/// The units that fit a column.
#[derive(Clone, Debug)]
pub(super) struct Fits {
    wants: Wants,
    /// One of them.
    pub(super) example: &'static str,
}

/// What they count.
#[derive(Clone, Debug)]
pub(super) enum Wants {
    /// What a content of a nutrient counts.
    Content(Dimension),
    MoneyPerMass,
    MassPerVolume,
    Mass,
    Length,
    Amount,
}

impl Fits {
    pub(super) fn new(wants: Wants, example: &'static str) -> Fits {
        Fits { wants, example }
    }

    /// Those of a line that opens with this word.
    pub(super) fn of_line(word: &str) -> Fits {
        match word {
            "price" => Fits::new(Wants::MoneyPerMass, "LKR/kg"),
            "bulk-density" => Fits::new(Wants::MassPerVolume, "kg/L"),
            "particle-density" => Fits::new(Wants::MassPerVolume, "g/mL"),
            "particle-size" => Fits::new(Wants::Length, "mm"),
            "sold in" => Fits::new(Wants::Mass, "kg"),
            _ => Fits::new(Wants::Content(Dimension::SHARE), "%"),
        }
    }

    /// Whether a unit is one of them.
    pub(super) fn fit(&self, unit: &Unit) -> bool {
        let Some(dimension) = &unit.dimension else {
            return matches!(self.wants, Wants::Amount);
        };
        match &self.wants {
            Wants::Content(wanted) => dimension == wanted,
            Wants::MoneyPerMass => dimension.is_per(Base::Money, Base::Mass),
            Wants::MassPerVolume => dimension.is_per(Base::Mass, Base::Volume),
            Wants::Mass => dimension.is(Base::Mass),
            Wants::Length => dimension.is(Base::Length),
            Wants::Amount => dimension.is_share() || dimension.is(Base::Mass),
        }
    }
}
