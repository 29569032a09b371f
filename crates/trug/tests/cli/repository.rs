//! `trug start` in git repositories, and the hook it leaves there.
#![cfg(unix)]

use std::ffi::OsString;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::farm::{Farm, Ran, ran};
use crate::start::{all, path_with_trug};

/// git, with nothing of the tester's own surroundings.
fn git_in(folder: &Path, words: &[&str], path: &OsString) -> Ran {
    let mut git = Command::new("git");
    git.args(["-c", "protocol.file.allow=always"])
        .args(words)
        .current_dir(folder)
        .env_clear()
        .env("PATH", path)
        .env("HOME", folder)
        .env("GIT_CONFIG_NOSYSTEM", "1");
    for who in ["AUTHOR", "COMMITTER"] {
        git.env(format!("GIT_{who}_NAME"), "N.")
            .env(format!("GIT_{who}_EMAIL"), "n@farm.example");
    }
    ran(&mut git)
}

/// A folder that is a repository, with `tmp` beside its files for what the hook makes.
struct Repository {
    home: Farm,
    top: PathBuf,
}

impl Repository {
    /// An empty one in `top`.
    fn new() -> Repository {
        let home = Farm::unmarked(&[]);
        let top = home.path("the top");
        fs::create_dir(&top).unwrap();
        let repository = Repository { home, top };
        repository.git(&["init", "-q", "-b", "main"]).ends(0);
        repository
    }

    /// One with a farm at its top that is committed.
    fn with_farm(kind: &str) -> Repository {
        let repository = Repository::new();
        repository.start(&[".", "--like", kind]);
        repository.commit("start").ends(0);
        repository
    }

    fn start(&self, words: &[&str]) -> Ran {
        let words = [&["start"], words].concat();
        ran(&mut crate::farm::command(&self.top, &words)).ends(0)
    }

    fn git(&self, words: &[&str]) -> Ran {
        git_in(&self.top, words, &path_with_trug())
    }

    /// Stages everything and commits it.
    fn commit(&self, words: &str) -> Ran {
        self.git(&["add", "-A"]).ends(0);
        self.git(&["commit", "-m", words])
    }

    fn text(&self, name: &str) -> String {
        fs::read_to_string(self.top.join(name)).unwrap()
    }

