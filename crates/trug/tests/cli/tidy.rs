//! `trug tidy`: what is written, what is left alone, and which texts are found.

use std::fs;

use crate::farm::{Farm, command, ran};

/// Out of column, with a comment and a letter of another script.
const UNTIDY: &str = "ration river-layer \"River layer mash\"\n    for laying-duck # ducks\n  broken-rice 46 %   \n  rice-bran rest\n";

fn tidied() -> String {
    let text = Farm::new(&[])
        .run_with(&["tidy", "-"], UNTIDY.as_bytes())
        .ends(0)
        .out;
    assert_ne!(text, UNTIDY);
    text
}

#[test]
fn a_text_is_tidied_once_and_keeps_what_it_says() {
    let farm = Farm::new(&[("rations/river.trug", UNTIDY)]);
    let ran = farm.run(&["tidy"]).ends(0);
    assert_eq!(ran.out, "");
    let text = farm.text("rations/river.trug");
    assert_eq!(text, tidied());
    assert!(text.contains("# ducks"));
    assert_eq!(
        farm.names("rations"),
        ["river.trug"],
        "nothing is left beside it"
    );
    let modified = || {
        fs::metadata(farm.path("rations/river.trug"))
            .unwrap()
            .modified()
            .unwrap()
    };
    let before = modified();
    assert_eq!(farm.run(&["tidy"]).ends(0).err, "");
    assert_eq!(modified(), before, "a tidy text is not written");
}

#[test]
fn check_lists_and_changes_nothing() {
    let farm = Farm::new(&[
        ("b/river.trug", UNTIDY),
        ("a.trug", UNTIDY),
        ("c.trug", &tidied()),
    ]);
    let ran = farm.run(&["tidy", "--check"]).ends(1);
    assert_eq!(ran.out, "a.trug\nb/river.trug\n");
    assert_eq!(farm.text("a.trug"), UNTIDY);
    farm.run(&["tidy", "--check", "c.trug"]).ends(0);
}

#[test]
fn standard_input_goes_to_standard_output() {
    let farm = Farm::new(&[]);
    let text = tidied();
    assert_eq!(
        farm.run_with(&["tidy", "-"], text.as_bytes()).ends(0).out,
        text
    );
    assert_eq!(
        farm.run_with(&["tidy", "--check", "-"], UNTIDY.as_bytes())
            .ends(1)
            .out,
        "-\n"
    );
    assert_eq!(
        farm.run_with(&["tidy", "--check", "-"], text.as_bytes())
            .ends(0)
            .out,
        ""
    );
    assert_eq!(farm.run_with(&["tidy", "-"], b"").ends(0).out, "");
    farm.put("a.trug", "");
    farm.run_with(&["tidy", "-", "a.trug"], b"").fails("alone");
    farm.run_with(&["tidy", "-"], b"ration a\xff")
        .fails("not UTF-8");
    farm.run_with(&["tidy", "-"], &vec![b'\n'; 10 * 1024 * 1024 + 1])
        .fails("10 MiB");
}

