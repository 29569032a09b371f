//! What there is to work with: methods, scales, vessels.

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, ItemBody, MethodRule, Quantity, ScaleClass};

use super::measures::number;
use super::{View, Wants};
use crate::Q;
use crate::farm::{ItemRef, Namespace};
use crate::findings::data;

/// How a mix is made. Fractions are of one, masses in kg.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each field is the line of that word")]
pub struct Method {
    pub name: SmolStr,
    pub place: Place,
    pub small: Q,
    pub preblend: Q,
    pub step: Q,
    pub weigh: Q,
    pub even: Option<Q>,
    pub mixes_in: MixesIn,
    pub lift: Option<Q>,
    pub turns: Option<u32>,
    pub portions: Option<u32>,
    /// Every line could be read.
    pub is_sound: bool,
}

/// Where the whole batch is mixed.
#[derive(Clone, Debug, PartialEq)]
pub enum MixesIn {
    /// On the floor, so many kg at once; none where no bound is written.
    Floor(Option<Q>),
    /// In this vessel.
    Vessel(SmolStr),
}

/// A scale. Masses in kg.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each field is the word of the line")]
pub struct Scale {
    pub name: SmolStr,
    pub label: Option<String>,
    pub capacity: Q,
    pub division: Q,
    pub minimum: Q,
    pub class: Option<ScaleClass>,
    pub place: Place,
}

/// A vessel, or several alike.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each field is the word of the line")]
pub struct Vessel {
    pub name: SmolStr,
    pub label: Option<String>,
    pub count: u32,
    pub litres: Q,
    pub place: Place,
}

impl Method {
    /// The common practice of mixing by hand, where a ration names no method.
    ///
    /// Small below 3 %, a pre-blend of 20 %, no step above 1 in 20, weighed within 2 %, no load above 25 kg:
    /// common practice of the trade.
    #[must_use]
    pub fn common(place: Place) -> Method {
        Method {
            name: SmolStr::new("by-hand"),
            place,
            small: Q::ratio(3, 100),
            preblend: Q::ratio(20, 100),
            step: Q::int(20),
            weigh: Q::ratio(2, 100),
            even: None,
            mixes_in: MixesIn::Floor(None),
            lift: Some(Q::int(25)),
            turns: None,
            portions: None,
            is_sound: true,
        }
    }
}

