//! From paths to a farm that has been read: what `check`, `plan` and `analyse` begin with.

use std::mem::ManuallyDrop;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use trug_findings::{FileId, Finding, Severity};
use trug_model::{Farm, Settings};

use crate::args::{DeniedSeverity, Deny};
use crate::asked::ask;
use crate::disk::Disk;
use crate::ending::{Ending, Failure};
use crate::progress::Progress;
use crate::setting::Setting;

/// A farm, and what could not be read of what was asked for.
#[derive(Debug)]
pub(crate) struct Loaded {
    /// The texts asked for and all they use.
    pub(crate) farm: Farm,
    /// A folder was named, so everything in it is meant.
    pub(crate) has_folder: bool,
    /// `Partial` where something asked for could not be read, which was said.
    pub(crate) ending: Ending,
}

/// Each text asked for, read alone with what it uses: another text of the folder says nothing about it.
#[derive(Debug)]
pub(crate) struct LoadedEach {
    /// A farm for each text, and the text in it, in the order of their names.
    pub(crate) texts: Vec<(Farm, FileId)>,
    /// What names of texts are relative to.
    pub(crate) root: PathBuf,
    /// A folder was named, so everything in it is meant.
    pub(crate) has_folder: bool,
    /// `Partial` where something asked for could not be read, which was said.
    pub(crate) ending: Ending,
}

/// This thread works with the others: what is small is done before another would have woken. Nothing where a number of threads was
/// asked for.
fn work_here_too() {
    let _ = rayon::ThreadPoolBuilder::new()
        .use_current_thread()
        .build_global();
}

/// Reads what the paths name as one farm.
pub(crate) fn load(paths: &[PathBuf], setting: &Setting) -> Result<Loaded, Failure> {
    work_here_too();
    let asked = ask(paths, setting)?;
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    let progress = Progress::of("reading texts", disk.reads());
    let names: Vec<String> = asked.names.iter().cloned().collect();
    let farm = Farm::read(&names, &disk, settings(setting));
    drop(progress);
    Ok(Loaded {
        farm,
        has_folder: asked.has_folder,
        ending: asked.ending().max(disk.tell_refused()),
    })
}

/// Reads each text that a path names as a farm of its own.
pub(crate) fn load_each(path: &Path, setting: &Setting) -> Result<LoadedEach, Failure> {
    work_here_too();
    let asked = ask(std::slice::from_ref(&path.to_owned()), setting)?;
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    let progress = Progress::of("reading texts", disk.reads());
    let names: Vec<&String> = asked.names.iter().collect();
    let read = |name: &&String| {
        let farm = Farm::read(std::slice::from_ref(*name), &disk, settings(setting));
        let file = farm.asked().first().copied()?;
        Some((farm, file))
    };
    let texts = names.par_iter().filter_map(read).collect();
    drop(progress);
    Ok(LoadedEach {
        texts,
        root: asked.root.clone(),
        has_folder: asked.has_folder,
        ending: asked.ending().max(disk.tell_refused()),
    })
}

/// What the process holds to its end: giving it back piece by piece would only make that later.
pub(crate) fn to_the_end<T>(whole: T) -> ManuallyDrop<T> {
    ManuallyDrop::new(whole)
}

pub(crate) fn settings(setting: &Setting) -> Settings {
    Settings {
        today: Some(setting.today),
        may_leave_root: setting.may_leave_root,
        ..Settings::default()
    }
}

impl Deny {
    /// `Wanting` where a finding is denied.
    pub(crate) fn judge(&self, findings: &[Finding]) -> Ending {
        Ending::wanting(findings.iter().any(|finding| self.denies(finding)))
    }

    /// Whether nobody has accepted it and it weighs as much as is denied.
    pub(crate) fn denies(&self, finding: &Finding) -> bool {
        let least = match self.severity {
            DeniedSeverity::Error => Severity::Error,
            DeniedSeverity::Warning => Severity::Warning,
            DeniedSeverity::Note => Severity::Note,
        };
        finding.is_open() && least <= finding.severity
    }
}