#[test]
fn what_is_not_text_is_left_untouched() {
    let farm = Farm::new(&[("a.trug", UNTIDY)]);
    let latin = b"ingredient ma\xefs\n    protein 8 %\n";
    farm.put("latin.trug", latin);
    farm.put("nul.trug", "ration a\n\0");
    let ran = farm.run(&["tidy"]).ends(2);
    assert!(
        ran.err
            .contains("latin.trug is not UTF-8 text from byte 14 on"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("nul.trug"));
    assert_eq!(fs::read(farm.path("latin.trug")).unwrap(), latin);
    assert_eq!(farm.text("nul.trug"), "ration a\n\0");
    assert_eq!(
        farm.text("a.trug"),
        tidied(),
        "the others are tidied all the same"
    );
}

#[test]
fn byte_order_mark_and_line_ends_are_kept() {
    let farm = Farm::new(&[]);
    let windows = format!("\u{feff}{}", UNTIDY.replace('\n', "\r\n"));
    farm.put("a.trug", &windows);
    farm.run(&["tidy"]).ends(0);
    assert_eq!(
        farm.text("a.trug"),
        format!("\u{feff}{}", tidied().replace('\n', "\r\n"))
    );
}

#[test]
fn gitignore_and_hidden_files_are_honoured_and_names_win() {
    let farm = Farm::new(&[
        (".gitignore", "/old/\n*.draft.trug\n"),
        ("old/a.trug", UNTIDY),
        ("a.draft.trug", UNTIDY),
        (".hidden/a.trug", UNTIDY),
        (".a.trug", UNTIDY),
        ("deep/.gitignore", "!kept.draft.trug\n"),
        ("deep/kept.draft.trug", UNTIDY),
        ("deep/notes.txt", UNTIDY),
    ]);
    assert_eq!(
        farm.run(&["tidy", "--check"]).ends(1).out,
        "deep/kept.draft.trug\n"
    );
    assert_eq!(
        farm.run(&["tidy", "--check", "a.draft.trug"]).ends(1).out,
        "a.draft.trug\n"
    );
    assert_eq!(
        farm.run(&["tidy", "--check", ".a.trug"]).ends(1).out,
        ".a.trug\n"
    );
    assert_eq!(
        farm.run(&["tidy", "--check", "deep/notes.txt"]).ends(1).out,
        "deep/notes.txt\n"
    );
}

#[test]
fn what_is_not_there_ends_the_run() {
    let farm = Farm::new(&[("a.trug", UNTIDY), ("empty/notes.txt", "")]);
    farm.run(&["tidy", "a.trug", "gone.trug"])
        .fails("there is no file or folder gone.trug");
    assert_eq!(farm.text("a.trug"), UNTIDY, "nothing is done by halves");
    farm.run(&["tidy", "empty"])
        .fails("there is no .trug text in empty");
    farm.run(&["tidy", "a.trug/b.trug"]).fails("a.trug/b.trug");
    farm.run(&["tidy", "--root", "gone"])
        .fails("the root gone is not there");
    farm.run(&["tidy", "--root", "a.trug"])
        .fails("the root a.trug is not a folder");
}

#[test]
fn names_are_relative_to_the_root() {
    let farm = Farm::unmarked(&[("river/rations/a.trug", UNTIDY), ("hill/b.trug", UNTIDY)]);
    let listed =
        |folder: &str, args: &[&str]| ran(&mut command(&farm.path(folder), args)).ends(1).out;
    assert_eq!(
        listed("", &["tidy", "--check", "river/rations"]),
        "a.trug\n"
    );
    assert_eq!(
        listed("", &["tidy", "--check", "river/rations/a.trug"]),
        "a.trug\n"
    );
    assert_eq!(
        listed("", &["tidy", "--check"]),
        "hill/b.trug\nriver/rations/a.trug\n"
    );
    assert_eq!(
        listed("river", &["tidy", "--check", ".", "../hill"]),
        "hill/b.trug\nriver/rations/a.trug\n"
    );
    assert_eq!(
        listed("", &["tidy", "--check", "--root", ".", "river"]),
        "river/rations/a.trug\n"
    );
    farm.put("river/trug.root", "");
    assert_eq!(
        listed("river/rations", &["tidy", "--check"]),
        "rations/a.trug\n"
    );
    assert_eq!(
        listed("hill", &["tidy", "--check", "../river/rations/a.trug"]),
        "rations/a.trug\n"
    );
    fs::create_dir(farm.path(".git")).unwrap();
    assert_eq!(listed("hill", &["tidy", "--check"]), "hill/b.trug\n");
    let outside = ["tidy", "--check", "--root", "river", "hill"];
    farm.run(&outside).fails("outside the root");
    let allowed = [
        "tidy",
        "--check",
        "--root",
        "river",
        "hill",
        "--allow-outside",
    ];
    assert_eq!(farm.run(&allowed).ends(1).out, "../hill/b.trug\n");
}

#[cfg(unix)]
mod on_unix {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    use std::os::unix::fs::{PermissionsExt, symlink};

    use super::*;
    use crate::farm::make_pipe;

    #[test]
    fn permissions_and_links_are_kept() {
        let farm = Farm::new(&[("real/a.trug", UNTIDY)]);
        let mode = || {
            fs::metadata(farm.path("real/a.trug"))
                .unwrap()
                .permissions()
                .mode()
                & 0o7777
        };
        fs::set_permissions(farm.path("real/a.trug"), fs::Permissions::from_mode(0o664)).unwrap();
        symlink("real/a.trug", farm.path("link.trug")).unwrap();
        farm.run(&["tidy", "link.trug"]).ends(0);
        assert_eq!(farm.text("real/a.trug"), tidied());
        assert_eq!(mode(), 0o664);
        assert!(
            fs::symlink_metadata(farm.path("link.trug"))
                .unwrap()
                .is_symlink()
        );
    }

    #[test]
    fn a_protected_text_is_not_replaced() {
        let farm = Farm::new(&[("a.trug", UNTIDY)]);
        fs::set_permissions(farm.path("a.trug"), fs::Permissions::from_mode(0o444)).unwrap();
        farm.run(&["tidy"]).fails("a.trug is write-protected");
        assert_eq!(farm.text("a.trug"), UNTIDY);
    }

    #[test]
    fn links_are_passed_over_and_loops_end() {
        let farm = Farm::new(&[("store/a.trug", UNTIDY)]);
        symlink("..", farm.path("store/up")).unwrap();
        symlink("self", farm.path("self")).unwrap();
        symlink("store/a.trug", farm.path("again.trug")).unwrap();
        symlink("nowhere.trug", farm.path("broken.trug")).unwrap();
        assert_eq!(farm.run(&["tidy", "--check"]).ends(1).out, "store/a.trug\n");
        farm.run(&["tidy", "--check", "broken.trug"])
            .fails("broken.trug");
        farm.run(&["tidy", "--check", "self"]).fails("self");
    }

    #[test]
    fn a_pipe_is_refused_and_never_waited_for() {
        let farm = Farm::new(&[("a.trug", UNTIDY)]);
        make_pipe(&farm.path("pipe.trug"));
        farm.run(&["tidy", "pipe.trug"])
            .fails("pipe.trug is not a plain file");
        farm.run(&["tidy", "/dev/null"])
            .fails("/dev/null is not a plain file");
        let ran = farm.run(&["tidy", "--check"]).ends(2);
        assert_eq!(ran.out, "a.trug\n");
        assert!(
            ran.err.contains("pipe.trug is not a plain file"),
            "{}",
            ran.err
        );
    }

    #[test]
    fn names_that_are_not_text_are_passed_over_unless_named() {
        let farm = Farm::new(&[("a.trug", UNTIDY)]);
        let name = OsStr::from_bytes(b"b\xff.trug");
        fs::write(farm.path("").join(name), UNTIDY).unwrap();
        let ran = farm.run(&["tidy", "--check"]).ends(1);
        assert_eq!(ran.out, "a.trug\n");
        assert!(ran.err.contains("its name is not UTF-8"), "{}", ran.err);
        farm.run(&[OsStr::new("tidy"), OsStr::new("--check"), name])
            .fails("is not UTF-8");
    }

    #[test]
    fn names_that_would_steer_a_terminal_do_not() {
        let ran = Farm::new(&[]).run(&["tidy", "gone\u{1b}[2J.trug"]);
        assert!(!ran.fails("gone").err.contains('\u{1b}'));
    }
}
