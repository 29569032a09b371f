//! `trug tidy`: one layout for all texts, written only where it changes something.

use trug_model::{Absent, Texts};

use crate::args::Tidy;
use crate::asked::{STANDARD_INPUT, ask};
use crate::disk::Disk;
use crate::ending::{Ending, Failure, print, say};
use crate::progress::Progress;
use crate::setting::Setting;
use crate::write::write_over;

/// Tidies texts in place, or lists those that are not tidy.
pub(crate) fn tidy(typed: &Tidy, setting: &Setting) -> Result<Ending, Failure> {
    let asked = ask(&typed.paths, setting)?;
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    if asked.names.contains(STANDARD_INPUT) && 1 < asked.names.len() {
        return Err(Failure::new("standard input is tidied alone")
            .help("leave `-` out, or everything else"));
    }
    let progress = Progress::of("tidying texts", disk.reads());
    let mut ending = asked.ending();
    let mut untidy = String::new();
    for name in &asked.names {
        match tidy_text(name, typed.check, &disk) {
            Ok(true) if typed.check => untidy += &format!("{name}\n"),
            Ok(_) => {}
            Err(failure) => {
                failure.tell();
                ending = Ending::Partial;
            }
        }
    }
    drop(progress);
    print(untidy.as_bytes())?;
    Ok(ending.max(Ending::wanting(!untidy.is_empty())))
}

/// Tidies one text where that is wanted; whether it was untidy.
fn tidy_text(name: &str, is_check: bool, disk: &Disk) -> Result<bool, Failure> {
    let before = disk.get(name).map_err(|absent| untouched(name, absent))?;
    let after = trug_syntax::tidy(&before);
    let is_untidy = *after != *before;
    if is_check {
        return Ok(is_untidy);
    }
    if name == STANDARD_INPUT {
        print(after.as_bytes())?;
    } else if is_untidy {
        write_over(&disk.path(name), &before, &after)?;
        say(&format!("{} is tidied", name.escape_debug()));
    }
    Ok(is_untidy)
}

fn untouched(name: &str, absent: Absent) -> Failure {
    let why = match absent {
        Absent::NotText(at) => format!("is not UTF-8 text from byte {} on", at + 1),
        Absent::TooLarge => "is larger than 10 MiB".to_owned(),
        Absent::Missing => "is gone".to_owned(),
        Absent::Outside => "is outside the root".to_owned(),
        Absent::Unreadable(words) => format!("could not be read: {words}"),
    };
    Failure::new(format!(
        "{} {why}, so it was left as it is",
        name.escape_debug()
    ))
}
