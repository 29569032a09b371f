//! `trug convert`: which way, where to, what is said, and how it ends.

use std::fs;

use crate::farm::Farm;

/// A sheet as people keep it.
const SHEET: &str = "Ingredient,CP %,Price (KES/kg),Inclusion %\nMaize,8.8,42,60.0\nWheat bran,15,28,40\nTotal,,,100\n";

/// What is made of it.
const TEXT: &str = "\
use book poultry 2026

ingredient maize \"Maize\"
  protein        8.8 %
  price          42 KES/kg

ingredient wheat-bran \"Wheat bran\"
  protein        15 %
  price          28 KES/kg

ration mash
  maize          60.0 %
  wheat-bran     40 %
";

#[test]
fn a_sheet_becomes_a_text_and_says_how_it_was_read() {
    let farm = Farm::new(&[("mash.csv", SHEET)]);
    let ran = farm.run(&["convert", "mash.csv"]).ends(0);
    assert_eq!(ran.out, TEXT);
    for words in [
        "mash.csv:1:12: CP % is read as protein (Crude protein)",
        "mash.csv:4:1: Total is no ingredient",
        "does not check clean",
        "harm/unjudged",
    ] {
        assert!(ran.err.contains(words), "{words:?} not in {}", ran.err);
    }
    let piped = farm
        .run_with(&["convert", "-", "--to", "trug"], SHEET.as_bytes())
        .ends(0);
    assert_eq!(
        piped.out,
        TEXT.replace("ration mash", "ration ration-feed \"Ration\"")
    );
}

#[test]
fn the_result_checks_clean_or_says_why_not() {
    let farm = Farm::new(&[
        ("prices.csv", "Ingredient,Price KES/kg\nMaize,42\n"),
        ("short.csv", "Ingredient,%\nMaize,42\n"),
    ]);
    let ran = farm.run(&["convert", "prices.csv"]).ends(0);
    assert!(ran.err.contains("checks clean"), "{}", ran.err);
    let ran = farm.run(&["convert", "short.csv", "--for", "duck"]).ends(1);
    assert!(ran.err.contains("sum/short"), "{}", ran.err);
    assert!(ran.out.contains("for            duck"), "{}", ran.out);
}

