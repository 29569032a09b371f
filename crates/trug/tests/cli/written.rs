//! `trug plan --out`: files are written whole or not at all.

use std::fs;

use crate::mash::farm;

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
fn no_plan_is_written_over_a_text_of_the_farm() {
    let farm = farm();
    let before = farm.text("mash.trug");
    let ran = farm.run(&["plan", "mash.trug", "--out", "mash.trug"]);
    ran.fails("would be a text of the farm");
    assert_eq!(farm.text("mash.trug"), before);
}
