//! What is said of samples, in sentences.

use trug_evenness::bands::{BANDS_SOURCE, PUBLISHED, band};
use trug_evenness::verdict::{MOST_SAMPLES, Verdict, enough};
use trug_evenness::{EvennessTest, Untestable, Untested, Wanted};
use trug_model::Q;

use crate::words::{beside, count, quantity, statistic};

/// What the tool says of itself; it never calls a feed safe.
pub(super) const CHECKED: &str = "This says how even what was measured lies in the batch, and nothing else of it. \
    Product label, veterinarian and local feed law decide what is fed.";

/// Common practice takes ten (World Food Programme, *Coefficient of Variation Calculator*, and others).
const COMMON_SAMPLES: usize = 10;

/// The verdict with the numbers it rests on.
pub(super) fn says(test: &EvennessTest) -> String {
    let spread = &test.spread;
    let wanted = &test.wanted.percent;
    let asked = format!("at most {wanted} % is wanted");
    let (least, limit) = (against(spread.least, wanted), against(spread.limit, wanted));
    match test.verdict {
        Verdict::Even => format!("with 95 % confidence the CV is at most {limit} %; {asked}"),
        Verdict::Uneven => format!("with 95 % confidence the CV is above {least} %; {asked}"),
        Verdict::Undecided => format!(
            "{} cannot tell {least} % from {limit} %; {asked}",
            count(test.summary.samples, "sample", "samples")
        ),
    }
}

/// What to do about it, and what to know of the samples: sentences with their full stops.
pub(super) fn advice(test: &EvennessTest) -> Vec<String> {
    let mut advice = Vec::new();
    match test.verdict {
        Verdict::Even => {}
        Verdict::Uneven => advice.push(
            "Turn the batch again and sample it again before it is fed. Where something in it can harm, the product \
             label and the veterinarian decide."
                .to_owned(),
        ),
        Verdict::Undecided => advice.push(more(test)),
    }
    if test.summary.variance.is_zero() {
        advice.push(
            "All samples read the same: the assay may be too coarse to tell them apart.".to_owned(),
        );
    } else if test.spread.cv == 0.0 {
        advice.push(
            "The samples differ no more than the assay differs from itself: a finer assay could tell more.".to_owned(),
        );
    }
    if test.summary.samples < COMMON_SAMPLES {
        advice.push("Common practice takes ten samples or more.".to_owned());
    }
    advice
}

fn more(test: &EvennessTest) -> String {
    let wanted = test.wanted.percent.to_f64();
    match enough(&test.spread, test.own_percent(), wanted) {
        Some(samples) if samples > test.summary.samples => format!(
            "{samples} samples would tell, were the batch as these show it. Until then it is not shown to be even."
        ),
        _ => format!(
            "It is so near to what is wanted that {MOST_SAMPLES} samples would not tell. It is not shown to be even."
        ),
    }
}

/// Who wants it so even.
pub(super) fn wanted_by(wanted: &Wanted) -> String {
    match &wanted.method {
        Some(method) => format!("at most {} %, method {method}", wanted.percent),
        None => format!(
            "at most {} %, common practice: no method says how even",
            wanted.percent
        ),
    }
}

/// The CV and its interval.
pub(super) fn cv(test: &EvennessTest) -> String {
    let spread = &test.spread;
    let wanted = &test.wanted.percent;
    format!(
        "{} %, with 95 % confidence {} .. {} %",
        against(spread.cv, wanted),
        against(spread.low, wanted),
        against(spread.high, wanted)
    )
}

/// Mean and scatter as measured.
pub(super) fn measured(test: &EvennessTest) -> String {
    let unit = &test.readings.unit;
    let mean = quantity(&test.summary.mean.readable(4), unit);
    let sd = quantity(&statistic(test.summary.sd()), unit);
    let samples = count(test.summary.samples, "sample", "samples");
    let own = test
        .readings
        .assay
        .as_ref()
        .map_or_else(String::new, |own| {
            let own = quantity(&own.to_string(), unit);
            format!(", the assay's own {own} taken away below")
        });
    format!("{samples}, mean {mean}, standard deviation {sd}{own}")
}

/// The word a published source has for it.
pub(super) fn published_word(test: &EvennessTest) -> String {
    let band = band(test.spread.cv);
    format!(
        "\"{}\" is the word for {} in {BANDS_SOURCE}",
        band.word, band.range
    )
}

/// What others want, in one sentence each.
pub(super) fn published() -> Vec<String> {
    let limits = PUBLISHED.iter();
    limits
        .map(|limit| format!("at most {} %, {}: {}", limit.most, limit.of, limit.source))
        .collect()
}

/// A number from statistics, with as many figures as it takes to fall on its own side of what is wanted.
pub(super) fn against(value: f64, wanted: &Q) -> String {
    let Some(value) = Q::decimal(&value.to_string()) else {
        return "?".to_owned();
    };
    // Three figures are more than samples of a heap can tell.
    let short = value.readable(3);
    let same_side = |short: &Q| short.cmp(wanted) == value.cmp(wanted);
    if Q::decimal(&short).as_ref().is_some_and(same_side) {
        return short;
    }
    beside(&value, &[wanted])
}

/// Why an analyte of a record was not tested.
#[must_use]
pub fn why_untested(untested: &Untested, ration: &str) -> String {
    let why = match &untested.why {
        Untestable::Unread => "the line could not be read".to_owned(),
        Untestable::WantedUnknown => {
            format!("how even {ration} is to be is not known while it or its method has errors")
        }
        Untestable::One => "one sample shows no difference".to_owned(),
        Untestable::NothingFound(samples) => format!(
            "nothing of it was found in {}",
            count(*samples, "sample", "samples")
        ),
        Untestable::TooFar => "its numbers are too far apart to be reckoned with".to_owned(),
    };
    format!(
        "{} of {} is not tested: {why}",
        untested.nutrient, untested.record
    )
}
