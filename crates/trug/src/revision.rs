//! Texts of a git revision, read through git: the work tree is never touched, and nothing is fetched.

mod objects;
mod tree;

use std::ffi::OsStr;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::ending::{Failure, shown};
use crate::setting::Setting;

pub(crate) use tree::{Kind, Tree};

/// A revision as it was typed: `REV` or `REV:PATH`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Named<'a> {
    /// What git knows it by.
    pub(crate) revision: &'a str,
    /// The text or folder in it.
    pub(crate) path: Option<&'a str>,
}

impl<'a> Named<'a> {
    /// Takes apart what was typed. A colon in braces belongs to the revision, as git has it.
    pub(crate) fn of(typed: &'a str) -> Named<'a> {
        let mut depth = 0_usize;
        for (at, letter) in typed.char_indices() {
            match letter {
                '{' => depth += 1,
                '}' => depth = depth.saturating_sub(1),
                ':' if depth == 0 => {
                    let (revision, path) = typed.split_at(at);
                    return Named {
                        revision,
                        path: path.get(1..),
                    };
                }
                _ => {}
            }
        }
        Named {
            revision: typed,
            path: None,
        }
    }
}

/// The repository that holds the folder the tool was started in, or the root that was named.
#[derive(Debug)]
pub(crate) struct Repository {
    /// Where git is run.
    folder: PathBuf,
    /// The folder it is run in, from the top of the work tree, with a `/` at its end; empty at the top.
    prefix: String,
    /// The top of the work tree; none where there is none.
    top: Option<PathBuf>,
}

impl Repository {
    /// Finds it; `wanted` is what made git necessary.
    pub(crate) fn find(wanted: &str, setting: &Setting) -> Result<Repository, Failure> {
        let folder = setting.root.clone().unwrap_or_else(|| PathBuf::from("."));
        let prefix = git(&folder, &["rev-parse", "--show-prefix"]).map_err(|error| {
            let failure = Failure::new(match error.kind() {
                ErrorKind::NotFound => format!(
                    "git is not on the PATH, and {} is no file or folder",
                    quoted(wanted)
                ),
                _ => format!("git could not be started: {error}"),
            });
            failure.help("name a file or a folder that is there, or install git to name a revision")
        })?;
        if !prefix.status.success() {
            let failure = Failure::new(format!(
                "there is no file or folder {}, and no git repository here that could have such a revision",
                quoted(wanted)
            ));
            return Err(failure.help(said_by(&prefix)));
        }
        let top = git(&folder, &["rev-parse", "--show-toplevel"]).ok();
        let top = top.filter(|top| top.status.success());
        let top = top.and_then(|top| PathBuf::from(line(&top)).canonicalize().ok());
        Ok(Repository {
            prefix: line(&prefix),
            folder,
            top,
        })
    }

    /// The path of something on the disk, from the top; none where it is not in this work tree.
    pub(crate) fn path_of(&self, path: &Path) -> Option<String> {
        let top = self.top.as_ref()?;
        let real = if path.is_dir() {
            path.canonicalize().ok()?
        } else {
            let folder = path.parent().filter(|folder| *folder != Path::new(""));
            let folder = folder.unwrap_or(Path::new(".")).canonicalize().ok()?;
            folder.join(path.file_name()?)
        };
        crate::root::name_in(top, &real)
    }

    /// Reads which texts a revision has.
    pub(crate) fn tree(&self, named: &Named<'_>, typed: &str) -> Result<Tree, Failure> {
        let unknown = || {
            Failure::new(format!(
                "there is no file, folder or git revision {}",
                quoted(typed)
            ))
            .help("write a revision as main, v1.2 or HEAD~1, a text in it as main:rations.trug")
        };
        if named.revision.is_empty() || named.revision.starts_with('-') {
            return Err(unknown());
        }
        let wanted = format!("{}^{{tree}}", named.revision);
        let words = [
            "rev-parse",
            "--verify",
            "--quiet",
            "--end-of-options",
            &wanted,
        ];
        let found = self.git(&words)?;
        if !found.status.success() {
            return Err(unknown());
        }
        let id = line(&found);
        let listed = self.git(&[
            "ls-tree",
            "-r",
            "-z",
            "--full-tree",
            "--end-of-options",
            &id,
        ])?;
        if !listed.status.success() {
            return Err(Failure::new(format!(
                "git could not list {}: {}",
                quoted(typed),
                said_by(&listed)
            )));
        }
        let objects = objects::Objects::of(self.command(&["cat-file", "--batch"]))?;
        Ok(Tree::of(&listed.stdout, objects))
    }

    /// A path in a revision, from the top: one that begins with `./` or `../` is meant from here, as git has it.
    pub(crate) fn below_top(&self, path: &str) -> Option<String> {
        let is_from_here =
            path == "." || path == ".." || path.starts_with("./") || path.starts_with("../");
        let from = if is_from_here {
            self.prefix.as_str()
        } else {
            ""
        };
        tree::plain(&format!("{from}{path}"))
    }

    /// The folder the tool was started in, from the top.
    pub(crate) fn here(&self) -> &str {
        self.prefix.trim_end_matches('/')
    }

    /// The root that was named, from the top; none where none was.
    pub(crate) fn root(&self, setting: &Setting) -> Option<String> {
        setting.root.as_ref().map(|_| self.here().to_owned())
    }

    fn command(&self, words: &[&str]) -> Command {
        command(&self.folder, words)
    }

    fn git(&self, words: &[&str]) -> Result<Output, Failure> {
        git(&self.folder, words)
            .map_err(|error| Failure::new(format!("git could not be started: {error}")))
    }
}

fn git(folder: &Path, words: &[&str]) -> std::io::Result<Output> {
    // A folder that is not there must not read as a git that is not there.
    if !folder.is_dir() {
        return Err(std::io::Error::other(format!(
            "{} is no folder",
            shown(folder)
        )));
    }
    command(folder, words).output()
}

/// Git, so that it asks nobody, fetches nothing and leaves even its own index as it is.
fn command(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new("git");
    command
        .args(words.iter().map(OsStr::new))
        .current_dir(folder)
        .env("GIT_OPTIONAL_LOCKS", "0")
        .env("GIT_NO_LAZY_FETCH", "1")
        .env("GIT_TERMINAL_PROMPT", "0")
        .env("LC_ALL", "C")
        .stdin(Stdio::null())
        .stderr(Stdio::piped());
    command
}

/// The one line that git printed.
fn line(output: &Output) -> String {
    let text = String::from_utf8_lossy(&output.stdout);
    text.trim_end_matches(['\n', '\r']).to_owned()
}

/// What git said, in one line that steers no terminal.
fn said_by(output: &Output) -> String {
    let text = String::from_utf8_lossy(&output.stderr);
    let first = text.lines().next().unwrap_or_default();
    format!("git says: {}", shown(Path::new(first)))
}

pub(crate) fn quoted(typed: &str) -> String {
    shown(Path::new(typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_colon_outside_of_braces_ends_the_revision() {
        let named = |typed: &'static str| {
            let named = Named::of(typed);
            (named.revision, named.path)
        };
        assert_eq!(named("main"), ("main", None));
        assert_eq!(named("main:farm/a.trug"), ("main", Some("farm/a.trug")));
        assert_eq!(named("main:"), ("main", Some("")));
        assert_eq!(named("HEAD^{/fix: salt}"), ("HEAD^{/fix: salt}", None));
        assert_eq!(named("HEAD^{/a: b}:c:d"), ("HEAD^{/a: b}", Some("c:d")));
        assert_eq!(named(":a"), ("", Some("a")));
    }
}
