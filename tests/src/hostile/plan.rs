//! Plans and analyses of whatever rations a text has: each passes the verifier, adds up, and is drawn in every form.

use trug_findings::Finding;
use trug_model::ration::Ration;
use trug_model::{Concerns, Farm, Q, View, refuses, to_be_weighed};
use trug_plan::plan::Plan;
use trug_plan::{Refusal, Request, analyse_ration, plan_ration};
use trug_report::analysis::{Analysed, analysis_document, analysis_html, analysis_text};
use trug_report::json::to_json;
use trug_report::plan::{PlanAbout, plan_csv, plan_document, verified};
use trug_report::sheet::html::booklet_html;
use trug_report::sheet::{Copies, booklet, booklet_text};
use trug_report::speech::Speech;

use super::farms::{farm, texts};
use super::held::findings_hold;
use crate::answer::TODAY;
use crate::readings::{in_csv, in_plan};

/// Rations of one farm that are planned.
const MOST_RATIONS: usize = 3;
/// Ingredients of one ration: with many small ones the search takes longer than a fuzzer has.
const MOST_LINES: usize = 16;
/// Columns of a sheet.
const WIDTH: usize = 80;

/// Plans and analyses the rations of a farm.
pub fn plan(bytes: &[u8]) {
    let texts = texts(bytes);
    let farm = farm(&texts);
    let found = trug_record::check(&farm);
    let concerns = Concerns::of(&farm);
    let mut left = MOST_RATIONS;
    for &file in farm.asked() {
        let view = farm.open(file);
        for named in farm.rations(file) {
            if left == 0 {
                return;
            }
            left -= 1;
            let concerning = concerns.concerning(&named, None, &found);
            let concerning: Vec<Finding> = concerning.into_iter().map(to_be_weighed).collect();
            if let Some(ration) = view.made_out(&named.name) {
                planned(&farm, &view, &ration, &concerning);
                analysed(&farm, &view, &ration, &concerning);
            } else {
                // What cannot be made out has an error that says why.
                assert!(
                    concerning.iter().any(refuses),
                    "{} is silently none",
                    named.name
                );
            }
        }
    }
}

fn planned(farm: &Farm, view: &View<'_>, ration: &Ration, concerning: &[Finding]) {
    if MOST_LINES < ration.lines.len() {
        return;
    }
    let planned = match plan_ration(view, ration, &Request::default()) {
        Ok(planned) => planned,
        Err(refusal) => {
            let is_silent = refusal == Refusal::NotKnown && !concerning.iter().any(refuses);
            assert!(!is_silent, "{} is refused and nobody says why", ration.name);
            return;
        }
    };
    let about = PlanAbout::of(&planned, ration, concerning, farm.sources(), TODAY);
    let plan = &planned.plan;
    findings_hold(&plan.findings, farm.sources());
    let document = plan_document(plan, &about);
    let document = verified(&document).unwrap_or_else(|breaches| panic!("{breaches:?}"));
    adds_up(plan, ration);
    assert_eq!(in_csv(&plan_csv(plan, &about)), in_plan(&document, false));
    let sheets = booklet(&[(plan, &about)], Speech::english(), Copies::One);
    assert!(!booklet_text(&sheets, WIDTH).is_empty());
    assert!(booklet_html(&sheets).contains("</html>"));
}

/// What is ordered of each ingredient makes up the order exactly, and what is weighed what will be weighed.
fn adds_up(plan: &Plan, ration: &Ration) {
    let (mut ordered, mut weighed) = (Q::ZERO, Q::ZERO);
    for batch in &plan.batches {
        let times = Q::int(i64::from(batch.times));
        for amount in &batch.amounts {
            ordered = ordered + &amount.ordered_g * &times;
            weighed = weighed + &amount.weighed_g * &times;
        }
    }
    assert_eq!(
        ordered, plan.ordered_g,
        "what is ordered of {}",
        ration.name
    );
    assert_eq!(
        weighed, plan.weighed_g,
        "what is weighed of {}",
        ration.name
    );
    let asked = &plan.order.mass_g * &(Q::ONE + ration.tops());
    assert_eq!(asked, plan.ordered_g, "what was asked of {}", ration.name);
}

fn analysed(farm: &Farm, view: &View<'_>, ration: &Ration, concerning: &[Finding]) {
    if MOST_LINES < ration.lines.len() {
        return;
    }
    let has_errors = concerning.iter().any(refuses);
    let Some(analysed) = analyse_ration(view, ration, None, has_errors) else {
        return;
    };
    let one = Analysed::of(analysed, farm.sources(), Some(TODAY.to_owned()));
    let document = to_json(&analysis_document(
        &one.analysis,
        one.sources,
        &one.beside(),
    ));
    assert!(
        serde_json::from_str::<serde_json::Value>(&document).is_ok(),
        "{document}"
    );
    assert!(!analysis_text(&one.analysis, one.sources, &one.beside(), WIDTH).is_empty());
    assert!(analysis_html(std::slice::from_ref(&one)).contains("</html>"));
}
