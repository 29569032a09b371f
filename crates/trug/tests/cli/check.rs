//! `trug check`: exit codes, forms, and what is read from where.

use std::process::Stdio;

use serde_json::Value;

use crate::farm::{Farm, ran};

/// Nothing can be said of it.
const STORE: &str = "ingredient broken-rice \"Broken rice\"\n  dry-matter     87.5 %\n";

/// Nobody is named who eats it, which is a warning and no error.
const FOR_NOBODY: &str =
    "use \"store.trug\"\n\nration mash\n  batch          10 kg\n  broken-rice    100 %\n";

/// It names what is not there.
const BROKEN: &str = "ration mash\n  batch          10 kg\n  moon-dust      100 %\n";

#[test]
fn a_clean_text_ends_with_nothing_to_say() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    for form in ["human", "json", "sarif", "lines"] {
        let ran = farm.run(&["check", "--as", form, "--deny", "note"]).ends(0);
        assert_eq!(ran.err, "");
    }
    assert_eq!(farm.run(&["check", "--as", "lines"]).out, "");
}

#[test]
fn an_error_is_a_result_in_every_form() {
    let farm = Farm::new(&[("rations/mash.trug", BROKEN)]);
    let ran = farm.run(&["check"]).ends(1);
    assert!(
        ran.out.contains("name/unknown") && ran.out.contains("rations/mash.trug:3:3"),
        "{}",
        ran.out
    );
    assert_eq!(ran.err, "");
    let lines = farm.run(&["check", "--as", "lines"]).ends(1).out;
    assert!(
        lines.starts_with("rations/mash.trug:3:3: error[name/unknown] "),
        "{lines}"
    );
    let json: Value =
        serde_json::from_str(&farm.run(&["check", "--as", "json"]).ends(1).out).unwrap();
    assert_eq!(json["format"], "trug.findings/1");
    assert_eq!(json["counts"]["error"], 1);
    assert_eq!(json["findings"][0]["file"], "rations/mash.trug");
    assert_eq!(json["today"], crate::farm::TODAY);
    let sarif: Value =
        serde_json::from_str(&farm.run(&["check", "--as", "sarif"]).ends(1).out).unwrap();
    assert_eq!(sarif["version"], "2.1.0");
    assert_eq!(sarif["runs"][0]["results"][0]["ruleId"], "name/unknown");
}

#[test]
fn the_denied_severity_decides_the_exit() {
    let farm = Farm::new(&[("store.trug", STORE), ("mash.trug", FOR_NOBODY)]);
    let lines = farm.run(&["check", "--as", "lines"]).ends(0).out;
    assert!(lines.contains("warning[harm/unjudged]"), "{lines}");
    farm.run(&["check", "--deny", "error"]).ends(0);
    farm.run(&["check", "--deny", "warning"]).ends(1);
    farm.run(&["check", "--deny", "note"]).ends(1);
    farm.run(&["check", "--deny", "all"]).fails("all");
}

#[test]
fn a_text_that_is_not_text_is_a_finding() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    farm.put("latin.trug", b"ingredient ma\xefs\n");
    farm.put("nul.trug", "ration a\n\0");
    farm.put("large.trug", vec![b'\n'; 10 * 1024 * 1024 + 1]);
    let ran = farm.run(&["check", "--as", "lines"]).ends(1);
    let of = |name: &str| {
        ran.out
            .lines()
            .filter(|line| line.starts_with(name))
            .collect::<Vec<_>>()
    };
    for name in ["latin.trug:", "nul.trug:"] {
        assert_eq!(of(name).len(), 1, "{}", ran.out);
        assert!(of(name)[0].contains("error[syntax/text]"), "{}", ran.out);
    }
    assert_eq!(of("large.trug:").len(), 1, "{}", ran.out);
}

#[test]
fn standard_input_is_a_text_called_dash() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    let lines = farm
        .run_with(&["check", "-", "--as", "lines"], BROKEN.as_bytes())
        .ends(1)
        .out;
    assert!(lines.starts_with("-:3:3: error[name/unknown]"), "{lines}");
    farm.run_with(&["check", "-"], FOR_NOBODY.as_bytes())
        .ends(0);
    let ran = farm
        .run_with(&["check", "-", "--as", "lines"], b"ration \xff\n")
        .ends(1);
    assert!(ran.out.contains("syntax/text"), "{}", ran.out);
}

#[test]
fn a_text_outside_the_root_is_not_read_unless_allowed() {
    let farm = Farm::unmarked(&[
        ("coop/store.trug", STORE),
        ("river/trug.root", ""),
        (
            "river/mash.trug",
            &FOR_NOBODY.replace("store.trug", "../coop/store.trug"),
        ),
    ]);
    let lines = farm.run(&["check", "river", "--as", "lines"]).ends(1).out;
    assert!(
        lines.starts_with("mash.trug:1:5: error[use/outside]"),
        "{lines}"
    );
    farm.run(&["check", "river", "--allow-outside"]).ends(0);
    farm.run(&["check", "river", "--root", "."]).ends(0);
    let missing = FOR_NOBODY.replace("store.trug", "../coop/gone.trug");
    farm.put("river/mash.trug", missing);
    let lines = farm.run(&["check", "river", "--as", "lines"]).ends(1).out;
    assert!(
        lines.contains("use/outside") && !lines.contains("use/missing"),
        "{lines}"
    );
}

#[test]
fn gitignore_is_honoured_and_a_named_text_is_read() {
    let farm = Farm::new(&[
        (".gitignore", "old/\n"),
        ("old/mash.trug", BROKEN),
        ("store.trug", STORE),
    ]);
    farm.run(&["check"]).ends(0);
    farm.run(&["check", "old/mash.trug"]).ends(1);
}

