//! The guides in `examples/`: every command and every output in them is so, in their order, in a folder of their own.
//!
//! A block ```` ```console ```` holds commands after `$ ` and what they print; a line `…` stands for any lines. With `ends 1`
//! behind it, its last command ends so. A block ```` ```trug NAME ```` is a file the reader writes; with `add`, what is written at
//! its end; with `change`, lines that take the place of those that begin so. `<!-- in FOLDER -->` brings a
//! folder of the repository. `TRUG_UPDATE=1` rewrites what the commands print.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::farm::{Farm, TODAY};
use crate::start::path_with_trug;

const GUIDES: [&str; 4] = [
    "TUTORIAL.md",
    "SMALLHOLDER.md",
    "ADVISER.md",
    "CO-OPERATIVE.md",
];

/// Lines of a page that is one sheet of paper, what the screen shows included.
const MOST_LINES: usize = 120;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn read(name: &str) -> String {
    fs::read_to_string(root().join("examples").join(name)).unwrap()
}

/// A reader who does everything a guide says.
struct Reader {
    home: Farm,
    /// Where the reader is, below the home.
    here: PathBuf,
}

impl Reader {
    fn path(&self, name: &str) -> PathBuf {
        self.home.path("").join(&self.here).join(name)
    }

    /// Types a command; gives what is printed, and how it ended.
    fn types(&mut self, command: &str) -> (String, i32) {
        if let Some(folder) = command.strip_prefix("cd ") {
            self.here.push(folder);
            assert!(self.path("").is_dir(), "{command}");
            return (String::new(), 0);
        }
        let mut shell = Command::new("sh");
        shell
            .args(["-c", &format!("( {command} ) 2>&1")])
            .current_dir(self.path(""))
            .env_clear()
            .env("PATH", path_with_trug())
            .env("HOME", self.home.path(""))
            .env("TRUG_TODAY", TODAY);
        for (key, value) in [("NAME", "Nila"), ("EMAIL", "nila@example.org")] {
            shell.env(format!("GIT_AUTHOR_{key}"), value);
            shell.env(format!("GIT_COMMITTER_{key}"), value);
        }
        let output = shell.output().unwrap();
        let printed = String::from_utf8(output.stdout).unwrap();
        let lines = printed.lines().map(|line| format!("{}\n", line.trim_end()));
        (lines.collect(), output.status.code().unwrap())
    }

    /// Writes what a block says into its file.
    fn writes(&self, words: &[&str], block: &str) {
        let path = self.path(words[0]);
        match words[1..] {
            [] => fs::write(path, block).unwrap(),
            ["add"] => {
                let text = fs::read_to_string(&path).unwrap();
                fs::write(path, format!("{text}\n{block}")).unwrap();
            }
            ["change"] => {
                let text = fs::read_to_string(&path).unwrap();
                fs::write(path, changed(&text, block)).unwrap();
            }
            _ => panic!("{words:?}"),
        }
    }
}

/// A text with the lines of the block in the place of those that begin with the same word: of the item whose header
/// stands above them in the block, or of the whole text where there is none. Each must be there, and once.
fn changed(text: &str, block: &str) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    let is_inside = |line: &str| line.starts_with(' ');
    let first = |line: &str| line.split_whitespace().next().map(str::to_owned);
    let mut item = 0..lines.len();
    for line in block.lines().filter(|line| !line.is_empty()) {
        let is_same = |old: &str| match is_inside(line) {
            true => is_inside(old) && first(old) == first(line),
            false => old == line,
        };
        let looked_through = if is_inside(line) {
            item.clone()
        } else {
            0..lines.len()
        };
        let places: Vec<usize> = looked_through.filter(|at| is_same(lines[*at])).collect();
        let [at] = places[..] else {
            panic!("{} lines are like {line:?}", places.len());
        };
        lines[at] = line;
        if !is_inside(line) {
            let inner = lines[at + 1..].iter().take_while(|line| is_inside(line));
            item = at + 1..at + 1 + inner.count();
        }
    }
    lines.join("\n") + "\n"
}

/// Whether what is printed is as written, where a line `…` stands for any lines.
fn agree(written: &str, printed: &str) -> bool {
    let parts: Vec<&str> = written.split("…\n").collect();
    let (Some((first, rest)), true) = (
        parts.split_first(),
        written.is_empty() || written.ends_with('\n'),
    ) else {
        return false;
    };
    let Some((last, middle)) = rest.split_last() else {
        return written == printed;
    };
    let Some(mut left) = printed.strip_prefix(first) else {
        return false;
    };
    for part in middle {
        // Only whole lines are passed over.
        let starts = left.match_indices(part).map(|(at, _)| at);
        let Some(at) = { starts }.find(|at| *at == 0 || left[..*at].ends_with('\n')) else {
            return false;
        };
        left = &left[at + part.len()..];
    }
    left.strip_suffix(last)
        .is_some_and(|before| before.is_empty() || before.ends_with('\n'))
}

/// A command of a block, and what stands below it.
fn commands(block: &str) -> Vec<(String, String)> {
    let mut commands: Vec<(String, String)> = Vec::new();
    for line in block.lines() {
        match (line.strip_prefix("$ "), commands.last_mut()) {
            (Some(command), _) => commands.push((command.to_owned(), String::new())),
            (None, Some((_, printed))) => printed.push_str(&format!("{line}\n")),
            (None, None) => panic!("a block begins with a command: {line}"),
        }
    }
    commands
}

