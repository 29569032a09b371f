//! `trug evenness`: how even a batch is by the samples of its record, and where to take them.

use std::collections::BTreeSet;

use trug_evenness::{Sampling, Untested, sampling, tests_of};
use trug_findings::{FileId, Finding, Severity, Source};
use trug_model::view::RecordName;
use trug_model::{Farm, composed};
use trug_report::evenness::{
    Tested, evenness_document, evenness_html, evenness_text, sampling_document, sampling_html,
    sampling_text, why_untested,
};
use trug_report::{findings, json};

use crate::args::{self, EvennessForm};
use crate::ending::{Ending, Failure, print, say, shown, to_stderr};
use crate::load::{LoadedEach, load_each};
use crate::meant::{Choice, Wish, unread};
use crate::near::nearest;
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// A record in one reading.
#[derive(Clone)]
struct Meant<'farm> {
    farm: &'farm Farm,
    /// The text it is seen from.
    file: FileId,
    record: RecordName,
}

/// Prints the tests of the records meant, or where samples of their rations are taken.
pub(crate) fn evenness(typed: &args::Evenness, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let loaded = load_each(&typed.path, setting)?;
    let meant = records(typed, &loaded);
    if let Some(samples) = typed.samples {
        return take(typed, usize::from(samples), &meant, &loaded, setting);
    }
    if meant.is_empty() {
        return nothing_meant(typed, &loaded, setting);
    }
    tell_findings(&meant, setting);
    let mut tests: Vec<Tested<'_>> = Vec::new();
    let mut ending = loaded.ending;
    let mut has_samples = false;
    for one in &meant {
        let view = one.farm.open(one.file);
        let Some(record) = view.record(&one.record) else {
            continue;
        };
        // What is wrong with the line was said; it may be one of samples.
        ending = ending.max(Ending::wanting(record.has_unread_line));
        for test in tests_of(&view, &record) {
            has_samples = true;
            match test {
                Ok(test) => tests.push(Tested::of(test, &view)),
                Err(untested) => ending = ending.max(tell_untested(&untested, one)),
            }
        }
    }
    if tests.is_empty() && !has_samples {
        return no_samples(typed, &meant, ending);
    }
    if typed.form == EvennessForm::Json && 1 < tests.len() {
        return Err(several(typed, tests.len()));
    }
    let is_uneven = |tested: &Tested<'_>| tested.test.is_uneven();
    ending = ending.max(Ending::wanting(tests.iter().any(is_uneven)));
    if !tests.is_empty() {
        put(typed, &draw(&tests, typed.form, setting))?;
    }
    Ok(ending)
}

/// The records the text declares, or the one named; that may be one of a text it uses.
fn records<'farm>(typed: &args::Evenness, loaded: &'farm LoadedEach) -> Vec<Meant<'farm>> {
    let is_named = |record: &RecordName| {
        typed
            .record
            .as_deref()
            .is_none_or(|name| record.name == *composed(name))
    };
    let candidates = |wants_own: bool| {
        let mut candidates = Vec::new();
        for (farm, file) in &loaded.texts {
            let texts = farm.files().filter(|text| (text == file) == wants_own);
            for record in texts.flat_map(|text| farm.records(text)).filter(is_named) {
                candidates.push(Meant {
                    farm,
                    file: *file,
                    record,
                });
            }
        }
        candidates
    };
    let mut meant = candidates(true);
    if meant.is_empty() && typed.record.is_some() {
        meant = candidates(false);
    }
    let mut seen = BTreeSet::new();
    meant.retain(|one| {
        let text = one.farm.sources().get(one.record.place.file.index());
        let text = text.map_or("", Source::name).to_owned();
        seen.insert((text, one.record.item.start))
    });
    meant
}

