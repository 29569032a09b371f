//! `trug start`: a farm that checks clean and plans, made whole where nothing is in its way, or not at all.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::farm::{Farm, Ran, TRUG, command, ran};

/// Each kind of farm, and how many rations it has.
const KINDS: [(&str, usize); 2] = [("small", 1), ("co-op", 3)];

/// A folder with a farm of that kind in `farm`.
fn started(kind: &str) -> Farm {
    let home = Farm::unmarked(&[]);
    home.run(&["start", "farm", "--like", kind]).ends(0);
    home
}

/// Everything below a folder: what is in a file, where a link leads, or that it is a folder.
pub(crate) fn all(folder: &Path) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(here) = folders.pop() {
        for entry in fs::read_dir(here).unwrap() {
            let path = entry.unwrap().path();
            let name = path
                .strip_prefix(folder)
                .unwrap()
                .to_string_lossy()
                .into_owned();
            let kind = path.symlink_metadata().unwrap().file_type();
            let what = if kind.is_symlink() {
                format!("-> {}", fs::read_link(&path).unwrap().display())
            } else if kind.is_dir() {
                folders.push(path);
                "/".to_owned()
            } else if kind.is_file() {
                fs::read_to_string(&path).unwrap()
            } else {
                "other".to_owned()
            };
            found.insert(name, what);
        }
    }
    found
}

/// The path with the binary under test before everything else.
pub(crate) fn path_with_trug() -> std::ffi::OsString {
    let own = Path::new(TRUG).parent().unwrap().to_owned();
    let path = std::env::var_os("PATH").unwrap();
    std::env::join_paths([own].into_iter().chain(std::env::split_paths(&path))).unwrap()
}

/// Types commands into a shell.
fn typed(folder: &Path, commands: &str) -> Ran {
    let mut shell = Command::new("sh");
    let shell = shell
        .args(["-euc", commands])
        .current_dir(folder)
        .env("PATH", path_with_trug());
    ran(shell)
}

#[test]
fn a_farm_checks_clean_and_is_tidy_on_any_day() {
    for (kind, _) in KINDS {
        let home = started(kind);
        for day in ["2001-01-01", "2026-11-25", "2099-12-31"] {
            let strict = ["--as", "lines", "--deny", "note", "--today", day];
            let said = ran(&mut command(
                &home.path("farm"),
                &[&["check"], &strict[..]].concat(),
            ))
            .ends(0);
            assert_eq!(
                (said.out.as_str(), said.err.as_str()),
                ("", ""),
                "{kind} {day}"
            );
        }
        let said = home.run(&["tidy", "--check", "farm"]).ends(0);
        assert_eq!((said.out.as_str(), said.err.as_str()), ("", ""), "{kind}");
    }
}

#[test]
fn every_ration_of_a_farm_plans_without_a_word() {
    for (kind, count) in KINDS {
        let home = started(kind);
        let said = home.run(&["plan", "farm", "--as", "jsonl"]).ends(0);
        assert_eq!(said.err, "", "{kind}");
        let plans: Vec<Value> = said
            .out
            .lines()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect();
        assert_eq!(plans.len(), count, "{kind}");
        for plan in plans {
            assert_eq!(plan["findings"], Value::Array(Vec::new()), "{kind}");
            assert_eq!(plan["draft"], false, "{kind}");
            assert!(!plan["cautions"].as_array().unwrap().is_empty(), "{kind}");
        }
        let costs = home.run(&["analyse", "farm", "--as", "jsonl"]).ends(0).out;
        for line in costs.lines() {
            let analysis: Value = serde_json::from_str(line).unwrap();
            assert_eq!(analysis["cost"]["complete"], true, "{kind}");
            let bounds = analysis["bounds"].as_array().unwrap();
            assert!(bounds.iter().all(|bound| bound["met"] == true), "{kind}");
        }
    }
}

