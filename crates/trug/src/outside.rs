//! What the language server is given of the world: the disk, the clock, and the process of the editor.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::UNIX_EPOCH;

use jiff::civil::Date;
use trug_lsp::{Listed, World};
use trug_model::Texts;

use crate::asked::texts_in;
use crate::clock;
use crate::disk::Disk;
use crate::ending::Failure;
use crate::root;
use crate::setting::Setting;

/// The disk and the clock, as the command line sees them.
#[derive(Debug)]
pub(crate) struct Outside {
    root: Option<PathBuf>,
    may_leave_root: bool,
    /// The day that was typed or set; else the clock is asked.
    today: Option<Date>,
}

impl Outside {
    /// What was typed holds for the server too.
    pub(crate) fn of(setting: &Setting) -> Result<Outside, Failure> {
        Ok(Outside {
            root: setting.root.as_deref().map(root::named).transpose()?,
            may_leave_root: setting.may_leave_root,
            today: setting.said_today,
        })
    }
}

impl World for Outside {
    fn canonical(&self, path: &Path) -> PathBuf {
        if let Ok(path) = path.canonicalize() {
            return path;
        }
        // What is not there yet lies in a folder that may be.
        match (path.parent(), path.file_name()) {
            (Some(folder), Some(name)) if folder != path => self.canonical(folder).join(name),
            _ => path.to_owned(),
        }
    }

    fn root_of(&self, folder: &Path) -> PathBuf {
        match &self.root {
            Some(root) if folder.starts_with(root) => root.clone(),
            _ => root::above(folder),
        }
    }

    fn texts(&self, root: &Path) -> Arc<dyn Texts + Send + Sync> {
        Arc::new(Disk::below(root, self.may_leave_root))
    }

    fn list(&self, root: &Path, folder: &Path) -> Listed {
        let named = |path: PathBuf| Some((root::name_in(root, &path)?, mark(&path)?));
        texts_in(folder).filter_map(named).collect()
    }

    fn mark(&self, root: &Path, name: &str) -> Option<u64> {
        mark(&root.join(name))
    }

    fn today(&self) -> Date {
        self.today.unwrap_or_else(clock::day)
    }

    fn may_leave_root(&self) -> bool {
        self.may_leave_root
    }

    fn watch(&self, process: u32) -> Box<dyn FnMut() -> bool + Send> {
        let first = life(process);
        Box::new(move || {
            let now = life(process);
            // The number may have been given to another process since.
            now.is_some() && now == first
        })
    }
}

/// Another one once the file was written again.
fn mark(path: &Path) -> Option<u64> {
    let metadata = path.metadata().ok()?;
    let written = metadata.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    let nanoseconds = written.as_nanos() as u64;
    Some(nanoseconds.rotate_left(20) ^ metadata.len())
}

/// When a process began, for as long as it lives.
#[cfg(target_os = "linux")]
fn life(process: u32) -> Option<String> {
    let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    // The name of the program, in brackets, may hold anything; after it come the state and 18 other fields.
    let (_, fields) = stat.rsplit_once(')')?;
    let mut fields = fields.split_whitespace();
    let state = fields.next()?;
    let began = fields.nth(18)?;
    // A process that has ended may wait long for somebody to take notice.
    (state != "Z" && state != "X").then(|| began.to_owned())
}

/// When a process began, as far as the system's own tool tells.
#[cfg(all(unix, not(target_os = "linux")))]
fn life(process: u32) -> Option<String> {
    let asked = std::process::Command::new("ps")
        .args(["-o", "lstart=", "-p", &process.to_string()])
        .output();
    match asked {
        Ok(answer) if answer.status.success() => {
            Some(String::from_utf8_lossy(&answer.stdout).into_owned())
        }
        Ok(_) => None,
        // Where it cannot be asked, the end of the input has to do.
        Err(_) => Some(String::new()),
    }
}

/// Elsewhere the end of the input has to do.
#[cfg(not(unix))]
fn life(_: u32) -> Option<String> {
    Some(String::new())
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    #[cfg(target_os = "linux")]
    #[test]
    fn a_process_that_ended_is_gone_even_before_its_parent_takes_notice() {
        let mut child = std::process::Command::new("sleep")
            .arg("60")
            .spawn()
            .unwrap();
        let began = life(child.id());
        assert!(began.is_some());
        assert_eq!(life(child.id()), began);
        child.kill().unwrap();
        while life(child.id()).is_some() {
            std::thread::yield_now();
        }
        child.wait().unwrap();
        assert_eq!(life(child.id()), None);
    }
}
