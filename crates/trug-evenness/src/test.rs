//! A record's samples to what they say of its batch.

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::view::{Readings, Record, Sampled, WantedEvenness};
use trug_model::{Q, View};

use crate::spread::Spread;
use crate::statistics::Summary;
use crate::verdict::Verdict;

/// One analyte of one record, tested.
#[derive(Clone, Debug)]
pub struct EvennessTest {
    /// The record.
    pub record: SmolStr,
    /// Where the record is named.
    pub place: Place,
    /// The ration that was mixed.
    pub ration: SmolStr,
    /// The day it was made.
    pub made: Option<Date>,
    /// What was measured.
    pub nutrient: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub at: Place,
    /// What was read.
    pub readings: Readings,
    /// Their mean and scatter.
    pub summary: Summary,
    /// What that says of the batch.
    pub spread: Spread,
    /// How even it should be.
    pub wanted: Wanted,
    /// Whether it is.
    pub verdict: Verdict,
}

/// How even a batch should be: at most this coefficient of variation.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// In percent.
    pub percent: Q,
    /// The method that says so; none is common practice.
    pub method: Option<SmolStr>,
}

/// Common practice where no method says how even: 10 %.
///
/// As the World Food Programme wants it (*Coefficient of Variation Calculator*: no larger than 10 %).
const COMMON_PERCENT: i64 = 10;

/// One analyte that could not be tested.
#[derive(Clone, Debug, PartialEq)]
pub struct Untested {
    /// The record.
    pub record: SmolStr,
    /// What was measured.
    pub nutrient: SmolStr,
    /// Where it is named.
    pub at: Place,
    /// Why not.
    pub why: Untestable,
}

/// Why samples cannot be tested.
#[derive(Clone, Debug, PartialEq)]
pub enum Untestable {
    /// The line could not be made out.
    Unread,
    /// How even the ration is to be may be hidden by what is wrong with it.
    WantedUnknown,
    /// There is only one.
    One,
    /// The mean is zero: there is nothing to take a share of.
    NothingFound(usize),
    /// The numbers are too far apart to be reckoned with.
    TooFar,
}

impl Untestable {
    /// Whether an error in a text is the reason.
    #[must_use]
    pub fn is_an_error(&self) -> bool {
        matches!(self, Untestable::Unread | Untestable::WantedUnknown)
    }
}

impl EvennessTest {
    /// Whether the batch is shown to be uneven.
    #[must_use]
    pub fn is_uneven(&self) -> bool {
        self.verdict == Verdict::Uneven
    }

    /// The assay's own coefficient of variation, in percent.
    #[must_use]
    pub fn own_percent(&self) -> f64 {
        let own = self.readings.assay.as_ref();
        let share = own.and_then(|own| own.over(&self.summary.mean));
        share.map_or(0.0, |share| share.to_f64() * 100.0)
    }
}

/// Every analyte of a record, in the order of its lines.
#[must_use]
pub fn tests_of(view: &View<'_>, record: &Record) -> Vec<Result<EvennessTest, Untested>> {
    let wanted = wanted(view, &record.of);
    let test = |sampled: &Sampled| test(record, sampled, wanted.as_ref());
    record.sampled.iter().map(test).collect()
}

/// How even the batches of a ration should be; none where an error may hide it.
#[must_use]
pub fn wanted(view: &View<'_>, ration: &str) -> Option<Wanted> {
    match view.evenness_wanted(ration) {
        WantedEvenness::Within(share, method) => Some(Wanted {
            percent: share * Q::int(100),
            method: Some(method),
        }),
        WantedEvenness::NotWritten => Some(Wanted {
            percent: Q::int(COMMON_PERCENT),
            method: None,
        }),
        WantedEvenness::Unknown => None,
    }
}

fn test(
    record: &Record,
    sampled: &Sampled,
    wanted: Option<&Wanted>,
) -> Result<EvennessTest, Untested> {
    let untested = |why| Untested {
        record: record.name.clone(),
        nutrient: sampled.nutrient.clone(),
        at: sampled.place,
        why,
    };
    let readings = sampled.readings.clone();
    let readings = readings.ok_or_else(|| untested(Untestable::Unread))?;
    let summary = Summary::of(&readings.samples).ok_or_else(|| untested(Untestable::One))?;
    if !summary.mean.is_positive() {
        return Err(untested(Untestable::NothingFound(summary.samples)));
    }
    let spread = Spread::of(&summary, readings.assay.as_ref());
    let spread = spread.ok_or_else(|| untested(Untestable::TooFar))?;
    let wanted = wanted.ok_or_else(|| untested(Untestable::WantedUnknown))?;
    Ok(EvennessTest {
        record: record.name.clone(),
        place: record.place,
        ration: record.of.clone(),
        made: record.made.map(|(day, _)| day),
        nutrient: sampled.nutrient.clone(),
        label: sampled.label.clone(),
        at: sampled.place,
        readings,
        verdict: Verdict::of(&spread, wanted.percent.to_f64()),
        wanted: wanted.clone(),
        summary,
        spread,
    })
}
