//! The sheet, the analysis and the least cost of a text's rations as pages, to be shown beside the text while it is written.
//!
//! A page always comes: where a ration cannot be planned it says why. A plan that is made in spite of errors says DRAFT
//! on every page.

use std::collections::BTreeSet;
use std::sync::Arc;

use trug_balance::{Settled, Watch, balance_found};
use trug_findings::{FileId, Finding};
use trug_model::prices::Prices;
use trug_model::{Absent, Concerns, Farm, RationName, Texts, composed, refuses, to_be_weighed};
use trug_plan::plan::Plan;
use trug_plan::{Refusal, Request, analyse_ration, plan_ration};
use trug_report::analysis::{Analysed, analysis_html};
use trug_report::balance::{BalancedRation, balance_html};
use trug_report::plan::{PlanAbout, plan_document, verified};
use trug_report::refusal::refusal_html;
use trug_report::sheet::html::booklet_html;
use trug_report::sheet::{Copies, booklet};
use trug_report::speech::Speech;

/// The sheet of a ration, or of all rations of the text that are fed.
#[must_use]
pub fn plan(farm: &Farm, file: FileId, ration: Option<&str>) -> String {
    let Some(reading) = Reading::of(farm, file) else {
        return refusal_html("there is no such text", &[], &[]);
    };
    let mut drawn = Vec::new();
    let mut wrong = Vec::new();
    let mut findings = Vec::new();
    let today = reading.today();
    if today.is_empty() {
        return refusal_html("a sheet bears its day, and no day is set", &[], &[]);
    }
    for meant in reading.meant(ration) {
        match reading.plan(&meant, &today) {
            Ok(planned) => drawn.push(planned),
            Err((why, found)) => {
                wrong.push(why);
                findings.extend(found);
            }
        }
    }
    if drawn.is_empty() {
        let why = match wrong.as_slice() {
            [] => "there is no such ration in this text".to_owned(),
            wrong => wrong.join("; "),
        };
        return refusal_html(&why, &findings, reading.farm.sources());
    }
    // The order of a day's work: what is medicated is mixed last.
    drawn.sort_by_key(|(_, about)| about.is_medicated);
    let plans: Vec<(&Plan, &PlanAbout<'_>)> =
        drawn.iter().map(|(plan, about)| (plan, about)).collect();
    booklet_html(&booklet(&plans, Speech::english(), Copies::EachBatch))
}

/// The analysis of a ration, or of all rations of the text that are fed.
#[must_use]
pub fn analysis(farm: &Farm, file: FileId, ration: Option<&str>) -> String {
    let Some(reading) = Reading::of(farm, file) else {
        return refusal_html("there is no such text", &[], &[]);
    };
    let meant = reading.meant(ration);
    let analysed: Vec<Analysed<'_>> = meant
        .iter()
        .filter_map(|meant| reading.analyse(meant))
        .collect();
    if analysed.is_empty() {
        let why = match meant.first() {
            None => "there is no such ration in this text".to_owned(),
            Some(meant) => format!("{} is not analysed: its amounts are not known", meant.name),
        };
        let findings: Vec<Finding> = meant
            .iter()
            .flat_map(|meant| reading.concerning(meant))
            .collect();
        return refusal_html(&why, &findings, reading.farm.sources());
    }
    analysis_html(&analysed)
}

/// The least cost of a ration, or of all rations of the text that have open amounts. Work that nobody waits for any more ends.
#[must_use]
pub fn balance(
    farm: &Farm,
    file: FileId,
    ration: Option<&str>,
    is_cancelled: &(dyn Fn() -> bool + Sync),
) -> String {
    let Some(reading) = Reading::of(farm, file) else {
        return refusal_html("there is no such text", &[], &[]);
    };
    let mut pages: Vec<BalancedRation<'_>> = Vec::new();
    let mut wrong = Vec::new();
    let mut findings = Vec::new();
    for meant in reading.meant(ration) {
        match reading.balance(&meant, is_cancelled) {
            Ok(page) => pages.extend(page),
            Err((why, found)) => {
                wrong.push(why);
                findings.extend(found);
            }
        }
    }
    if pages.is_empty() {
        let why = match wrong.as_slice() {
            [] => "every amount is written: there is nothing to choose".to_owned(),
            wrong => wrong.join("; "),
        };
        return refusal_html(&why, &findings, reading.farm.sources());
    }
    balance_html(&pages)
}

/// A text with all it uses, and nothing else: what the command line reads for a plan.
struct Reading {
    farm: Farm,
    file: FileId,
    found: Vec<Finding>,
}

type Why = (String, Vec<Finding>);

impl Reading {
    fn of(farm: &Farm, file: FileId) -> Option<Reading> {
        let name = farm.sources().get(file.index())?.name().to_owned();
        let farm = farm.reread(&[name], &Nothing, &BTreeSet::new());
        let file = farm.asked().first().copied()?;
        let found = farm.check();
        Some(Reading { farm, file, found })
    }

    fn today(&self) -> String {
        let today = self.farm.settings().today;
        today.map_or_else(String::new, |today| today.to_string())
    }

    /// The ration of that name, seen from the text; without a name, all that the text declares and that are fed.
    fn meant(&self, name: Option<&str>) -> Vec<RationName> {
        let own = self.farm.rations(self.file);
        let Some(name) = name else {
            let fed: Vec<RationName> = own.iter().filter(|one| !one.for_mixing).cloned().collect();
            return if fed.is_empty() { own } else { fed };
        };
        let used = self.farm.files().filter(|file| *file != self.file);
        let used = used.flat_map(|file| self.farm.rations(file));
        let name = composed(name);
        own.into_iter()
            .chain(used)
            .find(|one| one.name == *name)
            .into_iter()
            .collect()
    }

    fn concerning(&self, meant: &RationName) -> Vec<Finding> {
        let found = Concerns::of(&self.farm).concerning(meant, None, &self.found);
        found.into_iter().map(to_be_weighed).collect()
    }

    /// The analysis; none where the amounts of the ration are not known.
    fn analyse(&self, meant: &RationName) -> Option<Analysed<'_>> {
        let view = self.farm.open(self.file);
        let ration = view.made_out(&meant.name)?;
        let has_errors = self.concerning(meant).iter().any(refuses);
        let analysed = analyse_ration(&view, &ration, None, has_errors)?;
        let today = Some(self.today()).filter(|today| !today.is_empty());
        Some(Analysed::of(analysed, self.farm.sources(), today))
    }

    /// The ration balanced; none where it has nothing to choose.
    fn balance(
        &self,
        meant: &RationName,
        is_cancelled: &(dyn Fn() -> bool + Sync),
    ) -> Result<Option<BalancedRation<'_>>, Why> {
        let view = self.farm.open(self.file);
        let ration = view.made_out(&meant.name);
        if ration.is_some_and(|ration| !ration.has_choice()) {
            return Ok(None);
        }
        // Open amounts weigh as an error only where they are to be mixed from.
        let found = Concerns::of(&self.farm).concerning(meant, None, &self.found);
        let watch = Watch::usual(is_cancelled);
        let settled = balance_found(&view, &meant.name, &found, &Prices::default(), &watch);
        let Settled {
            ration, balance, ..
        } = settled.map_err(|found| {
            let why = if found.iter().any(refuses) {
                "its errors stand in the way"
            } else {
                "a ration in it has open amounts"
            };
            (format!("{} is not balanced: {why}", meant.name), found)
        })?;
        Ok(Some(BalancedRation {
            balance,
            sources: self.farm.sources(),
            today: Some(self.today()).filter(|today| !today.is_empty()),
            day: None,
            label: ration.label.clone(),
        }))
    }

    /// The plan, held against the verifier; in spite of errors where it can be made at all.
    fn plan<'a>(
        &'a self,
        meant: &RationName,
        today: &'a str,
    ) -> Result<(Plan, PlanAbout<'a>), Why> {
        let found = self.concerning(meant);
        let has_error = found.iter().any(refuses);
        let view = self.farm.open(self.file);
        let ration = view.made_out(&meant.name);
        let planned = ration.ok_or(Refusal::NotKnown).and_then(|ration| {
            let planned = plan_ration(&view, &ration, &Request::default())?;
            Ok((planned, ration))
        });
        let (planned, ration) = match planned {
            Ok(planned) => planned,
            Err(refusal) => return Err((refused(&refusal, &meant.name), found)),
        };
        let mut about = PlanAbout::of(&planned, &ration, &found, self.farm.sources(), today);
        about.draft = has_error;
        if verified(&plan_document(&planned.plan, &about)).is_err() {
            let why = format!(
                "sorry: the plan made for {} breaks a rule that plans keep, so it is not shown; it is a mistake in trug",
                meant.name
            );
            return Err((why, found));
        }
        Ok((planned.plan, about))
    }
}

