//! Reads the quantities of a text: units, local measures, bases.

use std::collections::BTreeMap;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, BasisKind, Bound, ItemBody, Number, Quantity, UnitText, UnitWord};

use super::{View, Wants};
use crate::Q;
use crate::farm::{ItemRef, Namespace};
use crate::findings::unit;
use crate::near;
use crate::quantity::{self, Basis, Dimension, Factor, Measure, Range, Shown};

/// A local measure may be made of another; a longer chain is not followed.
const DEEPEST_MEASURE: usize = 16;

/// Reads the quantities of one text.
pub(crate) struct Reader<'view, 'farm> {
    view: &'view View<'farm>,
    file: FileId,
    /// The ingredient local measures are asked for.
    of: Option<SmolStr>,
}

impl<'farm> View<'farm> {
    /// Reads quantities that stand in `file`.
    pub(crate) fn reader(&self, file: FileId) -> Reader<'_, 'farm> {
        Reader {
            view: self,
            file,
            of: None,
        }
    }

    /// Reads quantities of an ingredient that stand in `file`.
    pub(crate) fn reader_of(&self, file: FileId, ingredient: &str) -> Reader<'_, 'farm> {
        Reader {
            view: self,
            file,
            of: Some(SmolStr::new(ingredient)),
        }
    }
}

/// The exact value of a number the grammar has read.
pub(crate) fn number(number: &Number) -> Q {
    Q::decimal(&number.digits).unwrap_or_default()
}

/// A day of the calendar; none where there is no such day.
pub(crate) fn day(written: &tree::Date) -> Option<Date> {
    Date::new(written.year, written.month, written.day).ok()
}

/// The basis in the words of the model.
pub(crate) fn basis(written: &tree::Basis) -> Basis {
    match &written.kind {
        BasisKind::AsFed => Basis::AsFed,
        BasisKind::OfDryMatter => Basis::OfDryMatter,
        BasisKind::AtDryMatter(percent) => Basis::AtDryMatter(number(percent) / Q::int(100)),
    }
}

/// The measures that can be seen, by their names and what each is for; of two alike, the first.
pub(super) type Measures = BTreeMap<SmolStr, BTreeMap<Option<SmolStr>, ItemRef>>;

impl View<'_> {
    fn measures(&self) -> &Measures {
        self.shared.measures.get_or_init(|| {
            let mut measures = Measures::new();
            for (file, declared) in self.scope.all(self.farm, Namespace::Unit) {
                let rank = declared.rank;
                let named = measures.entry(declared.name.clone()).or_default();
                let of = named.entry(declared.of.clone());
                of.or_insert(ItemRef { file, rank });
            }
            measures
        })
    }

    /// The items that declare a measure of that name, for anything or for one ingredient.
    pub(super) fn measures_called(&self, name: &str) -> impl Iterator<Item = ItemRef> {
        let named = self.measures().get(name);
        named.into_iter().flat_map(|of| of.values().copied())
    }
}

impl Reader<'_, '_> {
    fn place(&self, span: trug_findings::Span) -> Place {
        Place::new(self.file, span)
    }

    /// Reads a quantity that must be of a certain kind. Says what is wrong; none then.
    pub(crate) fn quantity(
        &self,
        written: &Quantity,
        wants: &Wants,
        findings: &mut Vec<Finding>,
    ) -> Option<Measure> {
        let Some(unit_text) = &written.unit else {
            let place = self.place(written.number.span);
            let scatter = written.scatter.as_ref();
            findings.push(unit::missing(
                place,
                &written.number.digits,
                scatter.map_or(place.span, |scatter| scatter.number.span),
                wants.noun,
                wants.units,
            ));
            return None;
        };
        let factor = self.unit(unit_text, wants, findings)?;
        let value = number(&written.number) * &factor.factor;
        let deviation = written.scatter.as_ref();
        Some(Measure {
            value,
            deviation: deviation.map(|scatter| number(&scatter.number) * &factor.factor),
            basis: written.basis.as_ref().map(basis),
            unit: Shown::new(unit_text_shown(unit_text), factor.factor),
            dimension: factor.dimension,
            span: written.span,
        })
    }

    /// Reads a quantity whose unit is optional: without one it is a plain number.
    pub(crate) fn factor(&self, written: &Quantity, findings: &mut Vec<Finding>) -> Option<Factor> {
        let value = number(&written.number);
        let Some(unit_text) = &written.unit else {
            return Some(Factor {
                factor: value,
                dimension: Dimension::SHARE,
            });
        };
        let unit = self.unit(unit_text, &Wants::ANY, findings)?;
        Some(Factor {
            factor: value * unit.factor,
            dimension: unit.dimension,
        })
    }

