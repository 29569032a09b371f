//! `trug trace`: where a lot, a batch or a group's feed came from and went.

use trug_record::ledger::Ledger;
use trug_record::trace::{Gap, Kind, Start, Trace, find, names, trace};
use trug_report::json;
use trug_report::trace::{trace_csv, trace_document, trace_html, trace_text};

use crate::args::{self, TraceForm};
use crate::ending::{Ending, Failure, print, say, shown};
use crate::load::{Loaded, load};
use crate::near::nearest;
use crate::setting::Setting;
use crate::terminal::Stream;
use crate::write::{refuse_farm_text, write_whole};

/// Prints what went where.
pub(crate) fn trace_of(typed: &args::Trace, setting: &Setting) -> Result<Ending, Failure> {
    refuse_farm_text(typed.out.as_deref())?;
    let (kind, name) = asked(&typed.name)?;
    let loaded = load(std::slice::from_ref(&typed.path), setting)?;
    let ledger = Ledger::of(&loaded.farm);
    let start = find(&ledger, kind, name).ok_or_else(|| unknown(typed, kind, name, &ledger))?;
    tell_also(&start);
    let mut traced = trace(&ledger, start, setting.today);
    if !loaded.has_folder {
        let text = loaded.farm.asked().first();
        let text = text.and_then(|text| loaded.farm.sources().get(text.index()));
        traced.gaps.extend(text.map(|text| Gap::OneText {
            text: text.name().to_owned(),
        }));
    }
    let drawn = draw(&traced, &loaded, typed.form, setting);
    match &typed.out {
        Some(path) => write_whole(path, drawn.as_bytes())?,
        None => print(drawn.as_bytes())?,
    }
    Ok(loaded.ending)
}

/// A name, or the word of a kind and a name.
fn asked(typed: &[String]) -> Result<(Option<Kind>, &str), Failure> {
    match typed {
        [name] => Ok((None, name)),
        [word, name] => {
            let mut kinds = Kind::ALL.into_iter();
            let kind = kinds.find(|kind| kind.word() == word);
            let kind = kind.ok_or_else(|| {
                Failure::new(format!(
                    "{} is no kind of item to trace",
                    word.escape_debug()
                ))
                .help("write `lot NAME`, `record NAME` or `group NAME`")
            })?;
            Ok((Some(kind), name))
        }
        _ => Err(Failure::new("there is nothing to trace").help("name a lot, a record or a group")),
    }
}

/// What else goes by the name.
fn tell_also(start: &Start) {
    if let [other, ..] = start.also.as_slice() {
        let (kind, other) = (start.kind.word(), other.word());
        say(&format!(
            "{} is a {kind} and a {other}: this is the {kind}; write `{other} {}` for the other",
            start.name, start.name
        ));
    }
}

fn draw(traced: &Trace, loaded: &Loaded, form: TraceForm, setting: &Setting) -> String {
    let sources = loaded.farm.sources();
    match form {
        TraceForm::Text => trace_text(traced, sources, setting.style(Stream::Out).width),
        TraceForm::Json => json::to_json(&trace_document(traced, sources)),
        TraceForm::Csv => trace_csv(traced, sources),
        TraceForm::Html => trace_html(traced, sources),
    }
}

fn unknown(typed: &args::Trace, kind: Option<Kind>, name: &str, ledger: &Ledger) -> Failure {
    let place = shown(&typed.path);
    let what = kind.map_or("lot, record or group", Kind::word);
    let failure = Failure::new(format!(
        "there is no {what} {} in {place}",
        name.escape_debug()
    ));
    let known = names(ledger, kind);
    let near = nearest(name, known.iter().map(|name| name.as_str()));
    match near.as_slice() {
        [] => {
            failure.help("name the folder of the farm, so that every text in it is looked through")
        }
        near => failure.help(format!("try {}", near.join(", "))),
    }
}
