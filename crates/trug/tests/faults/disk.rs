//! Disks that are full, shut or read-only: what was there stays, and the reason is said.

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;

use crate::farm::Farm;
use crate::machine::{left_over, mounting, obeying, script};
use crate::mash::{farm, mash, of_store};

fn untidy() -> String {
    of_store(&mash("hen-mash")).replace("  for ", "\tfor ")
}

#[test]
fn on_a_full_disk_a_text_is_left_as_it_is() {
    let farm = Farm::new(&[("mash.trug", &untidy())]);
    let Some(ran) = mounting(
        &farm,
        "mkdir small; mount -t tmpfs -o size=64k none small; cp mash.trug small; touch small/trug.root
         head -c 100000 /dev/zero > small/fill 2> /dev/null || true
         cd small
         $TRUG tidy && exit 10; test $? = 2
         cmp mash.trug ../mash.trug
         $TRUG start new && exit 10; test $? = 2
         test ! -e new
         ls -A
         rm fill
         $TRUG tidy
         $TRUG tidy --check",
    ) else {
        return;
    };
    let ran = ran.ends(0);
    assert_eq!(ran.out, "fill\nmash.trug\ntrug.root\n");
    assert!(
        ran.err
            .contains("mash.trug could not be written: the disk is full\n  help: make room"),
        "{}",
        ran.err
    );
    assert!(!ran.err.contains("os error"), "{}", ran.err);
}

#[test]
fn on_a_full_disk_amounts_are_not_written_and_a_sheet_is_not_lost() {
    let farm = farm();
    let open = mash("open").replace("25 %", "20 .. 30 %");
    farm.put("open.trug", of_store(&open));
    let Some(ran) = mounting(
        &farm,
        "mkdir small; mount -t tmpfs -o size=64k none small; cp *.trug trug.root small
         cd small
         echo old > sheet.html
         head -c 100000 /dev/zero > fill 2> /dev/null || true
         $TRUG balance open.trug --write > /dev/null && exit 10; test $? = 2
         cmp open.trug ../open.trug
         $TRUG plan mash.trug --as html --out sheet.html && exit 10; test $? = 2
         $TRUG plan mash.trug --as html --out new.html && exit 10; test $? = 2
         cat sheet.html; ls -A | grep -v trug$",
    ) else {
        return;
    };
    let ran = ran.ends(0);
    assert_eq!(ran.out, "old\nfill\nsheet.html\ntrug.root\n");
    assert_eq!(
        ran.err.matches("the disk is full").count(),
        3,
        "{}",
        ran.err
    );
}

/// A largest size of a file stands for a full disk where nothing can be mounted.
#[test]
fn where_no_file_may_grow_nothing_is_half_written() {
    let farm = farm();
    farm.put("sheet.html", "old");
    let limited = |words: &str| script(&farm, &format!("trap '' XFSZ; ulimit -f 1; {words}"));
    limited("exec $TRUG plan mash.trug --as html --out sheet.html").fails("could not be written");
    limited("exec $TRUG plan mash.trug --as html --out new.html")
        .fails("new.html could not be written: it would be larger than a file may be here");
    assert_eq!(farm.text("sheet.html"), "old");
    assert!(!farm.path("new.html").exists());
    assert_eq!(left_over(&farm, ""), [""; 0]);
}

#[test]
fn a_shut_folder_is_said_and_left() {
    let farm = Farm::new(&[("shut/mash.trug", &untidy()), ("shut/sheet.txt", "old")]);
    farm.put("store.trug", crate::mash::STORE);
    fs::set_permissions(farm.path("shut"), Permissions::from_mode(0o555)).unwrap();
    let help = "could not be written: you are not permitted to\n  help: name a place in a folder";
    obeying(&farm, &["tidy"]).fails(help);
    obeying(&farm, &["start", "shut/new"])
        .fails("shut/new could not be written: you are not permitted to, so nothing was made");
    farm.put("mash.trug", of_store(&mash("mash")));
    obeying(&farm, &["plan", "mash.trug", "--out", "shut/sheet.txt"]).fails(help);
    obeying(&farm, &["plan", "mash.trug", "--out", "shut/new.txt"]).fails(help);
    fs::set_permissions(farm.path("shut"), Permissions::from_mode(0o755)).unwrap();
    assert_eq!(farm.text("shut/mash.trug"), untidy());
    assert_eq!(farm.names("shut"), ["mash.trug", "sheet.txt"]);
    assert_eq!(farm.text("shut/sheet.txt"), "old");
}

#[test]
fn what_may_not_be_read_is_said_and_the_rest_is_checked() {
    let farm = Farm::new(&[("a.trug", "animal hen\n"), ("b.trug", "animal duck\n")]);
    farm.put("deep/c.trug", "animal goose\n");
    fs::set_permissions(farm.path("a.trug"), Permissions::from_mode(0o0)).unwrap();
    fs::set_permissions(farm.path("deep"), Permissions::from_mode(0o0)).unwrap();
    let ran = obeying(&farm, &["check"]).ends(2);
    assert!(ran.err.contains("a.trug could not be read"), "{}", ran.err);
    assert!(
        ran.err.contains("part of a folder could not be looked at"),
        "{}",
        ran.err
    );
    let ran = obeying(&farm, &["tidy"]).ends(2);
    assert!(ran.err.contains("a.trug could not be read"), "{}", ran.err);
    obeying(&farm, &["check", "b.trug"]).ends(0);
    farm.put("d.trug", "use \"a.trug\"\n");
    let ran = obeying(&farm, &["check", "--as", "lines", "d.trug"]).ends(1);
    assert!(ran.out.contains("error[use/missing]"), "{}", ran.out);
    fs::set_permissions(farm.path("deep"), Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_disk_that_can_only_be_read_serves_all_that_reads() {
    let farm = farm();
    farm.put("mash.trug", untidy());
    let Some(ran) = mounting(
        &farm,
        "mount --bind . . ; mount -o remount,bind,ro .; cd \"$PWD\"
         $TRUG check mash.trug > /dev/null; $TRUG plan mash.trug > /dev/null; $TRUG analyse mash.trug > /dev/null
         $TRUG tidy mash.trug && exit 10; test $? = 2
         $TRUG plan mash.trug --out sheet.txt && exit 10; test $? = 2
         $TRUG start new && exit 10; test $? = 2",
    ) else {
        return;
    };
    let ran = ran.ends(0);
    assert_eq!(
        ran.err.matches("the disk can only be read").count(),
        3,
        "{}",
        ran.err
    );
    assert_eq!(farm.text("mash.trug"), untidy());
    assert!(!farm.path("new").exists());
}

/// The binary, the libraries and all else on a disk that can only be read.
#[test]
fn a_whole_system_that_can_only_be_read_is_enough() {
    let farm = farm();
    let Some(ran) = mounting(
        &farm,
        "mount --rbind / /mnt; mount -o remount,bind,ro /mnt
         if touch /mnt/probe 2> /dev/null; then exit 10; fi
         chroot /mnt env -i $TRUG check --today 2026-11-25 $PWD/mash.trug
         chroot /mnt env -i $TRUG plan --today 2026-11-25 $PWD/mash.trug",
    ) else {
        return;
    };
    let ran = ran.ends(0);
    assert!(ran.out.contains("TOTALS of one batch"), "{}", ran.out);
}
