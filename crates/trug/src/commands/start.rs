//! `trug start`: a farm to begin with, which checks clean and plans.

use std::fmt::Write;
use std::path::Path;

use crate::args::{Like, Start};
use crate::ending::{Ending, Failure, print, shown};
use crate::shell;
use crate::starter::{self, HOOK, Hook, StarterFile};

/// Makes the farm, and says what to type next.
pub(crate) fn start(typed: &Start) -> Result<Ending, Failure> {
    let folder = typed.folder.as_path();
    // `check` and `plan` take no other, so a farm there would be of no use.
    if std::path::absolute(folder).is_ok_and(|folder| folder.to_str().is_none()) {
        return Err(
            Failure::new(format!("the name {} is not UTF-8", shown(folder)))
                .help("give it a name in letters"),
        );
    }
    let files = starter::files(typed.like);
    starter::place(folder, &files)?;
    let hook = starter::set(folder);
    print(report(folder, typed.like, &files, &hook).as_bytes())?;
    Ok(Ending::Clean)
}

fn report(folder: &Path, like: Like, files: &[StarterFile], hook: &Hook) -> String {
    let kind = match like {
        Like::Small => "a farm",
        Like::CoOp => "a co-operative of two farms",
    };
    let name = if is_here(folder) {
        "This folder".to_owned()
    } else {
        shown(folder)
    };
    let mut report = format!(
        "{name} is {kind} now: {} files, which check clean and plan.\nREADME.md says what to change first.\n",
        files.len()
    );
    let plan = starter::first_text(like);
    report += "\nType next:\n";
    if !is_here(folder) {
        let _ = writeln!(report, "  cd {}", shell::word(folder));
    }
    let _ = writeln!(report, "  trug check\n  trug plan {plan}\n");
    report += &told(hook);
    report
}

/// What is to be said of the hook: the sentence, and what to type.
fn told(hook: &Hook) -> String {
    let tell_git = |setting: &str| {
        let setting = shell::word(Path::new(setting));
        format!("  git config core.hooksPath {setting}\n")
    };
    let at_the_top = tell_git(".githooks");
    match hook {
        Hook::IsSet => format!("git checks every commit from now on, by {HOOK}.\n"),
        Hook::NoRepository => format!(
            "It is in no git repository yet. To have every commit checked, type in it:\n  git init\n{at_the_top}"
        ),
        Hook::NoGit => format!(
            "git is not on the PATH. Once it is, to have every commit checked, type:\n  git init\n{at_the_top}"
        ),
        Hook::Others { place, hook } => format!(
            "The repository has hooks of its own ({}), which stay as they are.\n\
             To have every commit checked, write into its pre-commit:\n  sh {} || exit 1\n",
            shown(Path::new(place)),
            shell::word(Path::new(hook))
        ),
        Hook::Refused { why, setting } => format!(
            "The hook is not set: {why}\nTo have every commit checked, type once git agrees:\n{}",
            tell_git(setting)
        ),
    }
}

/// The folder is the one the tool was started in.
fn is_here(folder: &Path) -> bool {
    let here = Path::new(".").canonicalize().ok();
    here.is_some() && here == folder.canonicalize().ok()
}
