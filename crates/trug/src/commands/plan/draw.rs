//! Plans in the form that was asked for.

use std::io::IsTerminal;

use trug_report::json;
use trug_report::plan::{PlanAbout, plan_csv};
use trug_report::sheet::html::booklet_html;
use trug_report::sheet::{Booklet, Copies, booklet, booklet_text};
use trug_report::speech::Speech;

use super::outcome::Ready;
use crate::args::{self, Paper, PlanForm};
use crate::ending::{Failure, say, to_stderr};
use crate::setting::Setting;
use crate::terminal::Stream;

/// Letters that are named where a font lacks them: enough to know the script.
const MOST_LETTERS: usize = 24;

/// The language of the sheet; English where none was asked for.
pub(super) fn speech(tag: Option<&str>) -> Result<Speech, Failure> {
    let tag = tag.unwrap_or(trug_report::speech::ENGLISH);
    let speech = Speech::of(tag).ok_or_else(|| {
        let tag = tag.escape_debug();
        Failure::new(format!("{tag} is not the tag of a language"))
            .help("write a tag such as fr, sw or pt-BR")
    })?;
    if !speech.has_phrases() {
        let known: Vec<&str> = trug_report::speech::PHRASES
            .iter()
            .map(|(tag, _)| *tag)
            .collect();
        say(&format!(
            "there are no phrases in {tag}, only in {}: the sheet is in English, with labels in {tag} where the text has them",
            known.join(", ")
        ));
    }
    Ok(speech)
}

/// All plans as one result.
pub(super) fn draw(
    plans: &[&Ready<'_>],
    typed: &args::Plan,
    speech: &Speech,
    setting: &Setting,
) -> Result<Vec<u8>, Failure> {
    let result = match typed.form {
        PlanForm::Pdf => return pdf(&sheets(plans, speech, Copies::EachBatch), typed),
        PlanForm::Text => text(&sheets(plans, speech, Copies::One), setting),
        PlanForm::Json => each(plans, |ready| json::to_json(&ready.document)),
        PlanForm::Jsonl => each(plans, |ready| json::to_json_line(&ready.document)),
        PlanForm::Html => booklet_html(&sheets(plans, speech, Copies::EachBatch)),
        PlanForm::Csv => table(plans),
    };
    Ok(result.into_bytes())
}

/// A PDF is no text: it does not go to a terminal.
fn pdf(sheets: &Booklet, typed: &args::Plan) -> Result<Vec<u8>, Failure> {
    if typed.out.is_none() && std::io::stdout().is_terminal() {
        return Err(Failure::new("a PDF cannot be shown in a terminal")
            .help("add --out sheet.pdf, or send it to a file or a printer"));
    }
    let paper = match typed.paper {
        Paper::A4 => trug_pdf::Paper::A4,
        Paper::Letter => trug_pdf::Paper::Letter,
    };
    let pdf = trug_pdf::pdf(sheets, paper).map_err(|error| Failure::new(error.to_string()))?;
    if !pdf.undrawable.is_empty() {
        let letters: String = pdf.undrawable.iter().take(MOST_LETTERS).collect();
        say(&format!(
            "the fonts of the PDF lack these letters, boxes stand for them: {}",
            letters.escape_debug()
        ));
        to_stderr("  help: print the page of --as html from a browser instead\n");
    }
    Ok(pdf.bytes)
}

fn sheets(plans: &[&Ready<'_>], speech: &Speech, copies: Copies) -> Booklet {
    let plans: Vec<(&trug_plan::plan::Plan, &PlanAbout<'_>)> = plans
        .iter()
        .map(|ready| (&ready.plan, &ready.about))
        .collect();
    booklet(&plans, speech, copies)
}

fn text(sheets: &Booklet, setting: &Setting) -> String {
    let style = setting.style(Stream::Out);
    let text = booklet_text(sheets, style.width);
    if style.ascii {
        text.replace('→', "=>").replace('·', "-")
    } else {
        text
    }
}

fn each(plans: &[&Ready<'_>], form: impl Fn(&Ready<'_>) -> String) -> String {
    plans.iter().map(|ready| form(ready)).collect()
}

/// One heading above the rows of all.
fn table(plans: &[&Ready<'_>]) -> String {
    let mut result = String::new();
    for ready in plans {
        let table = plan_csv(&ready.plan, &ready.about);
        if result.is_empty() {
            result = table;
        } else {
            result.push_str(table.split_once('\n').map_or("", |(_, rows)| rows));
        }
    }
    result
}
