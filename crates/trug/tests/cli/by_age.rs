//! Groups that eat by their age: which ration is planned on a day, for how many days, and what is bought and said.

use serde_json::Value;

use crate::farm::{Farm, Ran};

// NRC, Nutrient Requirements of Poultry (1994), chapter 5: Pekin ducks on two feeds get 22 % protein from 0 to 2 weeks and 16 % from
// 2 to 7 weeks. Two weeks are over on day 14, seven on day 49.
const DUCKS: &str = "\
animal duck \"Pekin duck\"
nutrient protein \"Protein\" in share
ingredient maize \"Maize\"
  protein        8.5 %
  sold in        50 kg
ingredient soya-meal \"Soya meal\"
  protein        44 %
  sold in        50 kg
targets two-feed-start for duck from day 0 to 13
  protein        at least 22 %
targets two-feed-grow for duck from day 14 to 48
  protein        at least 16 %
ration start-mash
  for            duck
  meets          two-feed-start
  intake         60 g/day
  maize          61 %
  soya-meal      39 %
ration grow-mash
  for            duck
  meets          two-feed-grow
  intake         150 g/day
  maize          78 %
  soya-meal      22 %
group pen \"Duck pen\"
  placed on      2026-11-01
  100 duck
  eats           start-mash
  eats           grow-mash
scale hook 300 kg by 10 g
";

fn farm() -> Farm {
    Farm::new(&[("ducks.trug", DUCKS)])
}

fn planned(farm: &Farm, today: &str, more: &[&str]) -> Ran {
    let args = ["plan", "ducks.trug", "--for", "pen", "--today", today];
    farm.run(&[&args, more].concat())
}

fn document(farm: &Farm, today: &str, more: &[&str]) -> Value {
    let ran = planned(farm, today, &[more, &["--as", "json"]].concat()).ends(0);
    serde_json::from_str(&ran.out).unwrap()
}

/// What a plan says of the group's age.
fn said(plan: &Value) -> Vec<String> {
    let findings = plan["findings"].as_array().unwrap().iter();
    let of_age = findings.filter(|it| it["code"] == "target/phase");
    of_age
        .map(|it| {
            format!(
                "{}: {}",
                it["severity"].as_str().unwrap(),
                it["message"].as_str().unwrap()
            )
        })
        .collect()
}

#[test]
fn the_ration_of_the_day_is_planned() {
    let farm = farm();
    // 100 ducks: 6 kg a day of the first feed, 15 kg of the second. Day 13 is 2026-11-14, day 48 is 2026-12-19.
    for (today, days, ration, ordered, from, to, age, says) in [
        // The day they come, and a day before.
        (
            "2026-10-31",
            "3",
            "start-mash",
            "18000",
            "2026-11-01",
            "2026-11-03",
            0,
            "note: pen eats start-mash from 2026-11-01 on, at day 0: planned for then",
        ),
        (
            "2026-11-01",
            "14",
            "start-mash",
            "84000",
            "2026-11-01",
            "2026-11-14",
            0,
            "",
        ),
        (
            "2026-11-01",
            "15",
            "start-mash",
            "84000",
            "2026-11-01",
            "2026-11-14",
            0,
            "note: pen eats start-mash to 2026-11-14: planned for 14 days, not 15",
        ),
        // The last day of the first feed, and the first of the second.
        (
            "2026-11-14",
            "1",
            "start-mash",
            "6000",
            "2026-11-14",
            "2026-11-14",
            13,
            "",
        ),
        (
            "2026-11-14",
            "7",
            "start-mash",
            "6000",
            "2026-11-14",
            "2026-11-14",
            13,
            "note: pen eats start-mash to 2026-11-14: planned for 1 day, not 7",
        ),
        (
            "2026-11-15",
            "7",
            "grow-mash",
            "105000",
            "2026-11-15",
            "2026-11-21",
            14,
            "",
        ),
        // The last day of all, and the day after.
        (
            "2026-12-19",
            "2",
            "grow-mash",
            "15000",
            "2026-12-19",
            "2026-12-19",
            48,
            "note: pen eats grow-mash to 2026-12-19: planned for 1 day, not 2",
        ),
        (
            "2026-12-20",
            "2",
            "grow-mash",
            "30000",
            "2026-12-20",
            "2026-12-21",
            49,
            "warning: pen is 49 days old, past day 14 to 48 of grow-mash; nothing follows",
        ),
    ] {
        let plan = document(&farm, today, &["--days", days]);
        assert_eq!(
            (&plan["ration"], &plan["ordered_g"]),
            (&ration.into(), &ordered.into()),
            "{today}"
        );
        let order = &plan["order"];
        assert_eq!(
            (&order["from"], &order["to"]),
            (&from.into(), &to.into()),
            "{today}"
        );
        assert_eq!(order["age_days"], age, "{today}");
        let says: Vec<&str> = [says].into_iter().filter(|says| !says.is_empty()).collect();
        assert_eq!(said(&plan), says, "{today} {days}");
    }
}

