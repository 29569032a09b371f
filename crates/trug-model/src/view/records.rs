//! Records made out: of which ration, on which day, and what the samples of the batch held.

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{self, ItemBody, Quantity, RecordStatement};

use super::{View, Wants, day, number};
use crate::Q;
use crate::farm::{Farm, Namespace};
use crate::findings::{data, record};

/// A record that a text declares.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordName {
    /// Its name.
    pub name: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The ration that was mixed.
    pub of: SmolStr,
    /// Its item, from header to last line.
    pub item: Span,
}

/// What a record says of its batch and of the samples taken from it.
#[derive(Clone, Debug)]
pub struct Record {
    /// Its name.
    pub name: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// Its item, from header to last line.
    pub item: Span,
    /// The ration that was mixed.
    pub of: SmolStr,
    /// Where the ration is named.
    pub of_at: Place,
    /// The day it was made, and where that is written.
    pub made: Option<(Date, Place)>,
    /// Who made it.
    pub by: Option<String>,
    /// How much was mixed, in kg: the 100 %.
    pub batch: Option<Q>,
    /// What the scale showed, in the order of the lines.
    pub weighed: Vec<Weighed>,
    /// Whom it was fed to, in the order of the lines.
    pub fed: Vec<FedTo>,
    /// What was measured in its samples, in the order of the lines.
    pub sampled: Vec<Sampled>,
    /// A line of it could not be read.
    pub has_unread_line: bool,
}

/// What the scale showed of one ingredient.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// The ingredient, or a ration mixed beforehand.
    pub name: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// How much, in kg; none where that could not be made out.
    pub kg: Option<Q>,
    /// Where that is written.
    pub written: Place,
    /// The delivery it was taken from, or the record of the mix, and where that is named.
    pub lot: Option<(SmolStr, Place)>,
}

/// Whom a batch was fed to.
#[derive(Clone, Debug)]
pub struct FedTo {
    /// The group.
    pub group: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The first day, and where that is written.
    pub from: Option<(Date, Place)>,
    /// The last day, and where that is written.
    pub to: Option<(Date, Place)>,
}

/// One analyte of several samples.
#[derive(Clone, Debug)]
pub struct Sampled {
    /// What was measured.
    pub nutrient: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// What the samples held; none where that could not be made out.
    pub readings: Option<Readings>,
}

/// Numbers of a laboratory, all in one unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings {
    /// One a sample, in the order of the line.
    pub samples: Vec<Q>,
    /// The unit as written.
    pub unit: String,
    /// The assay's own standard deviation, in that unit.
    pub assay: Option<Q>,
}

/// How even a ration is to be.
#[derive(Clone, Debug, PartialEq)]
pub enum WantedEvenness {
    /// Its method says so: at most this coefficient of variation, a fraction.
    Within(Q, SmolStr),
    /// It is mixed by common practice, or its method does not say.
    NotWritten,
    /// What is wrong with the ration or its method may hide it.
    Unknown,
}

impl Farm {
    /// The records a text declares, in the order of the text.
    #[must_use]
    pub fn records(&self, file: FileId) -> Vec<RecordName> {
        let items = self.tree(file).items.iter();
        let records = items.filter_map(|item| match &item.body {
            ItemBody::Record(record) => Some(RecordName {
                name: record.name.text.clone(),
                place: Place::new(file, record.name.span),
                of: record.of.text.clone(),
                item: item.whole,
            }),
            _ => None,
        });
        records.collect()
    }
}

