//! `trug evenness`: verdicts and how they end, several analytes and records, and where samples are taken.

use serde_json::Value;

use crate::farm::{Farm, Ran};

const STORE: &str = "\
animal duck
nutrient chloride \"Chloride\" in share
nutrient zinc \"Zinc\" in share
ingredient maize
method shovel
  even           within 8 %
ration mash \"River mash\"
  for            duck
  batch          120 kg
  mix by         shovel
  maize          100 %
ration plain
  for            duck
  maize          100 %
";

const EVEN: &str = "sampled chloride 0.301 0.299 0.302 0.300 0.298 0.301 0.300 0.299 0.300 0.302 %";
const UNEVEN: &str = "sampled chloride 0.31 0.59 0.13 0.40 0.08 0.32 0.61 0.30 0.19 0.33 %";
const UNDECIDED: &str =
    "sampled chloride 0.31 0.29 0.33 0.30 0.28 0.32 0.36 0.30 0.25 0.33 % assay 0.01 %";

/// A farm whose records have these lines.
fn farm(records: &[(&str, &str, &str)]) -> Farm {
    let mut text = STORE.to_owned();
    for (name, ration, lines) in records {
        text.push_str(&format!("record {name} of {ration}\n"));
        for line in lines.lines() {
            text.push_str(&format!("  {line}\n"));
        }
    }
    Farm::new(&[("r.trug", &text)])
}

fn documents(ran: &Ran) -> Vec<Value> {
    let lines = ran.out.lines();
    lines
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

#[test]
fn a_verdict_decides_how_it_ends() {
    for (line, verdict, code) in [
        (EVEN, "even", 0),
        (UNEVEN, "uneven", 1),
        (UNDECIDED, "undecided", 0),
    ] {
        let farm = farm(&[("R-1", "mash", line)]);
        let ran = farm.run(&["evenness", "r.trug", "--as", "json"]).ends(code);
        let document: Value = serde_json::from_str(&ran.out).unwrap();
        assert_eq!(document["verdict"], verdict, "{document}");
        assert_eq!(document["format"], "trug.evenness/1");
        assert_eq!(document["record"], "R-1");
        assert_eq!(document["file"], "r.trug");
        assert_eq!(document["nutrient"], "chloride");
        assert_eq!(document["unit"], "%");
        assert_eq!(document["samples"], 10);
        assert_eq!(document["wanted_percent"], 8.0);
        assert_eq!(document["method"], "shovel");
        let text = farm.run(&["evenness", "r.trug", "R-1"]).ends(code).out;
        let says = document["says"].as_str().unwrap();
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(&text).contains(&words(says)), "{text}\n{says}");
        let page = farm
            .run(&["evenness", "r.trug", "--as", "html"])
            .ends(code)
            .out;
        assert!(page.contains(says), "{page}");
        assert!(page.starts_with("<!DOCTYPE html>") && page.contains("<svg"));
    }
}

#[test]
fn the_assays_share_is_taken_from_every_cv_and_not_from_the_deviation() {
    let with = farm(&[("R-1", "mash", UNDECIDED)]);
    let without = farm(&[("R-1", "mash", UNDECIDED.split(" assay").next().unwrap())]);
    let document =
        |farm: &Farm| documents(&farm.run(&["evenness", "r.trug", "--as", "jsonl"])).remove(0);
    let (with, without) = (document(&with), document(&without));
    let number = |document: &Value, field: &str| document[field].as_f64().unwrap();
    assert_eq!(with["sd"], without["sd"]);
    assert_eq!(with["mean"], without["mean"]);
    assert_eq!(with["assay_sd"], 0.01);
    assert!(without.get("assay_sd").is_none());
    let own = 100.0 * 0.01 / number(&with, "mean");
    for field in ["cv_percent", "cv_low", "cv_high", "limit_percent"] {
        let (less, all) = (number(&with, field), number(&without, field));
        let wanted = (all * all - own * own).sqrt();
        assert!((less - wanted).abs() < 1e-9, "{field}: {less} {all}");
    }
    // 0.0307 of 0.307, against chi-square of nine degrees of freedom: 2.70039, 19.0228, 3.32511.
    let cv = number(&without, "cv_percent");
    let factor = |square: f64| (9.0_f64 / square).sqrt() * cv;
    for (field, square) in [
        ("cv_low", 19.02277),
        ("cv_high", 2.70039),
        ("limit_percent", 3.32511),
    ] {
        assert!(
            (number(&without, field) - factor(square)).abs() < 1e-4,
            "{field}"
        );
    }
}

