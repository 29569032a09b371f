//! What the tool answers to a farm's texts, asked through the same functions as the command line.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use trug_findings::{Finding, Source};
use trug_model::{Concerns, Edition, Farm, InMemory, Library, Q, Settings, refuses, to_be_weighed};
use trug_plan::{Request, plan_ration};
use trug_report::analysis::{Beside, analysis_document};
use trug_report::plan::{PlanAbout, plan_document};
use trug_report::sheet::{Copies, booklet, booklet_text};
use trug_report::speech::Speech;

use crate::balance;
use crate::editor;
use crate::fixes;
use crate::marked::{Kind, Note, Section};
use crate::places;

/// The day on which every test is run.
pub const TODAY: &str = "2026-11-25";
/// Columns of a sheet.
const WIDTH: usize = 80;

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
    /// What is said of places in place of findings, by the name of the text.
    pub notes: Option<BTreeMap<String, Vec<Note>>>,
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
            text: Some(trug_syntax::tidy(text)),
            ..Answer::default()
        }),
        Kind::Plan => {
            let ration = argument(0).ok_or("write `plan RATION`")?;
            Ok(plan_in(
                &texts,
                first,
                ration,
                &request_of(&section.arguments),
            ))
        }
        Kind::Analyse => {
            let ration = argument(0).ok_or("write `analyse RATION`")?;
            Ok(analyse_in(&texts, first, ration))
        }
        Kind::Balance => {
            let ration = argument(0).ok_or("write `balance RATION`")?;
            Ok(balance::balance_in(&texts, first, ration))
        }
        Kind::Write => {
            let ration = argument(0).ok_or("write `write RATION`")?;
            Ok(balance::written_in(&texts, (first, text), ration))
        }
        Kind::Places(question) => places::ask(question, &texts, &section.arguments),
        Kind::Editor(question) => editor::ask(question, &texts, &section.arguments),
    }
}

pub(crate) fn farm_of(texts: &[Text<'_>]) -> Farm {
    let names = texts.iter().map(|(path, _)| (*path).to_owned());
    let names: Vec<String> = names.filter(|path| path.ends_with(".trug")).collect();
    let settings = Settings {
        today: TODAY.parse().ok(),
        library: library(texts),
        ..Settings::default()
    };
    Farm::read(&names, &InMemory::new(texts.iter().copied()), settings)
}

/// The bundled books; and the same again as of the year after, where a text uses that: what goes wrong with two editions
/// needs two.
fn library(texts: &[Text<'_>]) -> &'static Library {
    static NEXT: LazyLock<Option<(u16, Library)>> = LazyLock::new(|| {
        let editions = Library::bundled().editions();
        let newest = editions.first()?;
        let year = newest.year + 1;
        let next = Edition { year, ..*newest };
        let all = editions.iter().copied().chain([next]);
        Some((year, Library::of(all)))
    });
    let uses = |year: &u16| {
        let year = year.to_string();
        texts.iter().any(|(_, text)| text.contains(&year))
    };
    match &*NEXT {
        Some((year, library)) if uses(year) => library,
        _ => Library::bundled(),
    }
}

/// Every finding in these texts.
#[must_use]
pub fn check(texts: &[Text<'_>]) -> Answer {
    let farm = farm_of(texts);
    Answer {
        findings: trug_record::check(&farm),
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
pub fn plan_in(texts: &[Text<'_>], path: &str, ration: &str, request: &Request) -> Answer {
    let farm = farm_of(texts);
    let mut answer = check(texts);
    let Some(file) = farm.file(path) else {
        return answer;
    };
    let rations = farm.rations(file);
    let Some(named) = rations.iter().find(|named| named.name == ration) else {
        return answer;
    };
    let view = farm.open(file);
    let group = request.group.as_deref();
    let concerning = Concerns::of(&farm).concerning(named, group, &farm.check());
    let concerning: Vec<Finding> = concerning.into_iter().map(to_be_weighed).collect();
    if concerning.iter().any(refuses) {
        // What is a note while a text is checked may be an error where it is to be mixed from.
        for one in concerning.into_iter().filter(refuses) {
            answer.findings.retain(|it| !is_same(it, &one));
            answer.findings.push(one);
        }
        trug_findings::sort(&mut answer.findings);
        return answer;
    }
    let made = view.made_out(ration);
    let planned = made.and_then(|made| {
        let planned = plan_ration(&view, &made, request).ok()?;
        Some((made, planned))
    });
    if let Some((made, planned)) = planned {
        let about = PlanAbout::of(&planned, &made, &concerning, farm.sources(), TODAY);
        let document = serde_json::to_value(plan_document(&planned.plan, &about));
        answer.document = document.ok().map(with_sides);
        let sheets = booklet(&[(&planned.plan, &about)], Speech::english(), Copies::One);
        answer.text = Some(booklet_text(&sheets, WIDTH));
        answer.findings.extend(planned.plan.findings);
        trug_findings::sort(&mut answer.findings);
    }
    answer
}

fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.place == other.place && one.message == other.message
}

/// `400kg`, or `for pond-house 14days`.
fn request_of(arguments: &[String]) -> Request {
    let counted = |argument: Option<&String>, unit: &str| {
        argument.and_then(|it| Q::decimal(it.strip_suffix(unit)?))
    };
    let is_for_group = arguments.get(1).is_some_and(|it| it == "for");
    Request {
        batch: counted(arguments.get(1), "kg"),
        group: arguments.get(2).filter(|_| is_for_group).cloned(),
        days: counted(arguments.get(3), "days"),
    }
}

/// The document, and beside it what each ingredient gives to the heap and outside of it, in grams of one
/// batch: `heap` and `carried`.
fn with_sides(mut document: serde_json::Value) -> serde_json::Value {
    let mut sides = [BTreeMap::<String, Q>::new(), BTreeMap::new()];
    let batch = &document["batches"][0];
    let kind_of = |id: &serde_json::Value| {
        let steps = batch["steps"].as_array().into_iter().flatten();
        let mut steps = steps.filter(|step| step["id"] == *id);
        steps.next().map(|step| step["kind"].clone())
    };
    for weighing in batch["weighings"].as_array().into_iter().flatten() {
        let is_heap = kind_of(&weighing["step"]).is_some_and(|kind| kind == "heap");
        let ingredient = weighing["ingredient"].as_str().unwrap_or_default();
        let mass = weighing["mass_g"].as_str().and_then(Q::fraction);
        let side = &mut sides[usize::from(is_heap)];
        *side.entry(ingredient.to_owned()).or_default() += mass.unwrap_or_default();
    }
    let [carried, heap] = sides.map(|side| {
        let masses = side
            .into_iter()
            .map(|(name, mass)| (name, mass.to_string().into()));
        serde_json::Value::Object(masses.collect())
    });
    document["carried"] = carried;
    document["heap"] = heap;
    document
}

/// Every ration of these texts, with the path of the text that declares it.
#[must_use]
pub fn rations(texts: &[Text<'_>]) -> Vec<(String, String)> {
    let farm = farm_of(texts);
    let mut rations = Vec::new();
    for &file in farm.asked() {
        let path = farm.sources().get(file.index()).map(Source::name);
        let named = farm.rations(file).into_iter();
        rations.extend(named.map(|it| (path.unwrap_or_default().to_owned(), it.name.to_string())));
    }
    rations
}
