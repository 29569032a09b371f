//! `trug plan`: which rations are meant, and what refuses a plan.

use serde_json::Value;

use crate::mash::{STORE, document, farm, mash, of_store};

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
