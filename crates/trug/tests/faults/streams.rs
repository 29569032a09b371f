//! Streams that are full, shut or gone, and a system that gives no more of what it has.

use std::fs::OpenOptions;
use std::process::Stdio;

use crate::farm::{Farm, ran};
use crate::machine::{is_root, left_over, passed_over, script};
use crate::mash::{self, mash, of_store};

/// Every command that prints, on a farm that gives it something to print.
const PRINT: [&[&str]; 15] = [
    &["check", "salty.trug"],
    &["check", "mash.trug", "--as", "json"],
    &["plan", "mash.trug"],
    &["analyse", "mash.trug", "--as", "html"],
    &["balance", "open.trug", "--as", "json"],
    &["compare", "mash.trug", "salty.trug"],
    &["buy", "mash.trug"],
    &["convert", "mash.trug", "--to", "csv"],
    &["tidy", "--check", "store.trug"],
    &["why", "--list"],
    &["book", "poultry"],
    &["schema", "plan"],
    &["completions", "bash"],
    &["--help"],
    &["--version"],
];

fn farm() -> Farm {
    let farm = mash::farm();
    let open = mash("open").replace("25 %", "20 .. 30 %");
    farm.put("open.trug", of_store(&open));
    farm
}

#[test]
fn a_full_standard_output_is_said_and_ends_with_2() {
    let farm = farm();
    for args in PRINT {
        let full = OpenOptions::new().write(true).open("/dev/full").unwrap();
        let ran = ran(farm.command(args).stdout(full));
        let words = "standard output could not be written: the disk is full";
        assert!(
            ran.code == 2 && ran.err.contains(words),
            "{args:?}: {ran:?}"
        );
    }
}

#[test]
fn a_reader_that_is_gone_changes_nothing_of_how_it_ends() {
    let farm = farm();
    for args in PRINT {
        let usual = farm.run(args).code;
        let (from, to) = std::io::pipe().unwrap();
        drop(from);
        let ran = ran(farm.command(args).stdout(to)).ends(usual);
        assert!(!ran.err.contains("panicked"), "{args:?}: {}", ran.err);
    }
    let ran = script(&farm, "$TRUG why --list | head -1").ends(0);
    assert_eq!((ran.out.lines().count(), ran.err.as_str()), (1, ""));
}

#[test]
fn nobody_to_tell_changes_nothing_of_how_it_ends() {
    let farm = farm();
    for (args, code) in [
        (&["plan", "gone.trug"][..], 2),
        (&["plan", "salty.trug"], 1),
        (&["plan", "mash.trug", "salty"], 2),
        (&["plan", "--as", "nothing"], 2),
        (&["tidy"], 0),
    ] {
        let full = OpenOptions::new().write(true).open("/dev/full").unwrap();
        ran(farm.command(args).stderr(full)).ends(code);
    }
}

/// The next file that is opened must not become standard output.
#[test]
fn with_all_streams_shut_a_plan_is_written_as_ever() {
    let farm = farm();
    let printed = farm.run(&["plan", "mash.trug"]).ends(0).out;
    script(
        &farm,
        "exec $TRUG plan mash.trug --out sheet.txt <&- >&- 2>&-",
    )
    .ends(0);
    assert_eq!(farm.text("sheet.txt"), printed);
    script(
        &farm,
        "exec $TRUG plan salty.trug --out sheet.txt <&- >&- 2>&-",
    )
    .ends(1);
    assert_eq!(farm.text("sheet.txt"), printed);
    script(&farm, "exec $TRUG check - <&-").ends(0);
    script(&farm, "exec $TRUG why --list >&-").ends(0);
}

#[test]
fn without_handles_for_files_it_says_so_or_does_its_work() {
    let farm = farm();
    farm.put("a/b/c/d/e/f/g/h/i/j/k/l/deep.trug", "animal hen\n");
    let usual = farm.run(&["check"]);
    for handles in 4..16 {
        let limited =
            |words: &str| script(&farm, &format!("ulimit -n {handles}; exec $TRUG {words}"));
        let check = limited("check");
        if check.code == 2 {
            assert!(check.err.contains("oo many open files"), "{check:?}");
        } else {
            assert_eq!((check.code, check.out), (usual.code, usual.out.clone()));
        }
        let plan = limited("plan mash.trug --out sheet.txt");
        match plan.code {
            0 => assert!(farm.text("sheet.txt").contains("TOTALS of one batch")),
            2 => assert!(plan.err.contains("oo many open files"), "{plan:?}"),
            _ => panic!("{plan:?}"),
        }
        assert_eq!(left_over(&farm, ""), [""; 0]);
        let compare = limited("compare mash.trug salty.trug");
        assert!(!compare.err.contains("panicked"), "{compare:?}");
    }
}

/// A user who may have no further process or thread gets the same words.
#[test]
fn without_threads_it_says_so_or_does_its_work() {
    if !is_root() {
        passed_over(
            "another user is needed who has no process yet, and only the system's keeper can be one",
        );
        return;
    }
    let farm = farm();
    let text = "animal hen\n";
    let alone = |words: &[&str]| {
        let mut command = std::process::Command::new("setpriv");
        let user = ["--reuid", "54321", "--regid", "54321", "--clear-groups"];
        command
            .args(user)
            .args(["prlimit", "--nproc=1", crate::farm::TRUG]);
        command.args(words).current_dir("/").stdin(Stdio::null());
        command.env("TRUG_TODAY", crate::farm::TODAY);
        command
    };
    if ran(&mut alone(&["--version"])).code != 0 {
        passed_over("another user does not reach the folder of the build");
        return;
    }
    drop(farm);
    let with_text = |words: &[&str]| {
        let farm = crate::farm::Farm::unmarked(&[]);
        std::fs::write(farm.path("in.trug"), text).unwrap();
        let input = std::fs::File::open(farm.path("in.trug")).unwrap();
        ran(alone(words).stdin(input))
    };
    with_text(&["check", "-"]).ends(0);
    with_text(&["check", "-", "--threads", "4"]).fails("4 threads could not be started");
    let ran = with_text(&["lsp"]);
    ran.fails("the language server could not be started: Resource temporarily unavailable");
}
