//! What may stand at the path that is written to: folders, links, pipes, devices, other people's files.

use std::fs::{self, Permissions};
use std::io::{Read, Write};
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};
use std::process::Stdio;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use crate::farm::{Farm, make_pipe};
use crate::machine::{in_time, is_root, left_over, passed_over};
use crate::mash::{farm, mash, of_store};

const SHEET: [&str; 5] = ["plan", "mash.trug", "--as", "html", "--out"];

fn to(path: &str) -> Vec<&str> {
    [&SHEET[..], &[path]].concat()
}

#[test]
fn what_is_no_plain_file_is_never_written_to() {
    let farm = farm();
    fs::create_dir(farm.path("folder")).unwrap();
    make_pipe(&farm.path("pipe"));
    symlink("folder", farm.path("to-folder")).unwrap();
    symlink("gone", farm.path("to-nothing")).unwrap();
    symlink("round", farm.path("round")).unwrap();
    symlink("pipe", farm.path("to-pipe")).unwrap();
    let before = farm.names("");
    for (path, words) in [
        ("folder", "folder is a folder, so nothing was written"),
        ("folder/", "is a folder, so nothing was written"),
        ("to-folder", "to-folder is a folder, so nothing was written"),
        ("pipe", "pipe is not a plain file, so nothing was written"),
        (
            "to-pipe",
            "to-pipe is not a plain file, so nothing was written",
        ),
        ("to-nothing", "to-nothing is a link that leads nowhere"),
        ("round", "round is a link that leads nowhere"),
        (
            "/dev/full",
            "/dev/full is not a plain file, so nothing was written",
        ),
        (
            "/dev/null",
            "/dev/null is not a plain file, so nothing was written",
        ),
        ("mash.trug/sheet", "what it lies in is no folder"),
        (
            "gone/sheet",
            "what it lies in is not there\n  help: make the folder first",
        ),
    ] {
        in_time(&mut farm.command(&to(path))).fails(words);
        assert_eq!(farm.names(""), before, "{path}");
    }
    let long = "n".repeat(300);
    farm.run(&to(&long)).fails("give it a shorter name");
    assert_eq!(farm.names(""), before);
}

#[test]
fn a_link_stays_one_and_what_it_leads_to_is_written() {
    let farm = farm();
    farm.put("far/sheet.html", "old");
    farm.put("near/notes", "");
    symlink("../far/sheet.html", farm.path("near/first")).unwrap();
    symlink("near/first", farm.path("second")).unwrap();
    farm.run(&to("second")).ends(0);
    for link in ["second", "near/first"] {
        assert!(farm.path(link).symlink_metadata().unwrap().is_symlink());
    }
    assert!(farm.text("far/sheet.html").starts_with("<!DOCTYPE html>"));
    assert_eq!(farm.names("near"), ["first", "notes"]);
    assert_eq!(farm.names("far"), ["sheet.html"]);
}

#[test]
fn mode_owner_and_group_are_kept() {
    let farm = farm();
    for mode in [0o600, 0o640, 0o664, 0o775, 0o606] {
        farm.put("sheet.html", "old");
        fs::set_permissions(farm.path("sheet.html"), Permissions::from_mode(mode)).unwrap();
        farm.run(&to("sheet.html")).ends(0);
        let now = farm.path("sheet.html").metadata().unwrap();
        assert_eq!(now.mode() & 0o7777, mode);
    }
    if !is_root() {
        passed_over("only the system's keeper can give a file away");
        return;
    }
    chown(farm.path("sheet.html"), Some(1234), Some(2345)).unwrap();
    farm.run(&to("sheet.html")).ends(0);
    let now = farm.path("sheet.html").metadata().unwrap();
    assert_eq!((now.uid(), now.gid()), (1234, 2345));
}

#[test]
fn a_second_name_of_a_file_keeps_the_old_text_whole() {
    let farm = farm();
    farm.put("sheet.html", "old");
    fs::hard_link(farm.path("sheet.html"), farm.path("second.html")).unwrap();
    farm.run(&to("sheet.html")).ends(0);
    assert_eq!(farm.text("second.html"), "old");
}

#[test]
fn two_runs_at_once_leave_one_whole_file_and_nothing_else() {
    let farm = farm();
    let printed = farm.run(&SHEET[..4]).ends(0).out;
    for _ in 0..5 {
        let runs: Vec<_> = (0..4)
            .map(|_| farm.command(&to("sheet.html")).spawn().unwrap())
            .collect();
        for mut run in runs {
            assert!(run.wait().unwrap().success());
        }
        assert_eq!(farm.text("sheet.html"), printed);
        assert_eq!(left_over(&farm, ""), [""; 0]);
    }
}

/// What balancing has to say is held up by a full pipe, and meanwhile somebody saves the text.
#[test]
fn what_is_saved_while_amounts_are_chosen_is_not_written_over() {
    let open =
        of_store(&mash("open").replace("25 %", "20 .. 30 %")).replace("  for            hen\n", "");
    let farm = Farm::new(&[("store.trug", crate::mash::STORE), ("open.trug", &open)]);
    let (mut from, to) = std::io::pipe().unwrap();
    let filled = Arc::new(AtomicUsize::new(0));
    let filler = {
        let (mut to, filled) = (to.try_clone().unwrap(), Arc::clone(&filled));
        std::thread::spawn(move || {
            // More than any pipe holds.
            for _ in 0..2048 {
                to.write_all(&[0; 1024]).unwrap();
                filled.fetch_add(1, Ordering::SeqCst);
            }
        })
    };
    settled(|| filled.load(Ordering::SeqCst) as u64);
    let mut balance = farm
        .command(&["balance", "open.trug", "--write"])
        .stdout(Stdio::null())
        .stderr(to)
        .spawn()
        .unwrap();
    let spent = format!("/proc/{}/schedstat", balance.id());
    settled(|| {
        let spent = fs::read_to_string(&spent).unwrap();
        spent.split(' ').next().unwrap().parse().unwrap()
    });
    assert!(balance.try_wait().unwrap().is_none(), "it did not wait");
    farm.put("open.trug", open.clone() + "# saved meanwhile\n");
    let mut said = Vec::new();
    let reader = std::thread::spawn(move || {
        from.read_to_end(&mut said).unwrap();
        said
    });
    let code = balance.wait().unwrap().code();
    filler.join().unwrap();
    // What fills the pipe also lands between the words.
    let said = String::from_utf8(reader.join().unwrap())
        .unwrap()
        .replace('\0', "");
    assert_eq!(code, Some(2));
    let words = "open.trug was changed meanwhile, so nothing was written into it\n  help: run the same command again";
    assert!(said.contains(words), "{said}");
    assert_eq!(farm.text("open.trug"), open + "# saved meanwhile\n");
    farm.run(&["balance", "open.trug", "--write"]).ends(0);
    assert!(farm.text("open.trug").contains(" % within 20 .. 30 %"));
}

/// Waits until a number stands still.
fn settled(number: impl Fn() -> u64) {
    let mut before = u64::MAX;
    loop {
        let now = number();
        if now == before && 0 < now {
            return;
        }
        before = now;
        std::thread::sleep(Duration::from_millis(500));
    }
}
