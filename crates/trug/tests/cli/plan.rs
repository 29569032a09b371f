//! `trug plan` and `trug analyse`: what is planned and analysed, how much of it, in which forms.

use serde_json::Value;

use crate::farm::ran;
use crate::mash::{document, farm, mash, of_store};

#[test]
fn a_ration_without_error_is_planned_in_every_form() {
    let farm = farm();
    let text = farm.run(&["plan", "mash.trug"]).ends(0);
    assert!(
        text.out.contains("Maize, ground") && !text.out.contains("DRAFT"),
        "{}",
        text.out
    );
    assert_eq!(text.err, "");
    let json = document(
        &farm
            .run(&["plan", "mash.trug", "hen-mash", "--as", "json"])
            .ends(0),
    );
    assert_eq!(json["format"], "trug.plan/1");
    assert_eq!(json["file"], "mash.trug");
    assert_eq!(json["draft"], false);
    assert_eq!(json["ordered_g"], "30000");
    assert_eq!(json["today"], crate::farm::TODAY);
    let line = farm
        .run(&["plan", "mash.trug", "--as", "jsonl"])
        .ends(0)
        .out;
    assert_eq!(line.lines().count(), 1);
    assert_eq!(serde_json::from_str::<Value>(&line).unwrap(), json);
    let table = farm.run(&["plan", "mash.trug", "--as", "csv"]).ends(0).out;
    assert!(table.starts_with("kind,ration,"), "{table}");
}

#[test]
fn of_several_lines_for_a_ration_the_one_of_the_day_counts() {
    let farm = farm();
    farm.put(
        "pens.trug",
        "use \"mash.trug\"\n\ngroup shed\n  10 hen\n  eats hen-mash 100 g/day to 2026-11-30\n  \
         eats hen-mash 120 g/day from 2026-12-10 to 2026-12-31\n  eats hen-mash 140 g/day from 2027-01-01\n",
    );
    // 10 hens for 5 days: 5 kg of 100 g, 6 of 120 g, 7 of 140 g. Between two lines the next to come counts.
    for (today, ordered) in [
        ("2026-11-25", "5000"),
        ("2026-12-05", "6000"),
        ("2026-12-31", "6000"),
        ("2027-01-01", "7000"),
    ] {
        let ran = farm.run(&[
            "plan",
            "pens.trug",
            "--for",
            "shed",
            "--days",
            "5",
            "--as",
            "json",
            "--today",
            today,
        ]);
        assert_eq!(document(&ran.ends(0))["ordered_g"], ordered, "{today}");
    }
}