    fn put(&self, name: &str, text: &str) {
        let path = self.top.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn change(&self, name: &str, from: &str, to: &str) {
        let text = self.text(name);
        assert!(text.contains(from), "{from} is not in {name}");
        self.put(name, &text.replace(from, to));
    }

    /// Puts an amount into the ration that can harm.
    fn spoil(&self) {
        self.change("rations.trug", "2.5 g/kg", "6 g/kg");
    }

    fn mend(&self) {
        self.change("rations.trug", "6 g/kg", "2.5 g/kg");
    }

    fn hooks_path(&self) -> String {
        self.git(&["config", "core.hooksPath"]).out
    }

    /// How many commits there are.
    fn commits(&self) -> usize {
        self.git(&["rev-list", "--all"]).ends(0).out.lines().count()
    }
}

/// The tester's path without the folders in which there is a `trug`.
fn path_without_trug() -> OsString {
    let path = std::env::var_os("PATH").unwrap();
    let without = std::env::split_paths(&path).filter(|folder| !folder.join("trug").exists());
    std::env::join_paths(without).unwrap()
}

#[test]
fn the_hook_is_set_where_there_are_no_others() {
    for (folder, value) in [
        (".", ".githooks\n"),
        ("farm", "farm/.githooks\n"),
        ("pond house/o'er", "pond house/o'er/.githooks\n"),
        ("~river", "./~river/.githooks\n"),
    ] {
        let repository = Repository::new();
        let said = repository.start(&[folder]);
        assert!(
            said.out
                .ends_with("\ngit checks every commit from now on, by .githooks/pre-commit.\n"),
            "{}",
            said.out
        );
        assert_eq!(repository.hooks_path(), value);
        repository.commit("start").ends(0);
        let rations = format!("{folder}/rations.trug");
        repository.change(&rations, "2.5 g/kg", "6 g/kg");
        repository.commit("spoilt").ends(1);
        assert_eq!(repository.commits(), 1);
    }
}

#[test]
fn a_second_farm_is_checked_by_the_hook_of_the_first() {
    let repository = Repository::new();
    repository.start(&["one"]);
    let said = repository.start(&["two"]);
    assert!(said.out.contains("git checks every commit"), "{}", said.out);
    assert_eq!(repository.hooks_path(), "one/.githooks\n");
    repository.change("two/rations.trug", "2.5 g/kg", "6 g/kg");
    repository.commit("spoilt").ends(1);
}

#[test]
fn hooks_that_are_there_are_left_alone() {
    let cases = [
        ("tools/hooks/pre-commit", "core.hooksPath is tools/hooks"),
        (".git/hooks/pre-commit", ".git/hooks"),
        (".git/hooks/pre-push", ".git/hooks"),
    ];
    for (own, place) in cases {
        let repository = Repository::new();
        repository.put(own, "#!/bin/sh\n");
        if own.starts_with("tools/") {
            let set = ["config", "core.hooksPath", "tools/hooks"];
            repository.git(&set).ends(0);
        }
        let before = (all(&repository.top.join(".git")), repository.hooks_path());
        let said = repository.start(&["pond house"]).out;
        assert_eq!(
            (all(&repository.top.join(".git")), repository.hooks_path()),
            before
        );
        assert!(
            said.contains(&format!("hooks of its own ({place})")),
            "{said}"
        );
        // The line that it says to write into the hook does check.
        let line = "  sh 'pond house/.githooks/pre-commit' || exit 1\n";
        assert!(said.ends_with(line), "{said}");
        let hook = own.replace("pre-push", "pre-commit");
        repository.put(&hook, &format!("#!/bin/sh\n{line}"));
        let mode = std::os::unix::fs::PermissionsExt::from_mode(0o755);
        fs::set_permissions(repository.top.join(&hook), mode).unwrap();
        repository.commit("start").ends(0);
        repository.change("pond house/rations.trug", "2.5 g/kg", "6 g/kg");
        repository.commit("spoilt").ends(1);
    }
}

#[test]
fn outside_of_a_repository_it_says_what_to_type() {
    let home = Farm::unmarked(&[]);
    let said = home.run(&["start", "farm"]).ends(0).out;
    let (_, next) = said.split_once("It is in no git repository yet.").unwrap();
    let next: Vec<_> = next.lines().skip(1).map(str::trim).collect();
    assert_eq!(next, ["git init", "git config core.hooksPath .githooks"]);
    assert!(!home.path("farm/.git").exists());
    let farm = home.path("farm");
    for command in next {
        let words: Vec<_> = command.split(' ').skip(1).collect();
        git_in(&farm, &words, &path_with_trug()).ends(0);
    }
    let text = home.text("farm/rations.trug");
    home.put("farm/rations.trug", text.replace("2.5 g/kg", "6 g/kg"));
    git_in(&farm, &["add", "-A"], &path_with_trug()).ends(0);
    git_in(&farm, &["commit", "-m", "first"], &path_with_trug()).ends(1);
}

#[test]
fn a_repository_that_leaves_the_farm_out_has_no_say() {
    let repository = Repository::new();
    repository.put(".gitignore", "*\n");
    let said = repository.start(&["farm"]);
    assert!(
        said.out.contains("It is in no git repository yet."),
        "{}",
        said.out
    );
    assert_eq!(repository.hooks_path(), "");
}

#[test]
fn without_git_a_farm_is_made_all_the_same() {
    let home = Farm::unmarked(&[]);
    fs::create_dir(home.path("nothing")).unwrap();
    let mut start = home.command(&["start", "farm"]);
    let said = ran(start.env("PATH", home.path("nothing"))).ends(0);
    assert!(
        said.out.contains("git is not on the PATH.") && said.err.is_empty(),
        "{}",
        said.out
    );
}

#[test]
fn a_repository_that_git_refuses_is_left_alone() {
    let home = Farm::unmarked(&[("top/.git", "gitdir: nowhere\n")]);
    let said = home.run(&["start", "top/pond house"]).ends(0);
    assert!(
        said.out.contains("The hook is not set: fatal: ")
            && said
                .out
                .ends_with("\n  git config core.hooksPath 'pond house/.githooks'\n"),
        "{}",
        said.out
    );
}

#[test]
fn what_is_committed_is_checked_and_nothing_else() {
    let repository = Repository::with_farm("small");
    repository.spoil();
    let said = repository.commit("spoilt").ends(1);
    assert!(
        said.err.contains("harm/ceiling")
            && said.err.contains("rations.trug:")
            && said.err.contains("the commit was not made")
            && said.err.contains("git commit --no-verify"),
        "{}",
        said.err
    );
    assert!(!said.err.contains("trug-commit."), "{}", said.err);
    // Mended in the folder, not in the index.
    repository.mend();
    repository.git(&["commit", "-m", "spoilt"]).ends(1);
    repository.git(&["add", "-A"]).ends(0);
    // Spoilt in the folder, not in the index.
    repository.change("store.trug", "# Grain and bran", "# Grain, bran");
    repository.git(&["add", "-A"]).ends(0);
    repository.spoil();
    repository.git(&["commit", "-m", "good"]).ends(0);
    assert_eq!(repository.commits(), 2);
    // What is taken straight from the folder is checked as it will be committed.
    repository.git(&["commit", "-am", "spoilt"]).ends(1);
    repository
        .git(&["commit", "-m", "spoilt", "--", "rations.trug"])
        .ends(1);
    repository
        .git(&["commit", "--no-verify", "-am", "spoilt"])
        .ends(0);
    repository.mend();
    repository.git(&["commit", "-am", "good"]).ends(0);
}

#[test]
fn a_warning_is_shown_and_the_commit_is_made() {
    let repository = Repository::with_farm("small");
    repository.change("rations.trug", "salt           3 g/kg", "salt  7 g/kg");
    let said = repository.commit("salty").ends(0);
    assert!(said.err.contains("dose/over"), "{}", said.err);
}

#[test]
fn the_first_commit_is_checked() {
    let repository = Repository::new();
    repository.start(&["."]);
    repository.spoil();
    repository.commit("spoilt").ends(1);
    repository.mend();
    repository.commit("good").ends(0);
    assert_eq!(repository.commits(), 1);
}

#[test]
fn a_text_that_others_use_cannot_go_unnoticed() {
    let repository = Repository::with_farm("small");
    repository.git(&["rm", "-q", "store.trug"]).ends(0);
    let said = repository.git(&["commit", "-m", "gone"]).ends(1);
    assert!(said.err.contains("use/missing"), "{}", said.err);
    repository
        .git(&["rm", "-qf", "yard.trug", "rations.trug"])
        .ends(0);
    repository.git(&["commit", "-m", "all gone"]).ends(0);
}

#[test]
fn a_table_is_checked_with_what_uses_it() {
    let repository = Repository::with_farm("small");
    repository.change("store.trug", "use book", "use \"prices.csv\"\nuse book");
    repository.put("prices.csv", "ingredient,price KES/kg\nmaize,44\n");
    repository.commit("table").ends(0);
    repository.put("prices.csv", "ingredient,price KES/kg\nmaize,dear\n");
    repository.commit("spoilt").ends(1);
}

#[test]
fn a_commit_without_feed_is_let_through() {
    let repository = Repository::with_farm("small");
    repository.spoil();
    repository
        .git(&["commit", "--no-verify", "-am", "spoilt"])
        .ends(0);
    repository.put("notes.txt", "the roof leaks");
    repository.git(&["add", "-A"]).ends(0);
    git_in(
        &repository.top,
        &["commit", "-m", "notes"],
        &path_without_trug(),
    )
    .ends(0);
}

#[test]
fn without_trug_the_commit_is_refused_and_says_how_to_go_on() {
    let repository = Repository::with_farm("small");
    repository.change("store.trug", "# Grain and bran", "# Grain, bran");
    let commit = ["commit", "-am", "good"];
    let said = git_in(&repository.top, &commit, &path_without_trug()).ends(1);
    assert!(
        said.err.contains("trug is not on the PATH")
            && said.err.contains("README.md")
            && said.err.contains("git commit --no-verify"),
        "{}",
        said.err
    );
    assert_eq!(repository.commits(), 1);
}

#[test]
fn any_name_of_a_file_will_do() {
    let repository = Repository::with_farm("small");
    for name in [
        "pond house.trug",
        "o'er \"there\".trug",
        "two\nlines.trug",
        "-n.trug",
        "$(exit 3)/මාළු.trug",
    ] {
        repository.put(name, "animal goldfish\n");
        repository.commit("good").ends(0);
        repository.put(
            name,
            "animal goldfish\nration mash\n  for  goldfish\n  moon  100 %\n",
        );
        let said = repository.commit("spoilt").ends(1);
        assert!(said.err.contains("name/unknown"), "{}", said.err);
        fs::remove_file(repository.top.join(name)).unwrap();
    }
}

#[test]
fn a_link_in_the_repository_leads_where_it_led() {
    let repository = Repository::with_farm("co-op");
    symlink("coop", repository.top.join("shared")).unwrap();
    let rations = "hill-farm/rations.trug";
    repository.change(rations, "../coop/", "../shared/");
    repository.commit("link").ends(0);
    repository.put("other/rations.trug", "use \"../gone/store.trug\"\n");
    repository.commit("gone").ends(1);
}

#[test]
fn a_merge_is_checked_where_a_person_finishes_it() {
    let repository = Repository::with_farm("small");
    repository.git(&["checkout", "-qb", "other"]).ends(0);
    repository.change("rations.trug", "8.2 %", "8.1 %");
    repository.commit("less").ends(0);
    repository.git(&["checkout", "-q", "main"]).ends(0);
    repository.change("rations.trug", "8.2 %", "8.3 %");
    repository.commit("more").ends(0);
    repository.git(&["merge", "-q", "other"]).ends(1);
    let both = repository.text("rations.trug");
    assert!(both.contains("<<<<<<<"), "{both}");
    repository.git(&["add", "-A"]).ends(0);
    repository.git(&["commit", "-m", "unfinished"]).ends(1);
    repository
        .git(&["checkout", "-q", "other", "--", "rations.trug"])
        .ends(0);
    repository.git(&["commit", "-m", "merged"]).ends(0);
    assert_eq!(repository.commits(), 4);
}

#[test]
fn a_store_that_is_a_repository_of_its_own_comes_along() {
    let store = Repository::with_farm("co-op");
    let repository = Repository::new();
    let from = store.top.to_str().unwrap();
    repository
        .git(&["submodule", "add", "-q", from, "our store"])
        .ends(0);
    repository.start(&["farm"]);
    repository.put(
        "hill/rations.trug",
        "use \"../our store/coop/targets.trug\"\nuse \"../farm/yard.trug\"\n",
    );
    repository.put("trug.root", "");
    repository.commit("start").ends(0);
    repository.put("hill/more.trug", "use \"../our store/coop/gone.trug\"\n");
    let said = repository.commit("gone").ends(1);
    assert!(said.err.contains("use/missing"), "{}", said.err);
}

#[test]
fn nothing_of_the_check_is_left_behind() {
    let repository = Repository::with_farm("small");
    let scratch = repository.home.path("a place");
    fs::create_dir(&scratch).unwrap();
    let mut commits = Vec::new();
    for is_spoilt in [false, true] {
        repository.change("store.trug", "# Grain", "# Grain, bran, grain");
        if is_spoilt {
            repository.spoil();
        }
        let mut git = Command::new("git");
        git.args(["-c", "user.name=N.", "-c", "user.email=n@farm.example"])
            .args(["commit", "-qam", "try"])
            .current_dir(&repository.top)
            .env("PATH", path_with_trug())
            .env("TMPDIR", &scratch);
        commits.push(ran(&mut git).code);
        assert_eq!(fs::read_dir(&scratch).unwrap().count(), 0);
    }
    assert_eq!(commits, [0, 1]);
}

#[test]
fn a_second_work_tree_is_checked_too() {
    let repository = Repository::with_farm("small");
    repository
        .git(&["worktree", "add", "-q", "-b", "other", "../other tree"])
        .ends(0);
    let tree = repository.home.path("other tree");
    let text = fs::read_to_string(tree.join("rations.trug")).unwrap();
    fs::write(
        tree.join("rations.trug"),
        text.replace("2.5 g/kg", "6 g/kg"),
    )
    .unwrap();
    let commit = ["commit", "-am", "spoilt"];
    git_in(&tree, &commit, &path_with_trug()).ends(1);
    assert_eq!(repository.commits(), 1);
}
