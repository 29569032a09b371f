//! `trug balance`: what is chosen, why, what is written where, and how it ends.

use serde_json::Value;

use crate::farm::Farm;
use crate::mash::document;

const STORE: &str = "\
animal duck
nutrient protein in share
ingredient maize
  protein        8 %
  price          80 LKR/kg
ingredient soya-meal
  protein        44 %
  price          200 LKR/kg
ingredient bran
  protein        13 %
  price          50 LKR/kg
  at most        30 %
targets growth for duck
  protein        at least 17 %
";

const MASH: &str = "\
use \"store.trug\"

ration mash \"Duck mash\"
  for            duck
  meets          growth
  batch          100 kg           # one heap
  maize          rest
  soya-meal      10 .. 40 %       # dear
  bran           0 .. 40 % or none
";

fn farm() -> Farm {
    Farm::new(&[("store.trug", STORE), ("mash.trug", MASH)])
}

#[test]
fn the_cheapest_amounts_are_printed_in_every_form() {
    let farm = farm();
    let text = farm.run(&["balance", "mash.trug"]).ends(0);
    for said in [
        "Duck mash (mash.trug:3): 96.01 LKR a kg",
        "protein at least 17 %",
        "one % more costs 3.33 LKR a kg",
        "Proved",
        "veterinarian",
    ] {
        assert!(text.out.contains(said), "{said}\n{}", text.out);
    }
    assert_eq!(text.err, "");
    let json = document(
        &farm
            .run(&["balance", "mash.trug", "mash", "--as", "json"])
            .ends(0),
    );
    assert_eq!(json["format"], "trug.balance/1");
    assert_eq!(json["status"], "optimal");
    assert_eq!(json["currency"], "LKR");
    assert_eq!(json["cost_bound"], "96");
    let share = |rank: usize| json["amounts"][rank]["share_percent"].clone();
    assert_eq!([share(0), share(1), share(2)], ["49.16", "20.84", "30"]);
    let line = farm
        .run(&["balance", "mash.trug", "--as", "jsonl"])
        .ends(0)
        .out;
    assert_eq!(serde_json::from_str::<Value>(&line).unwrap(), json);
    let page = farm
        .run(&["balance", "mash.trug", "--as", "html"])
        .ends(0)
        .out;
    assert!(
        page.starts_with("<!DOCTYPE html>") && page.contains("Duck mash"),
        "{page}"
    );
    farm.run(&["balance", "mash.trug", "--as", "html", "--out", "cost.html"])
        .ends(0);
    assert_eq!(farm.text("cost.html"), page);
    farm.run(&["balance", "mash.trug", "--out", "mash.trug"])
        .fails("would be a text of the farm");
}

#[test]
fn amounts_are_written_and_nothing_else_and_a_second_time_nothing() {
    let farm = farm();
    let store = farm.text("store.trug");
    farm.run(&["balance", "mash.trug", "--write"]).ends(0);
    let written = MASH
        .replace(
            "10 .. 40 %       # dear",
            "20.84 % within 10 .. 40 %  # dear",
        )
        .replace("0 .. 40 % or none", "30 % within 0 .. 40 % or none");
    assert_eq!(farm.text("mash.trug"), written);
    assert_eq!(farm.text("store.trug"), store);
    farm.run(&["balance", "mash.trug", "--write"]).ends(0);
    assert_eq!(farm.text("mash.trug"), written);
    farm.run(&["check", "--deny", "note", "mash.trug"]).ends(0);
    let again = document(&farm.run(&["balance", "mash.trug", "--as", "json"]).ends(0));
    assert_eq!(again["amounts"][1]["before_percent"], "20.84");
    farm.run_with(&["balance", "-", "--write"], MASH.as_bytes())
        .fails("standard input cannot be written to");
}

#[test]
fn line_ends_and_a_byte_order_mark_are_kept() {
    let farm = farm();
    let text = format!("\u{feff}{}", MASH.replace('\n', "\r\n"));
    farm.put("mash.trug", &text);
    farm.run(&["balance", "mash.trug", "--write"]).ends(0);
    let written = farm.text("mash.trug");
    assert!(written.starts_with('\u{feff}'), "{written}");
    assert_eq!(
        written.matches("\r\n").count(),
        written.matches('\n').count()
    );
    assert!(written.contains("20.84 % within 10 .. 40 %"), "{written}");
}

#[test]
fn a_contradiction_ends_with_one_and_writes_nothing() {
    let farm = farm();
    farm.put(
        "store.trug",
        STORE.replace("at least 17 %", "at least 30 %"),
    );
    let ran = farm.run(&["balance", "mash.trug", "--write"]).ends(1);
    for said in [
        "no amounts keep everything",
        "protein at least 30 %",
        "soya-meal at most 40 %",
        "at least 23.9 % instead of 30",
    ] {
        assert!(ran.out.contains(said), "{said}\n{}", ran.out);
    }
    assert_eq!(farm.text("mash.trug"), MASH);
    let json = document(&farm.run(&["balance", "mash.trug", "--as", "json"]).ends(1));
    assert_eq!(json["status"], "infeasible");
    assert_eq!(json["cost_per_kg"], Value::Null);
    assert_eq!(json["relax"][0]["to"], "23.9");
}

