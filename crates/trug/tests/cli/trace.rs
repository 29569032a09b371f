//! `trug trace`: both ways, mixes opened up, withdrawals by the day, what could not be followed, and all forms alike.

use serde_json::Value;

use crate::farm::{Farm, Ran};

/// Worked by hand. G-1 is 10 kg of grit mix with 2 kg of premix lot PX-1, so a fifth; R-1 takes 5 kg of it and so
/// 1 kg of PX-1 (with 500 g weighed straight 1.5 kg); R-2 takes 2.5 kg: 500 g. 40 ducks: 37.5 g and 12.5 g each.
const FARM: &str = "\
animal duck
  gives          eggs
ingredient maize
ingredient salt
ingredient vermin-premix
  withdrawal     5 days for eggs
  withdrawal     10 days for meat
lot PX-1 of vermin-premix \"=HYPERLINK(\"\"x\"\")\"
  received       3 kg on 2026-10-01
  on hand        400 g
lot MZ-1 of maize
ration grit-mix
  for            mixing
  salt           80 %
  vermin-premix  20 %
ration mash
  for            duck
  maize          90 %
  grit-mix       10 %
group yard \"The yard\"
  40 duck
  eats           mash 100 g/day
group shed
  7 duck
  eats           mash 100 g/day
record G-1 of grit-mix
  made           2026-11-01
  weighed        salt 8 kg
  weighed        vermin-premix 2 kg lot PX-1
record R-1 of mash
  made           2026-11-05 by \"A.\"
  weighed        maize 44.5 kg lot MZ-1
  weighed        grit-mix 5 kg lot G-1
  weighed        vermin-premix 500 g lot PX-1
  fed to         yard from 2026-11-06 to 2026-11-20
record R-2 of mash
  made           2026-11-10
  weighed        maize 22.5 kg
  weighed        grit-mix 2.5 kg lot G-1
  fed to         shed from 2026-11-11
record R-3 of mash
  made           2026-11-12
  weighed        maize 22.5 kg
  weighed        grit-mix 2.5 kg
record R-0 of mash
  made           2026-09-01
  weighed        maize 9 kg
  weighed        grit-mix 1 kg
";

fn farm() -> Farm {
    Farm::new(&[("f.trug", FARM)])
}

fn document(farm: &Farm, arguments: &[&str]) -> Value {
    let mut all = vec!["trace", "."];
    all.extend(arguments);
    all.extend(["--as", "json"]);
    serde_json::from_str(&farm.run(&all).ends(0).out).unwrap()
}

/// A list by the names of its entries.
fn by_name<'d>(list: &'d Value, key: &str) -> Vec<(&'d str, &'d Value)> {
    let entries = list.as_array().unwrap().iter();
    entries
        .map(|one| (one[key].as_str().unwrap(), one))
        .collect()
}

#[test]
fn a_lot_is_followed_through_mixes_to_animals() {
    let farm = farm();
    let traced = document(&farm, &["PX-1", "--today", "2026-11-25"]);
    assert_eq!(traced["format"], "trug.trace/0");
    assert_eq!(traced["today"], "2026-11-25");
    assert_eq!(traced["start"]["kind"], "lot");
    // 3 kg came, 2 + 0.5 were weighed, 0.4 are left: 100 g are missing.
    let lot = &traced["lots"][0];
    assert_eq!(lot["weighed_g"], "2500");
    assert_eq!(lot["missing_g"], "100");
    let records = by_name(&traced["records"], "name");
    let names: Vec<&str> = records.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, ["G-1", "R-1", "R-2", "R-3"]);
    let masses: Vec<&Value> = records
        .iter()
        .map(|(_, one)| &one["holds"][0]["mass_g"])
        .collect();
    assert_eq!(masses[..3], ["2000", "1500", "500"]);
    assert_eq!(records[1].1["holds"][0]["through"][0], "G-1");
    assert_eq!(records[1].1["fed"][0]["at_most_each_g"], "37.5");
    // Whose grit went into R-3 is not said, and G-1 is the only record of it; into R-0 it cannot have gone.
    assert_eq!(records[3].1["certain"], false);
    assert_eq!(records[3].1["holds"][0]["mass_g"], Value::Null);
    let groups = by_name(&traced["groups"], "name");
    assert_eq!(groups[0].0, "shed");
    assert_eq!(groups[1].1["animals"][0]["head"], "40");
}

#[test]
fn withdrawals_run_by_the_day() {
    let farm = farm();
    let running = |today: &str| -> Vec<String> {
        let traced = document(&farm, &["PX-1", "--today", today]);
        let all = traced["withdrawals"].as_array().unwrap().clone();
        let told = all.iter().map(|one| {
            format!(
                "{} of {} until {}",
                one["product"].as_str().unwrap(),
                one["group"].as_str().unwrap(),
                one["until"].as_str().unwrap()
            )
        });
        told.collect()
    };
    // Last fed on the 20th: eggs to the 25th, meat to the 30th. The shed is fed without an end.
    assert_eq!(
        running("2026-11-25"),
        [
            "meat of shed until 2026-12-05",
            "eggs of shed until 2026-11-30",
            "meat of yard until 2026-11-30",
            "eggs of yard until 2026-11-25"
        ]
    );
    assert_eq!(
        running("2026-11-26")[2..],
        ["meat of yard until 2026-11-30"]
    );
    assert_eq!(running("2026-12-01").len(), 2);
    let text = farm.run(&["trace", ".", "yard", "--today", "2026-12-01"]);
    let text = text.ends(0).out;
    assert!(
        text.contains("None is found running on 2026-12-01"),
        "{text}"
    );
    assert!(text.contains("veterinarian decide"), "{text}");
    assert!(!text.contains("safe"), "{text}");
}

