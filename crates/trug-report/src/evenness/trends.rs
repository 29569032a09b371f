//! The tests of one ration and one analyte, one after the other.

use std::collections::BTreeMap;

use trug_evenness::trend::{Limits, SETTLED, limits};
use trug_model::Q;

use super::Tested;
use crate::words::count;

/// Tests that belong together, in the order the batches were made.
pub(super) struct Trend<'a> {
    pub(super) tests: Vec<&'a Tested<'a>>,
    pub(super) limits: Limits,
}

/// The trends there are: wherever one ration was tested for one analyte twice or more.
pub(super) fn trends<'a>(all: &'a [Tested<'a>]) -> Vec<Trend<'a>> {
    let mut groups: BTreeMap<(&str, &str, &str), Vec<&Tested<'_>>> = BTreeMap::new();
    for tested in all {
        let test = &tested.test;
        let key = (
            tested.ration_in.as_str(),
            test.ration.as_str(),
            test.nutrient.as_str(),
        );
        groups.entry(key).or_default().push(tested);
    }
    let mut trends = Vec::new();
    for mut tests in groups.into_values() {
        // Those without a day come first, as they stand in the texts.
        tests.sort_by_key(|tested| tested.test.made);
        let values: Vec<f64> = tests.iter().map(|tested| tested.test.spread.cv).collect();
        if let Some(limits) = limits(&values) {
            trends.push(Trend { tests, limits });
        }
    }
    trends
}

impl Trend<'_> {
    /// `Chloride in Laying mash, 6 tests`.
    pub(super) fn title(&self) -> String {
        let tests = count(self.tests.len(), "test", "tests");
        match self.tests.first() {
            Some(first) => format!("{} in {}, {tests}", first.nutrient(), first.ration()),
            None => tests,
        }
    }

    /// Where the next one is to be expected.
    pub(super) fn expected(&self) -> String {
        let low = self.limits.low.unwrap_or(0.0);
        let settled = if self.tests.len() < SETTLED {
            format!("; of fewer than {SETTLED} tests these limits are provisional")
        } else {
            String::new()
        };
        format!(
            "mean CV {} %; while nothing changes, tests lie between {} and {} % (mean ± 3 ÷ 1.128 of the mean moving \
             range){settled}",
            short(self.limits.centre),
            short(low),
            short(self.limits.high)
        )
    }

    /// The tests that lie outside.
    pub(super) fn outside(&self) -> Vec<&Tested<'_>> {
        let tests = self.tests.iter().copied();
        tests
            .filter(|tested| !self.limits.hold(tested.test.spread.cv))
            .collect()
    }

    /// What lies outside, in a sentence.
    pub(super) fn outside_words(&self) -> String {
        let outside = self.outside();
        if outside.is_empty() {
            return "none lies outside".to_owned();
        }
        let names: Vec<String> = outside
            .iter()
            .map(|tested| {
                format!(
                    "{} ({} %)",
                    tested.test.record,
                    short(tested.test.spread.cv)
                )
            })
            .collect();
        format!(
            "outside: {}. Find out what was other that day",
            names.join(", ")
        )
    }
}

/// Three figures are more than samples of a heap can tell.
pub(super) fn short(value: f64) -> String {
    Q::decimal(&value.to_string()).map_or_else(|| "?".to_owned(), |value| value.readable(3))
}
