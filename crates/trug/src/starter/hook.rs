//! The git hook: set where that takes nothing away from a repository, and left to the user everywhere else.

use std::ffi::OsStr;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::args::Like;
use crate::starter::files;

/// The hook in the farm.
pub(crate) const HOOK: &str = ".githooks/pre-commit";

/// The folder that git is told to look for hooks in.
const FOLDER: &str = ".githooks";

/// Where git is told.
const SETTING: &str = "core.hooksPath";

/// How the hook stands.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Hook {
    /// git runs it from now on.
    IsSet,
    /// The farm lies in no repository, or in one that leaves it out.
    NoRepository,
    /// There is no git to be asked.
    NoGit,
    /// The repository has other hooks, which git would no longer run.
    Others {
        /// Where they are.
        place: String,
        /// Our hook, from the top of the repository.
        hook: String,
    },
    /// git did not answer or would not.
    Refused {
        /// Its words.
        why: String,
        /// What the setting would be.
        setting: String,
    },
}

/// Sets the hook of the farm in `folder` where its repository has no hooks at all.
pub(crate) fn set(folder: &Path) -> Hook {
    match try_set(folder) {
        Ok(hook) | Err(hook) => hook,
    }
}

fn try_set(folder: &Path) -> Result<Hook, Hook> {
    let Some(farm) = in_repository(folder)? else {
        return Ok(Hook::NoRepository);
    };
    let value = setting(&farm);
    let others = |place: String| Hook::Others {
        place,
        hook: format!("{farm}{HOOK}"),
    };
    if let Answer::Yes(set) = ask(folder, &["config", "--get", SETTING])? {
        let up = sure(folder, &["rev-parse", "--show-cdup"])?;
        return Ok(if is_ours(&folder.join(up).join(&set)) {
            Hook::IsSet
        } else {
            others(format!("{SETTING} is {set}"))
        });
    }
    let hooks = sure(folder, &["rev-parse", "--git-path", "hooks"])?;
    if has_hooks(&folder.join(&hooks)) {
        return Ok(others(".git/hooks".to_owned()));
    }
    sure(folder, &["config", SETTING, &value])?;
    Ok(Hook::IsSet)
}

/// The farm's place in the repository it lies in, with `/` at its end; empty at the top. None where it lies in none.
fn in_repository(folder: &Path) -> Result<Option<String>, Hook> {
    let asked = ask(
        folder,
        &["rev-parse", "--is-inside-work-tree", "--show-prefix"],
    )?;
    let said = match asked {
        Answer::Yes(said) => said,
        Answer::No(why) if below_git(folder).is_some() => return Err(refused(folder, why)),
        Answer::No(_) => return Ok(None),
    };
    let Some(farm) = said.strip_prefix("true\n") else {
        return Ok(None);
    };
    // The repository of a whole home folder leaves most of it out, and has no say over what lies there.
    let is_left_out = !farm.is_empty()
        && matches!(
            ask(folder, &["check-ignore", "--quiet", "."])?,
            Answer::Yes(_)
        );
    Ok(Some(farm.to_owned()).filter(|_| !is_left_out))
}

/// git reads a leading `~` or `%` as something else than a name.
fn setting(farm: &str) -> String {
    let here = if farm.starts_with(['~', '%']) {
        "./"
    } else {
        ""
    };
    format!("{here}{farm}{FOLDER}")
}

/// The hook of another farm in this repository; it checks all that is committed, this farm too.
fn is_ours(folder: &Path) -> bool {
    let ours = files(Like::Small)
        .into_iter()
        .find(|file| file.path == HOOK);
    let there = fs::read_to_string(folder.join("pre-commit"));
    there.is_ok_and(|there| ours.is_some_and(|ours| ours.text == there))
}

/// Something other than the samples that git itself puts there.
fn has_hooks(folder: &Path) -> bool {
    let Ok(entries) = fs::read_dir(folder) else {
        return false;
    };
    entries
        .flatten()
        .map(|entry| PathBuf::from(entry.file_name()))
        .any(|name| name.extension() != Some(OsStr::new("sample")))
}

/// The farm's place below the nearest folder that looks like the top of a repository.
fn below_git(folder: &Path) -> Option<String> {
    let folder = folder.canonicalize().ok()?;
    let is_top = |above: &&Path| above.join(".git").symlink_metadata().is_ok();
    let top = folder.ancestors().find(is_top)?;
    let inside = folder.strip_prefix(top).ok()?;
    let parts = inside
        .iter()
        .map(|part| format!("{}/", part.to_string_lossy()));
    Some(parts.collect())
}

fn refused(folder: &Path, why: String) -> Hook {
    Hook::Refused {
        why,
        setting: setting(&below_git(folder).unwrap_or_default()),
    }
}

/// What git said.
enum Answer {
    /// It ended well, and printed this.
    Yes(String),
    /// It did not, and this is its first line of why.
    No(String),
}

/// Asks what git is to answer or do.
fn sure(folder: &Path, words: &[&str]) -> Result<String, Hook> {
    match ask(folder, words)? {
        Answer::Yes(said) => Ok(said),
        Answer::No(why) => Err(refused(folder, why)),
    }
}

/// Variables that would have git speak of another repository than the one the farm lies in.
const OF_ANOTHER: [&str; 6] = [
    "GIT_DIR",
    "GIT_WORK_TREE",
    "GIT_COMMON_DIR",
    "GIT_INDEX_FILE",
    "GIT_PREFIX",
    "GIT_CONFIG",
];

fn ask(folder: &Path, words: &[&str]) -> Result<Answer, Hook> {
    let mut git = Command::new("git");
    git.arg("-C").arg(folder).args(words).stdin(Stdio::null());
    for variable in OF_ANOTHER {
        git.env_remove(variable);
    }
    let output = git.output().map_err(|error| match error.kind() {
        ErrorKind::NotFound => Hook::NoGit,
        _ => refused(folder, format!("git could not be started: {error}")),
    })?;
    if output.status.success() {
        let said = String::from_utf8_lossy(&output.stdout);
        return Ok(Answer::Yes(
            said.strip_suffix('\n').unwrap_or(&said).to_owned(),
        ));
    }
    let why = String::from_utf8_lossy(&output.stderr);
    let why = why.lines().next().unwrap_or("git did not say why");
    Ok(Answer::No(why.replace(char::is_control, "\u{fffd}")))
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    #[test]
    fn the_setting_is_a_path_from_the_top() {
        assert_eq!(setting(""), ".githooks");
        assert_eq!(setting("farms/pond house/"), "farms/pond house/.githooks");
        assert_eq!(setting("~river/"), "./~river/.githooks");
    }

    #[test]
    fn samples_are_no_hooks() {
        let home = tempfile::tempdir().unwrap();
        assert!(!has_hooks(&home.path().join("gone")));
        fs::write(home.path().join("pre-commit.sample"), "").unwrap();
        assert!(!has_hooks(home.path()));
        fs::write(home.path().join("pre-push"), "").unwrap();
        assert!(has_hooks(home.path()));
    }
}
