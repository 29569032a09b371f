//! Lots on the command line: the day decides what is taken, and what is said of it.

use crate::farm::Farm;
use crate::mash::document;

const MASH: &str = "\
animal duck \"Duck\"
ingredient maize \"Maize\"
ingredient wheat-bran \"Wheat bran\"
lot MZ-1 of maize
  best before    2026-12-01
  on hand        30 kg
lot MZ-2 of maize
  best before    2027-06-01
  on hand        40 kg
scale hook \"Hook\" 100 kg by 100 g
method shovel \"Shovel\"
  floor          40 kg
ration mash \"Mash\"
  for            duck
  batch          80 kg
  mix by         shovel
  maize          60 %
  wheat-bran     rest
group pond \"Pond\"
  100 duck
  eats           mash 160 g/day
";

fn farm() -> Farm {
    Farm::new(&[("farm.trug", MASH)])
}

/// The lots of a plan's weighings, batch by batch.
fn lots(farm: &Farm, more: &[&str]) -> Vec<Vec<String>> {
    let mut args = vec!["plan", "farm.trug", "--as", "json"];
    args.extend(more);
    let plan = document(&farm.run(&args).ends(0));
    let batches = plan["batches"].as_array().unwrap().iter();
    let of_batch = |batch: &serde_json::Value| {
        let weighings = batch["weighings"].as_array().unwrap().iter();
        let lots = weighings.filter_map(|it| it["lot"].as_str());
        lots.map(str::to_owned).collect()
    };
    batches.map(of_batch).collect()
}

#[test]
fn the_day_decides_which_lot_is_taken() {
    let farm = farm();
    let first = vec!["MZ-1".to_owned(), "MZ-1".to_owned()];
    let second = vec!["MZ-1".to_owned(), "MZ-2".to_owned(), "MZ-2".to_owned()];
    assert_eq!(lots(&farm, &[]), [first, second]);
    // On the last day it is still good; on the next what is fresh suffices for one batch and most of another.
    assert_eq!(lots(&farm, &["--today", "2026-12-01"])[0][0], "MZ-1");
    let later = lots(&farm, &["--today", "2026-12-02"]);
    assert!(later.iter().flatten().all(|lot| lot == "MZ-2"), "{later:?}");
}

#[test]
fn what_is_short_and_what_is_past_its_day_is_said() {
    let farm = farm();
    let plan = ["plan", "farm.trug", "--today", "2026-12-02"];
    let told = farm.run(&plan).ends(0);
    let short = "maize is 8 kg short: 48 kg wanted, its lots give 40 kg; enough for 1 of 2 batches";
    assert!(
        told.out.replace("\n  ", " ").contains(short),
        "{}",
        told.out
    );
    let mut denied = plan.to_vec();
    denied.extend(["--deny", "warning"]);
    farm.run(&denied).ends(1);
    let checked = farm.run(&["check", "--as", "json", "--today", "2026-12-02"]);
    let found = document(&checked.ends(0));
    assert_eq!(found["today"], "2026-12-02");
    assert_eq!(found["findings"][0]["code"], "store/expired");
    assert_eq!(found["findings"][0]["line"], 4);
    assert_eq!(found["counts"]["warning"], 1);
    let quiet = farm.run(&["check"]).ends(0);
    assert!(quiet.out.contains("nothing to say"), "{}", quiet.out);
    // 16 kg a day, 9.6 kg of it maize: 40 kg are gone on the fifth day.
    let for_group = [
        "plan",
        "farm.trug",
        "--for",
        "pond",
        "--days",
        "7",
        "--today",
        "2026-12-02",
    ];
    let told = farm.run(&for_group).ends(0).out.replace("\n  ", " ");
    assert!(told.contains("pond runs out of it on 2026-12-06"), "{told}");
}
