//! Usage, help, completions and the manual page; streams and exit codes of all of them.

use std::process::Stdio;

use crate::farm::{Farm, command, ran};

const COMMANDS: [&str; 15] = [
    "start",
    "check",
    "plan",
    "analyse",
    "balance",
    "buy",
    "compare",
    "convert",
    "evenness",
    "tidy",
    "trace",
    "why",
    "schema",
    "completions",
    "man",
];

#[test]
fn help_is_a_result_and_a_refusal_is_not() {
    let farm = Farm::new(&[]);
    let help = farm.run(&["--help"]).ends(0);
    assert!(help.err.is_empty());
    for name in COMMANDS {
        assert!(
            help.out.contains(&format!("\n  {name} ")),
            "{name} is not in the help"
        );
        assert!(
            farm.run(&[name, "--help"])
                .ends(0)
                .out
                .contains("Usage: trug ")
        );
    }
    farm.run::<&str>(&[]).fails("Usage");
    farm.run(&["mix"]).fails("mix");
    farm.run(&["check", "--fast"]).fails("--fast");
    farm.run(&["check", "--as", "html"]).fails("html");
    farm.run(&["plan", "a.trug", "--as", "gif"]).fails("gif");
    farm.run(&["plan", "a.trug", "--for", "pond-house", "--days", "0"])
        .fails("0");
    farm.run(&["plan"]).fails("PATH");
    farm.run(&["why"]).fails("CODE");
}

#[test]
fn the_version_is_told() {
    let version = Farm::new(&[]).run(&["--version"]).ends(0);
    assert_eq!(version.out, format!("trug {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn every_shell_has_completions() {
    let farm = Farm::new(&[]);
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = farm.run(&["completions", shell]).ends(0);
        for name in COMMANDS {
            assert!(
                script.out.contains(name),
                "{shell} does not complete {name}"
            );
        }
        assert!(script.out.contains("allow-outside"));
    }
    farm.run(&["completions", "abacus"]).fails("abacus");
}

#[test]
fn the_manual_names_every_command_and_flag() {
    let page = Farm::new(&[]).run(&["man"]).ends(0).out;
    assert!(page.contains(".TH trug 1"));
    for name in COMMANDS {
        assert!(
            page.contains(&format!(".SH \"TRUG {}\"", name.to_uppercase())),
            "{name} has no section"
        );
    }
    for flag in [
        "deny", "as", "batch", "for", "days", "draft", "out", "check", "list", "like", "root",
        "today", "threads",
    ] {
        assert!(
            page.contains(&format!("\\-\\-{flag}\\fR")),
            "--{flag} is not in the manual"
        );
    }
}

#[test]
fn a_reader_that_has_gone_away_is_not_an_error() {
    let farm = Farm::new(&[]);
    for args in [&["man"][..], &["completions", "zsh"], &["--help"]] {
        let mut child = farm
            .command(args)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{args:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_an_error() {
    let farm = Farm::new(&[]);
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let ran = ran(farm.command(&["man"]).stdout(full));
    ran.fails("standard output could not be written");
}

#[test]
fn the_day_and_the_threads_are_looked_at_before_work_begins() {
    let farm = Farm::new(&[("a.trug", "")]);
    for day in [
        "2026-11-31",
        "26-11-01",
        "tomorrow",
        "2026-11-25T00:00",
        "20261125",
        "",
    ] {
        farm.run(&["tidy", "--today", day]).fails("2026-11-25");
    }
    ran(farm.command(&["tidy"]).env("TRUG_TODAY", "noon")).fails("TRUG_TODAY=noon");
    ran(farm.command(&["tidy"]).env("TRUG_TODAY", "")).ends(0);
    ran(farm
        .command(&["tidy", "--today", "2026-01-01"])
        .env("TRUG_TODAY", "noon"))
    .ends(0);
    farm.run(&["tidy", "--threads", "0"]).fails("1 to 256");
    ran(farm.command(&["tidy"]).env("TRUG_THREADS", "many")).fails("TRUG_THREADS=many");
    for threads in ["1", "2", "8"] {
        ran(farm.command(&["tidy"]).env("TRUG_THREADS", threads)).ends(0);
    }
}

#[test]
fn the_folder_the_tool_is_started_in_may_be_anywhere() {
    let farm = Farm::new(&[("store/deep/a.trug", "")]);
    ran(&mut command(&farm.path("store/deep"), &["tidy", "--check"])).ends(0);
}
