//! `trug plan` and `trug analyse`: what is planned, refused, marked a draft, and where it goes.

use std::fs;

use serde_json::Value;

use crate::farm::{Farm, Ran, ran};

/// Store and yard; a ration needs nothing else.
pub(crate) const STORE: &str = "animal hen \"Hen\"
  gives          eggs

ingredient maize \"Maize, ground\"
  dry-matter     88 %
  bulk-density   0.7 kg/L
  price          0.3 USD/kg

ingredient soya \"Soya bean meal\"
  dry-matter     88 %
  bulk-density   0.6 kg/L
  price          0.6 USD/kg

ingredient salt \"Salt, fine\"
  dry-matter     99 %
  bulk-density   1.2 kg/L
  dose           2 .. 5 g/kg
  ceiling        8 g/kg \"Too much salt kills.\"
  caution        \"Weigh it.\"
  price          0.2 USD/kg

scale bench      5 kg by 1 g
scale hook       100 kg by 100 g
vessel basin     3 of 30 L

method shovel \"Shovel and floor\"
  small          below 3 %
  pre-blend      20 %
  step           at most 1 in 20
  weigh          within 2 %
  floor          300 kg
  lift           25 kg
  turn           6 times
  portions       4
";

/// A ration that plans without a word.
pub(crate) fn mash(name: &str) -> String {
    format!(
        "ration {name} \"Mash\"\n  for            hen\n  batch          30 kg\n  mix by         shovel\n  \
         intake         120 g/day\n  keeps          21 days\n  maize          rest\n  soya           25 %\n  salt           3 g/kg\n"
    )
}

fn of_store(text: &str) -> String {
    format!("use \"store.trug\"\n\n{text}")
}

/// A store, a ration that is right, one that harms, one that is mixed into others, and a group.
fn farm() -> Farm {
    let harmful = mash("salty").replace("3 g/kg", "10 g/kg");
    let before = "ration grit \"Grit\"\n  for mixing\n  batch          10 kg\n  maize          50 %\n  soya           50 %\n";
    let group = "\ngroup pen \"Pen\"\n  40 hen\n  eats           hen-mash 120 g/day\n  mix for        at most 14 days\n";
    Farm::new(&[
        ("store.trug", STORE),
        ("mash.trug", &of_store(&(mash("hen-mash") + group))),
        ("salty.trug", &of_store(&harmful)),
        ("both.trug", &of_store(&(mash("mash") + "\n" + before))),
        (
            "two.trug",
            &of_store(&(mash("mash") + "\n" + &mash("other"))),
        ),
        (
            "broken.trug",
            &of_store(&(mash("mash") + "\n" + &mash("other").replace("soya  ", "moon  "))),
        ),
    ])
}

fn document(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).unwrap()
}

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
fn an_error_refuses_a_plan_unless_a_draft_is_asked_for() {
    let farm = farm();
    let refused = farm.run(&["plan", "salty.trug"]).ends(1);
    assert_eq!(refused.out, "");
    assert!(refused.err.contains("harm/ceiling"), "{}", refused.err);
    let draft = farm.run(&["plan", "salty.trug", "--draft"]).ends(1);
    assert!(draft.out.starts_with("DRAFT"), "{}", draft.out);
    let json = document(
        &farm
            .run(&["plan", "salty.trug", "--draft", "--as", "json"])
            .ends(1),
    );
    assert_eq!(json["draft"], true);
    assert!(
        json["findings"]
            .as_array()
            .unwrap()
            .iter()
            .any(|finding| finding["code"] == "harm/ceiling")
    );
}

#[test]
fn open_amounts_and_unread_lines_refuse_even_a_draft() {
    let farm = farm();
    farm.put(
        "open.trug",
        of_store(&mash("mash").replace("25 %", "20 .. 30 %")),
    );
    for draft in [
        &["plan", "open.trug"][..],
        &["plan", "open.trug", "--draft"],
    ] {
        let ran = farm.run(draft).ends(1);
        assert_eq!(ran.out, "");
        assert!(ran.err.contains("error[amount/open]"), "{}", ran.err);
    }
    farm.put(
        "unread.trug",
        of_store(&mash("mash").replace("25 %", "some")),
    );
    let ran = farm.run(&["plan", "unread.trug", "--draft"]).ends(1);
    assert_eq!(ran.out, "");
    farm.run(&["analyse", "open.trug"]).ends(0);
    let ran = farm.run(&["analyse", "unread.trug"]).ends(1);
    assert_eq!(ran.out, "");
    assert!(ran.err.contains("mash is not analysed"), "{}", ran.err);
}

#[test]
fn an_error_in_what_a_ration_rests_on_refuses_it() {
    let farm = farm();
    farm.put(
        "store.trug",
        STORE.replace("dose           2 .. 5 g/kg", "dose           2 and 5 g/kg"),
    );
    let ran = farm.run(&["plan", "mash.trug"]).ends(1);
    assert_eq!(ran.out, "");
    assert!(ran.err.contains("store.trug:"), "{}", ran.err);
    farm.put("store.trug", STORE.replace("5 kg by 1 g", "5 kg by a gram"));
    assert_eq!(farm.run(&["plan", "mash.trug"]).ends(1).out, "");
    farm.put(
        "store.trug",
        STORE.to_owned() + "\ningredient unused\n  dry-matter     a lot\n",
    );
    farm.run(&["plan", "mash.trug"]).ends(0);
    farm.put("store.trug", STORE.to_owned() + "\ningredint unused\n");
    assert_eq!(farm.run(&["plan", "mash.trug"]).ends(1).out, "");
}

