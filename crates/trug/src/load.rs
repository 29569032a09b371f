//! From paths to a farm that has been read: what `check`, `plan` and `analyse` begin with.

use std::path::PathBuf;

use trug_findings::{Finding, Severity};
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

/// Reads what the paths name.
pub(crate) fn load(paths: &[PathBuf], setting: &Setting) -> Result<Loaded, Failure> {
    let asked = ask(paths, setting)?;
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    let progress = Progress::of("reading", disk.reads());
    let names: Vec<String> = asked.names.iter().cloned().collect();
    let settings = Settings {
        today: Some(setting.today),
        may_leave_root: setting.may_leave_root,
    };
    let farm = Farm::read(&names, &disk, settings);
    drop(progress);
    let found = if asked.is_partial {
        Ending::Partial
    } else {
        Ending::Clean
    };
    Ok(Loaded {
        farm,
        has_folder: asked.has_folder,
        ending: found.max(disk.tell_refused()),
    })
}

impl Deny {
    /// `Wanting` where a finding that nobody has accepted weighs as much as is denied.
    pub(crate) fn judge(&self, findings: &[Finding]) -> Ending {
        let least = match self.severity {
            DeniedSeverity::Error => Severity::Error,
            DeniedSeverity::Warning => Severity::Warning,
            DeniedSeverity::Note => Severity::Note,
        };
        Ending::wanting(
            findings
                .iter()
                .any(|finding| finding.is_open() && least <= finding.severity),
        )
    }
}