#[test]
fn the_batch_and_the_group_decide_how_much() {
    let farm = farm();
    let ordered = |args: &[&str]| {
        let mut all = vec!["plan", "mash.trug", "--as", "json"];
        all.extend(args);
        document(&farm.run(&all).ends(0))["ordered_g"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(ordered(&["--batch", "60kg"]), "60000");
    assert_eq!(ordered(&["--batch", "60 kg"]), "60000");
    assert_eq!(ordered(&["--batch", "0.06 t"]), "60000");
    assert_eq!(ordered(&["--batch", "100lb"]), "45359.237");
    assert_eq!(ordered(&["--for", "pen", "--days", "10"]), "48000");
    assert_eq!(ordered(&["--for", "pen"]), "67200");
    for batch in ["60", "0kg", "-5kg", "1,5kg", "5 L", "heaps", ""] {
        farm.run(&["plan", "mash.trug", &format!("--batch={batch}")])
            .fails("is no mass to mix");
    }
    farm.run(&["plan", "mash.trug", "--batch", "5kg", "--for", "pen"])
        .fails("do not go together");
    farm.run(&["plan", "mash.trug", "--days", "5"])
        .fails("--for");
    farm.run(&["plan", "mash.trug", "--for", "barn"])
        .fails("there is no group barn");
    farm.run(&["plan", "two.trug", "mash", "--for", "pen"])
        .fails("there is no group pen");
    farm.put(
        "pens.trug",
        "use \"mash.trug\"\n\ngroup shed\n  10 hen\n  eats           hen-mash 120 g/day\n",
    );
    let shed = farm
        .run(&[
            "plan",
            "pens.trug",
            "--for",
            "shed",
            "--days",
            "5",
            "--as",
            "json",
        ])
        .ends(0);
    assert_eq!(document(&shed)["ordered_g"], "6000");
    assert_eq!(document(&shed)["file"], "mash.trug");
    farm.run(&["plan", "pens.trug", "hen-mash", "--for", "pen"])
        .ends(0);
    let days = farm.run(&[
        "plan",
        "mash.trug",
        "--for",
        "pen",
        "--days",
        "10",
        "--as",
        "json",
    ]);
    assert_eq!(
        document(&days)["order"],
        serde_json::json!({"group": "pen", "days": 10})
    );
}

#[test]
fn how_much_must_be_said() {
    let farm = farm();
    farm.put(
        "mash.trug",
        of_store(&mash("hen-mash").replace("  batch          30 kg\n", "")),
    );
    farm.run(&["plan", "mash.trug"])
        .fails("nobody says how much of hen-mash to mix");
    farm.run(&["plan", "mash.trug", "--batch", "30kg"]).ends(0);
}

#[test]
fn what_no_hand_mixes_is_refused_with_its_number() {
    let farm = farm();
    let ran = farm
        .run(&["plan", "mash.trug", "--batch", "1000000000000t"])
        .ends(2);
    let says = "1000000000000000 kg of hen-mash are more than is ever mixed by hand";
    assert!(ran.out.is_empty() && ran.err.contains(says), "{}", ran.err);
    assert!(ran.err.contains("at most 1000000000 kg"), "{}", ran.err);
    let ran = farm
        .run(&["plan", "mash.trug", "--batch", "0.000001g"])
        .ends(2);
    assert!(
        ran.err
            .contains("of hen-mash would weigh less than any scale shows"),
        "{}",
        ran.err
    );
    // Far more than a floor takes is still planned, as batches.
    farm.run(&["plan", "mash.trug", "--batch", "1000000t", "--as", "json"])
        .ends(0);
}

#[test]
fn what_is_within_and_on_top_is_refused_by_its_name() {
    let farm = farm();
    let twice = mash("hen-mash") + "  salt           1 g/kg on top\n";
    farm.put("mash.trug", of_store(&twice));
    farm.run(&["plan", "mash.trug"])
        .fails("salt is in the 100 % of hen-mash and on top as well");
}

#[test]
fn any_number_of_threads_plans_the_same() {
    let farm = farm();
    for form in ["text", "jsonl", "csv"] {
        let with = |threads: &str| {
            let ran = ran(farm
                .command(&["plan", ".", "--as", form])
                .env("TRUG_THREADS", threads))
            .ends(1);
            (ran.out, ran.err)
        };
        let alone = with("1");
        assert_eq!(with("2"), alone);
        assert_eq!(with("8"), alone);
    }
}

#[test]
fn a_ration_may_come_on_standard_input() {
    let farm = farm();
    let text = of_store(&mash("hen-mash"));
    let plan = document(
        &farm
            .run_with(&["plan", "-", "--as", "json"], text.as_bytes())
            .ends(0),
    );
    assert_eq!(plan["file"], "-");
    let analysis = document(
        &farm
            .run_with(&["analyse", "-", "--as", "json"], text.as_bytes())
            .ends(0),
    );
    assert_eq!(analysis["file"], "-");
    let ran = farm.run_with(&["plan", "-"], b"ration \xff").ends(1);
    assert!(
        ran.out.is_empty() && ran.err.contains("syntax/text"),
        "{}",
        ran.err
    );
}

#[test]
fn an_analysis_says_what_is_in_it_and_what_it_costs() {
    let farm = farm();
    let text = farm.run(&["analyse", "mash.trug"]).ends(0);
    assert!(
        text.out.contains("hen-mash (mash.trug:3)") && text.out.contains("2 .. 5 g/kg"),
        "{}",
        text.out
    );
    let json = document(&farm.run(&["analyse", "mash.trug", "--as", "json"]).ends(0));
    assert_eq!(json["format"], "trug.analysis/1");
    assert_eq!(json["mass_g"], "30000");
    assert_eq!(json["cost"]["currency"], "USD");
    assert_eq!(json["doses"][0]["met"], true);
    let bigger = document(
        &farm
            .run(&["analyse", "mash.trug", "--batch", "1 t", "--as", "json"])
            .ends(0),
    );
    assert_eq!(bigger["mass_g"], "1000000");
    let salty = farm.run(&["analyse", "salty.trug", "--as", "json"]).ends(1);
    assert_eq!(document(&salty)["doses"][0]["met"], false);
    assert!(salty.err.contains("harm/ceiling"), "{}", salty.err);
}

#[test]
fn an_analysis_is_a_page_that_needs_nothing_else() {
    let farm = farm();
    let args = ["analyse", "mash.trug", "--as", "html"];
    let page = farm.run(&args).ends(0).out;
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(
        page.contains("script-src 'none'") && page.contains("<data value=\"30000\">30 kg</data>")
    );
    for outside in ["http://", "https://", "src=", "@import", "url(", "<script"] {
        assert!(!page.contains(outside), "{outside}");
    }
    assert_eq!(
        farm.run(&[&args[..], &["--threads", "1"]].concat()).out,
        page
    );
    let salty = farm.run(&["analyse", "salty.trug", "--as", "html"]).ends(1);
    assert!(salty.out.contains("MISSED") && salty.err.contains("harm/ceiling"));
    let both = farm
        .run(&["analyse", "two.trug", "--as", "html"])
        .ends(0)
        .out;
    assert!(both.contains("id=\"r2-title\"") && both.matches("<!DOCTYPE").count() == 1);
}

#[test]
fn an_analysis_is_written_where_it_is_asked_to_be() {
    let farm = farm();
    for (form, file) in [("html", "a.html"), ("text", "a.txt"), ("json", "a.json")] {
        let args = ["analyse", "mash.trug", "--as", form];
        let printed = farm.run(&args).ends(0).out;
        let ran = farm.run(&[&args[..], &["--out", file]].concat()).ends(0);
        assert_eq!((ran.out.as_str(), ran.err.as_str()), ("", ""));
        assert_eq!(farm.text(file), printed);
    }
    let before = farm.text("mash.trug");
    farm.run(&["analyse", "mash.trug", "--out", "mash.trug"])
        .fails("would be a text of the farm");
    assert_eq!(farm.text("mash.trug"), before);
    let ran = farm.run(&["analyse", "broken.trug", "other", "--out", "b.txt"]);
    assert!(ran.err.contains("other is not analysed"), "{}", ran.err);
    assert!(
        !farm.path("b.txt").exists(),
        "nothing is written of nothing"
    );
}

#[test]
fn the_denied_severity_counts_for_plans_and_analyses() {
    let farm = farm();
    let text = of_store(&mash("mash").replace("  for            hen\n", ""));
    farm.put("mash.trug", &text);
    for command in ["plan", "analyse"] {
        farm.run(&[command, "mash.trug"]).ends(0);
        assert_ne!(
            farm.run(&[command, "mash.trug", "--deny", "warning"])
                .ends(1)
                .out,
            ""
        );
    }
}

#[test]
fn what_is_medicated_is_mixed_last_and_says_what_to_clean() {
    let farm = farm();
    let medicine = "\ningredient wormer \"Wormer premix\"\n  dose           1 .. 4 kg/t\n  withdrawal     7 days for meat\n\n";
    let medicated = mash("sick-pen").replace(
        "salt           3 g/kg",
        "salt           3 g/kg\n  wormer         2 kg/t",
    );
    let text = of_store(&(medicated + medicine + &mash("hen-mash")));
    farm.put("day.trug", text);
    let plans = farm.run(&["plan", "day.trug"]).ends(0).out;
    let first = plans.find("(hen-mash)");
    let last = plans.find("(sick-pen)");
    assert!(first.is_some() && first < last, "{plans}");
    assert!(
        plans.contains("Medicated: mix it last of the day"),
        "{plans}"
    );
}
