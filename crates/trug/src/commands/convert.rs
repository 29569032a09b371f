//! `trug convert`: a spreadsheet saved as CSV to a text, and a text to CSV.
//!
//! What could not be used is said on standard error; a text that is made is checked before anyone sees it.

use std::path::Path;

use trug_convert::{Converted, Refusal, Remark, Weight, Wishes, to_table, to_text};
use trug_findings::{Severity, Source};
use trug_model::{Absent, Farm, InMemory, LARGEST_TEXT, Settings, Texts};
use trug_report::findings;

use crate::args::{Convert, ConvertForm};
use crate::asked::{STANDARD_INPUT, ask};
use crate::disk::Disk;
use crate::ending::{Ending, Failure, print, say, shown, to_stderr};
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::write_whole;

/// So many remarks are printed; the rest is counted.
const MOST_REMARKS: usize = 200;

/// Prints or writes the other form of a file.
pub(crate) fn convert(typed: &Convert, setting: &Setting) -> Result<Ending, Failure> {
    let form = form(typed)?;
    refuse_replacing(typed.out.as_deref(), form)?;
    let asked = ask(std::slice::from_ref(&typed.file), setting)?;
    let name = asked.names.first().cloned().unwrap_or_default();
    if asked.has_folder {
        return Err(
            Failure::new(format!("{} is a folder", shown(&typed.file))).help("name one file")
        );
    }
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    let text = disk
        .get(&name)
        .map_err(|absent| unread(&name, absent, form))?;
    let converted = match form {
        ConvertForm::Csv => table(&text, typed),
        ConvertForm::Trug => to_text(&text, &wishes(typed)),
    };
    let converted = converted.map_err(|Refusal { says, help }| Failure::new(says).help(help))?;
    tell(&converted.remarks, &Source::new(name, text));
    let ending = match form {
        ConvertForm::Csv => Ending::Clean,
        ConvertForm::Trug => check(&converted, typed, setting),
    };
    match &typed.out {
        Some(path) => write_whole(path, converted.text.as_bytes())?,
        None => print(converted.text.as_bytes())?,
    }
    let is_lost = converted
        .remarks
        .iter()
        .any(|remark| remark.weight == Weight::Lost);
    Ok(asked.ending().max(ending).max(Ending::wanting(is_lost)))
}

/// What is made: as asked for, else by the ending of the file.
fn form(typed: &Convert) -> Result<ConvertForm, Failure> {
    let ending = typed
        .file
        .extension()
        .map(|ending| ending.to_ascii_lowercase());
    let form = match (typed.to, ending) {
        (Some(form), _) => form,
        (None, Some(ending)) if ending == "trug" => ConvertForm::Csv,
        (None, Some(_)) => ConvertForm::Trug,
        (None, None) => {
            return Err(Failure::new("the file has no ending that says what it is")
                .help("say what is to be made of it: --to csv or --to trug"));
        }
    };
    if form == ConvertForm::Csv {
        let of_tables = [
            !typed.unit.is_empty(),
            typed.animal.is_some(),
            1 < typed.ration.len(),
        ];
        let names = ["--unit is", "--for is", "several --ration are"];
        if let Some((_, name)) = of_tables.iter().zip(names).find(|(is_there, _)| **is_there) {
            return Err(
                Failure::new(format!("{name} for tables, and this is a text"))
                    .help("leave it out, or say --to trug where the file is a table"),
            );
        }
    }
    Ok(form)
}

/// A text of the farm was written by somebody, and is not written over.
fn refuse_replacing(path: Option<&Path>, form: ConvertForm) -> Result<(), Failure> {
    let Some(path) = path else { return Ok(()) };
    let is_text = path.extension().is_some_and(|ending| ending == "trug");
    if is_text && form == ConvertForm::Csv {
        return Err(
            Failure::new(format!("{} would be a text of the farm", shown(path)))
                .help("give the table another ending: .csv"),
        );
    }
    if is_text && path.symlink_metadata().is_ok() {
        return Err(Failure::new(format!(
            "{} is there already, and is not replaced",
            shown(path)
        ))
        .help("name another file, and take over from it what you want"));
    }
    Ok(())
}