#[test]
fn every_group_is_fed_from_a_plan() {
    let groups = [
        ("small", "farm/rations.trug", "ferry-ducks"),
        ("co-op", "farm/river-farm", "pond-house"),
        ("co-op", "farm/river-farm", "goat-shed"),
        ("co-op", "farm/hill-farm", "hill-house"),
    ];
    for (kind, path, group) in groups {
        let words = ["plan", path, "--for", group, "--as", "json"];
        let said = started(kind).run(&words).ends(0);
        assert_eq!(said.err, "", "{group}");
        let plan: Value = serde_json::from_str(&said.out).unwrap();
        assert_eq!(plan["order"]["group"], group);
        assert_eq!(plan["findings"], Value::Array(Vec::new()), "{group}");
    }
}

#[test]
fn what_is_said_to_be_typed_next_works() {
    for folder in ["farm", "pond house", "o'er $HOME", "-n", "a/b/c", "."] {
        for (kind, _) in KINDS {
            let home = Farm::unmarked(&[]);
            let said = home.run(&["start", "--like", kind, "--", folder]).ends(0);
            assert_eq!(said.err, "");
            let (_, next) = said.out.split_once("Type next:\n").unwrap();
            let (next, _) = next.split_once("\n\n").unwrap();
            let says_cd = next.contains("cd ");
            assert_eq!(says_cd, folder != ".", "{next}");
            let sheet = typed(&home.path(""), next).ends(0);
            assert!(sheet.out.contains("WEIGH"), "{}", sheet.out);
        }
    }
}

#[test]
fn the_commands_of_its_readme_work() {
    for (kind, _) in KINDS {
        let home = started(kind);
        let readme = home.text("farm/README.md");
        let (_, block) = readme.split_once("```sh\n").unwrap();
        let (block, _) = block.split_once("```\n").unwrap();
        assert_eq!(block.lines().count(), 3);
        for command in block.lines() {
            assert!(command.starts_with("trug "), "{command}");
            let said = typed(&home.path("farm"), command).ends(0);
            assert_eq!(said.err, "", "{command}");
        }
        for path in all(&home.path("farm")).keys() {
            let folder = path.split('/').next().unwrap();
            assert!(
                readme.contains(folder) || path == "README.md",
                "{path} is not explained"
            );
        }
    }
}

#[test]
fn what_a_forge_runs_works() {
    let home = started("co-op");
    let said = typed(&home.path(""), "sh farm/.ci/check").ends(0);
    assert!(said.out.ends_with("Every ration is planned.\n"));
    assert!(
        home.text("farm/.github/workflows/feed.yml")
            .contains("run: sh .ci/check\n")
    );
    let rations = home.text("farm/hill-farm/rations.trug");
    home.put(
        "farm/hill-farm/rations.trug",
        rations.replace("2.5 g/kg", "6 g/kg"),
    );
    let said = typed(&home.path(""), "sh farm/.ci/check").ends(1);
    assert!(said.out.contains("harm/ceiling"), "{}", said.out);
}

#[test]
fn the_settings_of_the_editor_read_what_is_printed() {
    let home = started("small");
    let json = |name: &str| serde_json::from_str::<Value>(&home.text(name)).unwrap();
    assert_eq!(json("farm/.vscode/settings.json")["editor.tabSize"], 2);
    let task = &json("farm/.vscode/tasks.json")["tasks"][0];
    assert_eq!(
        task["args"],
        serde_json::json!(["check", "--as", "lines"]),
        "the task is the command tried below"
    );
    let rations = home.text("farm/rations.trug");
    let wrong = rations.replace("salt           3 g/kg", "salt           7 g/kg");
    home.put("farm/rations.trug", wrong);
    home.put("expression", {
        let pattern = &task["problemMatcher"]["pattern"];
        pattern["regexp"].as_str().unwrap()
    });
    let command = "cd farm; trug check --as lines >../lines; grep -Exvf ../expression ../lines || cat ../lines";
    let said = typed(&home.path(""), command).ends(0);
    assert!(
        said.out.contains("rations.trug:")
            && said.out.contains("dose/over")
            && said.out == home.text("lines"),
        "every line is one that the pattern reads: {said:#?}"
    );
}