#[test]
fn it_goes_back_from_a_batch_and_from_a_group() {
    let farm = farm();
    let batch = document(&farm, &["R-1"]);
    let lots = by_name(&batch["lots"], "name");
    let lots: Vec<&str> = lots.iter().map(|(name, _)| *name).collect();
    assert_eq!(lots, ["MZ-1", "PX-1"]);
    let mix = document(&farm, &["G-1"]);
    let names: Vec<&str> = by_name(&mix["records"], "name")
        .iter()
        .map(|(name, _)| *name)
        .collect();
    assert_eq!(names, ["G-1", "R-1", "R-2", "R-3"]);
    let group = document(&farm, &["yard"]);
    assert_eq!(group["start"]["kind"], "group");
    assert_eq!(group["records"][0]["name"], "R-1");
    assert_eq!(by_name(&group["lots"], "name").len(), 2);
}

#[test]
fn what_could_not_be_followed_is_said() {
    let farm = farm();
    let says = |name: &str, text: &str| {
        let traced = document(&farm, &[name]);
        let gaps = traced["gaps"].as_array().unwrap().clone();
        let kinds: Vec<String> = gaps.iter().map(|gap| gap["says"].to_string()).collect();
        assert!(
            kinds.iter().any(|one| one.contains(text)),
            "{text}: {kinds:#?}"
        );
    };
    says("PX-1", "100 g of lot PX-1 came and is neither");
    says(
        "PX-1",
        "R-3: the record of the grit-mix in it is not named; it may be G-1",
    );
    says(
        "PX-1",
        "R-3: whom it was fed to is not written down; mash is eaten by yard, shed",
    );
    says("PX-1", "it holds vermin-premix, which has a withdrawal");
    says(
        "PX-1",
        "R-2: until when shed was fed it is not written down",
    );
    says(
        "MZ-1",
        "R-2 on 2026-11-10: no lot is named of 22.5 kg maize",
    );
    says("MZ-1", "cannot be reckoned without `received MASS on DATE`");
    says("G-1", "G-1 on 2026-11-01: no lot is named of 8 kg salt");
    let text = farm.run(&["trace", "f.trug", "PX-1"]).ends(0).out;
    assert!(text.contains("name the folder for all of"), "{text}");
    assert!(
        !farm
            .run(&["trace", ".", "PX-1"])
            .ends(0)
            .out
            .contains("name the folder")
    );
}

#[test]
fn every_form_tells_the_same() {
    let farm = farm();
    let as_form = |form: &str| farm.run(&["trace", ".", "PX-1", "--as", form]).ends(0).out;
    let (text, html, csv) = (as_form("text"), as_form("html"), as_form("csv"));
    for name in ["PX-1", "G-1", "R-1", "R-2", "R-3", "yard", "shed"] {
        assert!(
            text.contains(name) && html.contains(name) && csv.contains(name),
            "{name}"
        );
    }
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    assert!(html.contains("default-src 'none'"), "{html}");
    let mut rows = csv::Reader::from_reader(csv.as_bytes());
    let head = rows.headers().unwrap().clone();
    let at = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
    let fed = rows.iter().filter(|row| &row[at("kind")] == "fed");
    let fed: Vec<_> = fed
        .map(|row| [&row[at("record")], &row[at("mass_g")], &row[at("group")]])
        .collect();
    assert_eq!(
        fed,
        [
            ["G-1", "2000", ""],
            ["R-1", "1500", "yard"],
            ["R-2", "500", "shed"],
            ["R-3", "", ""]
        ]
    );
    for row in &rows {
        assert!(row.iter().all(|cell| !cell.starts_with('=')), "{row:?}");
    }
}

#[test]
fn names_are_found_and_near_ones_offered() {
    let twice = "\
ingredient maize
lot A-1 of maize
ration mash
  maize          100 %
record A-1 of mash
  weighed        maize 1 kg lot B-9
";
    let farm = Farm::new(&[("f.trug", twice)]);
    let ran = farm.run(&["trace", ".", "A-1"]).ends(0);
    assert!(ran.out.contains("Trace of lot A-1"), "{}", ran.out);
    assert!(ran.err.contains("write `record A-1`"), "{}", ran.err);
    let ran = farm.run(&["trace", ".", "record", "A-1"]).ends(0);
    assert!(ran.out.contains("Trace of record A-1"), "{}", ran.out);
    // A lot that is declared nowhere is followed all the same: it may be the one that is recalled.
    let ran = farm.run(&["trace", ".", "B-9"]).ends(0);
    assert!(ran.out.contains("No text declares this lot"), "{}", ran.out);
    assert!(ran.out.contains("holds 1 kg of lot B-9"), "{}", ran.out);
    let fails = |arguments: &[&str], says: &str| {
        let mut all = vec!["trace", "."];
        all.extend(arguments);
        let _: Ran = farm.run(&all).fails(says);
    };
    fails(&["A-2"], "try A-1");
    fails(&["sack", "A-1"], "`lot NAME`");
    fails(&["group", "A-1"], "there is no group A-1");
    farm.run(&["trace", "none.trug", "A-1"]).fails("none.trug");
    farm.run(&["trace", ".", "A-1", "--out", "f.trug"])
        .fails("f.trug");
    farm.run(&["trace", "."]).fails("LOT|RECORD");
}
