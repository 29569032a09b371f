//! Values published elsewhere: certified means and deviations, limits of a deviation, a mixer test of six analytes.
#![expect(clippy::unwrap_used, reason = "the inputs are fixed")]

mod simulation;

use trug_evenness::bands::{PUBLISHED, band};
use trug_evenness::spread::{Spread, limits_of_sd};
use trug_evenness::statistics::Summary;
use trug_model::Q;

fn close(found: f64, wanted: f64, relative: f64) {
    let off = (found - wanted).abs();
    assert!(off <= relative * wanted.abs(), "{found} is not {wanted}");
}

fn samples(text: &str) -> Vec<Q> {
    let words = text.split_whitespace();
    words.map(|word| Q::decimal(word).unwrap()).collect()
}

/// National Institute of Standards and Technology, *Statistical Reference Datasets*, univariate: certified to fifteen
/// digits (checks C07, C08, C09, C10 and C11).
#[test]
fn the_certified_means_and_deviations_are_met() {
    let digits: String = include_str!("pi-digits.txt")
        .chars()
        .filter(char::is_ascii_digit)
        .flat_map(|digit| [digit, ' '])
        .collect();
    let certified: [(&str, usize, &str, f64); 5] = [
        (include_str!("lew.txt"), 200, "-177.435", 277.332168044316),
        (
            include_str!("lottery.txt"),
            218,
            "518.958715596330",
            291.699727470969,
        ),
        (
            include_str!("mavro.txt"),
            50,
            "2.001856",
            0.000429123454003053,
        ),
        (
            include_str!("michelso.txt"),
            100,
            "299.8524",
            0.0790105478190518,
        ),
        (&digits, 5000, "4.5348", 2.86733906028871),
    ];
    for (text, count, mean, sd) in certified {
        let summary = Summary::of(&samples(text)).unwrap();
        assert_eq!(summary.samples, count);
        close(summary.mean.to_f64(), mean.parse().unwrap(), 1e-14);
        close(summary.sd(), sd, 1e-14);
    }
}

/// NIST/SEMATECH, *e-Handbook of Statistical Methods*, 1.3.5.8, gear data, as worked in the documentation of Boost.Math:
/// limits of a standard deviation of 100 samples (check C16). The first pair is printed, the second recomputed.
#[test]
fn the_limits_of_a_deviation_are_met() {
    let sd = 0.006_278_908_422;
    let wanted = [
        (
            0.50,
            0.00601,
            0.00662,
            0.0060090032870069605,
            0.00661553627022623,
        ),
        (
            0.75,
            0.00582,
            0.00685,
            0.005816895814729558,
            0.006854134535965537,
        ),
        (
            0.90,
            0.00563,
            0.00712,
            0.0056279721874279145,
            0.007117471924432663,
        ),
        (
            0.95,
            0.00551,
            0.00729,
            0.005512924576180015,
            0.007294052544098395,
        ),
        (
            0.99,
            0.00530,
            0.00766,
            0.005299257145588129,
            0.00766051431551036,
        ),
        (
            0.999,
            0.00507,
            0.00812,
            0.0050684392367169,
            0.008124646258572519,
        ),
        (
            0.9999,
            0.00489,
            0.00855,
            0.0048876122134003845,
            0.008550350765998749,
        ),
        (
            0.99999,
            0.00474,
            0.00895,
            0.004737876348045319,
            0.008954078531439329,
        ),
    ];
    for (confidence, printed_low, printed_high, low, high) in wanted {
        let found = limits_of_sd(sd, 100, confidence).unwrap();
        assert!((found.0 - printed_low).abs() <= 0.000_005);
        assert!((found.1 - printed_high).abs() <= 0.000_005);
        close(found.0, low, 1e-10);
        close(found.1, high, 1e-10);
        // Of the deviation itself only ten digits are printed; the limits stand to each other in all of theirs.
        close(found.1 / found.0, high / low, 1e-12);
    }
}

