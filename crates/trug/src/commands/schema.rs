//! `trug schema`: the JSON Schema of what programs may rely on.

use crate::args::Schema;
use crate::ending::{Ending, Failure, print};

/// Prints the schema of a document, or the list of documents.
pub(crate) fn schema(typed: &Schema) -> Result<Ending, Failure> {
    let text = match &typed.name {
        None => trug_report::names().join("\n") + "\n",
        Some(name) => trug_report::schema(name).ok_or_else(|| unknown(name))?,
    };
    print(text.as_bytes())?;
    Ok(Ending::Clean)
}

fn unknown(name: &str) -> Failure {
    Failure::new(format!("there is no document {}", name.escape_debug()))
        .help(format!("name one of {}", trug_report::names().join(", ")))
}