fn table(text: &str, typed: &Convert) -> Result<Converted, Refusal> {
    to_table(text, typed.ration.first().map(String::as_str))
}

fn wishes(typed: &Convert) -> Wishes {
    let stem = typed
        .file
        .file_stem()
        .filter(|_| typed.file != Path::new(STANDARD_INPUT));
    Wishes {
        units: typed.unit.clone(),
        rations: typed.ration.clone(),
        animal: typed.animal.clone(),
        name: stem
            .map(|stem| stem.to_string_lossy().into_owned())
            .unwrap_or_default(),
    }
}

/// Says each remark with its place.
fn tell(remarks: &[Remark], source: &Source) {
    let name = source.name().escape_debug().to_string();
    for remark in remarks.iter().take(MOST_REMARKS) {
        let at = source.position(remark.span.start as usize);
        let says = remark
            .says
            .replace(|letter: char| letter.is_control(), "\u{fffd}");
        to_stderr(&format!("{name}:{}:{}: {says}\n", at.line, at.column));
        if !remark.help.is_empty() {
            let help = remark
                .help
                .replace(|letter: char| letter.is_control(), "\u{fffd}");
            to_stderr(&format!("  help: {help}\n"));
        }
    }
    if MOST_REMARKS < remarks.len() {
        let more = remarks.len() - MOST_REMARKS;
        say(&format!("{more} more remarks of this kind are not printed"));
    }
}

/// Checks the text that was made, and says what there is to say about it.
fn check(converted: &Converted, typed: &Convert, setting: &Setting) -> Ending {
    if LARGEST_TEXT < converted.text.len() {
        say(
            "the text that was made is larger than 10 MiB, and no such text is read: split the table",
        );
        return Ending::Wanting;
    }
    let path = typed.out.as_deref().unwrap_or(&typed.file);
    let stem = path.file_stem().map_or_else(
        || "result".to_owned(),
        |stem| stem.to_string_lossy().into_owned(),
    );
    let stem = if path == Path::new(STANDARD_INPUT) {
        "result".to_owned()
    } else {
        stem
    };
    let name = format!("{stem}.trug");
    let texts = InMemory::new([(name.as_str(), converted.text.as_str())]);
    let settings = Settings {
        today: Some(setting.today),
        ..Settings::default()
    };
    let farm = Farm::read(std::slice::from_ref(&name), &texts, settings);
    let found = farm.check();
    if found.is_empty() {
        say("the text that was made checks clean");
        return Ending::Clean;
    }
    say("the text that was made does not check clean:");
    to_stderr(&findings::human(
        &found,
        farm.sources(),
        &setting.style(Stream::Error),
    ));
    Ending::wanting(
        found
            .iter()
            .any(|finding| finding.severity == Severity::Error),
    )
}

fn unread(name: &str, absent: Absent, form: ConvertForm) -> Failure {
    let name = name.escape_debug();
    match absent {
        Absent::NotText(at) => {
            let failure = Failure::new(format!("{name} is not UTF-8 text from byte {} on", at + 1));
            failure.help(match form {
                ConvertForm::Trug => "save it from the spreadsheet as CSV UTF-8",
                ConvertForm::Csv => "save it as UTF-8 text",
            })
        }
        Absent::TooLarge => Failure::new(format!("{name} is larger than 10 MiB"))
            .help("split it into several files"),
        Absent::Missing => Failure::new(format!("{name} is gone")),
        Absent::Outside => Failure::new(format!("{name} is outside the root")),
        Absent::Unreadable(words) => Failure::new(format!("{name} could not be read: {words}")),
    }
}
