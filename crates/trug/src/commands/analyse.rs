//! `trug analyse`: what a ration holds, which bounds it keeps, and what it costs.

use trug_findings::{Finding, Severity};
use trug_model::{Q, refuses};
use trug_plan::analyse_ration;
use trug_report::analysis::{Analysed, analysis_document, analysis_html, analysis_text};
use trug_report::{findings, json};

use crate::args::{self, AnalysisForm};
use crate::ending::{Ending, Failure, print, say, to_stderr};
use crate::load::{load_each, to_the_end};
use crate::mass::mass;
use crate::meant::{Choice, Meant, Opened, Wish, choose};
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// Prints the analyses of the rations meant.
pub(crate) fn analyse(typed: &args::Analyse, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let batch = typed.batch.as_deref().map(mass).transpose()?;
    let loaded = to_the_end(load_each(&typed.path, setting)?);
    let wish = Wish {
        path: &typed.path,
        ration: typed.ration.as_deref(),
        group: None,
        wants_one: typed.form == AnalysisForm::Json,
    };
    let style = setting.style(Stream::Error);
    let meant = match choose(&wish, &loaded)? {
        Choice::Rations(meant) => meant,
        Choice::Unread(farm, found) => {
            to_stderr(&findings::human(&found, farm.sources(), &style));
            return Ok(loaded.ending.max(Ending::Wanting));
        }
    };
    let mut ending = loaded.ending;
    let mut analysed: Vec<Analysed<'_>> = Vec::new();
    for one in &meant {
        let came = work(one, batch.as_ref(), setting);
        let is_known = came.is_some();
        analysed.extend(came);
        let told: Vec<Finding> = one
            .findings
            .iter()
            .filter(|finding| is_told(finding, typed))
            .cloned()
            .collect();
        if !told.is_empty() {
            to_stderr(&findings::human(&told, one.farm.sources(), &style));
        }
        ending = ending.max(typed.deny.judge(&one.findings));
        if !is_known {
            say(&format!(
                "{} is not analysed: its amounts are not known",
                one.ration.name
            ));
            ending = ending.max(if told.iter().any(refuses) {
                Ending::Wanting
            } else {
                Ending::Partial
            });
        }
    }
    if !analysed.is_empty() {
        let result = draw(&analysed, typed.form, setting);
        match &typed.out {
            Some(path) => write_whole(path, result.as_bytes())?,
            None => print(result.as_bytes())?,
        }
    }
    Ok(ending)
}

/// Notes are said where they are denied; an analysis shows itself what it could not decide.
fn is_told(finding: &Finding, typed: &args::Analyse) -> bool {
    Severity::Note < finding.severity || typed.deny.denies(finding)
}

fn work<'a>(meant: &'a Meant<'_>, batch: Option<&Q>, setting: &Setting) -> Option<Analysed<'a>> {
    let mut opened = Opened::default();
    let view = opened.view(meant);
    let ration = view.made_out(&meant.ration.name)?;
    let has_errors = meant.findings.iter().any(refuses);
    let analysed = analyse_ration(view, &ration, batch, has_errors)?;
    let today = Some(setting.today.to_string());
    Some(Analysed::of(analysed, meant.farm.sources(), today))
}

/// All analyses as one result.
fn draw(analysed: &[Analysed<'_>], form: AnalysisForm, setting: &Setting) -> String {
    let width = setting.style(Stream::Out).width;
    let document =
        |one: &Analysed<'_>| analysis_document(&one.analysis, one.sources, &one.beside());
    let text = |one: &Analysed<'_>| analysis_text(&one.analysis, one.sources, &one.beside(), width);
    let all = analysed.iter();
    match form {
        AnalysisForm::Text => all.map(text).collect::<Vec<_>>().join("\n\n"),
        AnalysisForm::Json => all.map(|one| json::to_json(&document(one))).collect(),
        AnalysisForm::Jsonl => all.map(|one| json::to_json_line(&document(one))).collect(),
        AnalysisForm::Html => analysis_html(analysed),
    }
}
