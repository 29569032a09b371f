//! A farm in a folder of its own, and the tool run in it.

use std::ffi::OsStr;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// The binary under test.
pub(crate) const TRUG: &str = env!("CARGO_BIN_EXE_trug");

/// Every run judges on this day.
pub(crate) const TODAY: &str = "2026-11-25";

/// A folder that goes when the test ends.
pub(crate) struct Farm {
    folder: TempDir,
}

/// What a run left behind.
#[derive(Debug)]
pub(crate) struct Ran {
    /// The exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Farm {
    /// A farm with these texts, marked as a root.
    pub(crate) fn new(texts: &[(&str, &str)]) -> Farm {
        let farm = Farm::unmarked(texts);
        farm.put("trug.root", "");
        farm
    }

    /// A folder with these texts and no mark.
    pub(crate) fn unmarked(texts: &[(&str, &str)]) -> Farm {
        let farm = Farm {
            folder: tempfile::Builder::new().prefix("farm").tempdir().unwrap(),
        };
        for (name, text) in texts {
            farm.put(name, text);
        }
        farm
    }

    /// The path of something in it.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Puts a text there.
    pub(crate) fn put(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// What a text says now.
    pub(crate) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    /// The names of everything in a folder of it, hidden files too.
    pub(crate) fn names(&self, folder: &str) -> Vec<String> {
        let entries = fs::read_dir(self.path(folder)).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    /// The tool, to be run here with nothing of the tester's own surroundings.
    pub(crate) fn command<S: AsRef<OsStr>>(&self, args: &[S]) -> Command {
        command(self.folder.path(), args)
    }

    /// Runs the tool here.
    pub(crate) fn run<S: AsRef<OsStr>>(&self, args: &[S]) -> Ran {
        ran(&mut self.command(args))
    }

    /// Runs the tool here with a text on standard input.
    pub(crate) fn run_with<S: AsRef<OsStr>>(&self, args: &[S], input: &[u8]) -> Ran {
        let mut child = self
            .command(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut to_child = child.stdin.take().unwrap();
        let input = input.to_owned();
        // The tool may stop reading early; that is its own affair.
        let writer = std::thread::spawn(move || drop(to_child.write_all(&input)));
        let output = child.wait_with_output().unwrap();
        writer.join().unwrap();
        Ran::of(&output)
    }
}

impl Ran {
    fn of(output: &std::process::Output) -> Ran {
        Ran {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout.clone()).unwrap(),
            err: String::from_utf8(output.stderr.clone()).unwrap(),
        }
    }

    /// Ended so, or the test fails and shows what was said.
    pub(crate) fn ends(self, code: i32) -> Ran {
        assert_eq!(self.code, code, "{self:#?}");
        self
    }

    /// Failed with a sentence that holds these words, and printed no result.
    pub(crate) fn fails(self, words: &str) -> Ran {
        assert_eq!((self.code, self.out.as_str()), (2, ""), "{self:#?}");
        assert!(self.err.contains(words), "{words:?} not in {}", self.err);
        self
    }
}

/// The tool, to be run in a folder.
pub(crate) fn command<S: AsRef<OsStr>>(folder: &Path, args: &[S]) -> Command {
    let mut command = Command::new(TRUG);
    command
        .args(args)
        .current_dir(folder)
        .env_clear()
        .env("PATH", std::env::var_os("PATH").unwrap_or_default())
        .env("TRUG_TODAY", TODAY)
        .stdin(Stdio::null());
    command
}

/// Runs it to its end.
pub(crate) fn ran(command: &mut Command) -> Ran {
    Ran::of(&command.output().unwrap())
}

/// Makes a pipe with a name, which never ends.
#[cfg(unix)]
pub(crate) fn make_pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}
