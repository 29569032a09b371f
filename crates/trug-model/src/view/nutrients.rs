//! Nutrients: how each is counted, sums of them, and what is known of a content.

use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, Expression, ItemBody, NutrientKind, Sum};

use super::measures::number;
use super::{View, Wants};
use crate::Q;
use crate::farm::Namespace;
use crate::findings::unit;
use crate::quantity::{Activity, Base, Dimension, Shown};

/// A nutrient, as one text sees it.
#[derive(Debug)]
pub(crate) struct Nutrient {
    pub(crate) name: SmolStr,
    pub(crate) label: Option<String>,
    /// Of a content: a share, or something per mass.
    pub(crate) dimension: Dimension,
    /// How contents are shown.
    pub(crate) unit: Shown,
    /// What it is made of.
    pub(crate) formula: Option<Linear>,
}

/// Nutrients with the numbers they are multiplied by.
#[derive(Clone, Debug)]
pub(crate) struct Linear {
    pub(crate) terms: Vec<(Q, Arc<Nutrient>)>,
    pub(crate) dimension: Dimension,
}

/// A sum of nutrients, or one over another.
#[derive(Clone, Debug)]
pub(crate) struct Quotient {
    pub(crate) above: Linear,
    pub(crate) below: Option<Linear>,
    pub(crate) dimension: Dimension,
    /// As written.
    pub(crate) words: String,
}

/// What is known of an amount: a value with its variance, or two ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Interval {
    /// The sum of what is known.
    pub(crate) known: Q,
    /// The least it can be.
    pub(crate) low: Q,
    /// The most it can be; none is without bound.
    pub(crate) high: Option<Q>,
    /// Square of the standard deviation.
    pub(crate) variance: Q,
    /// Nothing of it is unknown.
    pub(crate) is_complete: bool,
}

impl Interval {
    pub(crate) const ZERO: Interval = Interval {
        known: Q::ZERO,
        low: Q::ZERO,
        high: Some(Q::ZERO),
        variance: Q::ZERO,
        is_complete: true,
    };

    pub(crate) fn exactly(value: Q) -> Interval {
        Interval {
            known: value.clone(),
            low: value.clone(),
            high: Some(value),
            variance: Q::ZERO,
            is_complete: true,
        }
    }

    pub(crate) fn unknown(high: Option<Q>) -> Interval {
        Interval {
            high,
            is_complete: false,
            ..Interval::ZERO
        }
    }

    /// One value, and no scatter: the usual case.
    pub(crate) fn is_exact(&self) -> bool {
        self.is_complete
            && self.variance.is_zero()
            && self.low == self.known
            && self.high.as_ref() == Some(&self.known)
    }

    pub(crate) fn times(&self, factor: &Q) -> Interval {
        if self.is_exact() {
            return Interval::exactly(&self.known * factor);
        }
        let high = self.high.as_ref().map(|high| high * factor);
        let low = &self.low * factor;
        let (low, high) = if factor.is_negative() {
            // Without an upper end, its negative has no lower one: the greatest content of any feed stands in.
            (high.unwrap_or_else(|| -far()), Some(low))
        } else if factor.is_zero() {
            (Q::ZERO, Some(Q::ZERO))
        } else {
            (low, high)
        };
        Interval {
            known: &self.known * factor,
            low,
            high,
            variance: &self.variance * &(factor * factor),
            is_complete: self.is_complete || factor.is_zero(),
        }
    }

    pub(crate) fn plus(&self, other: &Interval) -> Interval {
        if self.is_exact() && other.is_exact() {
            return Interval::exactly(&self.known + &other.known);
        }
        Interval {
            known: &self.known + &other.known,
            low: &self.low + &other.low,
            high: match (&self.high, &other.high) {
                (Some(a), Some(b)) => Some(a + b),
                _ => None,
            },
            variance: &self.variance + &other.variance,
            is_complete: self.is_complete && other.is_complete,
        }
    }
}

