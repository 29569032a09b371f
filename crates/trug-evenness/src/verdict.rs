//! What samples can say of a batch: even, uneven, or not to be told.

use crate::spread::{CONFIDENCE, Spread, factor};

/// How the batch came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// With 95 % confidence it is as even as wanted.
    Even,
    /// With 95 % confidence it is not.
    Uneven,
    /// These samples cannot tell.
    Undecided,
}

impl Verdict {
    /// Where the limits stand to what is wanted, in percent.
    #[must_use]
    pub fn of(spread: &Spread, wanted: f64) -> Verdict {
        if spread.limit <= wanted {
            Verdict::Even
        } else if spread.least > wanted {
            Verdict::Uneven
        } else {
            Verdict::Undecided
        }
    }

    /// In one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Even => "even",
            Verdict::Uneven => "uneven",
            Verdict::Undecided => "undecided",
        }
    }
}

/// More samples than anybody pays a laboratory for.
pub const MOST_SAMPLES: usize = 1_000;

/// What a number of samples can tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// A coefficient of variation found at or below this is shown to be even, in percent.
    pub even_up_to: f64,
    /// One found above this is shown to be uneven.
    pub uneven_above: f64,
}

/// What so many samples can tell of what is wanted, with an assay that adds nothing; none of fewer than two.
#[must_use]
pub fn reach(samples: usize, wanted: f64) -> Option<Reach> {
    if samples < 2 {
        return None;
    }
    let at = |probability| Some(wanted / factor(probability, samples)?.sqrt());
    Some(Reach {
        even_up_to: at(1.0 - CONFIDENCE)?,
        uneven_above: at(CONFIDENCE)?,
    })
}

/// How many samples would decide, were the batch as it was found; none where that is more than anybody takes.
///
/// `own` is the assay's own coefficient of variation, in percent.
#[must_use]
pub fn enough(spread: &Spread, own: f64, wanted: f64) -> Option<usize> {
    let (found, own, wanted) = (spread.cv * spread.cv, own * own, wanted * wanted);
    let decides = |samples: usize| {
        let at = |probability| factor(probability, samples);
        let (Some(most), Some(least)) = (at(1.0 - CONFIDENCE), at(CONFIDENCE)) else {
            return false;
        };
        let total = found + own;
        total * most - own <= wanted || total * least - own > wanted
    };
    // What some samples decide, more do too: the limits only come closer.
    if !decides(MOST_SAMPLES) {
        return None;
    }
    let (mut too_few, mut many) = (1, MOST_SAMPLES);
    while too_few + 1 < many {
        let middle = usize::midpoint(too_few, many);
        if decides(middle) {
            many = middle;
        } else {
            too_few = middle;
        }
    }
    Some(many)
}