#[test]
fn what_no_method_says_is_common_practice_and_said_to_be() {
    let farm = farm(&[("R-1", "plain", EVEN)]);
    let ran = farm.run(&["evenness", "r.trug", "--as", "json"]).ends(0);
    let document: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(document["wanted_percent"], 10.0);
    assert!(document.get("method").is_none());
    let text = farm.run(&["evenness", "r.trug"]).ends(0).out;
    assert!(text.contains("common practice"), "{text}");
}

#[test]
fn several_lines_and_records_are_several_documents() {
    let two = format!("{EVEN}\nsampled zinc 80 84 79 mg/kg assay 0.0002 %");
    let farm = farm(&[("R-1", "mash", &two), ("R-2", "mash", UNEVEN)]);
    let all = documents(&farm.run(&["evenness", "r.trug", "--as", "jsonl"]).ends(1));
    assert_eq!(all.len(), 3);
    assert_eq!(all[1]["nutrient"], "zinc");
    assert_eq!(all[1]["unit"], "mg/kg");
    assert_eq!(all[1]["mean"], 81.0);
    assert_eq!(all[1]["assay_sd"], 2.0);
    let one = documents(
        &farm
            .run(&["evenness", "r.trug", "R-2", "--as", "jsonl"])
            .ends(1),
    );
    assert_eq!(one.len(), 1);
    farm.run(&["evenness", "r.trug", "--as", "json"])
        .fails("there are 3 tests in r.trug");
    farm.run(&["evenness", "r.trug", "R-2", "--as", "json"])
        .ends(1);
    let page = farm
        .run(&["evenness", "r.trug", "--as", "html"])
        .ends(1)
        .out;
    assert!(page.contains("Chloride in River mash, 2 tests"), "{page}");
    assert!(page.contains("upper limit"), "{page}");
    let text = farm.run(&["evenness", ".", "--out", "t.txt"]).ends(1);
    assert_eq!(text.out, "");
    assert!(farm.text("t.txt").contains("Trend: Chloride in River mash"));
}

#[test]
fn nothing_to_test_is_work_that_was_not_done() {
    let none = farm(&[]);
    none.run(&["evenness", "r.trug"])
        .fails("there is no record in r.trug");
    let farm = farm(&[("R-12", "mash", "made 2026-11-21"), ("R-13", "mash", EVEN)]);
    farm.run(&["evenness", "r.trug", "R-12"])
        .fails("record R-12 has no samples");
    farm.run(&["evenness", "r.trug", "R-14"]).fails("try R-1");
    farm.run(&["evenness", "r.trug", "R-13"]).ends(0);
    farm.run(&["evenness", "r.trug"]).ends(0);
    farm.run(&["evenness", "none.trug"]).fails("none.trug");
    farm.run(&["evenness", "r.trug", "--samples", "1"])
        .fails("write a number from 2 to 1000");
    farm.run(&["evenness", "r.trug", "--out", "x.trug"])
        .fails("x.trug");
}

