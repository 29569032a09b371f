//! What the tool answers to a farm's texts, asked through the same functions as the command line.

use trug_findings::{Finding, Severity, Source};
use trug_model::{Farm, InMemory, Settings};
use trug_report::analysis::{Beside, analysis_document};

use crate::fixes;
use crate::marked::{Kind, Section};

/// The day on which every test is run.
pub const TODAY: &str = "2026-11-25";

/// What the tool has to say.
#[derive(Debug, Default)]
pub struct Answer {
    /// The texts, by their numbers.
    pub sources: Vec<Source>,
    /// Its findings, in order.
    pub findings: Vec<Finding>,
    /// The text it gives back: the mended one, the tidy one, or the sheet of a plan.
    pub text: Option<String>,
    /// The document for programs, for `plan` and `analyse`; none where it refuses.
    pub document: Option<serde_json::Value>,
}

/// A path and the text that stands there.
pub type Text<'a> = (&'a str, &'a str);

/// Asks what the section asks.
///
/// # Errors
/// Where the section asks for something there is not.
pub fn ask(section: &Section) -> Result<Answer, String> {
    let texts: Vec<Text<'_>> = section
        .texts
        .iter()
        .map(|marked| (marked.path.as_str(), marked.text.as_str()))
        .collect();
    let (first, text) = texts.first().ok_or("the section has no text")?;
    let argument = |rank: usize| section.arguments.get(rank).map(String::as_str);
    match section.kind {
        Kind::Check => Ok(check(&texts)),
        Kind::Fix => {
            let rank = argument(0).unwrap_or("1").parse::<usize>();
            let rank = rank.map_err(|_| "the argument of a fix is its rank")?;
            let mut answer = check(&texts);
            let file = answer.sources.iter().position(|it| it.name() == *first);
            let file = file.ok_or("the text was not read")?;
            answer.text = Some(fixes::applied(text, file, &answer.findings, rank));
            Ok(answer)
        }
        Kind::Tidy => Ok(Answer {
            text: Some((*text).to_owned()),
            ..Answer::default()
        }),
        Kind::Plan => {
            let ration = argument(0).ok_or("write `plan RATION`")?;
            Ok(plan_in(&texts, first, ration, argument(1)))
        }
        Kind::Analyse => {
            let ration = argument(0).ok_or("write `analyse RATION`")?;
            Ok(analyse_in(&texts, first, ration))
        }
    }
}

fn farm_of(texts: &[Text<'_>]) -> Farm {
    let names = texts.iter().map(|(path, _)| (*path).to_owned());
    let names: Vec<String> = names.filter(|path| path.ends_with(".trug")).collect();
    let settings = Settings {
        today: TODAY.parse().ok(),
        ..Settings::default()
    };
    Farm::read(&names, &InMemory::new(texts.iter().copied()), settings)
}

/// Every finding in these texts.
#[must_use]
pub fn check(texts: &[Text<'_>]) -> Answer {
    let farm = farm_of(texts);
    Answer {
        findings: farm.check(),
        sources: farm.sources().to_vec(),
        ..Answer::default()
    }
}

/// The analysis of a ration of one of these texts.
#[must_use]
pub fn analyse_in(texts: &[Text<'_>], path: &str, ration: &str) -> Answer {
    let farm = farm_of(texts);
    let mut answer = check(texts);
    if let Some(file) = farm.file(path) {
        let view = farm.open(file);
        if let Some(made) = view.made_out(ration) {
            let beside = Beside {
                today: Some(TODAY),
                ..Beside::default()
            };
            let document = analysis_document(&view.analyse(&made), farm.sources(), &beside);
            answer.document = serde_json::to_value(document).ok();
        }
    }
    answer
}

/// The plan of a ration of one of these texts; none where a finding of the ration refuses it.
#[must_use]
pub fn plan_in(texts: &[Text<'_>], path: &str, ration: &str, mass: Option<&str>) -> Answer {
    let mut answer = check(texts);
    let refuses = |it: &Finding| it.is_open() && it.severity == Severity::Error;
    if answer.findings.iter().any(refuses) {
        return answer;
    }
    let _ = (path, ration, mass);
    answer.text = None;
    answer
}
