//! `trug check`: every finding in texts and folders, and in what they use.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use trug_record::check_counting;
use trug_report::{findings, json};

use crate::args::{Check, FindingsForm};
use crate::ending::{Ending, Failure, print};
use crate::load::{load, to_the_end};
use crate::progress::Progress;
use crate::setting::Setting;
use crate::terminal::Stream;

/// Prints every finding.
pub(crate) fn check(typed: &Check, setting: &Setting) -> Result<Ending, Failure> {
    let loaded = to_the_end(load(&typed.paths, setting)?);
    let judged = Arc::new(AtomicUsize::new(0));
    let progress = Progress::of("judging texts", Arc::clone(&judged));
    let found = to_the_end(check_counting(&loaded.farm, &|| {
        judged.fetch_add(1, Ordering::Relaxed);
    }));
    drop(progress);
    let sources = loaded.farm.sources();
    let today = setting.today.to_string();
    let report = match typed.form {
        FindingsForm::Human => findings::human(&found, sources, &setting.style(Stream::Out)),
        FindingsForm::Lines => findings::lines(&found, sources),
        FindingsForm::Json => {
            json::to_json(&findings::findings_document(&found, sources, Some(&today)))
        }
        FindingsForm::Sarif => findings::sarif(&found, sources, Some(&today)),
    };
    print(report.as_bytes())?;
    Ok(loaded.ending.max(typed.deny.judge(&found)))
}