#[test]
fn samples_that_make_no_sense_are_told_in_plain_sentences() {
    let big = format!("9{}", "0".repeat(39));
    for (line, says, code) in [
        (
            "sampled chloride 0.31 %",
            "one sample shows no difference",
            2,
        ),
        (
            "sampled chloride 0 0 0 %",
            "nothing of it was found in 3 samples",
            2,
        ),
        (
            "sampled chloride -0.1 0.3 %",
            "the line could not be read",
            1,
        ),
        (
            "sampled chloride 0.1 0.3 kg",
            "the line could not be read",
            1,
        ),
        (
            "sampled chlorine 0.1 0.3 %",
            "the line could not be read",
            1,
        ),
        (&format!("sampled chloride {big} 1 %"), "", 1),
        (&format!("sampled chloride 0.{} 0.1 %", &big[1..]), "", 1),
        (
            &format!("sampled chloride {big}0 1 %"),
            "record R-1 has no samples that can be read",
            1,
        ),
        (
            "sampled chloride %",
            "record R-1 has no samples that can be read",
            1,
        ),
        ("sampled chloride 0.3 0.3 0.3 %", "", 0),
        ("sampled chloride 0 0.3 %", "", 1),
    ] {
        let ran = farm(&[("R-1", "mash", line)]).run(&["evenness", "r.trug"]);
        assert_eq!(ran.code, code, "{line}: {ran:?}");
        let text = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(says), "{line}: {ran:?}");
        assert!(!ran.err.contains("panic"), "{line}: {ran:?}");
    }
}

#[test]
fn a_hundred_thousand_samples_are_tested() {
    // A line holds no more than some thousand.
    let numbers: Vec<String> = (0..1_000)
        .map(|rank| format!("0.{}", 300_000 + rank % 977))
        .collect();
    let line = format!("sampled chloride {} %\n", numbers.join(" "));
    let farm = farm(&[("R-1", "mash", &line.repeat(100))]);
    let all = documents(&farm.run(&["evenness", "r.trug", "--as", "jsonl"]).ends(0));
    assert_eq!(all.len(), 100);
    for document in all {
        assert_eq!(document["samples"], 1_000);
        assert_eq!(document["verdict"], "even");
    }
    farm.run(&["evenness", "r.trug", "--as", "html"]).ends(0);
}

#[test]
fn a_method_that_cannot_be_read_gives_no_verdict() {
    let text = STORE.replace("within 8 %", "within 8 kg");
    let farm = Farm::new(&[("r.trug", &format!("{text}record R-1 of mash\n  {EVEN}\n"))]);
    let ran = farm.run(&["evenness", "r.trug"]).ends(1);
    assert_eq!(ran.out, "");
    assert!(
        ran.err.contains("how even mash is to be is not known"),
        "{}",
        ran.err
    );
}

#[test]
fn where_to_take_samples_is_said_of_records_and_of_rations() {
    let farm = farm(&[("R-1", "mash", "batch 50 kg")]);
    let text = farm
        .run(&["evenness", "r.trug", "R-1", "--samples", "10"])
        .ends(0)
        .out;
    for part in [
        "Where to take 10 samples of mash, a batch of 50 kg",
        "From the heap",
        "Or from bags",
        "Or along the trough",
        "Cone and quarter",
        "Common practice",
        "bags 1, 1, 1, 1, 1, 2, 2, 2, 2, 2",
    ] {
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(&text).contains(part), "{part} in {text}");
    }
    let ran = farm
        .run(&["evenness", "r.trug", "--samples", "10", "--as", "json"])
        .ends(0);
    let document: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(document["format"], "trug.sampling/0");
    assert_eq!(document["batch_g"], "120000");
    assert_eq!(document["places"].as_array().unwrap().len(), 10);
    assert_eq!(document["places"][0]["along_percent"], "10");
    assert_eq!(document["places"][9]["across_percent"], "75");
    let page = farm
        .run(&["evenness", "r.trug", "--samples", "7", "--as", "html"])
        .ends(0)
        .out;
    assert!(page.contains("<svg"), "{page}");
    let rations = Farm::new(&[("r.trug", STORE)]);
    let text = rations
        .run(&["evenness", "r.trug", "--samples", "5"])
        .ends(0)
        .out;
    assert!(text.contains("samples of mash") && text.contains("samples of plain"));
    let none = Farm::new(&[("s.trug", "animal duck\n")]);
    none.run(&["evenness", "s.trug", "--samples", "5"])
        .fails("no ration and no record");
}
