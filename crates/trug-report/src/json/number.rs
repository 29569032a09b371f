//! Exact numbers as programs read them: decimal strings.

use schemars::JsonSchema;
use serde::Serialize;
use trug_model::Q;

/// An exact number in decimal digits, rounded half to even after twelve where it does not end.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(transparent)]
pub struct Decimal(#[schemars(regex(pattern = r"^-?[0-9]+(\.[0-9]{1,12})?$"))] String);

impl Decimal {
    /// The digits.
    #[must_use]
    pub fn digits(&self) -> &str {
        &self.0
    }
}

impl From<&Q> for Decimal {
    fn from(value: &Q) -> Decimal {
        Decimal(value.to_string())
    }
}

/// A number from statistics; none where it is not one.
#[must_use]
pub fn statistic(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
