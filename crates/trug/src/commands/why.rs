//! `trug why`: the page of a finding, or all that is written of a name and where it was read.

use std::path::Path;

use trug_ide::{written, written_names};
use trug_model::{Farm, InMemory, Library};
use trug_report::catalogue;
use trug_report::words::lines_of;

use crate::args::Why;
use crate::asked::texts_in;
use crate::ending::{Ending, Failure, print};
use crate::load::{load_each, settings};
use crate::near::nearest;
use crate::setting::Setting;
use crate::terminal::Stream;

/// Prints the page of a code, what is written of a name, or the list of all codes.
pub(crate) fn why(typed: &Why, setting: &Setting) -> Result<Ending, Failure> {
    let width = setting.style(Stream::Out).width;
    let mut ending = Ending::Clean;
    let page = match &typed.what {
        None => catalogue::why_list(),
        Some(code) if code.contains('/') => {
            catalogue::why(code, width).ok_or_else(|| no_code(code))?
        }
        Some(name) => of_name(name, typed.path.as_deref(), width, setting, &mut ending)?,
    };
    print(page.as_bytes())?;
    Ok(ending)
}

/// What the texts of a path say of a name; without a path, those of this folder, else the bundled books.
fn of_name(
    name: &str,
    path: Option<&Path>,
    width: usize,
    setting: &Setting,
    ending: &mut Ending,
) -> Result<String, Failure> {
    let here = Path::new(".");
    let mut known = Vec::new();
    if path.is_some() || texts_in(here).next().is_some() {
        let loaded = load_each(path.unwrap_or(here), setting)?;
        *ending = loaded.ending;
        let mut pages: Vec<(String, Vec<String>)> = Vec::new();
        for (farm, file) in &loaded.texts {
            let view = farm.open(*file);
            known.extend(written_names(&view));
            let Some(page) = written(&view, name, width) else {
                continue;
            };
            let source = farm.sources().get(file.index());
            let text = source.map_or_else(String::new, |source| source.name().to_owned());
            match pages.iter_mut().find(|(known, _)| *known == page) {
                Some((_, texts)) => texts.push(text),
                None => pages.push((page, vec![text])),
            }
        }
        if !pages.is_empty() {
            return Ok(told_apart(pages, width));
        }
    }
    let books = books(setting);
    let view = books.1.map(|file| books.0.open(file));
    let page = view.as_ref().and_then(|view| written(view, name, width));
    known.extend(view.iter().flat_map(written_names));
    page.ok_or_else(|| no_name(name, &known))
}

/// One page as it is; several under the texts for which each is so.
fn told_apart(pages: Vec<(String, Vec<String>)>, width: usize) -> String {
    let is_one = pages.len() == 1;
    let under = |(page, texts): (String, Vec<String>)| match is_one {
        true => page,
        false => {
            let texts = format!("in {}:", texts.join(", "));
            format!("{}\n\n{page}", lines_of(&texts, width).join("\n"))
        }
    };
    let pages: Vec<String> = pages.into_iter().map(under).collect();
    pages.join("\n")
}

/// A text that uses every bundled book.
fn books(setting: &Setting) -> (Farm, Option<trug_findings::FileId>) {
    let names = Library::bundled().names().into_iter();
    let text: String = names.map(|name| format!("use book {name}\n")).collect();
    let own = "books.trug";
    let texts = InMemory::new([(own, text.as_str())]);
    let farm = Farm::read(&[own.to_owned()], &texts, settings(setting));
    let file = farm.file(own);
    (farm, file)
}

fn no_code(code: &str) -> Failure {
    let codes = catalogue::codes().into_iter().map(|code| code.name);
    unknown("finding", code, nearest(code, codes))
}

fn no_name(name: &str, known: &[String]) -> Failure {
    let known = known.iter().map(String::as_str);
    let families = catalogue::codes().into_iter().map(|code| code.name);
    let mut near = nearest(name, known.chain(families));
    near.dedup();
    unknown("name", name, near)
}

fn unknown(what: &str, typed: &str, near: Vec<&str>) -> Failure {
    let help = match near.as_slice() {
        [] => "see `trug why --list` for findings, `trug book --list` for books".to_owned(),
        near => format!("try {}, or see `trug why --list`", near.join(", ")),
    };
    Failure::new(format!("there is no {what} {}", typed.escape_debug())).help(help)
}
