//! Strange files among the texts: links out of the root, loops, pipes, devices, files without end.

use std::fs::{self, File};
use std::os::unix::fs::symlink;

use crate::farm::{Farm, Ran, make_pipe};
use crate::machine::in_time;

/// A farm in `in/`, and beside it what is no business of its texts.
fn farm() -> Farm {
    let farm = Farm::unmarked(&[
        ("in/trug.root", ""),
        ("in/store.trug", "animal hen\n"),
        ("out/secret.trug", "animal secret-hen\n"),
        (
            "out/secret.csv",
            "ingredient,price LKR/kg\nsecret-maize,1\n",
        ),
    ]);
    symlink("../out", farm.path("in/folder")).unwrap();
    symlink("../out/secret.trug", farm.path("in/secret.trug")).unwrap();
    symlink("../out/secret.csv", farm.path("in/secret.csv")).unwrap();
    symlink("/dev/zero", farm.path("in/zero.csv")).unwrap();
    symlink("/etc/passwd", farm.path("in/passwd.csv")).unwrap();
    symlink("round.trug", farm.path("in/round.trug")).unwrap();
    symlink(".", farm.path("in/here")).unwrap();
    symlink("gone.trug", farm.path("in/dangling.trug")).unwrap();
    fs::create_dir(farm.path("in/folder.trug")).unwrap();
    make_pipe(&farm.path("in/pipe.csv"));
    make_pipe(&farm.path("in/pipe.trug"));
    farm
}

fn check_use(farm: &Farm, used: &str) -> Ran {
    farm.put("in/mash.trug", format!("use \"{used}\"\n"));
    let mut command = farm.command(&["check", "--as", "lines", "in/mash.trug"]);
    in_time(&mut command)
}

#[test]
fn use_does_not_leave_the_root_by_dots_or_by_links() {
    let farm = farm();
    for used in [
        "../out/secret.trug",
        "../in/../out/secret.trug",
        "here/../../out/secret.trug",
        "folder/secret.trug",
        "here/here/folder/secret.trug",
        "secret.trug",
        "secret.csv",
        "passwd.csv",
        "zero.csv",
        "/etc/passwd",
        "/dev/zero",
        "../../../../../../../../etc/passwd",
    ] {
        let ran = check_use(&farm, used).ends(1);
        let outside =
            "in/mash.trug:1:5: error[use/outside] this file lies outside the farm's root folder\n";
        assert_eq!(
            ran.out
                .replace("mash.trug:1:5", "in/mash.trug:1:5")
                .replace("in/in/", "in/"),
            outside,
            "{used}"
        );
        assert!(!ran.out.contains("hen") && !ran.err.contains("hen"));
    }
    // Whether something outside is there makes no difference to what is said.
    let there = check_use(&farm, "../out/secret.trug").out;
    assert_eq!(check_use(&farm, "../out/gone.trug").out, there);
    farm.put(
        "in/mash.trug",
        "use \"../out/secret.trug\"\nuse \"secret.csv\"\n",
    );
    farm.run(&["check", "--allow-outside", "in/mash.trug"])
        .ends(0);
}

#[test]
fn what_is_used_and_is_no_plain_file_is_a_finding() {
    let farm = farm();
    for (used, words) in [
        (
            "pipe.csv",
            "pipe.csv cannot be read: it is not a plain file",
        ),
        (
            "pipe.trug",
            "pipe.trug cannot be read: it is not a plain file",
        ),
        ("folder.trug", "folder.trug cannot be read: it is a folder"),
        ("round.trug", "round.trug cannot be read: "),
        ("round.trug/x.trug", "round.trug/x.trug cannot be read: "),
        ("dangling.trug", "there is no file "),
        ("store.trug/x.trug", "there is no file "),
        (".", "cannot be read: it is a folder"),
    ] {
        let ran = check_use(&farm, used).ends(1);
        assert!(
            ran.out.contains("error[use/missing]") && ran.out.contains(words),
            "{used}: {}",
            ran.out
        );
        assert!(!ran.out.contains("os error"), "{used}: {}", ran.out);
    }
    for used in [
        "here/here/here/store.trug",
        "./store.trug",
        "folder.trug/../store.trug",
    ] {
        check_use(&farm, used).ends(0);
    }
}

