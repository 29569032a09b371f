//! `trug buy`: what is on the list, how it ends, and its forms.

use serde_json::Value;

use crate::farm::Farm;

const STORE: &str = "\
animal duck
ingredient maize \"Maize, ground\"
  price          40 LKR/kg
  sold in        50 kg
ingredient bran
  price          25 LKR/kg
  sold in        40 kg
lot M-1 of maize
  best before    2026-12-01
  on hand        80 kg
lot M-2 of maize
  on hand        120 kg
ration mash \"River mash\"
  for            duck
  intake         150 g/day
  maize          70 %
  bran           30 %
";

const GROUP: &str = "\
use \"store.trug\"
group pond \"Pond house\"
  100 duck
  eats           mash
  mix for        at most 10 days
";

fn farm() -> Farm {
    Farm::new(&[("store.trug", STORE), ("groups.trug", GROUP)])
}

fn document(farm: &Farm, args: &[&str], code: i32) -> Value {
    let ran = farm
        .run(&[&["buy", "--as", "json"], args].concat())
        .ends(code);
    serde_json::from_str(&ran.out).unwrap()
}

#[test]
fn the_list_is_what_is_short_in_whole_sacks() {
    // 100 ducks × 150 g are 15 kg a day. Mixes of 150 kg on 11-25, 12-05 and 12-15: maize 105 each. 11-25: 80 of M-1, 25 of M-2.
    // 12-05: the other 95 of M-2, 10 short. 12-15: 105 short. 115 kg: three sacks of 50 kg for 150 × 40 = 6000, 35 left.
    // Bran: 45 a mix, 135 in all, none there: four sacks of 40 kg for 160 × 25 = 4000, 25 left.
    let farm = farm();
    let list = document(&farm, &[], 0);
    assert_eq!(list["format"], "trug.buy/0");
    assert_eq!(
        (&list["today"], &list["last"]),
        (&"2026-11-25".into(), &"2026-12-24".into())
    );
    assert_eq!(
        (&list["days"], &list["complete"]),
        (&30.into(), &true.into())
    );
    assert_eq!(list["groups"][0]["daily_g"], "15000");
    assert_eq!(list["groups"][0]["eaten_g"], "450000");
    let bran = &list["ingredients"][0];
    assert_eq!(
        (&bran["ingredient"], &bran["buy"]["by"]),
        (&"bran".into(), &"2026-11-25".into())
    );
    assert_eq!(
        (&bran["buy"]["sacks"], &bran["left_g"]),
        (&"4".into(), &"25000".into())
    );
    let maize = &list["ingredients"][1];
    assert_eq!(
        (&maize["ingredient"], &maize["buy"]["by"]),
        (&"maize".into(), &"2026-12-05".into())
    );
    assert_eq!(
        (&maize["buy"]["short_g"], &maize["buy"]["bought_g"]),
        (&"115000".into(), &"150000".into())
    );
    assert_eq!(maize["buy"]["cost"]["amount"], "6000");
    assert_eq!(
        (&list["cost"][0]["amount"], &list["cost_complete"]),
        (&"10000".into(), &true.into())
    );

    let text = farm.run(&["buy"]).ends(0);
    assert!(text.err.is_empty(), "{}", text.err);
    for words in [
        "2026-12-05  Maize, ground  3 sacks of 50 kg",
        "6000.00 LKR",
        "total  10000.00 LKR",
        "Pond house, 100 animals",
    ] {
        let line = text
            .out
            .lines()
            .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
        let wanted = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            line.clone().any(|line| line.contains(&wanted)),
            "{words:?} not in\n{}",
            text.out
        );
    }
    assert!(text.out.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn the_river_farm_runs_out_of_maize_with_its_second_mixes() {
    // Maize is 42 % of both mashes and 36 % of the goats' feed, eaten 28.8, 11.7 (to 12-20: 26 days) and 8.4 kg a day, and mixed
    // for 14 days. 11-25: (28.8 + 11.7) × 14 × 0.42 + 8.4 × 14 × 0.36 = 280.476 kg. 12-09: 28.8 × 14 × 0.42 + 11.7 × 12 × 0.42 +
    // 8.4 × 14 × 0.36 = 270.648, together 551.124 of the 540 there. 12-23, two days: 28.8 × 2 × 0.42 + 8.4 × 2 × 0.36 = 30.24.
    // In all 581.364: 41.364 are short, one sack of 90 kg, and 48.636 left.
    let example = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/river-farm");
    let list = document(&Farm::new(&[]), &[example], 0);
    let all = list["ingredients"].as_array().unwrap();
    let maize = all.iter().find(|it| it["ingredient"] == "maize").unwrap();
    assert_eq!(
        (&maize["needed_g"], &maize["on_hand_g"]),
        (&"581364".into(), &"540000".into())
    );
    assert_eq!(
        (&maize["buy"]["by"], &maize["buy"]["sacks"]),
        (&"2026-12-09".into(), &"1".into())
    );
    assert_eq!(maize["left_g"], "48636");
    // Shell mix is opened up: 9 and 2 % of the mashes, of which limestone is 60 %; the goats take 1.1 % of it.
    // 28.8 × 30 × 0.054 + 11.7 × 26 × 0.012 + 8.4 × 30 × 0.011 = 53.0784.
    let stone = all
        .iter()
        .find(|it| it["ingredient"] == "limestone")
        .unwrap();
    assert_eq!(stone["needed_g"], "53078.4");
}

#[test]
fn days_and_today_decide() {
    let farm = farm();
    let ten = document(&farm, &["--days", "10", "groups.trug"], 0);
    // One mix: maize 105 of the 200 there, bran 45.
    assert_eq!(ten["ingredients"][0]["buy"]["sacks"], "2");
    assert_eq!(
        (
            &ten["ingredients"][1]["buy"],
            &ten["ingredients"][1]["left_g"]
        ),
        (&Value::Null, &"95000".into())
    );
    assert_eq!(ten["ingredients"][1]["lasts_until"], "2026-12-04");
    let later = document(&farm, &["--days", "10", "--today", "2026-12-02"], 0);
    // M-1 is past its day.
    assert_eq!(later["ingredients"][1]["on_hand_g"], "120000");
    assert_eq!(later["expiring"][0]["lot"], "M-1");
    let run = |args: &[&str]| {
        farm.run(&[&["buy", "--today", "2026-12-02"], args].concat())
            .ends(0)
            .out
    };
    for form in ["text", "json", "csv", "html"] {
        let one = run(&["--as", form, "--threads", "1"]);
        assert_eq!(one, run(&["--as", form, "--threads", "7"]), "{form}");
    }
    farm.run(&["buy", "--days", "0"]).fails("0");
    farm.run(&["buy", "--days", "many"]).fails("many");
    farm.run(&["buy", "--deny", "note"]).fails("--deny");
}

#[test]
fn each_form_is_whole() {
    let farm = farm();
    let page = farm.run(&["buy", ".", "--as", "html"]).ends(0).out;
    assert!(page.starts_with("<!DOCTYPE html>") && page.matches("<svg").count() == 2);
    let table = farm.run(&["buy", "--as", "csv"]).ends(0).out;
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
    let kinds: Vec<&str> = rows.iter().map(|row| &row[0]).collect();
    assert_eq!(kinds, ["buy", "buy", "total", "eats"]);
    assert_eq!(
        (&rows[1][1], &rows[1][2], &rows[1][4]),
        ("2026-12-05", "maize", "3")
    );
    farm.run(&["buy", "--out", "list.txt"]).ends(0);
    assert_eq!(farm.text("list.txt"), farm.run(&["buy"]).ends(0).out);
    farm.run(&["buy", "--out", "list.trug"]).fails("list.trug");
}

#[test]
fn what_cannot_be_counted_ends_with_1_and_is_on_the_list() {
    let farm = farm();
    farm.put(
        "store.trug",
        STORE.replace("maize          70 %", "maize          70 .. 75 %"),
    );
    let ran = farm.run(&["buy"]).ends(1);
    assert!(
        ran.err.contains("amount/open")
            && ran
                .err
                .contains("what pond eats of mash is not on the list"),
        "{}",
        ran.err
    );
    assert!(
        ran.out
            .contains("NOT COUNTED: what pond eats of mash (groups.trug:4)"),
        "{}",
        ran.out
    );
    let list = document(&farm, &[], 1);
    assert_eq!(list["complete"], false);
    assert_eq!(list["not_counted"][0]["findings"][0]["code"], "amount/open");
    assert!(ran.out.contains("nothing could be counted"), "{}", ran.out);
    // Another group stays on the list.
    farm.put(
        "other.trug",
        format!(
            "{}ration own\n  for duck\n  intake 1 g/day\n  bran 100 %\n",
            GROUP.replace("mash", "own")
        ),
    );
    let list = document(&farm, &[], 1);
    assert_eq!(list["ingredients"][0]["ingredient"], "bran");
    // A header that cannot be read may be a group.
    let farm = Farm::new(&[
        ("store.trug", STORE),
        ("groups.trug", &GROUP.replace("group pond", "gruop pond")),
    ]);
    let ran = farm.run(&["buy"]).ends(1);
    assert!(
        ran.err.contains("syntax/item") && ran.out.contains("NOT COUNTED: groups.trug:2"),
        "{ran:?}"
    );
}

#[test]
fn without_a_group_there_is_no_list() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    farm.run(&["buy"]).fails("there is no group");
    farm.run(&["buy", "none.trug"]).fails("none.trug");
    let empty = Farm::new(&[]);
    empty.run(&["buy"]).fails("no .trug text");
    // A group that eats nothing yet is one.
    let text = "animal duck\ngroup pond\n  5 duck\n";
    let ran = Farm::new(&[("g.trug", text)]).run(&["buy"]).ends(0);
    assert!(
        ran.out.contains("nothing is eaten on these days"),
        "{}",
        ran.out
    );
}

#[test]
fn a_text_may_come_on_standard_input() {
    let ran = Farm::new(&[]).run_with(
        &["buy", "-"],
        format!("{STORE}{}", GROUP.replace("use \"store.trug\"\n", "")).as_bytes(),
    );
    assert!(ran.ends(0).out.contains("3 sacks of 50 kg"));
}
