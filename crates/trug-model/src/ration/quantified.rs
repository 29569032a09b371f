//! What the amount of one line says, before it is a share.

use trug_findings::{Finding, Place};
use trug_syntax::tree::{AmountForm, Quantity};

use super::draft::{DraftLine, Form};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::{amount, basis, data, unit};
use crate::quantity::{self, Base, Basis, Dimension, Range, Shown};
use crate::view::{Feed, View, Wants, number, units_for};

/// An amount in base units.
#[derive(Clone, Debug)]
pub(super) enum Quantified {
    /// A fraction of the 100 %, on a basis.
    Share(Q, Option<Basis>),
    /// So many kg of the batch.
    Mass(Q),
    /// So many kg a day.
    PerDay(Q),
    /// So many parts of what the other lines leave.
    Parts(Q),
    /// What the other lines leave.
    Rest,
    /// Chosen between two fractions of the 100 %.
    Open(Range),
    /// Chosen between two masses of the batch.
    OpenMass(Range),
}

/// An amount, and how it was written.
#[derive(Clone, Debug)]
pub(super) struct Written {
    pub(super) amount: Quantified,
    pub(super) unit: Option<Shown>,
    pub(super) is_by_measure: bool,
    pub(super) gives_active: bool,
}

impl Written {
    fn plain(amount: Quantified) -> Written {
        Written {
            amount,
            unit: None,
            is_by_measure: false,
            gives_active: false,
        }
    }
}

/// Reads the amount of a line. Says what is wrong; none then.
pub(super) fn quantify(
    view: &View<'_>,
    line: &DraftLine<'_>,
    feed: &Feed,
    has_rest: bool,
    findings: &mut Vec<Finding>,
) -> Option<Written> {
    let form = match &line.form {
        Form::Share(share) => return Some(Written::plain(Quantified::Share(share.clone(), None))),
        Form::Open(low, high) => {
            return Some(Written::plain(Quantified::Open(Range {
                low: Some(low.clone()),
                high: Some(high.clone()),
                dimension: Dimension::SHARE,
                basis: None,
                unit: Shown::new("%", Q::ratio(1, 100)),
                span: line.span,
            })));
        }
        Form::Written(form) => form,
    };
    match form {
        AmountForm::Fixed(written) => fixed(view, line, feed, written, findings),
        AmountForm::Parts(parts) => {
            let value = number(parts);
            if !value.is_positive() {
                findings.push(data::not_positive(
                    Place::new(line.file, parts.span),
                    &parts.digits,
                ));
                return None;
            }
            Some(Written::plain(Quantified::Parts(value)))
        }
        AmountForm::Rest => Some(Written::plain(Quantified::Rest)),
        AmountForm::Open(bound) => {
            let reader = view.reader_of(line.file, &line.name.text);
            let range = reader.range(bound, &Wants::AMOUNT, findings)?;
            let unit = Some(range.unit.clone());
            let amount = if range.dimension.is_share() {
                Quantified::Open(range)
            } else if range.dimension.is(Base::Mass) {
                Quantified::OpenMass(range)
            } else {
                let place = Place::new(line.file, bound.span);
                let dimension = range.dimension.to_string();
                findings.push(unit::mismatch(
                    place,
                    &range.unit.text,
                    &dimension,
                    "a share or a mass",
                    &["%", "kg"],
                ));
                return None;
            };
            Some(Written {
                unit,
                ..Written::plain(amount)
            })
        }
        AmountForm::Giving { quantity, active } => {
            if !has_rest {
                let place = Place::new(line.file, line.span);
                findings.push(amount::giving_without_rest(place, &line.name.text));
                return None;
            }
            giving(view, line, feed, quantity, active, findings)
        }
    }
}

fn fixed(
    view: &View<'_>,
    line: &DraftLine<'_>,
    feed: &Feed,
    written: &Quantity,
    findings: &mut Vec<Finding>,
) -> Option<Written> {
    let reader = view.reader_of(line.file, &line.name.text);
    let measure = reader.quantity(written, &Wants::AMOUNT, findings)?;
    let place = Place::new(line.file, written.span);
    if measure.value.is_negative() {
        findings.push(data::negative(
            place,
            &measure.unit.say_exactly(&measure.value),
        ));
        return None;
    }
    let word = written
        .unit
        .as_ref()
        .map(|unit| unit.unit.text.as_str())
        .unwrap_or_default();
    let is_by_measure = quantity::word(word).is_none() || measure.dimension.is(Base::Volume);
    let amount = if measure.dimension.is_share() {
        Quantified::Share(measure.value, measure.basis)
    } else if measure.dimension.is(Base::Mass) {
        Quantified::Mass(measure.value)
    } else if measure.dimension.is(Base::Volume) {
        let Some(density) = feed.bulk_density() else {
            findings.push(data::no_density(
                place,
                &line.name.text,
                &measure.unit.say_exactly(&measure.value),
            ));
            return None;
        };
        Quantified::Mass(measure.value * density)
    } else if measure.dimension == Dimension::per(Base::Mass, Base::Time) {
        Quantified::PerDay(measure.value)
    } else {
        return None;
    };
    Some(Written {
        amount,
        unit: Some(measure.unit),
        is_by_measure,
        gives_active: false,
    })
}

/// The inclusion of a product that adds so much of its active.
fn giving(
    view: &View<'_>,
    line: &DraftLine<'_>,
    feed: &Feed,
    written: &Quantity,
    active: &trug_syntax::tree::Name,
    findings: &mut Vec<Finding>,
) -> Option<Written> {
    let active_place = Place::new(line.file, active.span);
    if !view.knows(Namespace::Nutrient, active, active_place, findings) {
        return None;
    }
    let nutrient = view.nutrient(&active.text)?;
    let wants = Wants {
        noun: "another unit",
        units: units_for(&nutrient.dimension),
        fits: |_| true,
    };
    let measure = view.reader(line.file).quantity(written, &wants, findings)?;
    if measure.dimension != nutrient.dimension {
        let span = written.unit.as_ref().map_or(written.span, |unit| unit.span);
        findings.push(unit::unlike(
            Place::new(line.file, span),
            (&measure.unit.text, &measure.dimension),
            (&active.text, &nutrient.dimension),
            wants.units,
        ));
        return None;
    }
    if let Some(basis @ (Basis::OfDryMatter | Basis::AtDryMatter(_))) = &measure.basis {
        let place = Place::new(line.file, written.span);
        findings.push(basis::given(place, &line.name.text, &basis.words()));
        return None;
    }
    if !measure.value.is_positive() {
        findings.push(data::not_positive(
            Place::new(line.file, written.span),
            &measure.unit.say_exactly(&measure.value),
        ));
        return None;
    }
    let content = feed.content(&nutrient);
    let share = if content.is_complete {
        measure.value.over(&content.known)
    } else {
        None
    };
    let Some(share) = share.filter(|share| share.is_positive()) else {
        findings.push(data::no_active(
            active_place,
            &line.name.text,
            &active.text,
            wants.units,
        ));
        return None;
    };
    Some(Written {
        amount: Quantified::Share(share, None),
        unit: None,
        is_by_measure: false,
        gives_active: true,
    })
}