#[test]
fn a_price_that_is_missing_is_an_error_with_its_place() {
    let farm = farm();
    farm.put(
        "store.trug",
        STORE.replace("  price          200 LKR/kg\n", ""),
    );
    let ran = farm.run(&["balance", "mash.trug"]).ends(1);
    assert!(
        ran.err.contains("cost/unknown") && ran.err.contains("soya-meal"),
        "{}",
        ran.err
    );
    assert_eq!(ran.out, "");
}

#[test]
fn errors_stand_in_the_way_and_an_inner_mix_comes_first() {
    let farm = farm();
    farm.put("mash.trug", MASH.replace("soya-meal", "soya-mael"));
    let ran = farm.run(&["balance", "mash.trug"]).ends(1);
    assert!(
        ran.err.contains("name/unknown") && ran.err.contains("is not balanced"),
        "{}",
        ran.err
    );
    let outer = "\nration outer\n  for            duck\n  maize          50 .. 70 %\n  mash           30 .. 50 %\n";
    farm.put("mash.trug", format!("{MASH}{outer}"));
    let ran = farm.run(&["balance", "mash.trug", "outer"]).ends(2);
    assert!(ran.err.contains("balance that first"), "{}", ran.err);
    farm.run(&["balance", "mash.trug", "mash", "--write"])
        .ends(0);
    farm.run(&["balance", "mash.trug", "outer"]).ends(0);
}

#[test]
fn a_folder_balances_every_ration_with_a_choice_for_any_number_of_threads() {
    let farm = farm();
    farm.put(
        "fixed.trug",
        "use \"store.trug\"\n\nration plain\n  for            duck\n  maize          100 %\n",
    );
    farm.put("second.trug", MASH.replace("ration mash", "ration second"));
    let one = farm
        .run(&["balance", ".", "--as", "jsonl", "--threads", "1"])
        .ends(0)
        .out;
    assert_eq!(one.lines().count(), 2, "{one}");
    let many = farm
        .run(&["balance", ".", "--as", "jsonl", "--threads", "4"])
        .ends(0)
        .out;
    assert_eq!(one, many);
    farm.run(&["balance", ".", "--as", "json"])
        .fails("take --as jsonl");
    farm.run(&["balance", ".", "--write"]).ends(0);
    assert!(farm.text("second.trug").contains("within"));
    let plain = farm.run(&["balance", "fixed.trug"]).ends(0);
    assert!(plain.out.contains("80.00 LKR a kg"), "{}", plain.out);
}

#[test]
fn many_price_days_show_how_cost_and_mix_move() {
    let farm = farm();
    let prices =
        "day,soya-meal LKR/kg,bran LKR/kg\n2026-02-01,200,50\n2026-01-01,200,110\n2026-03-01,,\n";
    farm.put("prices.csv", prices);
    let days = &["balance", "mash.trug", "--prices", "prices.csv"];
    let text = farm.run(days).ends(0).out;
    assert!(
        text.contains("96.01 LKR to 110.00 LKR a kg over 3 days"),
        "{text}"
    );
    let first = text.lines().position(|line| line.contains("2026-01-01"));
    assert!(
        first < text.lines().position(|line| line.contains("2026-02-01")),
        "{text}"
    );
    let lines = farm
        .run(&[days, &["--as", "jsonl"][..]].concat())
        .ends(0)
        .out;
    let documents: Vec<Value> = lines
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(documents.len(), 3);
    assert_eq!(documents[0]["day"], "2026-01-01");
    assert_eq!(documents[0]["amounts"][2]["share_percent"], "0");
    assert_eq!(documents[2]["cost_bound"], "96");
    let page = farm
        .run(&[days, &["--as", "html"][..]].concat())
        .ends(0)
        .out;
    assert!(
        page.contains("<svg") && page.contains("Day by day"),
        "{page}"
    );
    farm.run(&[days, &["--as", "json"][..]].concat())
        .fails("take --as jsonl");
    farm.run(&[days, &["--write"][..]].concat())
        .fails("--write");
}

#[test]
fn prices_that_cannot_be_used_are_said_with_their_place() {
    let farm = farm();
    let wrong = [
        (
            "price,maize LKR/kg\n",
            "prices.csv:1:1: the first heading is `price`",
        ),
        (
            "day,maize\n2026-01-01,5\n",
            "prices.csv:1:5: `maize` has no unit",
        ),
        (
            "day,maize LKR/kg\nJanuary,5\n",
            "prices.csv:2:1: `January` is no day",
        ),
        (
            "day,maize LKR/kg\n2026-01-01,five\n",
            "prices.csv:2:12: `five LKR/kg` is no price",
        ),
        ("day,maize LKR/kg\n2026-01-01,-5\n", "is below nothing"),
        ("day,maize %\n2026-01-01,5\n", "is no price"),
        ("day,maize LKR/kg\n", "has no day"),
        ("", "the table is empty"),
        ("day,maize LKR/kg\n2026-01-01,\"5\n", "prices.csv:2:12"),
    ];
    for (table, said) in wrong {
        farm.put("prices.csv", table);
        farm.run(&["balance", "mash.trug", "--prices", "prices.csv"])
            .fails(said);
    }
    farm.put("prices.csv", b"day,maize LKR/kg\n2026-01-01,\xff\n");
    farm.run(&["balance", "mash.trug", "--prices", "prices.csv"])
        .fails("is not UTF-8");
    farm.run(&["balance", "mash.trug", "--prices", "gone.csv"])
        .fails("could not be read");
    farm.run(&["balance", "mash.trug", "--prices", "."])
        .fails("is not a plain file");
}