/// What there is to say about the records themselves.
fn tell_findings(meant: &[Meant<'_>], setting: &Setting) {
    let style = setting.style(Stream::Error);
    let mut judged: Option<(&Farm, Vec<Finding>)> = None;
    for one in meant {
        let (_, found) = match judged.take() {
            Some(same) if std::ptr::eq(same.0, one.farm) => judged.insert(same),
            _ => judged.insert((one.farm, trug_record::check(one.farm))),
        };
        let item = one.record.item;
        let is_told = |finding: &&Finding| {
            let place = finding.place;
            let is_here = place.file == one.record.place.file
                && item.start <= place.span.start
                && place.span.start <= item.end;
            is_here && finding.is_open() && Severity::Note < finding.severity
        };
        let told: Vec<Finding> = found.iter().filter(is_told).cloned().collect();
        if !told.is_empty() {
            to_stderr(&findings::human(&told, one.farm.sources(), &style));
        }
    }
}

/// An error in a text is a finding, and ends as one; what cannot be tested for what it is could not be done.
fn tell_untested(untested: &Untested, one: &Meant<'_>) -> Ending {
    say(&why_untested(untested, &one.record.of));
    if untested.why.is_an_error() {
        Ending::Wanting
    } else {
        Ending::Partial
    }
}

fn draw(tests: &[Tested<'_>], form: EvennessForm, setting: &Setting) -> String {
    let documents = tests.iter().map(evenness_document);
    match form {
        EvennessForm::Text => evenness_text(tests, setting.style(Stream::Out).width),
        EvennessForm::Json => documents.map(|one| json::to_json(&one)).collect(),
        EvennessForm::Jsonl => documents.map(|one| json::to_json_line(&one)).collect(),
        EvennessForm::Html => evenness_html(tests),
    }
}

fn put(typed: &args::Evenness, result: &str) -> Result<(), Failure> {
    match &typed.out {
        Some(path) => write_whole(path, result.as_bytes()),
        None => print(result.as_bytes()),
    }
}

/// Says where to take samples: of the records' rations, or of those the text declares.
fn take(
    typed: &args::Evenness,
    samples: usize,
    meant: &[Meant<'_>],
    loaded: &LoadedEach,
    setting: &Setting,
) -> Result<Ending, Failure> {
    if meant.is_empty() && typed.record.is_some() {
        return nothing_meant(typed, loaded, setting);
    }
    let mut all: Vec<(Sampling, &[Source])> = Vec::new();
    let mut seen = BTreeSet::new();
    let mut add = |farm: &'_ Farm, file: FileId, ration: &str, record: Option<&RecordName>| {
        let view = farm.open(file);
        let batch = record
            .and_then(|record| view.record(record))
            .and_then(|record| record.batch);
        let sampling = sampling(&view, ration, batch, samples)?;
        let text = farm.sources().get(sampling.place.file.index());
        let text = text.map_or("", Source::name).to_owned();
        seen.insert((text, sampling.ration.clone()))
            .then_some(sampling)
    };
    for one in meant {
        let named = typed.record.as_ref().map(|_| &one.record);
        let sampling = add(one.farm, one.file, &one.record.of, named);
        all.extend(sampling.map(|sampling| (sampling, one.farm.sources())));
    }
    if meant.is_empty() {
        for (farm, file) in &loaded.texts {
            for ration in farm.rations(*file) {
                let sampling = add(farm, *file, &ration.name, None);
                all.extend(sampling.map(|sampling| (sampling, farm.sources())));
            }
        }
    }
    if all.is_empty() {
        let place = shown(&typed.path);
        return Err(Failure::new(format!(
            "there is no ration and no record in {place} to take samples of"
        ))
        .help("name a text that has one"));
    }
    if typed.form == EvennessForm::Json && 1 < all.len() {
        return Err(several(typed, all.len()));
    }
    let documents = all
        .iter()
        .map(|(sampling, sources)| sampling_document(sampling, sources));
    let drawn = match typed.form {
        EvennessForm::Text => sampling_text(&all, setting.style(Stream::Out).width),
        EvennessForm::Json => documents.map(|one| json::to_json(&one)).collect(),
        EvennessForm::Jsonl => documents.map(|one| json::to_json_line(&one)).collect(),
        EvennessForm::Html => sampling_html(&all),
    };
    put(typed, &drawn)?;
    Ok(loaded.ending)
}

/// There is no such record; or the text has errors that may hide it.
fn nothing_meant(
    typed: &args::Evenness,
    loaded: &LoadedEach,
    setting: &Setting,
) -> Result<Ending, Failure> {
    let wish = Wish {
        path: &typed.path,
        ration: typed.record.as_deref(),
        group: None,
        wants_one: false,
    };
    if let Some(Choice::Unread(farm, found)) = unread(&wish, loaded) {
        let style = setting.style(Stream::Error);
        to_stderr(&findings::human(&found, farm.sources(), &style));
        return Ok(loaded.ending.max(Ending::Wanting));
    }
    let place = shown(&typed.path);
    let Some(name) = &typed.record else {
        return Err(
            Failure::new(format!("there is no record in {place}")).help("name a text that has one")
        );
    };
    let known = loaded.texts.iter();
    let known: BTreeSet<String> = known
        .flat_map(|(farm, file)| farm.records(*file))
        .map(|record| record.name.to_string())
        .collect();
    let failure = Failure::new(format!(
        "there is no record {} in {place}",
        name.escape_debug()
    ));
    let near = nearest(name, known.iter().map(String::as_str));
    Err(match near.as_slice() {
        [] => failure.help("name a record of that text"),
        near => failure.help(format!("try {}", near.join(", "))),
    })
}

/// There are no samples; or a line that could not be read may be some.
fn no_samples(
    typed: &args::Evenness,
    meant: &[Meant<'_>],
    ending: Ending,
) -> Result<Ending, Failure> {
    let what = match meant {
        [only] => format!("record {} has", only.record.name),
        _ => format!("the records in {} have", shown(&typed.path)),
    };
    if ending == Ending::Wanting {
        say(&format!("{what} no samples that can be read"));
        return Ok(ending);
    }
    Err(Failure::new(format!("{what} no samples")).help(
        "write a line such as `sampled chloride 0.31 0.29 0.33 % assay 0.01 %`; --samples 10 says where to take them",
    ))
}

fn several(typed: &args::Evenness, number: usize) -> Failure {
    Failure::new(format!(
        "there are {number} tests in {}, and this form holds one",
        shown(&typed.path)
    ))
    .help("take --as jsonl")
}