#[test]
fn circles_of_use_and_of_folders_end() {
    let farm = farm();
    farm.put("in/a.trug", "use \"b.trug\"\n");
    farm.put("in/b.trug", "use \"here/a.trug\"\n");
    farm.put("in/c.trug", "use \"c.trug\"\n");
    let mut check = farm.command(&["check", "--as", "lines", "in/a.trug", "in/c.trug"]);
    let ran = in_time(&mut check).ends(1);
    assert!(
        ran.out.contains("c.trug:1:5: error[use/cycle]"),
        "{}",
        ran.out
    );
    // A circle through a link to its own folder has another name at every turn; the chain is followed only so far.
    assert!(ran.out.contains("error[use/deep]"), "{}", ran.out);
    let mut folder = farm.command(&["check", "in"]);
    let ran = in_time(&mut folder).ends(2);
    assert!(
        ran.err.contains("pipe.trug is not a plain file"),
        "{}",
        ran.err
    );
    let mut folder = farm.command(&["plan", "in", "--as", "jsonl"]);
    in_time(&mut folder).ends(2);
}

#[test]
fn a_file_without_end_is_refused_with_a_word_and_not_read() {
    let farm = farm();
    for name in ["in/huge.trug", "in/huge.csv"] {
        let huge = File::create(farm.path(name)).unwrap();
        huge.set_len(5 * 1024 * 1024 * 1024).unwrap();
    }
    // Less memory than the file is large is all there is.
    let limited = |words: &str| {
        let script = format!("ulimit -v 3000000; exec $TRUG {words}");
        crate::machine::script(&farm, &script)
    };
    for words in [
        "check in/huge.trug --as lines",
        "check in/uses.trug --as lines",
        "analyse in/huge.trug",
    ] {
        farm.put("in/uses.trug", "use \"huge.csv\"\n");
        let ran = limited(words).ends(1);
        let said = ran.out + &ran.err;
        assert!(
            said.contains("this file is over 10 MiB and is not read"),
            "{words}: {said}"
        );
    }
    for words in [
        "tidy in/huge.trug",
        "convert in/huge.csv",
        "balance in/store.trug --prices in/huge.csv",
    ] {
        let ran = limited(words).ends(2);
        assert!(
            ran.err.contains("larger than 10 MiB") || words.contains("prices"),
            "{words}: {}",
            ran.err
        );
    }
    for words in [
        "check - --as lines < /dev/zero",
        "tidy - < /dev/zero",
        "convert - --to trug < /dev/zero",
    ] {
        let ran = limited(words);
        assert!(ran.code == 1 || ran.code == 2, "{words}: {ran:?}");
        let said = ran.out + &ran.err;
        assert!(said.contains("10 MiB"), "{words}: {said}");
    }
}

#[test]
fn what_is_named_and_is_no_plain_file_is_refused() {
    let farm = farm();
    for command in [
        "check", "plan", "analyse", "balance", "buy", "tidy", "evenness",
    ] {
        for path in ["in/pipe.trug", "/dev/zero", "in/zero.csv"] {
            in_time(&mut farm.command(&[command, path])).fails("is not a plain file");
        }
        let ran = in_time(&mut farm.command(&[command, "in/round.trug"]));
        assert_eq!(ran.code, 2, "{ran:?}");
    }
    for path in ["in/pipe.csv", "/dev/zero", "in/zero.csv"] {
        let mut convert = farm.command(&["convert", path, "--to", "trug"]);
        in_time(&mut convert).fails("is not a plain file");
    }
    for prices in ["in/pipe.csv", "/dev/zero", "in"] {
        farm.put(
            "open.trug",
            crate::mash::of_store(&crate::mash::mash("open").replace("25 %", "20 .. 30 %")),
        );
        farm.put("store.trug", crate::mash::STORE);
        let mut balance = farm.command(&["balance", "open.trug", "--prices", prices]);
        in_time(&mut balance).fails("is not a plain file");
    }
}

/// What a list is, and how it is put there.
type List = (&'static str, fn(&Farm, &str));

#[test]
fn a_list_of_what_is_left_out_that_never_ends_holds_nothing_up() {
    let farm = Farm::new(&[("a.trug", "animal hen\n"), ("sub/b.trug", "animal duck\n")]);
    let lists: [List; 3] = [
        ("a pipe", |farm, list| make_pipe(&farm.path(list))),
        ("a device", |farm, list| {
            symlink("/dev/zero", farm.path(list)).unwrap()
        }),
        ("endless", |farm, list| {
            let huge = File::create(farm.path(list)).unwrap();
            huge.set_len(5 * 1024 * 1024 * 1024).unwrap();
        }),
    ];
    for (what, put) in lists {
        for (list, asked) in [
            (".gitignore", "."),
            (".gitignore", "sub"),
            ("sub/.gitignore", "."),
        ] {
            put(&farm, list);
            let ran = in_time(&mut farm.command(&["check", asked])).ends(2);
            let words = ".gitignore is no plain file of at most 10 MiB";
            assert!(ran.err.contains(words), "{what}: {}", ran.err);
            fs::remove_file(farm.path(list)).unwrap();
        }
    }
    farm.run(&["check"]).ends(0);
    fs::create_dir(farm.path(".gitignore")).unwrap();
    farm.run(&["check"]).ends(0);
}
