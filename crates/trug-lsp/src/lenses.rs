//! Lenses between the two questions about them: where they stand, and what one of them says.

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use trug_ide::{Lens, LensKind};

use crate::lsp::{Command, Location, Url};
use crate::snapshot::Text;

/// What the client keeps of a lens until it wants to know what it says.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Known {
    uri: Url,
    of: String,
    kind: String,
}

impl Known {
    /// What is to be kept of a lens in the text of that address.
    pub(crate) fn of(uri: &Url, lens: &Lens) -> Known {
        Known {
            uri: uri.clone(),
            of: lens.of.to_string(),
            kind: word(lens.kind).to_owned(),
        }
    }

    /// The text it stands in.
    pub(crate) fn uri(&self) -> &Url {
        &self.uri
    }

    /// Whether it is this one.
    pub(crate) fn is_of(&self, lens: &Lens) -> bool {
        self.of == lens.of && self.kind == word(lens.kind)
    }
}

/// What a lens says and does. One that leads to places has them to be shown; any other, the text and the ration.
pub(crate) fn command(lens: Lens, text: &Text<'_>) -> Command {
    let uri = text.uri(text.file);
    let arguments: Vec<Value> = if lens.kind.shows_places() {
        let places = lens.places.iter().filter_map(|place| text.location(*place));
        let start = text.range(lens.span).start;
        vec![
            json!(uri),
            json!(start),
            json!(places.collect::<Vec<Location>>()),
        ]
    } else {
        vec![json!(uri), json!(ration(&lens))]
    };
    Command {
        title: lens.title,
        command: lens.command.name.to_owned(),
        arguments: Some(arguments),
    }
}

fn ration(lens: &Lens) -> &str {
    lens.command.arguments.last().map_or("", String::as_str)
}

fn word(kind: LensKind) -> &'static str {
    match kind {
        LensKind::Plan => "plan",
        LensKind::Analysis => "analysis",
        LensKind::Cost => "cost",
        LensKind::Balance => "balance",
        LensKind::Used => "used",
        LensKind::Record => "record",
        LensKind::Eaten => "eaten",
        LensKind::Lot => "lot",
    }
}
