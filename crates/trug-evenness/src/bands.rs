//! What others have published on how even a mix should be. Shown beside the verdict, which does not rest on it.

/// A word that a source has for coefficients of variation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// The word.
    pub word: &'static str,
    /// Which coefficients of variation it is for.
    pub range: &'static str,
}

/// Who has the words.
pub const BANDS_SOURCE: &str =
    "T. Herrman and K. Behnke, Testing Mixer Performance, MF-1172, Kansas State University";

/// The word for a coefficient of variation, in percent. Where two words meet, the better one ends.
///
/// The paper was read in part; its words are as the trade quotes them.
#[must_use]
pub fn band(cv: f64) -> Band {
    let (word, range) = if cv < 10.0 {
        ("excellent", "below 10 %")
    } else if cv < 15.0 {
        ("good", "10 to 15 %")
    } else if cv <= 20.0 {
        ("fair", "15 to 20 %")
    } else {
        ("poor", "above 20 %")
    };
    Band { word, range }
}

/// A coefficient of variation that a source does not want to be passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Published {
    /// At most this, in percent.
    pub most: f64,
    /// What it is for.
    pub of: &'static str,
    /// Who says so.
    pub source: &'static str,
}

const INSPECTION: &str =
    "Canadian Food Inspection Agency, as a feed laboratory states its limits (2018)";

/// From the strictest to the widest.
///
/// R. A. Zinn, *A Guide to Feed Mixing*, UC Davis; Central Testing Laboratory, *Mixer Efficiency in Feed Samples*,
/// 2018-05-24; World Food Programme, *Coefficient of Variation Calculator*.
pub const PUBLISHED: [Published; 5] = [
    Published {
        most: 5.0,
        of: "the industry's standard",
        source: "R. A. Zinn, A Guide to Feed Mixing, University of California, Davis",
    },
    Published {
        most: 5.0,
        of: "dilute drug premixes",
        source: INSPECTION,
    },
    Published {
        most: 10.0,
        of: "premixes and supplements",
        source: INSPECTION,
    },
    Published {
        most: 10.0,
        of: "ten samples or more of a blended food",
        source: "World Food Programme, Food Quality and Safety",
    },
    Published {
        most: 15.0,
        of: "complete feeds and total mixed rations",
        source: INSPECTION,
    },
];
