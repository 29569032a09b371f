//! Odd surroundings: clocks, zones, locales, names and variables that are no text, a folder that is gone.

use std::ffi::{OsStr, OsString};
use std::os::unix::ffi::{OsStrExt, OsStringExt};
use std::path::Path;

use crate::farm::{Farm, Ran, make_pipe, ran};
use crate::machine::{in_time, passed_over, script};
use crate::mash::{farm, mash, of_store};

/// Bytes that no text has.
fn no_text(before: &str) -> OsString {
    OsString::from_vec([before.as_bytes(), b"\xff\xfe"].concat())
}

fn day_of(ran: Ran) -> String {
    let plan: serde_json::Value = serde_json::from_str(&ran.ends(0).out).unwrap();
    plan["today"].as_str().unwrap().to_owned()
}

/// A clock that is wrong is set by a library that stands between the tool and the system, where there is one.
#[test]
fn whatever_the_clock_says_there_is_a_day() {
    let library = ["x86_64-linux-gnu", "aarch64-linux-gnu"]
        .map(|machine| format!("/usr/lib/{machine}/faketime/libfaketime.so.1"))
        .into_iter()
        .find(|library| Path::new(library).exists());
    let Some(library) = library else {
        passed_over("no library to set a clock (Debian has it as faketime)");
        return;
    };
    let farm = farm();
    for (clock, day) in [
        ("1970-01-01 00:00:00", "1970-01-01"),
        ("1969-12-31 12:00:00", "1969-12-31"),
        ("2038-01-19 03:14:08", "2038-01-19"),
        ("2106-02-07 06:28:16", "2106-02-07"),
        ("9999-12-29 12:00:00", "9999-12-29"),
        // The last that can be written; what is later stands there.
        ("9999-12-31 23:59:59", "9999-12-30"),
    ] {
        let mut plan = farm.command(&["plan", "mash.trug", "--as", "json"]);
        plan.env_remove("TRUG_TODAY").env("TZ", "UTC");
        plan.env("LD_PRELOAD", &library).env("FAKETIME", clock);
        assert_eq!(day_of(ran(&mut plan)), day);
        for words in [&["check", "mash.trug"], &["buy", "mash.trug"]] {
            let mut command = farm.command(words);
            command.env_remove("TRUG_TODAY").env("TZ", "UTC");
            command.env("LD_PRELOAD", &library).env("FAKETIME", clock);
            ran(&mut command).ends(0);
        }
    }
}

#[test]
fn any_day_that_can_be_written_can_be_said() {
    let farm = farm();
    for day in ["0000-01-01", "0001-01-01", "1970-01-01", "9999-12-31"] {
        let plan = farm.run(&["plan", "mash.trug", "--as", "json", "--today", day]);
        assert_eq!(day_of(plan), day);
        farm.run(&["check", "--today", day, "mash.trug"]).ends(0);
        farm.run(&["buy", "--today", day, "mash.trug"]).ends(0);
    }
    for day in ["-009999-01-01", "10000-01-01", "1970-00-01"] {
        farm.run(&["check", &format!("--today={day}"), "mash.trug"])
            .fails("write an existing day as 2026-11-25");
    }
}

#[test]
fn a_zone_that_is_none_holds_nothing_up() {
    let farm = farm();
    make_pipe(&farm.path("pipe"));
    let pipe = farm.path("pipe").into_os_string();
    for zone in [
        "",
        "Nowhere/Town",
        ":",
        "/dev/zero",
        ":/dev/zero",
        "pipe",
        "../../../../dev/zero",
    ] {
        let mut command = farm.command(&["plan", "mash.trug", "--as", "json"]);
        command.env_remove("TRUG_TODAY").env("TZ", zone);
        in_time(&mut command).ends(0);
    }
    let mut command = farm.command(&["plan", "mash.trug", "--as", "json"]);
    in_time(command.env_remove("TRUG_TODAY").env("TZ", pipe)).ends(0);
}

