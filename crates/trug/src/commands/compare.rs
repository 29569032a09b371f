//! `trug compare`: what changed between two files, folders or revisions.

use trug_compare::compare as compared_of;
use trug_model::{Farm, composed};
use trug_report::compare::{
    Compared, compare_document, compare_html, compare_markdown, compare_text,
};
use trug_report::json;

use crate::args::{self, CompareForm};
use crate::ending::{Ending, Failure, print};
use crate::near::nearest;
use crate::setting::Setting;
use crate::side::{Side, Typed};
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// Prints what changed.
pub(crate) fn compare(typed: &args::Compare, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let (before, after) = (Typed::of(&typed.before), Typed::of(&typed.after));
    if (&before, &after) == (&Typed::Input, &Typed::Input) {
        return Err(Failure::new("both sides cannot be standard input")
            .help("name a file, a folder or a revision for one of them"));
    }
    let one = before.read(&after, setting)?;
    let other = after.read(&before, setting)?;
    let ration = typed.ration.as_deref();
    if let Some(ration) = ration {
        refuse_unknown(ration, &one, &other)?;
    }
    let sides = (
        trug_compare::Side::new(&one.farm, one.base.as_str()),
        trug_compare::Side::new(&other.farm, other.base.as_str()),
    );
    let comparison = compared_of(&sides.0, &sides.1, ration);
    let today = setting.today.to_string();
    let compared = Compared {
        comparison: &comparison,
        before: &typed.before,
        after: &typed.after,
        ration,
        today: Some(&today),
    };
    let result = match typed.form {
        CompareForm::Text => compare_text(&compared, setting.style(Stream::Out).width),
        CompareForm::Markdown => compare_markdown(&compared),
        CompareForm::Json => json::to_json(&compare_document(&compared)),
        CompareForm::Html => compare_html(&compared),
    };
    match &typed.out {
        Some(path) => write_whole(path, result.as_bytes())?,
        None => print(result.as_bytes())?,
    }
    let has_changed = typed.exit_code && !comparison.is_empty();
    Ok(one
        .ending
        .max(other.ending)
        .max(Ending::wanting(has_changed)))
}

/// A ration that neither side has is a mistake, not a comparison without changes.
fn refuse_unknown(ration: &str, one: &Side, other: &Side) -> Result<(), Failure> {
    let names = |farm: &Farm| -> Vec<String> {
        let own = farm.files().filter(|file| !farm.is_book(*file));
        let rations = own.flat_map(|file| farm.rations(file));
        rations.map(|ration| ration.name.to_string()).collect()
    };
    let mut known = [names(&one.farm), names(&other.farm)].concat();
    known.sort();
    known.dedup();
    let wanted = composed(ration);
    if known.iter().any(|name| *name == *wanted) {
        return Ok(());
    }
    let failure = Failure::new(format!(
        "there is no ration {} on either side",
        ration.escape_debug()
    ));
    let near = nearest(&wanted, known.iter().map(String::as_str));
    Err(match near.first() {
        Some(near) => failure.help(format!("write {near}, if that is meant")),
        None => failure.help("name a ration of one of them, or none to compare all"),
    })
}