#[test]
fn a_folder_that_is_named_is_read_though_ignored() {
    let farm = Farm::new(&[(".gitignore", "old/\n"), ("old/mash.trug", BROKEN)]);
    farm.run(&["check", "old"]).ends(1);
    farm.run(&["check"]).fails("there is no .trug text");
}

#[test]
fn a_circle_of_texts_ends() {
    let farm = Farm::new(&[
        ("a.trug", "use \"b.trug\"\n"),
        ("b.trug", "use \"a.trug\"\n"),
    ]);
    let lines = farm.run(&["check", "a.trug", "--as", "lines"]).ends(1).out;
    assert!(lines.contains("error[use/cycle]"), "{lines}");
}

#[test]
fn findings_stand_in_the_order_of_names_whatever_was_named_first() {
    let farm = Farm::new(&[("a.trug", BROKEN), ("b/a.trug", BROKEN), ("c.trug", BROKEN)]);
    let all = farm.run(&["check", "--as", "lines"]).ends(1).out;
    assert_eq!(
        farm.run(&["check", "c.trug", "b", "a.trug", "c.trug", "--as", "lines"])
            .out,
        all
    );
    assert_eq!(all.lines().count(), 3);
}

#[test]
fn where_there_is_nothing_to_check_the_work_is_not_done() {
    let farm = Farm::new(&[("empty/notes.txt", "")]);
    farm.run(&["check"]).fails("there is no .trug text in .");
    farm.run(&["check", "gone"])
        .fails("there is no file or folder gone");
}

#[test]
fn a_reader_that_has_gone_away_changes_no_exit_code() {
    let farm = Farm::new(&[("mash.trug", BROKEN)]);
    let mut child = farm
        .command(&["check"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stderr.is_empty());
}

#[test]
fn any_number_of_threads_says_the_same() {
    let farm = Farm::new(&[("store.trug", STORE)]);
    for number in 0..60 {
        let text = if number % 3 == 0 { BROKEN } else { FOR_NOBODY };
        farm.put(
            &format!("f{number}/mash.trug"),
            text.replace("store.trug", "../store.trug"),
        );
    }
    for form in ["human", "json", "sarif", "lines"] {
        let with = |threads: &str| {
            ran(farm
                .command(&["check", "--as", form])
                .env("TRUG_THREADS", threads))
            .ends(1)
            .out
        };
        let alone = with("1");
        assert!(alone.contains("f57/mash.trug"));
        assert_eq!(with("2"), alone);
        assert_eq!(with("8"), alone);
        assert_eq!(
            farm.run(&["check", "--threads", "3", "--as", form]).out,
            alone
        );
    }
}

#[test]
fn colour_width_and_alphabet_are_obeyed() {
    let farm = Farm::new(&[("mash.trug", BROKEN)]);
    let with = |name: &str, value: &str| ran(farm.command(&["check"]).env(name, value)).ends(1).out;
    let plain = farm.run(&["check"]).out;
    assert!(!plain.contains('\u{1b}'));
    assert!(with("CLICOLOR_FORCE", "1").contains('\u{1b}'));
    assert_eq!(with("NO_COLOR", "1"), plain);
    assert!(!plain.is_ascii());
    assert!(with("LC_ALL", "C").is_ascii());
    assert!(farm.run(&["check", "--ascii"]).ends(1).out.is_ascii());
    assert_eq!(with("LC_ALL", "C.UTF-8"), plain);
    let width = |out: &str| out.lines().map(|line| line.chars().count()).max().unwrap();
    assert!(width(&plain) <= 80);
    assert!(width(&with("COLUMNS", "44")) <= 44);
}

#[cfg(unix)]
mod on_unix {
    use std::os::unix::fs::symlink;

    use super::*;
    use crate::farm::make_pipe;

    #[test]
    fn a_link_out_of_the_root_is_not_followed_unless_allowed() {
        let farm = Farm::unmarked(&[
            ("coop/store.trug", STORE),
            ("river/trug.root", ""),
            ("river/mash.trug", FOR_NOBODY),
        ]);
        symlink("../coop/store.trug", farm.path("river/store.trug")).unwrap();
        let lines = farm.run(&["check", "river", "--as", "lines"]).ends(1).out;
        assert!(
            lines.starts_with("mash.trug:1:5: error[use/outside]"),
            "{lines}"
        );
        farm.run(&["check", "river", "--allow-outside"]).ends(0);
        symlink("../coop", farm.path("river/shared")).unwrap();
        farm.put(
            "river/mash.trug",
            FOR_NOBODY.replace("store.trug", "shared/store.trug"),
        );
        let lines = farm.run(&["check", "river", "--as", "lines"]).ends(1).out;
        assert!(lines.contains("use/outside"), "{lines}");
    }

    #[test]
    fn a_link_inside_the_root_is_followed_where_it_is_used() {
        let farm = Farm::new(&[("real/store.trug", STORE), ("mash.trug", FOR_NOBODY)]);
        symlink("real/store.trug", farm.path("store.trug")).unwrap();
        farm.run(&["check"]).ends(0);
    }

    #[test]
    fn a_pipe_is_never_waited_for() {
        let farm = Farm::new(&[("mash.trug", FOR_NOBODY)]);
        make_pipe(&farm.path("store.trug"));
        let ran = farm.run(&["check", "mash.trug", "--as", "lines"]).ends(1);
        assert!(
            ran.out.starts_with("mash.trug:1:5: error[use/"),
            "{}",
            ran.out
        );
        farm.run(&["check", "store.trug"])
            .fails("store.trug is not a plain file");
        assert!(
            farm.run(&["check"])
                .ends(2)
                .err
                .contains("store.trug is not a plain file")
        );
    }
}
