//! `trug compare`: files, folders and git revisions, and how it ends.
#![cfg(unix)]

use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::farm::{Farm, Ran, command, ran};
use crate::mash::{STORE, document, mash, of_store};

/// git, with nothing of the tester's own surroundings.
fn git(folder: &Path, words: &[&str]) -> Ran {
    let mut git = Command::new("git");
    git.args(words)
        .current_dir(folder)
        .env_clear()
        .env("PATH", std::env::var_os("PATH").unwrap())
        .env("HOME", folder)
        .env("GIT_CONFIG_NOSYSTEM", "1");
    for who in ["AUTHOR", "COMMITTER"] {
        git.env(format!("GIT_{who}_NAME"), "N.")
            .env(format!("GIT_{who}_EMAIL"), "n@farm.example");
    }
    ran(&mut git)
}

/// A repository whose first commit has 25 % soya, and whose work tree has 24 %.
struct Repository {
    _home: Farm,
    top: PathBuf,
}

impl Repository {
    fn new() -> Repository {
        let home = Farm::unmarked(&[]);
        let top = home.path("the top");
        fs::create_dir(&top).unwrap();
        let repository = Repository { _home: home, top };
        repository.git(&["init", "-q", "-b", "main"]);
        repository.put("farm/store.trug", STORE);
        repository.put("farm/mash.trug", &of_store(&mash("mash")));
        repository.commit("start");
        repository.git(&["tag", "v1"]);
        repository.change("farm/mash.trug", "25 %", "24 %");
        repository
    }

    fn git(&self, words: &[&str]) -> Ran {
        git(&self.top, words).ends(0)
    }

    fn commit(&self, words: &str) {
        self.git(&["add", "-A"]);
        self.git(&["commit", "-q", "-m", words]);
    }