#[test]
fn a_ration_that_is_named_is_planned_and_what_is_wrong_with_it_said() {
    let farm = farm();
    let of = |today: &str, ration: &str| {
        let args = [
            "plan",
            "ducks.trug",
            ration,
            "--for",
            "pen",
            "--days",
            "2",
            "--as",
            "json",
            "--today",
            today,
        ];
        let ran = farm.run(&args).ends(0);
        let plan: Value = serde_json::from_str(&ran.out).unwrap();
        (
            plan["order"]["from"].as_str().unwrap().to_owned(),
            said(&plan),
        )
    };
    let (from, says) = of("2026-11-16", "start-mash");
    assert_eq!(from, "2026-11-16");
    assert_eq!(
        says,
        ["warning: start-mash is for day 0 to 13; pen is 15 days old"]
    );
    // Mixed ahead for the next phase.
    let (from, says) = of("2026-11-10", "grow-mash");
    assert_eq!(from, "2026-11-15");
    assert_eq!(
        says,
        ["note: pen eats grow-mash from 2026-11-15 on, at day 14: planned for then"]
    );
    // The warning weighs where warnings are denied.
    farm.run(&[
        "plan",
        "ducks.trug",
        "start-mash",
        "--for",
        "pen",
        "--days",
        "2",
        "--today",
        "2026-11-16",
        "--deny",
        "warning",
    ])
    .ends(1);
}

#[test]
fn the_sheet_says_for_how_many_days() {
    let ran = planned(&farm(), "2026-11-12", &["--days", "7"]).ends(0);
    let sheet = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(sheet.contains("planned for 3 days, not 7"), "{sheet}");
    assert!(!sheet.contains("grow-mash"), "{sheet}");
}

#[test]
fn what_is_bought_changes_with_the_phase() {
    let farm = farm();
    let list = |today: &str| -> Value {
        let ran = farm
            .run(&["buy", "--as", "json", "--days", "10", "--today", today])
            .ends(0);
        serde_json::from_str(&ran.out).unwrap()
    };
    // From 2026-11-12: 3 days of 6 kg, then 7 of 15 kg. Maize: 18 × 61 % + 105 × 78 % = 92.88 kg.
    let bought = list("2026-11-12");
    let needed = |list: &Value, name: &str| {
        let all = list["ingredients"].as_array().unwrap().iter();
        let row = all
            .clone()
            .find(|row| row["name"] == name || row["ingredient"] == name);
        row.unwrap()["needed_g"].as_str().unwrap().to_owned()
    };
    assert_eq!(needed(&bought, "maize"), "92880");
    assert_eq!(needed(&bought, "soya-meal"), "30120");
    assert!(bought.get("unfed").is_none());
    // From 2026-12-15 day 48 is four days off.
    let bought = list("2026-12-15");
    assert_eq!(needed(&bought, "maize"), "58500");
    let unfed = &bought["unfed"][0];
    assert_eq!(
        (
            &unfed["group"],
            &unfed["from"],
            &unfed["to"],
            &unfed["age_days"]
        ),
        (
            &"pen".into(),
            &"2026-12-20".into(),
            &"2026-12-24".into(),
            &49.into()
        )
    );
    let told = farm
        .run(&["buy", "--days", "10", "--today", "2026-12-15"])
        .ends(0);
    let told = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("NOTHING TO EAT: Duck pen (ducks.trug:25) from 2026-12-20 to 2026-12-24"),
        "{told}"
    );
}
