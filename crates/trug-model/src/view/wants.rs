//! Which units fit where.

use crate::quantity::{Base, Dimension};

/// What a place in the text wants counted.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wants {
    /// In words: `a share`.
    pub(crate) noun: &'static str,
    /// Units that fit, the commonest first.
    pub(crate) units: &'static [&'static str],
    /// Whether a dimension fits.
    pub(crate) fits: fn(&Dimension) -> bool,
}

const SHARE_UNITS: &[&str] = &["%", "g/kg", "kg/t", "mg/kg"];

impl Wants {
    pub(crate) const SHARE: Wants = Wants {
        noun: "a share",
        units: SHARE_UNITS,
        fits: Dimension::is_share,
    };
    pub(crate) const PERCENT: Wants = Wants {
        noun: "a share",
        units: &["%"],
        fits: Dimension::is_share,
    };
    pub(crate) const MASS: Wants = Wants {
        noun: "a mass",
        units: &["kg", "g", "t"],
        fits: |dimension| dimension.is(Base::Mass),
    };
    pub(crate) const VOLUME: Wants = Wants {
        noun: "a volume",
        units: &["L", "mL", "m3"],
        fits: |dimension| dimension.is(Base::Volume),
    };
    pub(crate) const MASS_OR_VOLUME: Wants = Wants {
        noun: "a mass or a volume",
        units: &["kg", "L"],
        fits: |dimension| dimension.is(Base::Mass) || dimension.is(Base::Volume),
    };
    pub(crate) const LENGTH: Wants = Wants {
        noun: "a length",
        units: &["mm", "um"],
        fits: |dimension| dimension.is(Base::Length),
    };
    pub(crate) const TIME: Wants = Wants {
        noun: "a time",
        units: &["days", "weeks"],
        fits: |dimension| dimension.is(Base::Time),
    };
    pub(crate) const DENSITY: Wants = Wants {
        noun: "a density",
        units: &["kg/L", "g/mL", "kg/m3"],
        fits: |dimension| dimension.is_per(Base::Mass, Base::Volume),
    };
    pub(crate) const PRICE: Wants = Wants {
        noun: "money per mass",
        units: &["LKR/kg", "EUR/kg", "USD/t"],
        fits: |dimension| dimension.is_per(Base::Money, Base::Mass),
    };
    pub(crate) const MONEY: Wants = Wants {
        noun: "money",
        units: &["EUR", "LKR", "USD"],
        fits: |dimension| dimension.is(Base::Money),
    };
    pub(crate) const DAILY_MASS: Wants = Wants {
        noun: "a mass per day",
        units: &["g/day", "kg/day"],
        fits: |dimension| dimension.is_per(Base::Mass, Base::Time),
    };
    pub(crate) const AMOUNT: Wants = Wants {
        noun: "a share or a mass",
        units: &["%", "kg", "g/kg", "kg/t", "g"],
        fits: |dimension| {
            dimension.is_share()
                || dimension.is(Base::Mass)
                || dimension.is(Base::Volume)
                || dimension.is_per(Base::Mass, Base::Time)
        },
    };
    /// Anything with a unit: what fits is judged elsewhere.
    pub(crate) const ANY: Wants = Wants {
        noun: "a quantity",
        units: SHARE_UNITS,
        fits: |_| true,
    };
}