#[test]
fn variables_that_are_no_text_are_named_where_they_matter() {
    let farm = farm();
    let usual = farm.run(&["check", "salty.trug"]).ends(1);
    for variable in [
        "LANG",
        "LC_ALL",
        "LC_CTYPE",
        "TERM",
        "COLUMNS",
        "NO_COLOR",
        "HOME",
        "CLICOLOR",
        "XDG_CONFIG_HOME",
    ] {
        let mut command = farm.command(&["check", "salty.trug"]);
        let ran = ran(command.env(variable, no_text("x"))).ends(1);
        assert_eq!(ran.out, usual.out, "{variable}");
    }
    for variable in ["TRUG_TODAY", "TRUG_THREADS"] {
        let mut command = farm.command(&["check", "mash.trug"]);
        let words = format!("the environment has {variable}=x\u{fffd}");
        ran(command.env(variable, no_text("x"))).fails(&words);
    }
    let mut bare = farm.command(&["check", "mash.trug"]);
    ran(bare.env_clear()).ends(0);
}

#[test]
fn a_locale_that_is_not_utf_8_gets_ascii_drawn_around_its_own_letters() {
    let farm = Farm::new(&[(
        "mash.trug",
        &of_store(&mash("mash").replace("25 %", "26 and %")),
    )]);
    farm.put("store.trug", crate::mash::STORE);
    let in_locale = |locale: &str, words: &[&str]| {
        let mut command = farm.command(words);
        ran(command.env("LC_ALL", locale))
    };
    for locale in ["C", "POSIX", "en_US.ISO-8859-1", "si_LK"] {
        for words in [
            &["check", "mash.trug"][..],
            &["check", "mash.trug", "--as", "lines"],
            &["tidy", "--check"],
            &["schema", "nothing"],
        ] {
            let ran = in_locale(locale, words);
            assert!(
                ran.out.is_ascii() && ran.err.is_ascii(),
                "{locale} {words:?}: {ran:?}"
            );
        }
    }
    for locale in ["C.UTF-8", "si_LK.utf8"] {
        let ran = in_locale(locale, &["check", "mash.trug"]);
        assert!(!ran.out.is_ascii(), "{locale}: {}", ran.out);
    }
    // What a program reads is UTF-8 wherever it is read.
    let json = |locale| in_locale(locale, &["check", "mash.trug", "--as", "json"]).out;
    assert_eq!(json("C"), json("C.UTF-8"));
}

#[test]
fn names_that_are_no_text_are_written_to_and_refused_as_texts() {
    let farm = farm();
    let sheet = no_text("sheet");
    let args = ["plan", "mash.trug", "--out"].map(OsStr::new);
    farm.run(&[&args[..], &[&sheet]].concat()).ends(0);
    let written = std::fs::read(farm.path("").join(&sheet)).unwrap();
    assert!(String::from_utf8(written).unwrap().contains("TOTALS"));
    let text = no_text("text");
    let text = OsStr::from_bytes(&[text.as_bytes(), b".trug"].concat()).to_owned();
    std::fs::write(farm.path("").join(&text), "animal hen\n").unwrap();
    for command in ["check", "plan", "analyse", "balance", "tidy", "evenness"] {
        let ran = farm.run(&[OsStr::new(command), &text]);
        ran.fails("is not UTF-8");
    }
    for option in ["--root", "--as", "--today", "--in", "--nothing"] {
        let ran = farm.run(&[
            OsStr::new("plan"),
            OsStr::new("mash.trug"),
            OsStr::new(option),
            &no_text("x"),
        ]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{option}: {ran:?}");
        assert!(!ran.err.contains("panicked"), "{option}: {}", ran.err);
    }
}

#[test]
fn a_folder_that_went_while_the_tool_stood_in_it_is_said() {
    let farm = farm();
    for words in [
        "check",
        "tidy",
        "plan .",
        "plan mash.trug",
        "compare main .",
        "start new",
        "start .",
    ] {
        let run = format!("mkdir gone; cd gone; rmdir ../gone; exec $TRUG {words}");
        let ran = script(&farm, &run);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{words}: {ran:?}");
        assert!(
            ran.err.contains("not there") || ran.err.contains("there is no file or folder"),
            "{words}: {ran:?}"
        );
    }
    let whole = farm.path("mash.trug");
    let run = format!(
        "mkdir gone; cd gone; rmdir ../gone; exec $TRUG check {}",
        whole.display()
    );
    script(&farm, &run).ends(0);
}