#[test]
fn a_second_start_changes_nothing() {
    for (kind, _) in KINDS {
        let home = started(kind);
        home.put("farm/rations.trug", "# mine\n");
        let before = all(&home.path(""));
        for again in ["small", "co-op"] {
            let said = home.run(&["start", "farm", "--like", again]);
            let said = said.fails("in the way, so nothing was made in farm");
            assert!(
                said.err.contains("\n  farm/trug.root is there already\n"),
                "{}",
                said.err
            );
            assert_eq!(all(&home.path("")), before);
        }
    }
}

#[test]
fn what_is_not_in_the_way_stays_as_it_is() {
    let home = Farm::unmarked(&[
        ("farm/notes.txt", "mine"),
        ("farm/.vscode/launch.json", "{}"),
    ]);
    fs::create_dir(home.path("farm/.ci")).unwrap();
    home.run(&["start", "farm"]).ends(0);
    assert_eq!(home.text("farm/notes.txt"), "mine");
    assert_eq!(home.text("farm/.vscode/launch.json"), "{}");
    assert_eq!(
        home.names("farm/.vscode"),
        ["launch.json", "settings.json", "tasks.json"]
    );
}

#[test]
fn a_farm_below_another_root_is_one_of_its_own() {
    let home = Farm::new(&[("store.trug", "ingredient wrong\n  wrong\n")]);
    home.run(&["start", "below/farm", "--like", "co-op"])
        .ends(0);
    let rations = "below/farm/hill-farm/rations.trug";
    home.put(
        rations,
        home.text(rations).replace("targets.trug", "tragets.trug"),
    );
    let said = home.run(&["check", "--as", "lines", "below/farm"]).ends(1);
    assert!(
        said.out.starts_with("hill-farm/rations.trug:"),
        "{}",
        said.out
    );
}

#[test]
fn what_cannot_be_understood_makes_nothing() {
    let home = Farm::unmarked(&[]);
    home.run(&["start"]).fails("DIR");
    home.run(&["start", ""]).fails("DIR");
    home.run(&["start", "farm", "--like", "large"])
        .fails("small");
    home.run(&["start", "farm", "barn"]).fails("barn");
    assert_eq!(all(&home.path("")), BTreeMap::new());
}

#[cfg(unix)]
mod unix {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    use std::os::unix::fs::{PermissionsExt, symlink};

    use super::*;