/// More than any feed holds of anything, in any base unit per kg.
pub(crate) fn far() -> Q {
    Q::int(1_000_000_000_000_000)
}

impl Nutrient {
    /// The most that an unknown content can be: all of the ingredient, or 40 MJ/kg.
    pub(crate) fn greatest(&self) -> Option<Q> {
        if self.dimension.is_share() {
            Some(Q::ONE)
        } else if self.dimension.is_per(Base::Energy, Base::Mass) {
            Some(Q::int(40))
        } else {
            None
        }
    }
}

/// How a content of this dimension is shown; none where it is no content.
fn shown(dimension: &Dimension) -> Option<Shown> {
    if dimension.is_share() {
        return Some(Shown::new("%", Q::ratio(1, 100)));
    }
    if dimension.is_per(Base::Energy, Base::Mass) {
        return Some(Shown::new("MJ/kg", Q::ONE));
    }
    if dimension.is_per(Base::Charge, Base::Mass) {
        return Some(Shown::new("meq/kg", Q::ratio(1, 1000)));
    }
    let activities = [Activity::Iu, Activity::U, Activity::Ftu, Activity::Cfu];
    let activity = activities
        .into_iter()
        .find(|activity| *dimension == Dimension::activity_per_mass(*activity))?;
    Some(Shown::new(format!("{}/kg", activity.sign()), Q::ONE))
}

fn counted_in(word: &str) -> Option<Dimension> {
    Some(match word {
        "share" => Dimension::SHARE,
        "energy" => Dimension::per(Base::Energy, Base::Mass),
        "charge" => Dimension::per(Base::Charge, Base::Mass),
        "IU" => Dimension::activity_per_mass(Activity::Iu),
        "U" => Dimension::activity_per_mass(Activity::U),
        "FTU" => Dimension::activity_per_mass(Activity::Ftu),
        "CFU" => Dimension::activity_per_mass(Activity::Cfu),
        _ => return None,
    })
}

