//! A test as `evenness/1`, and a sampling as `sampling/0`.

use trug_evenness::Sampling;
use trug_evenness::bands::band;
use trug_evenness::verdict::Verdict;
use trug_findings::Source;
use trug_model::Q;

use super::Tested;
use super::words::says;
use crate::findings::file_name;
use crate::json::evenness::{
    EvennessDocument, FORMAT, SAMPLING_FORMAT, SamplingDocument, SamplingPlaceJson, VerdictJson,
};
use crate::json::number::Decimal;

/// The document of one analyte of one record.
#[must_use]
pub fn evenness_document(tested: &Tested<'_>) -> EvennessDocument {
    let test = &tested.test;
    let spread = &test.spread;
    EvennessDocument {
        format: FORMAT,
        record: test.record.to_string(),
        file: file_name(test.place, tested.sources).to_owned(),
        nutrient: test.nutrient.to_string(),
        unit: test.readings.unit.clone(),
        samples: test.summary.samples,
        mean: test.summary.mean.to_f64(),
        sd: test.summary.sd(),
        cv_percent: spread.cv,
        cv_low: spread.low,
        cv_high: spread.high,
        limit_percent: spread.limit,
        assay_sd: test.readings.assay.as_ref().map(Q::to_f64),
        wanted_percent: test.wanted.percent.to_f64(),
        verdict: match test.verdict {
            Verdict::Even => VerdictJson::Even,
            Verdict::Uneven => VerdictJson::Uneven,
            Verdict::Undecided => VerdictJson::Undecided,
        },
        ration: test.ration.to_string(),
        made: tested.made(),
        method: test.wanted.method.as_ref().map(ToString::to_string),
        least_percent: spread.least,
        band: band(spread.cv).word.to_owned(),
        says: says(test),
    }
}

/// The document of where samples of one ration are taken.
#[must_use]
pub fn sampling_document(sampling: &Sampling, sources: &[Source]) -> SamplingDocument {
    let reach = sampling.reach.as_ref();
    let places = sampling.places.iter().enumerate();
    SamplingDocument {
        format: SAMPLING_FORMAT,
        ration: sampling.ration.to_string(),
        file: file_name(sampling.place, sources).to_owned(),
        batch_g: sampling
            .batch
            .as_ref()
            .map(|batch| Decimal::from(&(batch * &Q::int(1000)))),
        samples: sampling.samples,
        taken_g: Decimal::from(&Q::int(i64::from(sampling.portion.taken_g))),
        halvings: sampling.portion.halvings,
        wanted_percent: sampling
            .wanted
            .as_ref()
            .map(|wanted| wanted.percent.to_f64()),
        even_up_to_percent: reach.map(|reach| reach.even_up_to),
        uneven_above_percent: reach.map(|reach| reach.uneven_above),
        places: places
            .map(|(rank, place)| SamplingPlaceJson {
                number: place.number,
                row: place.row,
                field: place.field,
                along_percent: Decimal::from(&place.along),
                across_percent: Decimal::from(&place.across),
                bag: sampling.in_bags.get(rank).copied(),
                trough_percent: Decimal::from(&place.through),
            })
            .collect(),
    }
}