#[test]
fn an_error_in_another_ration_stops_nothing() {
    let farm = farm();
    farm.run(&["plan", "broken.trug", "mash"]).ends(0);
    let ran = farm.run(&["plan", "broken.trug", "other"]).ends(1);
    assert!(
        ran.err.contains("moon") && ran.out.is_empty(),
        "{}",
        ran.err
    );
    let both = farm.run(&["plan", "broken.trug", "--as", "jsonl"]).ends(1);
    assert_eq!(both.out.lines().count(), 1);
    assert!(both.err.contains("other is not planned"), "{}", both.err);
}

#[test]
fn which_ration_is_meant_is_plain_or_asked() {
    let farm = farm();
    let named = |args: &[&str]| {
        document(&farm.run(args).ends(0))["ration"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(named(&["plan", "both.trug", "--as", "json"]), "mash");
    assert_eq!(
        named(&["plan", "both.trug", "grit", "--as", "json"]),
        "grit"
    );
    farm.run(&["plan", "two.trug", "--as", "json"])
        .fails("mash, other");
    farm.run(&["analyse", "two.trug", "--as", "json"])
        .fails("mash, other");
    assert_eq!(
        farm.run(&["plan", "two.trug", "--as", "jsonl"])
            .ends(0)
            .out
            .lines()
            .count(),
        2
    );
    let text = farm.run(&["plan", "two.trug"]).ends(0).out;
    assert!(
        text.contains("(mash)") && text.contains("(other)"),
        "{text}"
    );
    let table = farm.run(&["plan", "two.trug", "--as", "csv"]).ends(0).out;
    assert_eq!(table.matches("kind,ration").count(), 1);
    farm.run(&["plan", "two.trug", "mahs"]).fails("try mash");
    farm.run(&["plan", "two.trug", "gruel"])
        .fails("name one of mash, other");
    farm.run(&["plan", "store.trug"])
        .fails("there is no ration in store.trug");
    farm.run(&["plan", "gone.trug"])
        .fails("there is no file or folder gone.trug");
}

#[test]
fn a_folder_plans_every_ration_in_it() {
    let farm = farm();
    let ran = farm.run(&["plan", ".", "--as", "jsonl"]).ends(1);
    let rations: Vec<(String, String)> = ran
        .out
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .map(|plan| {
            (
                plan["file"].as_str().unwrap().to_owned(),
                plan["ration"].as_str().unwrap().to_owned(),
            )
        })
        .collect();
    let expected = [
        ("both.trug", "mash"),
        ("both.trug", "grit"),
        ("broken.trug", "mash"),
        ("mash.trug", "hen-mash"),
        ("two.trug", "mash"),
        ("two.trug", "other"),
    ];
    assert_eq!(
        rations,
        expected.map(|(file, ration)| (file.to_owned(), ration.to_owned()))
    );
    farm.run(&["plan", ".", "--as", "json"])
        .fails("this form holds one");
    let eaten = farm
        .run(&["plan", ".", "--for", "pen", "--as", "json"])
        .ends(0);
    assert_eq!(document(&eaten)["ration"], "hen-mash");
    assert_eq!(
        farm.run(&["analyse", ".", "--as", "jsonl"])
            .out
            .lines()
            .count(),
        7
    );
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
fn a_plan_is_written_whole_or_not_at_all() {
    let farm = farm();
    let printed = farm.run(&["plan", "mash.trug"]).ends(0).out;
    let ran = farm.run(&["plan", "mash.trug", "--out", "out/sheet.txt"]);
    ran.fails("out/sheet.txt could not be written");
    fs::create_dir(farm.path("out")).unwrap();
    let ran = farm
        .run(&["plan", "mash.trug", "--out", "out/sheet.txt"])
        .ends(0);
    assert_eq!((ran.out.as_str(), ran.err.as_str()), ("", ""));
    assert_eq!(farm.text("out/sheet.txt"), printed);
    assert_eq!(farm.names("out"), ["sheet.txt"]);
    farm.run(&["plan", "salty.trug", "--out", "out/sheet.txt"])
        .ends(1);
    assert_eq!(
        farm.text("out/sheet.txt"),
        printed,
        "a plan that is refused leaves the file alone"
    );
    farm.run(&["plan", "salty.trug", "--draft", "--out", "out/sheet.txt"])
        .ends(1);
    assert!(farm.text("out/sheet.txt").starts_with("DRAFT"));
    farm.run(&["plan", "mash.trug", "--out", "out"])
        .fails("out is a folder");
    assert_eq!(farm.names("out"), ["sheet.txt"]);
}

#[cfg(unix)]
#[test]
fn a_written_plan_keeps_the_files_permissions_and_links() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let farm = farm();
    farm.put("sheet.txt", "old");
    fs::set_permissions(farm.path("sheet.txt"), fs::Permissions::from_mode(0o640)).unwrap();
    symlink("sheet.txt", farm.path("link.txt")).unwrap();
    farm.run(&["plan", "mash.trug", "--out", "link.txt"])
        .ends(0);
    assert!(farm.text("sheet.txt").contains("WEIGH"));
    assert!(
        fs::symlink_metadata(farm.path("link.txt"))
            .unwrap()
            .is_symlink()
    );
    let mode = |name: &str| fs::metadata(farm.path(name)).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode("sheet.txt"), 0o640);
    farm.run(&["plan", "mash.trug", "--out", "new.txt"]).ends(0);
    fs::write(farm.path("usual.txt"), "").unwrap();
    assert_eq!(
        mode("new.txt"),
        mode("usual.txt"),
        "a new file is like any other"
    );
    crate::farm::make_pipe(&farm.path("pipe"));
    farm.run(&["plan", "mash.trug", "--out", "pipe"])
        .fails("pipe is not a plain file");
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
