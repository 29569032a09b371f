//! `trug book`: the text of a bundled book.

use trug_model::Library;

use crate::args::Book;
use crate::ending::{Ending, Failure, print};
use crate::near::nearest;

/// Prints a book, or the list of all with their years.
pub(crate) fn book(typed: &Book) -> Result<Ending, Failure> {
    let library = Library::bundled();
    let text = match &typed.name {
        None => list(library),
        Some(name) => library
            .file_name(name, typed.year)
            .and_then(|file_name| library.text(&file_name))
            .ok_or_else(|| unknown(library, name))?
            .to_owned(),
    };
    print(text.as_bytes())?;
    Ok(Ending::Clean)
}

/// A line a book: how it is used, the newest year first.
fn list(library: &Library) -> String {
    let names = library.names().into_iter();
    let lines = names.flat_map(|name| {
        let years = library.years(name).into_iter();
        years.map(move |year| format!("use book {name} {year}\n"))
    });
    lines.collect()
}

fn unknown(library: &Library, name: &str) -> Failure {
    let years: Vec<String> = library.years(name).iter().map(u16::to_string).collect();
    if !years.is_empty() {
        return Failure::new(format!("the book {name} has no edition of that year"))
            .help(format!("its editions are: {}", years.join(", ")));
    }
    let near = nearest(name, library.names());
    let help = match near.as_slice() {
        [] => "see `trug book --list`".to_owned(),
        near => format!("try {}, or see `trug book --list`", near.join(", ")),
    };
    Failure::new(format!("there is no book {}", name.escape_debug())).help(help)
}