impl View<'_> {
    /// The method of that name, the farm's lines over the book's. Says what is wrong with it.
    pub(crate) fn method(&self, name: &str, findings: &mut Vec<Finding>) -> Option<Method> {
        let items = self.items(Namespace::Method, name);
        let (item_ref, item) = items.last()?;
        let ItemBody::Method(written) = &item.body else {
            return None;
        };
        let mut method = Method::common(Place::new(item_ref.file, written.name.span));
        method.name = SmolStr::new(name);
        for (item_ref, item) in &items {
            let ItemBody::Method(written) = &item.body else {
                continue;
            };
            method.is_sound &= !item.has_unread_line;
            for line in &written.lines {
                if let Some(rule) = &line.rule {
                    let is_read = self.rule(&mut method, rule, item_ref.file, findings);
                    method.is_sound &= is_read.is_some();
                }
            }
        }
        Some(method)
    }

    fn rule(
        &self,
        method: &mut Method,
        rule: &MethodRule,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<()> {
        match rule {
            MethodRule::Small(written) => method.small = self.fraction(written, file, findings)?,
            MethodRule::PreBlend(written) => {
                method.preblend = self.fraction(written, file, findings)?
            }
            MethodRule::Weigh(written) => method.weigh = self.fraction(written, file, findings)?,
            MethodRule::Even(written) => {
                method.even = Some(self.fraction(written, file, findings)?)
            }
            MethodRule::Step(written) => {
                let step = number(written);
                if step <= Q::ONE {
                    let place = Place::new(file, written.span);
                    findings.push(data::outside(
                        place,
                        "a step",
                        &format!("1 in {step}"),
                        "1 in more than 1",
                    ));
                    return None;
                }
                method.step = step;
            }
            MethodRule::Floor(written) => {
                method.mixes_in = MixesIn::Floor(Some(self.positive(
                    written,
                    &Wants::MASS,
                    file,
                    findings,
                )?));
            }
            MethodRule::In(vessel) => {
                let place = Place::new(file, vessel.span);
                if !self.knows(Namespace::Vessel, vessel, place, findings) {
                    return None;
                }
                method.mixes_in = MixesIn::Vessel(vessel.text.clone());
            }
            MethodRule::Lift(written) => {
                method.lift = Some(self.positive(written, &Wants::MASS, file, findings)?);
            }
            MethodRule::Turn(written) => method.turns = Some(count(written, file, findings)?),
            MethodRule::Portions(written) => {
                method.portions = Some(count(written, file, findings)?)
            }
            MethodRule::Accept(_) => {}
        }
        Some(())
    }

    /// A share between nothing and all.
    fn fraction(&self, written: &Quantity, file: FileId, findings: &mut Vec<Finding>) -> Option<Q> {
        let measure = self
            .reader(file)
            .quantity(written, &Wants::PERCENT, findings)?;
        if !measure.value.is_positive() || measure.value > Q::ONE {
            let place = Place::new(file, written.span);
            findings.push(data::outside(
                place,
                "this share",
                &measure.unit.say_exactly(&measure.value),
                "above 0, up to 100 %",
            ));
            return None;
        }
        Some(measure.value)
    }

    pub(crate) fn positive(
        &self,
        written: &Quantity,
        wants: &Wants,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Q> {
        let measure = self.reader(file).quantity(written, wants, findings)?;
        if !measure.value.is_positive() {
            let place = Place::new(file, written.span);
            findings.push(data::not_positive(
                place,
                &measure.unit.say_exactly(&measure.value),
            ));
            return None;
        }
        Some(measure.value)
    }

    /// The scale that item declares. Says what is wrong with it.
    pub(crate) fn scale(
        &self,
        written: &tree::Scale,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Scale> {
        let capacity = self.positive(&written.capacity, &Wants::MASS, file, findings)?;
        let division = self.positive(&written.division, &Wants::MASS, file, findings)?;
        let minimum = match &written.minimum {
            None => division.clone(),
            Some(minimum) => self.positive(minimum, &Wants::MASS, file, findings)?,
        };
        let place = Place::new(file, written.name.span);
        if division > capacity || minimum > capacity {
            findings.push(data::scale(
                Place::new(file, written.capacity.span),
                &written.name.text,
            ));
            return None;
        }
        Some(Scale {
            name: written.name.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            capacity,
            division,
            minimum,
            class: written.class.map(|(class, _)| class),
            place,
        })
    }

    /// The vessel that item declares. Says what is wrong with it.
    pub(crate) fn vessel(
        &self,
        written: &tree::Vessel,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Vessel> {
        let litres = self.positive(&written.volume, &Wants::VOLUME, file, findings)?;
        let count = match &written.count {
            None => 1,
            Some(written) => count(written, file, findings)?,
        };
        Some(Vessel {
            name: written.name.text.clone(),
            label: written.label.as_ref().map(|label| label.text.clone()),
            count,
            litres,
            place: Place::new(file, written.name.span),
        })
    }

    /// All scales that can be seen, in the order of their names.
    pub(crate) fn scales(&self) -> Vec<Scale> {
        let mut scales: Vec<Scale> = Vec::new();
        for (file, declared) in self.scope.all(self.farm, Namespace::Scale) {
            let item = self.item(ItemRef {
                file,
                rank: declared.rank,
            });
            if let ItemBody::Scale(written) = &item.body {
                scales.extend(self.scale(written, file, &mut Vec::new()));
            }
        }
        scales.sort_by(|a, b| a.name.cmp(&b.name));
        // Two of one name are an error, and the first counts.
        scales.dedup_by(|later, scale| later.name == scale.name);
        scales
    }

    /// All vessels that can be seen, in the order of their names.
    pub(crate) fn vessels(&self) -> Vec<Vessel> {
        let mut vessels: Vec<Vessel> = Vec::new();
        for (file, declared) in self.scope.all(self.farm, Namespace::Vessel) {
            let item = self.item(ItemRef {
                file,
                rank: declared.rank,
            });
            if let ItemBody::Vessel(written) = &item.body {
                vessels.extend(self.vessel(written, file, &mut Vec::new()));
            }
        }
        vessels.sort_by(|a, b| a.name.cmp(&b.name));
        vessels.dedup_by(|later, vessel| later.name == vessel.name);
        vessels
    }
}

/// A whole number from 1 up.
pub(crate) fn count(
    written: &tree::Number,
    file: FileId,
    findings: &mut Vec<Finding>,
) -> Option<u32> {
    let value = number(written);
    let whole = value.is_whole().then(|| value.to_i64()).flatten();
    let count = whole
        .and_then(|count| u32::try_from(count).ok())
        .filter(|count| *count > 0);
    if count.is_none() {
        findings.push(data::no_count(
            Place::new(file, written.span),
            &written.digits,
        ));
    }
    count
}