#[test]
fn what_could_not_be_used_is_said_with_its_place() {
    let farm = Farm::new(&[("feeds.csv", "Ingredient,CP,ME kcal/kg\nMaize,8.8,=B2\n")]);
    let ran = farm.run(&["convert", "feeds.csv"]).ends(1);
    assert!(
        ran.err.contains("feeds.csv:1:12: CP has no unit"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("--unit \"CP=%\""), "{}", ran.err);
    assert!(
        ran.err.contains("feeds.csv:2:11: this cell is a formula"),
        "{}",
        ran.err
    );
    let ran = farm
        .run(&["convert", "feeds.csv", "--unit", "CP=%"])
        .ends(1);
    assert!(ran.out.contains("protein        8.8 %"), "{}", ran.out);
    farm.run(&["convert", "feeds.csv", "--unit", "CP"])
        .fails("CP=%");
    farm.run(&["convert", "feeds.csv", "--unit", "CP=sack"])
        .fails("sack is no unit");
}

#[test]
fn a_text_becomes_a_table_and_comes_back() {
    let farm = Farm::new(&[
        ("mash.trug", TEXT),
        (
            "two.trug",
            "ration a\n  maize 100 %\nration b\n  bran 100 %\n",
        ),
    ]);
    let table = farm.run(&["convert", "mash.trug"]).ends(0).out;
    assert!(
        table.starts_with(
            "ingredient,label,amount %,protein %,price KES/kg\r\nmaize,Maize,60.0,8.8,42\r\n"
        ),
        "{table}"
    );
    farm.run(&["convert", "mash.trug", "--out", "again/mash.csv"])
        .fails("could not be written");
    farm.run(&["convert", "mash.trug", "--out", "out.csv"])
        .ends(0);
    assert_eq!(farm.text("out.csv"), table);
    farm.put("mash.csv", &table);
    assert_eq!(farm.run(&["convert", "mash.csv"]).ends(0).out, TEXT);
    farm.run(&["convert", "two.trug"])
        .fails("this text has 2 rations");
    let table = farm
        .run(&["convert", "two.trug", "--ration", "b"])
        .ends(0)
        .out;
    assert_eq!(table, "ingredient,label,amount %\r\nbran,,100\r\n");
    farm.run(&["convert", "two.trug", "--ration", "c"])
        .fails("there is no ration c");
    farm.run(&["convert", "two.trug", "--for", "duck"])
        .fails("--for is for tables");
}

#[test]
fn no_text_is_written_over() {
    let farm = Farm::new(&[("mash.csv", SHEET), ("store.trug", "ingredient salt\n")]);
    farm.run(&["convert", "mash.csv", "--out", "store.trug"])
        .fails("store.trug is there already");
    farm.run(&["convert", "store.trug", "--out", "other.trug"])
        .fails("would be a text of the farm");
    assert_eq!(farm.text("store.trug"), "ingredient salt\n");
    farm.run(&["convert", "mash.csv", "--out", "mash.trug"])
        .ends(0);
    assert_eq!(farm.text("mash.trug"), TEXT);
}

#[test]
fn other_encodings_and_other_things_say_what_to_do() {
    let farm = Farm::new(&[
        ("sheet", SHEET),
        ("a.trug", "use \"latin.csv\"\nanimal duck\n"),
    ]);
    farm.put("latin.csv", b"Ingredient,CP %\nMa\xefs,8\n");
    farm.put("wide.csv", b"\xff\xfeI\0n\0g\0");
    for name in ["latin.csv", "wide.csv"] {
        let ran = farm.run(&["convert", name]).fails("is not UTF-8 text");
        assert!(ran.err.contains("CSV UTF-8"), "{}", ran.err);
    }
    let ran = farm.run(&["check", "a.trug"]).ends(1);
    assert!(
        ran.out.contains("syntax/text") && ran.out.contains("CSV UTF-8"),
        "{}",
        ran.out
    );
    farm.run(&["convert", "sheet"]).fails("no ending");
    farm.run(&["convert", "gone.csv"]).fails("gone.csv");
    fs::create_dir(farm.path("folder")).unwrap();
    assert_eq!(farm.run(&["convert", "folder"]).code, 2);
    farm.run_with(&["convert", "-"], b"").fails("no ending");
    farm.run_with(&["convert", "-", "--to", "trug"], b"")
        .fails("there is no table");
}

/// A table as long as a file may be: a million rows, read by `check`, and converted.
#[test]
fn a_million_rows_are_read() {
    let farm = Farm::new(&[("a.trug", "use \"long.csv\"\nuse book poultry\n")]);
    let rows: String = (0..300_000)
        .map(|rank| format!("f{rank},{}\n", rank % 9 + 1))
        .collect();
    farm.put("long.csv", format!("ingredient,protein %\n{rows}"));
    farm.run(&["check", "a.trug", "--as", "lines"]).ends(0);
    let same = "m,8\n".repeat(1_000_000);
    farm.put("long.csv", format!("ingredient,protein %\n{same}"));
    let ran = farm.run(&["check", "a.trug", "--as", "lines"]).ends(1);
    assert!(ran.out.contains("data/twice"), "{}", ran.out);
    let one = format!(
        "ingredient,protein %\nm,{}\n\"{}\",8\n",
        "9".repeat(5_000_000),
        "n".repeat(5_000_000)
    );
    farm.put("long.csv", one);
    let ran = farm.run(&["check", "a.trug", "--as", "lines"]).ends(0);
    assert!(
        ran.out.len() < 2000 && ran.out.contains("use/table"),
        "{}",
        ran.out.len()
    );
}
