//! `trug analyse`: what a ration holds, which bounds it keeps, and what it costs.

use trug_findings::{Finding, Severity};
use trug_model::{Q, refuses};
use trug_plan::doses::expectations;
use trug_plan::{Request, plan_ration};
use trug_report::analysis::{Beside, analysis_document, analysis_text};
use trug_report::plan::intervals;
use trug_report::{findings, json};

use crate::args::{self, AnalysisForm};
use crate::ending::{Ending, Failure, print, say, to_stderr};
use crate::load::load_each;
use crate::mass::mass;
use crate::meant::{Choice, Meant, Wish, choose};
use crate::setting::Setting;
use crate::terminal::Stream;

/// Prints the analyses of the rations meant.
pub(crate) fn analyse(typed: &args::Analyse, setting: &Setting) -> Result<Ending, Failure> {
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
    let mut result = String::new();
    for one in &meant {
        let drawn = draw(one, batch.as_ref(), typed.form, setting);
        if let (Some(_), AnalysisForm::Text, false) = (&drawn, typed.form, result.is_empty()) {
            result.push_str("\n\n");
        }
        result.push_str(drawn.as_deref().unwrap_or_default());
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
        if drawn.is_none() {
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
    print(result.as_bytes())?;
    Ok(ending)
}

/// Notes are said where they are denied; an analysis shows itself what it could not decide.
fn is_told(finding: &Finding, typed: &args::Analyse) -> bool {
    Severity::Note < finding.severity || typed.deny.denies(finding)
}

/// The analysis in its form; none where the amounts of the ration are not known, so that every sum would be wrong.
fn draw(
    meant: &Meant<'_>,
    batch: Option<&Q>,
    form: AnalysisForm,
    setting: &Setting,
) -> Option<String> {
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
    let today = setting.today.to_string();
    let beside = Beside {
        bounds: &bounds,
        doses: &doses,
        today: Some(&today),
    };
    let sources = meant.farm.sources();
    Some(match form {
        AnalysisForm::Text => analysis_text(
            &analysis,
            sources,
            &beside,
            setting.style(Stream::Out).width,
        ),
        AnalysisForm::Json => json::to_json(&analysis_document(&analysis, sources, &beside)),
        AnalysisForm::Jsonl => json::to_json_line(&analysis_document(&analysis, sources, &beside)),
    })
}
