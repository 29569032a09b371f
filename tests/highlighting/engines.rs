//! Grammars that other programs run: TextMate's in its engine, Vim's syntax file in Vim and Neovim.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;
use trug_tests::repository;

use crate::kinds::{Kind, Token};
use crate::same::{self, Tokens};
use crate::texts::{self, Text};

/// Texts on a disk, and the list of their paths.
struct Laid {
    folder: TempDir,
    paths: Vec<PathBuf>,
}

impl Laid {
    fn out(texts: &[Text]) -> Laid {
        let folder = tempfile::tempdir().unwrap();
        let mut paths = Vec::new();
        for (rank, text) in texts.iter().enumerate() {
            let path = folder.path().join(format!("{rank}.trug"));
            fs::write(&path, &text.text).unwrap();
            paths.push(path);
        }
        let list: String = paths
            .iter()
            .map(|path| format!("{}\n", path.display()))
            .collect();
        fs::write(folder.path().join("list"), list).unwrap();
        Laid { folder, paths }
    }

    fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

/// A line for each token, of five columns: path, line, first and last byte, kind.
fn read(laid: &Laid, written: &str) -> Vec<Tokens> {
    let mut found = vec![Tokens::new(); laid.paths.len()];
    for line in written.lines().filter(|line| !line.is_empty()) {
        let columns: Vec<_> = line.split('\t').collect();
        let [path, number, start, end, kind] = columns[..] else {
            panic!("{written}");
        };
        let rank: usize = Path::new(path)
            .file_stem()
            .unwrap()
            .to_str()
            .unwrap()
            .parse()
            .unwrap();
        let token = Token {
            start: start.parse().unwrap(),
            end: end.parse().unwrap(),
            kind: Kind::named(kind),
        };
        found[rank]
            .entry(number.parse().unwrap())
            .or_default()
            .push(token);
    }
    found
}

fn textmate(texts: &[Text]) -> Vec<Tokens> {
    let laid = Laid::out(texts);
    let run = Command::new("node")
        .arg(repository::root().join("editors/tests/tokens.mjs"))
        .arg(repository::root().join("editors/vscode/syntaxes/trug.tmLanguage.json"))
        .arg(laid.at("list"))
        .output()
        .expect("node");
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    read(&laid, &String::from_utf8(run.stdout).unwrap())
}

fn vim(program: &str, texts: &[Text]) -> Vec<Tokens> {
    let laid = Laid::out(texts);
    let run = Command::new(program)
        .args(["-Nu", "NONE", "-i", "NONE", "-n", "-es", "-S"])
        .arg(repository::root().join("editors/tests/tokens.vim"))
        .env(
            "TRUG_SYNTAX",
            repository::root().join("editors/neovim/syntax/trug.vim"),
        )
        .env("TRUG_TEXTS", laid.at("list"))
        .env("TRUG_TOKENS", laid.at("tokens"))
        .env("LC_ALL", "C.UTF-8")
        .envs(
            std::env::var("TRUG_NVIM_RUNTIME")
                .map(|path| ("VIMRUNTIME", path))
                .ok()
                .filter(|_| program != "vim"),
        )
        .output()
        .unwrap_or_else(|error| panic!("{program}: {error}"));
    let written = fs::read_to_string(laid.at("tokens")).unwrap_or_default();
    assert!(run.status.success(), "{program}: {written}");
    read(&laid, &written)
}

/// What an engine makes of texts.
type Engine = Box<dyn Fn(&[Text]) -> Vec<Tokens>>;

/// The engines, each with what it gives for texts. Neovim's path is in TRUG_NVIM where it is not `nvim`, and that of its
/// own files in TRUG_NVIM_RUNTIME.
pub(crate) fn all() -> Vec<(&'static str, Engine)> {
    let neovim = std::env::var("TRUG_NVIM").unwrap_or_else(|_| "nvim".to_owned());
    vec![
        ("TextMate", Box::new(textmate)),
        ("Vim", Box::new(|texts| vim("vim", texts))),
        ("Neovim", Box::new(move |texts| vim(&neovim, texts))),
    ]
}

fn hold(name: &str) {
    let texts = texts::all();
    let engines = all();
    let (name, run) = engines.iter().find(|(known, _)| *known == name).unwrap();
    same::hold(name, &texts, &run(&texts));
}

#[test]
fn textmate_marks_every_word_as_the_language_does() {
    hold("TextMate");
}

#[test]
fn vim_marks_every_word_as_the_language_does() {
    hold("Vim");
}

#[test]
fn neovim_marks_every_word_as_the_language_does() {
    hold("Neovim");
}
