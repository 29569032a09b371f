//! `trug analyse`: what a ration holds, which bounds it keeps, and what it costs.

use std::collections::BTreeMap;

use trug_findings::{Finding, Severity, Source};
use trug_model::analysis::Analysis;
use trug_model::{Q, refuses};
use trug_plan::doses::expectations;
use trug_plan::{Request, plan_ration};
use trug_report::analysis::{
    AnalysisPage, Beside, Interval, analysis_document, analysis_html, analysis_text, plain_labels,
};
use trug_report::plan::intervals;
use trug_report::{findings, json};

use crate::args::{self, AnalysisForm};
use crate::ending::{Ending, Failure, print, say, to_stderr};
use crate::load::load_each;
use crate::mass::mass;
use crate::meant::{Choice, Meant, Wish, choose};
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// Prints the analyses of the rations meant.
pub(crate) fn analyse(typed: &args::Analyse, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let batch = typed.batch.as_deref().map(mass).transpose()?;
    let loaded = load_each(&typed.path, setting)?;
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
        let came = work(one, batch.as_ref());
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

/// An analysis with what it cannot know by itself.
struct Analysed<'a> {
    analysis: Analysis,
    sources: &'a [Source],
    bounds: Vec<Interval>,
    doses: Vec<Interval>,
    label: Option<String>,
    labels: BTreeMap<String, String>,
}

/// The analysis; none where the amounts of the ration are not known, so that every sum would be wrong.
fn work<'a>(meant: &'a Meant<'_>, batch: Option<&Q>) -> Option<Analysed<'a>> {
    let view = meant.farm.open(meant.file);
    let mut ration = (*view.made_out(&meant.ration.name)?).clone();
    if !ration.is_sound || !ration.adds_up {
        return None;
    }
    if let Some(batch) = batch {
        ration.batch = Some(batch.clone());
    }
    let analysis = view.analyse(&ration);
    // The scales' share in what a dose can be is known only where the batch can be planned.
    let is_sound = !meant.findings.iter().any(refuses);
    let planned = is_sound
        .then(|| plan_ration(&view, &ration, &Request::default()).ok())
        .flatten();
    let expected = match planned {
        Some(planned) => planned.expectations,
        None => expectations(
            &ration,
            &analysis,
            view.method_of(&ration).even.as_ref(),
            None,
        ),
    };
    let (bounds, doses) = intervals(&expected);
    Some(Analysed {
        sources: meant.farm.sources(),
        bounds,
        doses,
        label: ration.label.clone(),
        labels: plain_labels(&ration),
        analysis,
    })
}

impl Analysed<'_> {
    fn beside<'a>(&'a self, today: &'a str) -> Beside<'a> {
        Beside {
            bounds: &self.bounds,
            doses: &self.doses,
            today: Some(today),
        }
    }

    fn page<'a>(&'a self, beside: &'a Beside<'a>) -> AnalysisPage<'a> {
        AnalysisPage {
            analysis: &self.analysis,
            sources: self.sources,
            beside,
            label: self.label.as_deref(),
            labels: &self.labels,
        }
    }
}

/// All analyses as one result.
fn draw(analysed: &[Analysed<'_>], form: AnalysisForm, setting: &Setting) -> String {
    let today = setting.today.to_string();
    let width = setting.style(Stream::Out).width;
    let document =
        |one: &Analysed<'_>| analysis_document(&one.analysis, one.sources, &one.beside(&today));
    let text =
        |one: &Analysed<'_>| analysis_text(&one.analysis, one.sources, &one.beside(&today), width);
    let all = analysed.iter();
    match form {
        AnalysisForm::Text => all.map(text).collect::<Vec<_>>().join("\n\n"),
        AnalysisForm::Json => all.map(|one| json::to_json(&document(one))).collect(),
        AnalysisForm::Jsonl => all.map(|one| json::to_json_line(&document(one))).collect(),
        AnalysisForm::Html => {
            let besides: Vec<Beside<'_>> = all.map(|one| one.beside(&today)).collect();
            let pages = analysed.iter().zip(&besides);
            let pages: Vec<AnalysisPage<'_>> =
                pages.map(|(one, beside)| one.page(beside)).collect();
            analysis_html(&pages)
        }
    }
}