    fn put(&self, name: &str, text: &str) {
        let path = self.top.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn change(&self, name: &str, from: &str, to: &str) {
        let text = fs::read_to_string(self.top.join(name)).unwrap();
        assert!(text.contains(from), "{from} is not in {name}");
        self.put(name, &text.replace(from, to));
    }

    fn run_in(&self, folder: &str, words: &[&str]) -> Ran {
        ran(&mut command(
            &self.top.join(folder),
            &[&["compare"], words].concat(),
        ))
    }

    fn run(&self, words: &[&str]) -> Ran {
        self.run_in(".", words)
    }
}

/// Whether the soya of the mash, and nothing else, became less.
fn tells_of_soya(ran: Ran) -> bool {
    let ran = ran.ends(0);
    assert!(ran.err.is_empty(), "{}", ran.err);
    let holds = |words: &str| ran.out.contains(words);
    holds("1 ration changed") && holds("soya") && holds("25 %") && holds("24 %") && holds("-1")
}

#[test]
fn two_files_and_two_folders() {
    let less = mash("mash").replace("25 %", "24 %");
    let farm = Farm::new(&[
        ("was/store.trug", STORE),
        ("was/mash.trug", &of_store(&mash("mash"))),
        ("is/store.trug", STORE),
        ("is/mash.trug", &of_store(&less)),
        ("is/other name.trug", &of_store(&less)),
    ]);
    assert!(tells_of_soya(farm.run(&[
        "compare",
        "was/mash.trug",
        "is/mash.trug"
    ])));
    assert!(tells_of_soya(farm.run(&[
        "compare",
        "was/mash.trug",
        "is/other name.trug"
    ])));
    fs::remove_file(farm.path("is/other name.trug")).unwrap();
    assert!(tells_of_soya(farm.run(&["compare", "was", "is"])));
    assert!(tells_of_soya(farm.run(&["compare", "was", "is", "mash"])));
    let none = farm.run(&["compare", "was", "is", "mush"]);
    none.fails("there is no ration mush on either side");
    let same = farm.run(&["compare", "was", "was", "--exit-code"]).ends(0);
    assert!(same.out.contains("Nothing changed."), "{}", same.out);
    farm.run(&["compare", "was", "is", "--exit-code"]).ends(1);
    farm.run(&["compare", "was", "nowhere"])
        .fails("no git repository here");
    fs::create_dir(farm.path("empty")).unwrap();
    farm.run(&["compare", "was", "empty"])
        .fails("there is no .trug text in empty");
    farm.run(&["compare", "-", "-"]).fails("both sides");
}

#[test]
fn a_side_can_be_standard_input() {
    let less = of_store(&mash("mash").replace("25 %", "24 %"));
    let farm = Farm::new(&[
        ("store.trug", STORE),
        ("mash.trug", &of_store(&mash("mash"))),
    ]);
    let ran = farm.run_with(&["compare", "mash.trug", "-"], less.as_bytes());
    assert!(tells_of_soya(ran));
}

#[test]
fn a_revision_and_the_work_tree() {
    let repository = Repository::new();
    for sides in [
        ["HEAD", "."],
        ["v1", "farm"],
        ["main:farm", "farm"],
        ["main:farm/mash.trug", "farm/mash.trug"],
        ["main", "farm/mash.trug"],
    ] {
        assert!(tells_of_soya(repository.run(&sides)), "{sides:?}");
    }
    // From a folder below, and with a path from there.
    assert!(tells_of_soya(repository.run_in("farm", &["HEAD", "."])));
    assert!(tells_of_soya(
        repository.run_in("farm", &["HEAD:./mash.trug", "mash.trug"])
    ));
    assert!(tells_of_soya(
        repository.run_in("farm", &["HEAD", "mash.trug"])
    ));
    repository.commit("less");
    assert!(tells_of_soya(repository.run(&["HEAD~1", "HEAD"])));
    assert!(tells_of_soya(
        repository.run(&["HEAD~1:farm/mash.trug", "HEAD"])
    ));
    repository.run(&["HEAD~1", "HEAD", "--exit-code"]).ends(1);
    repository.run(&["HEAD", ".", "--exit-code"]).ends(0);
    // Nothing of git's or of the farm's was touched.
    assert_eq!(repository.git(&["status", "--porcelain"]).out, "");
}

#[test]
fn what_a_revision_uses_is_read_in_the_revision() {
    let repository = Repository::new();
    repository.change("farm/mash.trug", "24 %", "25 %");
    repository.change(
        "farm/store.trug",
        "price          0.6 USD/kg",
        "price          0.7 USD/kg",
    );
    let ran = repository.run(&["HEAD", ".", "--as", "json"]).ends(0);
    let told = document(&ran);
    assert_eq!(told["format"], "trug.compare/0");
    assert_eq!(told["today"], "2026-11-25");
    assert_eq!(told["causes"][0]["name"], "soya");
    assert_eq!(told["causes"][0]["changes"][0]["before"], "0.6 USD/kg");
    assert_eq!(told["rations"][0]["cost"]["before"]["per_kg"], "0.3747");
    fs::remove_file(repository.top.join("farm/store.trug")).unwrap();
    let ran = repository.run(&["HEAD:farm/mash.trug", "HEAD"]).ends(0);
    assert!(ran.out.contains("Nothing changed."), "{}", ran.out);
}

#[test]
fn what_is_not_there_is_said() {
    let repository = Repository::new();
    repository
        .run(&["no-such", "."])
        .fails("there is no file, folder or git revision no-such");
    repository
        .run(&["HEAD:farm/none.trug", "farm"])
        .fails("there is no farm/none.trug in HEAD");
    let ran = repository.run_in("farm", &["HEAD:mash.trug", "mash.trug"]);
    assert!(ran.err.contains("write HEAD:./mash.trug"), "{}", ran.err);
    ran.fails("there is no mash.trug in HEAD");
    repository
        .run(&["HEAD:../../etc", "."])
        .fails("leads out of the revision");
    repository.run(&[":farm", "."]).fails("git revision :farm");
    repository
        .run(&["HEAD..HEAD", "."])
        .fails("git revision HEAD..HEAD");
    repository.put("new/mash.trug", "# nothing\n");
    repository
        .run(&["HEAD", "new"])
        .fails("there is no new in HEAD");
}

#[test]
fn nothing_typed_becomes_an_option_of_git() {
    let repository = Repository::new();
    let trap = repository.top.join("trap");
    let typed = format!("--output={}", trap.display());
    for words in [
        ["--", typed.as_str(), "."],
        ["--", "--all", "."],
        ["--", "-h:farm", "."],
    ] {
        repository.run(&words).fails("git revision -");
    }
    assert!(!trap.exists());
}

#[test]
fn a_path_that_is_there_wins_over_a_revision() {
    let repository = Repository::new();
    let heavy = mash("mash").replace("25 %", "30 %");
    repository.put(
        "v1",
        &of_store(&heavy).replace("store.trug", "farm/store.trug"),
    );
    let ran = repository.run(&["v1", "farm/mash.trug"]).ends(0);
    assert!(ran.out.contains("30 %"), "{}", ran.out);
    fs::remove_file(repository.top.join("v1")).unwrap();
    assert!(tells_of_soya(repository.run(&["v1", "farm/mash.trug"])));
}

#[test]
fn without_git_paths_are_compared_all_the_same() {
    let repository = Repository::new();
    let nowhere = repository.top.join("nothing");
    fs::create_dir(&nowhere).unwrap();
    let compare = |words: &[&str]| {
        let words = [&["compare"], words].concat();
        ran(command(&repository.top, &words).env("PATH", &nowhere))
    };
    compare(&["farm/mash.trug", "farm"]).ends(0);
    compare(&["HEAD", "farm"]).fails("git is not on the PATH");
}

#[test]
fn links_and_roots_hold_inside_of_a_revision() {
    let repository = Repository::new();
    repository.put("coop/trug.root", "");
    repository.put(
        "coop/a/mash.trug",
        &of_store(&mash("far")).replace("store.trug", "../../farm/store.trug"),
    );
    repository.put(
        "linked/mash.trug",
        &of_store(&mash("near")).replace("store.trug", "shared/store.trug"),
    );
    symlink("../farm", repository.top.join("linked/shared")).unwrap();
    symlink("/etc", repository.top.join("linked/away")).unwrap();
    repository.commit("more");
    // A link inside is followed; the root of the co-operative is not left.
    let same = repository.run(&["HEAD", "linked"]).ends(0);
    assert!(
        same.out.contains("Nothing changed. 1 ration was"),
        "{}",
        same.out
    );
    let ran = repository.run(&["HEAD", "coop", "--as", "json"]).ends(0);
    assert_eq!(document(&ran)["changed"], false, "both sides refuse alike");
    let ran = repository
        .run(&["v1:farm", "HEAD:coop", "--as", "json"])
        .ends(0);
    let rations = document(&ran)["rations"].as_array().unwrap().clone();
    let far = rations.iter().find(|one| one["name"] == "far").unwrap();
    assert_eq!(far["change"], "added");
    let findings = far["findings"].as_array().unwrap();
    let is_outside = |one: &Value| one["code"] == "use/outside";
    assert!(findings.iter().any(is_outside), "{far}");
}

#[test]
fn every_form_is_drawn_and_written() {
    let repository = Repository::new();
    let markdown = repository
        .run(&["HEAD", ".", "--as", "markdown"])
        .ends(0)
        .out;
    assert!(
        markdown.starts_with("### HEAD → .\n\n1 ration changed"),
        "{markdown}"
    );
    assert!(
        markdown.contains("| soya | 25 % | 24 % | -1 | 7.5 kg → 7.2 kg |"),
        "{markdown}"
    );
    let html = repository.run(&["HEAD", ".", "--as", "html"]).ends(0).out;
    assert!(html.starts_with("<!DOCTYPE html>"), "{html}");
    let ran = repository
        .run(&["HEAD", ".", "--as", "markdown", "--out", "comment.md"])
        .ends(0);
    assert_eq!((ran.out.as_str(), ran.err.as_str()), ("", ""));
    assert_eq!(
        fs::read_to_string(repository.top.join("comment.md")).unwrap(),
        markdown
    );
    repository
        .run(&["HEAD", ".", "--out", "farm/mash.trug"])
        .fails("would be a text of the farm");
    repository.run(&["HEAD", ".", "--as", "gif"]).fails("gif");
}

#[test]
fn a_large_revision_is_read_in_one_go() {
    let repository = Repository::new();
    for rank in 0..1_500 {
        let text =
            of_store(&mash(&format!("mash-{rank}"))).replace("store.trug", "../farm/store.trug");
        repository.put(&format!("many/{rank}.trug"), &text);
    }
    repository.commit("many");
    let ran = repository.run(&["HEAD", "."]).ends(0);
    assert!(
        ran.out.contains("Nothing changed. 1501 rations"),
        "{}",
        ran.out
    );
}