    /// What is put in the way, and what is said of it.
    type Obstacle = (fn(&Farm), &'static str);

    const OBSTACLES: [Obstacle; 12] = [
        (
            |home| home.put("farm/store.trug", "mine"),
            "farm/store.trug is there already",
        ),
        (
            |home| home.put("farm/README.md/notes", ""),
            "farm/README.md is a folder",
        ),
        (
            |home| home.put("farm/.vscode", ""),
            "farm/.vscode is no folder",
        ),
        (
            |home| home.put("farm/.github/workflows", ""),
            "farm/.github/workflows is no folder",
        ),
        (
            |home| {
                home.put("elsewhere/notes", "");
                home.put("farm/notes", "");
                symlink("../elsewhere", home.path("farm/.githooks")).unwrap();
            },
            "farm/.githooks is a link",
        ),
        (
            |home| {
                home.put("farm/notes", "mine");
                symlink("notes", home.path("farm/yard.trug")).unwrap();
            },
            "farm/yard.trug is a link",
        ),
        (
            |home| {
                home.put("farm/notes", "");
                symlink("gone", home.path("farm/trug.root")).unwrap();
            },
            "farm/trug.root is a link that leads nowhere",
        ),
        (
            |home| {
                home.put("farm/notes", "");
                crate::farm::make_pipe(&home.path("farm/.editorconfig"));
            },
            "farm/.editorconfig is there already",
        ),
        (|home| home.put("farm", "mine"), "farm is no folder"),
        (
            |home| symlink("gone", home.path("farm")).unwrap(),
            "farm is a link that leads nowhere",
        ),
        (
            |home| symlink("farm", home.path("farm")).unwrap(),
            "farm is a link that leads nowhere",
        ),
        (
            |home| {
                home.put("notes", "mine");
                symlink("notes", home.path("farm")).unwrap();
            },
            "farm is a link",
        ),
    ];

    #[test]
    fn each_kind_of_thing_in_the_way_is_told_and_left() {
        for (put, words) in OBSTACLES {
            let home = Farm::unmarked(&[]);
            put(&home);
            let before = all(&home.path(""));
            let said = home.run(&["start", "farm"]).fails(words);
            assert!(
                said.err
                    .starts_with("trug: something is in the way, so nothing was made in farm:\n"),
                "{}",
                said.err
            );
            assert!(said.err.contains("help: name a folder"), "{}", said.err);
            assert_eq!(all(&home.path("")), before, "{words}");
        }
    }

    #[test]
    fn a_file_above_the_farm_is_in_the_way() {
        let home = Farm::unmarked(&[("notes", "mine")]);
        let before = all(&home.path(""));
        home.run(&["start", "notes/farm"])
            .fails("\n  notes is no folder\n");
        home.run(&["start", "notes/deep/farm"])
            .fails("\n  notes is no folder\n");
        assert_eq!(all(&home.path("")), before);
    }

    #[test]
    fn a_link_to_a_folder_is_as_good_as_the_folder() {
        let home = Farm::unmarked(&[("real/notes", "mine")]);
        symlink("real", home.path("farm")).unwrap();
        home.run(&["start", "farm"]).ends(0);
        assert!(home.path("real/rations.trug").is_file());
        assert_eq!(home.text("real/notes"), "mine");
        assert!(
            home.path("farm")
                .symlink_metadata()
                .unwrap()
                .file_type()
                .is_symlink()
        );
    }

    #[test]
    fn scripts_can_be_run_and_nothing_else() {
        let home = started("co-op");
        for (name, text) in all(&home.path("farm")) {
            let mode = fs::metadata(home.path("farm").join(&name))
                .unwrap()
                .permissions()
                .mode();
            if text != "/" {
                assert_eq!(mode & 0o100 != 0, text.starts_with("#!"), "{name}");
            }
        }
    }

    /// A disk on which no file grows beyond a few hundred bytes stands for a full one.
    #[test]
    fn a_disk_that_fills_up_leaves_nothing_behind() {
        let home = Farm::unmarked(&[("there/notes", "mine"), ("there/.vscode/launch.json", "{}")]);
        let before = all(&home.path(""));
        let taken_back = "what was made before it is removed again";
        for (folder, words) in [
            ("new", taken_back),
            ("new/and/deep", taken_back),
            ("there", ", so nothing was made"),
        ] {
            let script =
                format!("trap '' XFSZ; ulimit -f 1; exec '{TRUG}' start --like co-op {folder}");
            let mut shell = Command::new("sh");
            let said = ran(shell.args(["-c", &script]).current_dir(home.path("")));
            let said = said.fails("could not be written");
            assert!(said.err.contains(words), "{}", said.err);
            assert_eq!(all(&home.path("")), before, "{folder}");
        }
    }

    #[test]
    fn a_folder_that_may_not_be_written_is_left_as_it_is() {
        let home = Farm::unmarked(&[("shut/notes", "mine")]);
        let before = all(&home.path(""));
        let shut = home.path("shut");
        fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).unwrap();
        // The system's keeper may write everywhere but where the system itself is shown.
        let may_write = fs::write(shut.join("probe"), "").is_ok();
        let _ = fs::remove_file(shut.join("probe"));
        let folder = if may_write {
            Path::new("/proc/self/fd")
        } else {
            &shut
        };
        let said = home.run(&[OsStr::new("start"), folder.as_os_str()]);
        said.fails("could not be written");
        fs::set_permissions(&shut, fs::Permissions::from_mode(0o755)).unwrap();
        assert_eq!(all(&home.path("")), before);
    }

    #[test]
    fn a_folder_that_cannot_be_named_to_the_tool_is_none() {
        let home = Farm::unmarked(&[]);
        let name = OsStr::from_bytes(b"pond\xffhouse");
        home.run(&[OsStr::new("start"), name]).fails("is not UTF-8");
        assert_eq!(all(&home.path("")), BTreeMap::new());
        let said = home.run(&["start", "pond\nhouse"]).ends(0);
        assert!(
            said.out.contains("\n  cd $'pond\\012house'\n"),
            "{}",
            said.out
        );
        home.run(&["check", "pond\nhouse"]).ends(0);
    }
}