fn refused(refusal: &Refusal, ration: &str) -> String {
    match refusal {
        Refusal::HowMuch => {
            format!("nobody says how much of {ration} to mix: add a line `batch` to the ration")
        }
        Refusal::TooMuch(kg, _) => {
            let kg = kg.readable(6);
            format!(
                "{kg} kg of {ration} are more than is ever mixed by hand: look at the unit of the batch"
            )
        }
        Refusal::TooLittle(ingredient, _) => {
            format!(
                "{ingredient} of {ration} would weigh less than any scale shows: mix more at a time"
            )
        }
        Refusal::Both(ingredient) => {
            format!(
                "{ingredient} is in the 100 % of {ration} and on top as well: write it on one line"
            )
        }
        _ => format!("{ration} cannot be planned: its amounts are not known"),
    }
}

/// Everything was read already.
struct Nothing;

impl Texts for Nothing {
    fn get(&self, _: &str) -> Result<Arc<str>, Absent> {
        Err(Absent::Missing)
    }
}

#[cfg(test)]
mod tests {
    use trug_model::{InMemory, Settings};

    use super::*;

    const MASH: &str = "scale hook 50 kg by 50 g\ningredient maize\ningredient bran\n\nration mash\n  batch 20 kg\n  maize 60 %\n  bran 40 %\n";

    fn page(text: &str, draw: fn(&Farm, FileId, Option<&str>) -> String) -> String {
        let texts = InMemory::new([("mash.trug", text)]);
        let settings = Settings {
            today: "2026-11-25".parse().ok(),
            ..Settings::default()
        };
        let farm = Farm::read(&["mash.trug".to_owned()], &texts, settings);
        draw(&farm, FileId(0), Some("mash"))
    }

    #[test]
    fn a_sound_ration_has_its_sheet_and_its_analysis() {
        let sheet = page(MASH, plan);
        assert!(
            sheet.contains("12 kg") && !sheet.contains("DRAFT"),
            "{sheet}"
        );
        assert!(page(MASH, analysis).contains("mash"));
    }

    #[test]
    fn errors_are_shown_in_its_place_or_make_it_a_draft() {
        let over = MASH.replace("60 %", "61 %");
        let sheet = page(&over, plan);
        assert!(
            sheet.contains("DRAFT") || sheet.contains("sum/over"),
            "{sheet}"
        );
        let none = page("", plan);
        assert!(none.contains("there is no such ration"), "{none}");
        assert!(page(&over, analysis).contains("<html"));
    }
}