/// Does a block as a reader would; gives it as it should read.
fn done(reader: &mut Reader, info: &str, block: &str, wrong: &mut Vec<String>) -> String {
    let words: Vec<&str> = info.split_whitespace().collect();
    match words[..] {
        ["console", ref ends @ ..] => {
            let mut now = String::new();
            let commands = commands(block);
            for (rank, (command, written)) in commands.iter().enumerate() {
                let (printed, code) = reader.types(command);
                let wanted = match (rank + 1 == commands.len(), ends) {
                    (true, ["ends", code]) => code.parse().unwrap(),
                    _ => 0,
                };
                let is_so = agree(written, &printed);
                if !is_so || code != wanted {
                    wrong.push(format!(
                        "$ {command} (ends {code})\n{printed}--- written:\n{written}"
                    ));
                }
                now.push_str(&format!(
                    "$ {command}\n{}",
                    if is_so { written } else { &printed }
                ));
            }
            now
        }
        ["trug" | "csv", _, ..] => {
            reader.writes(&words[1..], block);
            block.to_owned()
        }
        _ => block.to_owned(),
    }
}

fn copied(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copied(&path, &target);
        } else {
            fs::copy(&path, target).unwrap();
        }
    }
}

/// Follows a guide from its first line to its last; gives it as it should read.
fn followed(guide: &str, wrong: &mut Vec<String>) -> String {
    let mut reader = Reader {
        home: Farm::unmarked(&[]),
        here: PathBuf::new(),
    };
    let mut now = String::new();
    let mut open: Option<(String, String)> = None;
    for line in guide.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(_), Some((info, block))) => {
                now.push_str(&done(&mut reader, &info, &block, wrong));
            }
            (Some(info), None) => open = Some((info.to_owned(), String::new())),
            (None, Some((info, block))) => {
                open = Some((info, format!("{block}{line}\n")));
                continue;
            }
            (None, None) => {
                let folder = line
                    .strip_prefix("<!-- in ")
                    .and_then(|rest| rest.strip_suffix(" -->"));
                if let Some(folder) = folder {
                    copied(&root().join(folder), &reader.path(""));
                }
            }
        }
        now.push_str(&format!("{line}\n"));
    }
    now
}

fn follow(name: &str) {
    let guide = read(name);
    let mut wrong = Vec::new();
    let now = followed(&guide, &mut wrong);
    if std::env::var_os("TRUG_UPDATE").is_some() {
        fs::write(root().join("examples").join(name), now).unwrap();
    } else {
        assert!(wrong.is_empty(), "{name}\n{}", wrong.join("\n"));
        assert_eq!(now, guide);
    }
}

#[test]
fn the_tutorial_is_so_from_an_empty_folder_to_a_traced_batch() {
    let guide = read(GUIDES[0]);
    for command in [
        "start", "check", "analyse", "balance", "plan", "evenness", "trace", "compare", "buy",
    ] {
        assert!(guide.contains(&format!("\n$ trug {command}")), "{command}");
    }
    follow(GUIDES[0]);
}

#[test]
fn the_page_of_the_smallholder_is_so() {
    follow(GUIDES[1]);
}

#[test]
fn the_page_of_the_adviser_is_so() {
    follow(GUIDES[2]);
}

#[test]
fn the_page_of_the_co_operative_is_so() {
    follow(GUIDES[3]);
}

#[test]
fn guides_lead_to_each_other_and_defer_to_those_who_decide() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    for name in GUIDES {
        let guide = read(name);
        assert!(
            readme.contains(&format!("(examples/{name})")),
            "README.md: {name}"
        );
        for other in GUIDES.iter().filter(|other| **other != name) {
            assert!(guide.contains(&format!("({other})")), "{name}: {other}");
        }
        for word in ["label", "veterinarian", "law"] {
            assert!(guide.contains(word), "{name}: {word}");
        }
        let is_a_page = name == GUIDES[0] || guide.lines().count() <= MOST_LINES;
        assert!(is_a_page, "{name} has {} lines", guide.lines().count());
    }
}

#[test]
fn a_shortened_output_is_held_to_what_is_left_of_it() {
    let printed = "one\ntwo\nthree\nfour\n";
    for written in [
        "one\ntwo\nthree\nfour\n",
        "…\n",
        "one\n…\n",
        "…\nfour\n",
        "one\n…\nthree\n…\n",
        "one\n…\nfour\n",
    ] {
        assert!(agree(written, printed), "{written}");
    }
    for written in [
        "",
        "one\n",
        "two\n…\n",
        "…\nthree\n",
        "…\nour\n",
        "one\n…\nfour\n…\ntwo\n",
        "one\n…\nhree\n…\n",
    ] {
        assert!(!agree(written, printed), "{written}");
    }
    assert!(agree("", ""));
}

#[test]
fn a_change_takes_the_place_of_what_has_its_name() {
    let text = "ration a\n  salt           3 g/kg\n  maize          rest\n\nration b\n  maize          5 %\n";
    assert_eq!(
        changed(text, "  salt           30 g/kg\n"),
        text.replace("3 g/kg", "30 g/kg")
    );
    assert_eq!(
        changed(text, "ration b\n  maize          7 %\n"),
        text.replace("5 %", "7 %")
    );
}