impl View<'_> {
    /// The record that stands there; none where there is none.
    #[must_use]
    pub fn record(&self, named: &RecordName) -> Option<Record> {
        let file = named.place.file;
        let mut items = self.farm.tree(file).items.iter();
        let item = items.find(|item| item.whole == named.item)?;
        let ItemBody::Record(written) = &item.body else {
            return None;
        };
        let mut made_out = Record {
            name: named.name.clone(),
            place: named.place,
            item: named.item,
            of: named.of.clone(),
            of_at: Place::new(file, written.of.span),
            made: None,
            by: None,
            batch: None,
            weighed: Vec::new(),
            fed: Vec::new(),
            sampled: Vec::new(),
            has_unread_line: item.has_unread_line,
        };
        for line in &written.lines {
            match &line.statement {
                Some(RecordStatement::Made { date, by }) => {
                    made_out.made = day_at(date, file);
                    made_out.by = by.as_ref().map(|by| by.text.clone());
                }
                Some(RecordStatement::Batch(mass)) => {
                    made_out.batch = self.positive(mass, &Wants::MASS, file, &mut Vec::new());
                }
                Some(RecordStatement::Weighed {
                    ingredient,
                    mass,
                    lot,
                }) => {
                    let reader = self.reader_of(file, &ingredient.text);
                    let measure = reader.quantity(mass, &Wants::MASS, &mut Vec::new());
                    let kg = measure.map(|measure| measure.value);
                    made_out.weighed.push(Weighed {
                        name: ingredient.text.clone(),
                        place: Place::new(file, ingredient.span),
                        kg: kg.filter(|kg| !kg.is_negative()),
                        written: Place::new(file, mass.span),
                        lot: lot
                            .as_ref()
                            .map(|lot| (lot.text.clone(), Place::new(file, lot.span))),
                    });
                }
                Some(RecordStatement::FedTo { group, from, to }) => made_out.fed.push(FedTo {
                    group: group.text.clone(),
                    place: Place::new(file, group.span),
                    from: from.as_ref().and_then(|from| day_at(from, file)),
                    to: to.as_ref().and_then(|to| day_at(to, file)),
                }),
                Some(statement @ RecordStatement::Sampled { .. }) => {
                    let sampled = self.sampled(statement, file, &mut Vec::new());
                    made_out.sampled.extend(sampled);
                }
                Some(RecordStatement::Accept(_)) | None => {}
            }
        }
        Some(made_out)
    }

    /// The record of that name; none where there is none.
    #[must_use]
    pub fn record_called(&self, name: &str) -> Option<Record> {
        let found = self.find(Namespace::Record, name).any()?;
        let ItemBody::Record(written) = &self.item(found).body else {
            return None;
        };
        self.record(&RecordName {
            name: written.name.text.clone(),
            place: Place::new(found.file, written.name.span),
            of: written.of.text.clone(),
            item: self.item(found).whole,
        })
    }

    /// How even the ration of that name is to be.
    #[must_use]
    pub fn evenness_wanted(&self, ration: &str) -> WantedEvenness {
        let Some(made) = self.ration(ration) else {
            return WantedEvenness::Unknown;
        };
        let Some((name, _)) = &made.method else {
            return if !made.is_sound && self.may_hide_a_line(ration) {
                WantedEvenness::Unknown
            } else {
                WantedEvenness::NotWritten
            };
        };
        match self.method(name, &mut Vec::new()) {
            Some(method) if method.is_sound => match method.even {
                Some(even) => WantedEvenness::Within(even, name.clone()),
                None => WantedEvenness::NotWritten,
            },
            _ => WantedEvenness::Unknown,
        }
    }

    /// Whether the line that names the method may be one that could not be read, here or in a ration this one is like.
    fn may_hide_a_line(&self, ration: &str) -> bool {
        let items = self.items(Namespace::Feed, ration);
        items.iter().any(|(_, item)| {
            let is_like = matches!(&item.body, ItemBody::Ration(written) if written.like.is_some());
            item.has_unread_line || is_like
        })
    }

    /// What a line `sampled …` says. Says what is wrong with it; none where the line is another.
    pub(crate) fn sampled(
        &self,
        statement: &RecordStatement,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Sampled> {
        let RecordStatement::Sampled {
            nutrient: written,
            samples,
            unit,
            assay,
        } = statement
        else {
            return None;
        };
        let place = Place::new(file, written.span);
        let mut sampled = Sampled {
            nutrient: written.text.clone(),
            label: None,
            place,
            readings: None,
        };
        if !self.knows(Namespace::Nutrient, written, place, findings) {
            return Some(sampled);
        }
        let Some(nutrient) = self.nutrient(&written.text) else {
            return Some(sampled);
        };
        sampled.label.clone_from(&nutrient.label);
        let last = samples.last()?;
        let one = Quantity {
            number: last.clone(),
            scatter: None,
            unit: unit.clone(),
            basis: None,
            span: last.span,
        };
        let measure = self.content_measure(&one, &nutrient, file, findings);
        let own_scatter = assay.as_ref().map(|written| {
            let measure = self.content_measure(written, &nutrient, file, findings)?;
            (!measure.value.is_negative()).then_some(measure.value)
        });
        let is_sound = are_of_this_world(samples, assay.as_ref(), file, findings);
        // One that was said to be wrong is not spoken of again.
        let (Some(measure), true, true) = (measure, is_sound, own_scatter != Some(None)) else {
            return Some(sampled);
        };
        let readings = Readings {
            samples: samples.iter().map(number).collect(),
            assay: own_scatter.flatten().map(|own| measure.unit.of(&own)),
            unit: measure.unit.text,
        };
        findings.extend(record::samples(place, &written.text, &readings));
        sampled.readings = Some(readings);
        Some(sampled)
    }
}

fn day_at(written: &tree::Date, file: FileId) -> Option<(Date, Place)> {
    Some((day(written)?, Place::new(file, written.span)))
}

/// Whether every number can be what it says it is. Says which cannot.
fn are_of_this_world(
    samples: &[tree::Number],
    assay: Option<&Quantity>,
    file: FileId,
    findings: &mut Vec<Finding>,
) -> bool {
    let numbers = samples.iter().map(|sample| ("a sample", sample));
    let assay = assay.map(|assay| ("the scatter of an assay", &assay.number));
    let negative = |(_, written): &(&str, &tree::Number)| number(written).is_negative();
    let mut negative = numbers.chain(assay).filter(negative);
    let first = negative.next();
    if let Some((what, written)) = first {
        let place = Place::new(file, written.span);
        findings.push(data::outside(place, what, &written.digits, "0 or more"));
    }
    first.is_none()
}
