//! Killed at any moment: every file is wholly the old or wholly the new one, and the next run mends the rest.
//!
//! `KILLS=1000` kills that often instead of a few times, each time a little later in the run.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::farm::Farm;
use crate::machine::left_over;
use crate::mash::{STORE, mash, of_store};

/// So often a run is killed.
fn kills() -> u32 {
    let said = std::env::var("KILLS").ok();
    said.map_or(25, |kills| kills.parse().unwrap())
}

/// Kills runs at moments spread from their start to after their end; what is there then is looked at each time.
fn kill_at_every_moment(args: &[&str], make: impl Fn() -> Farm, look: impl Fn(&Farm)) {
    let whole = longest(args, &make);
    let (mut stopped, mut done) = (0_u32, 0_u32);
    let kills = kills();
    for kill in 0..kills {
        let farm = make();
        let mut run = farm
            .command(args)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(whole * kill / kills);
        run.kill().unwrap();
        match run.wait().unwrap().code() {
            Some(0) => done += 1,
            Some(code) => panic!("{args:?} ended with {code}"),
            None => stopped += 1,
        }
        look(&farm);
    }
    assert!(
        0 < stopped,
        "no run of {args:?} was killed, {done} came to their end"
    );
}

/// How long a run takes, and a little more.
fn longest(args: &[&str], make: &impl Fn() -> Farm) -> Duration {
    let times = (0..5).map(|_| {
        let farm = make();
        let start = Instant::now();
        assert_eq!(farm.run(args).code, 0);
        start.elapsed()
    });
    times.max().unwrap() * 11 / 10
}

fn either(farm: &Farm, name: &str, old: &str, new: &str) {
    let text = farm.text(name);
    assert!(text == old || text == new, "{name} is neither: {text:?}");
}

#[test]
fn tidy() {
    let old = of_store(&mash("hen-mash")).replace("  for ", "\tfor ");
    let names: Vec<String> = (0..8).map(|number| format!("mash-{number}.trug")).collect();
    let store = Farm::new(&[("store.trug", STORE)]);
    store.run(&["tidy"]).ends(0);
    let make = || {
        let farm = Farm::new(&[("store.trug", &store.text("store.trug"))]);
        for name in &names {
            farm.put(name, &old);
        }
        farm
    };
    let tidied = make();
    tidied.run(&["tidy"]).ends(0);
    let new = tidied.text(&names[0]);
    assert_ne!(old, new);
    kill_at_every_moment(&["tidy"], make, |farm| {
        for name in &names {
            either(farm, name, &old, &new);
        }
        assert!(left_over(farm, "").len() < 2);
        let untidy: Vec<&String> = names.iter().filter(|name| farm.text(name) == old).collect();
        // What is left is no text to any command.
        let listed = farm.run(&["tidy", "--check"]).out;
        assert_eq!(listed.lines().collect::<Vec<_>>(), untidy);
        farm.run(&["tidy"]).ends(0);
        let all = [
            &names[..],
            &["store.trug".to_owned(), "trug.root".to_owned()],
        ]
        .concat();
        assert_eq!(farm.names(""), all);
    });
}

#[test]
fn balance_into_the_text() {
    let open: String = (0..4)
        .map(|number| mash(&format!("open-{number}")).replace("25 %", "20 .. 30 %") + "\n")
        .collect();
    let old = of_store(&open);
    let make = || Farm::new(&[("store.trug", STORE), ("open.trug", &old)]);
    let balanced = make();
    let args = ["balance", "open.trug", "--write"];
    balanced.run(&args).ends(0);
    let new = balanced.text("open.trug");
    assert_eq!(new.matches(" within 20 .. 30 %").count(), 4, "{new}");
    kill_at_every_moment(&args, make, |farm| {
        either(farm, "open.trug", &old, &new);
        farm.run(&args).ends(0);
        assert_eq!(farm.text("open.trug"), new);
        assert_eq!(farm.names(""), ["open.trug", "store.trug", "trug.root"]);
    });
}

#[test]
fn a_plan_into_a_file() {
    let args = ["plan", "mash.trug", "--as", "html", "--out", "sheet.html"];
    for old in [None, Some("old")] {
        let make = || {
            let text = of_store(&mash("hen-mash"));
            let farm = Farm::new(&[("store.trug", STORE), ("mash.trug", &text)]);
            if let Some(old) = old {
                farm.put("sheet.html", old);
            }
            farm
        };
        let planned = make();
        planned.run(&args).ends(0);
        let new = planned.text("sheet.html");
        kill_at_every_moment(&args, make, |farm| {
            let text = fs::read_to_string(farm.path("sheet.html")).ok();
            assert!(
                text.as_deref() == old || text.as_ref() == Some(&new),
                "{text:?}"
            );
            farm.run(&args).ends(0);
            assert_eq!(farm.text("sheet.html"), new);
            assert_eq!(left_over(farm, ""), [""; 0]);
        });
    }
}

#[test]
fn start() {
    let args = ["start", "--like", "co-op", "farm"];
    let make = || Farm::unmarked(&[]);
    let started = make();
    started.run(&args).ends(0);
    let whole = all(&started.path("farm"));
    kill_at_every_moment(&args, make, |farm| {
        let there = all(&farm.path("farm"));
        let is_left = |name: &str| name.contains("/.trug-") || name.starts_with(".trug-");
        for (name, text) in &there {
            assert!(
                is_left(name) || whole.get(name) == Some(text),
                "{name}: {text:?}"
            );
        }
        if there.contains_key("trug.root") {
            // What marks the farm comes last, so a farm that is marked is whole.
            assert_eq!(there, whole);
            farm.run(&args).fails("trug.root is there already");
        } else {
            farm.run(&args).ends(0);
        }
        assert_eq!(all(&farm.path("farm")), whole);
    });
}

#[test]
fn a_farm_that_was_begun_is_completed_and_nothing_is_written_over() {
    let home = Farm::unmarked(&[]);
    home.run(&["start", "farm"]).ends(0);
    let whole = all(&home.path("farm"));
    for name in ["trug.root", ".ci/check", "store.trug"] {
        fs::remove_file(home.path("farm").join(name)).unwrap();
    }
    home.put("farm/.trug-half.part", "animal du");
    home.run(&["start", "farm"]).ends(0);
    assert_eq!(all(&home.path("farm")), whole);
    fs::remove_file(home.path("farm/trug.root")).unwrap();
    home.put("farm/yard.trug", "mine");
    home.run(&["start", "farm"])
        .fails("farm/yard.trug is there already");
    assert_eq!(home.text("farm/yard.trug"), "mine");
    assert!(!home.path("farm/trug.root").exists());
}

/// All files in a folder, by their names in it.
fn all(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(inner) = folders.pop() {
        for entry in fs::read_dir(&inner).into_iter().flatten() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_str().unwrap();
                found.insert(name.to_owned(), fs::read(&path).unwrap());
            }
        }
    }
    found
}