/// Six samples; mean, deviation and CV as printed, how near that is, and recomputed.
type Analyte = (&'static str, [f64; 3], [f64; 3], [f64; 3]);

/// S. and D. Eisenberg, *Closer to perfection*, Feed Management, November 1992, table 1: six samples of a mixer after
/// three minutes (check C04). Mean, deviation and CV as printed, and as recomputed from the samples.
#[test]
fn the_mixer_test_of_six_analytes_is_met() {
    let table: [Analyte; 6] = [
        (
            "15.5 15.4 15.0 15.2 15.6 15.3",
            [15.3, 0.22, 1.4],
            [0.05, 0.005, 0.05],
            [15.333333333333334, 0.21602468994692867, 1.4088566735669261],
        ),
        (
            "4.25 4.37 3.41 4.33 3.81 4.33",
            [4.08, 0.39, 9.6],
            // Printed from figures already rounded: 0.39 of 4.08.
            [0.005, 0.005, 0.1],
            [4.083333333333333, 0.3898033692346266, 9.546204960847998],
        ),
        (
            "2.81 2.60 3.02 2.70 2.74 2.54",
            [2.74, 0.17, 6.2],
            [0.006, 0.005, 0.05],
            [2.7350000000000003, 0.1699117417955569, 6.21249512963645],
        ),
        (
            "0.81 0.75 0.61 0.76 0.68 0.80",
            [0.74, 0.077, 10.4],
            [0.006, 0.0005, 0.05],
            [0.735, 0.07661592523751183, 10.423935406464196],
        ),
        (
            "56.8 57.0 46.0 57.0 50.0 62.1",
            [54.8, 5.8, 10.6],
            [0.05, 0.05, 0.05],
            [54.81666666666666, 5.78702571850745, 10.557055126495806],
        ),
        (
            "380 323 391 459 336 399",
            [381.0, 48.8, 12.8],
            [0.5, 0.05, 0.05],
            [381.3333333333333, 48.77977723059697, 12.791899623408298],
        ),
    ];
    for (text, printed, printed_within, recomputed) in table {
        let summary = Summary::of(&samples(text)).unwrap();
        let spread = Spread::of(&summary, None).unwrap();
        let found = [summary.mean.to_f64(), summary.sd(), spread.cv];
        for rank in 0..3 {
            let off = (found[rank] - printed[rank]).abs();
            assert!(off <= printed_within[rank], "{found:?} of {text}");
            close(found[rank], recomputed[rank], 1e-12);
        }
    }
}

/// T. Herrman and K. Behnke, *Testing Mixer Performance*, MF-1172, Kansas State University; limits of the Canadian Food
/// Inspection Agency (Central Testing Laboratory, 2018-05-24), of the World Food Programme, and of R. A. Zinn, *A Guide to
/// Feed Mixing* (check C05).
#[test]
fn published_bands_are_shown_as_they_are() {
    let words = [
        (0.0, "excellent"),
        (9.99, "excellent"),
        (10.0, "good"),
        (14.9, "good"),
        (15.0, "fair"),
        (20.0, "fair"),
        (20.1, "poor"),
        (f64::MAX, "poor"),
    ];
    for (cv, word) in words {
        assert_eq!(band(cv).word, word, "{cv}");
    }
    let most: Vec<f64> = PUBLISHED.iter().map(|one| one.most).collect();
    assert_eq!(most, [5.0, 5.0, 10.0, 10.0, 15.0]);
}

#[test]
fn samples_of_any_size_and_number_are_reckoned_with() {
    let many: Vec<Q> = (0..100_000)
        .map(|rank| Q::ratio(300_000 + rank % 977, 1_000_000))
        .collect();
    let spread = Spread::of(&Summary::of(&many).unwrap(), None).unwrap();
    assert!(spread.low < spread.cv && spread.cv < spread.high);
    close(spread.high, spread.low, 0.01);
    assert_eq!(Summary::of(&many[..1]), None);
    assert_eq!(Summary::of(&[]), None);
    let alike = Summary::of(&samples("0.3 0.3 0.3")).unwrap();
    let spread = Spread::of(&alike, Some(&Q::ratio(1, 100))).unwrap();
    assert_eq!([spread.cv, spread.high, spread.limit], [0.0; 3]);
    for nothing in ["0 0 0", "-1 1", "-0.3 -0.4"] {
        assert_eq!(
            Spread::of(&Summary::of(&samples(nothing)).unwrap(), None),
            None
        );
    }
    let huge = format!("9{} 1", "0".repeat(39));
    let tiny = format!("0.{}1 0.{}2", "0".repeat(38), "0".repeat(38));
    for text in [huge, tiny] {
        let spread = Spread::of(&Summary::of(&samples(&text)).unwrap(), None).unwrap();
        assert!(spread.high.is_finite() && 0.0 < spread.least);
    }
}