pub(super) fn make(
    view: &View<'_>,
    name: &str,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Nutrient>> {
    if !view.chain_ends(Namespace::Nutrient, name) {
        return None;
    }
    let items = view.items(Namespace::Nutrient, name);
    // The farm's own wins: a nutrient is counted in one way only.
    let (item_ref, item) = items.last()?;
    let ItemBody::Nutrient(nutrient) = &item.body else {
        return None;
    };
    let place = Place::new(item_ref.file, nutrient.name.span);
    let (dimension, formula) = match &nutrient.kind {
        NutrientKind::In(word) => {
            let Some(dimension) = counted_in(&word.text) else {
                findings.push(unit::counted_in(
                    Place::new(item_ref.file, word.span),
                    &word.text,
                ));
                return None;
            };
            (dimension, None)
        }
        NutrientKind::Of(expression) => {
            let linear = view.linear(&expression.sum, item_ref.file, findings);
            let linear = linear?;
            if expression.over.is_some() {
                let place = Place::new(item_ref.file, expression.span);
                findings.push(unit::no_content(place, name, "one sum over another"));
                return None;
            }
            (linear.dimension.clone(), Some(linear))
        }
    };
    let Some(unit) = shown(&dimension) else {
        findings.push(unit::no_content(place, name, &dimension.to_string()));
        return None;
    };
    Some(Arc::new(Nutrient {
        name: nutrient.name.text.clone(),
        label: nutrient.label.as_ref().map(|label| label.text.clone()),
        dimension,
        unit,
        formula,
    }))
}

impl View<'_> {
    /// A sum of nutrients that stands in `file`. Says what is wrong; none then.
    pub(crate) fn linear(
        &self,
        sum: &Sum,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Linear> {
        let mut terms: Vec<(Q, Arc<Nutrient>)> = Vec::new();
        let mut dimension: Option<(Dimension, SmolStr)> = None;
        let mut is_sound = true;
        for term in &sum.terms {
            let Some((factor, nutrient, counts)) = self.term(term, file, findings) else {
                is_sound = false;
                continue;
            };
            match &dimension {
                Some((first, first_name)) if *first != counts => {
                    let place = Place::new(file, term.span);
                    findings.push(unit::do_not_add(
                        place,
                        (first_name, first),
                        (&term.name.text, &counts),
                    ));
                    is_sound = false;
                }
                // One vitamin's units say nothing of another's.
                Some((first, first_name))
                    if first.is_activity() && *first_name != term.name.text =>
                {
                    let place = Place::new(file, term.span);
                    findings.push(unit::activities(place, first_name, &term.name.text));
                    is_sound = false;
                }
                Some(_) => {}
                None => dimension = Some((counts, term.name.text.clone())),
            }
            terms.push((factor, nutrient));
        }
        let (dimension, _) = dimension?;
        is_sound.then_some(Linear { terms, dimension })
    }

    fn term(
        &self,
        term: &tree::Term,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<(Q, Arc<Nutrient>, Dimension)> {
        let place = Place::new(file, term.name.span);
        if !self.knows(Namespace::Nutrient, &term.name, place, findings) {
            return None;
        }
        let nutrient = self.nutrient(&term.name.text)?;
        let mut factor = if term.is_subtracted {
            Q::int(-1)
        } else {
            Q::ONE
        };
        let mut dimension = nutrient.dimension.clone();
        for by in &term.factors {
            let read = self.reader(file).factor(&by.quantity, findings)?;
            let (size, counts) = if by.divides {
                (factor.over(&read.factor), dimension.over(&read.dimension))
            } else {
                (Some(factor * read.factor), dimension.times(&read.dimension))
            };
            let (Some(size), Some(counts)) = (size, counts) else {
                let digits = number(&by.quantity.number).to_string();
                findings.push(unit::no_factor(Place::new(file, by.quantity.span), &digits));
                return None;
            };
            (factor, dimension) = (size, counts);
        }
        Some((factor, nutrient, dimension))
    }

    /// A sum of nutrients, or one over another, that stands in `file`. Says what is wrong; none then.
    pub(crate) fn quotient(
        &self,
        expression: &Expression,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Quotient> {
        let above = self.linear(&expression.sum, file, findings);
        let below = match &expression.over {
            None => None,
            Some(sum) => Some(self.linear(sum, file, findings)?),
        };
        let above = above?;
        let dimension = match &below {
            None => above.dimension.clone(),
            Some(below) => above.dimension.over(&below.dimension).or_else(|| {
                let place = Place::new(file, expression.span);
                let first = (
                    above.terms.first()?.1.name.clone(),
                    below.terms.first()?.1.name.clone(),
                );
                findings.push(unit::do_not_add(
                    place,
                    (&first.0, &above.dimension),
                    (&first.1, &below.dimension),
                ));
                None
            })?,
        };
        let words = self.farm.text_of(Place::new(file, expression.span));
        Some(Quotient {
            above,
            below,
            dimension,
            words: words.split_whitespace().collect::<Vec<_>>().join(" "),
        })
    }
}

impl View<'_> {
    /// A quantity of a nutrient, in a unit that fits how it is counted. Says what is wrong; none then.
    pub(crate) fn content_measure(
        &self,
        written: &tree::Quantity,
        nutrient: &Nutrient,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<crate::quantity::Measure> {
        let wants = Wants {
            noun: "a content",
            units: super::animals::units_for(&nutrient.dimension),
            fits: |_| true,
        };
        let measure = self.reader(file).quantity(written, &wants, findings)?;
        if measure.dimension == nutrient.dimension {
            return Some(measure);
        }
        let span = written.unit.as_ref().map_or(written.span, |unit| unit.span);
        findings.push(unit::unlike(
            Place::new(file, span),
            (&measure.unit.text, &measure.dimension),
            (&nutrient.name, &nutrient.dimension),
            wants.units,
        ));
        None
    }
}