    /// Reads a range that must be of a certain kind. Says what is wrong; none then.
    pub(crate) fn range(
        &self,
        written: &Bound,
        wants: &Wants,
        findings: &mut Vec<Finding>,
    ) -> Option<Range> {
        let Some(unit_text) = &written.unit else {
            let last = written.high.as_ref().or(written.low.as_ref())?;
            let place = self.place(last.span);
            findings.push(unit::missing(
                place,
                &last.digits,
                place.span,
                wants.noun,
                wants.units,
            ));
            return None;
        };
        let factor = self.unit(unit_text, wants, findings)?;
        let end = |end: &Option<Number>| end.as_ref().map(|end| number(end) * &factor.factor);
        Some(Range {
            low: end(&written.low),
            high: end(&written.high),
            basis: written.basis.as_ref().map(basis),
            unit: Shown::new(unit_text_shown(unit_text), factor.factor.clone()),
            dimension: factor.dimension,
            span: written.span,
        })
    }

    /// Reads a range of plain numbers, or one with a unit if it has one.
    pub(crate) fn plain_range(&self, written: &Bound) -> Range {
        let end = |end: &Option<Number>| end.as_ref().map(number);
        Range {
            low: end(&written.low),
            high: end(&written.high),
            dimension: Dimension::SHARE,
            basis: written.basis.as_ref().map(basis),
            unit: Shown::new("", Q::ONE),
            span: written.span,
        }
    }

    fn unit(
        &self,
        written: &UnitText,
        wants: &Wants,
        findings: &mut Vec<Finding>,
    ) -> Option<Factor> {
        let above = self.word(&written.unit, findings)?;
        let factor = match &written.per {
            None => above,
            Some((count, per)) => {
                let below = self.word(per, findings)?;
                let count = count.as_ref().map_or(Q::ONE, number);
                let size = above.factor.over(&(below.factor * count));
                let dimension = above.dimension.over(&below.dimension);
                let (Some(factor), Some(dimension)) = (size, dimension) else {
                    findings.push(unit::unknown(
                        self.place(written.span),
                        &unit_text_shown(written),
                        &[],
                    ));
                    return None;
                };
                Factor { factor, dimension }
            }
        };
        if !(wants.fits)(&factor.dimension) {
            findings.push(unit::mismatch(
                self.place(written.span),
                &unit_text_shown(written),
                &factor.dimension.to_string(),
                wants.noun,
                wants.units,
            ));
            return None;
        }
        Some(factor)
    }

    fn word(&self, written: &UnitWord, findings: &mut Vec<Finding>) -> Option<Factor> {
        if let Some(factor) = quantity::word(&written.text) {
            return Some(factor);
        }
        if let Some(measure) = self.local(&written.text, DEEPEST_MEASURE) {
            return measure;
        }
        if !self.view.scope.is_incomplete {
            let near = self.near(&written.text);
            let place = self.place(written.span);
            findings.push(unit::unknown(place, &written.text, &near));
        }
        None
    }

    fn near(&self, written: &str) -> Vec<String> {
        let local = self.view.scope.all(self.view.farm, Namespace::Unit);
        let local: Vec<&str> = local.map(|(_, declared)| declared.name.as_str()).collect();
        let known = quantity::unit_words();
        let known = known.into_iter().chain(local);
        let near = near::nearest_within(&self.view.left_to_compare, written, known);
        near.into_iter().map(str::to_owned).collect()
    }

    /// A measure the farm declares: for this ingredient, else for any. None where there is none;
    /// none inside where it is declared and could not be read.
    fn local(&self, name: &str, depth: usize) -> Option<Option<Factor>> {
        let (file, unit) = self.declared(name)?;
        if depth == 0 {
            return Some(None);
        }
        let Some(written) = &unit.equals.unit else {
            return Some(None);
        };
        let reader = Reader {
            view: self.view,
            file,
            of: self.of.clone(),
        };
        let one = |word: &UnitWord| {
            quantity::word(&word.text).or_else(|| reader.local(&word.text, depth - 1).flatten())
        };
        if written.per.is_some() {
            return Some(None);
        }
        let factor =
            one(&written.unit).filter(|factor| (Wants::MASS_OR_VOLUME.fits)(&factor.dimension));
        // One that holds nothing has said so where it is declared.
        let factor = factor.filter(|_| number(&unit.equals.number).is_positive());
        Some(factor.map(|factor| Factor {
            factor: factor.factor * number(&unit.equals.number),
            dimension: factor.dimension,
        }))
    }

    fn declared(&self, name: &str) -> Option<(FileId, &tree::Unit)> {
        let unit = |item: &ItemRef| match &self.view.item(*item).body {
            ItemBody::Unit(unit) => Some((item.file, unit)),
            _ => None,
        };
        let named = self.view.measures().get(name)?;
        let own = self.of.as_ref().and_then(|of| named.get(&Some(of.clone())));
        own.or_else(|| named.get(&None)).and_then(unit)
    }
}

/// The unit as one would write it.
pub(crate) fn unit_text_shown(written: &UnitText) -> String {
    match &written.per {
        None => written.unit.text.to_string(),
        Some((None, per)) => format!("{}/{}", written.unit.text, per.text),
        Some((Some(count), per)) => {
            format!("{} per {} {}", written.unit.text, count.digits, per.text)
        }
    }
}
