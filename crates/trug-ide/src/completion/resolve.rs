//! What there is to say about a candidate, made only when it is looked at.

use trug_findings::FileId;
use trug_model::{Farm, Namespace};
use trug_syntax::words::item_word;

use crate::cards;

/// The kinds of name by the word that stands in the key.
const KINDS: [(&str, Namespace); 11] = [
    ("feed", Namespace::Feed),
    ("animal", Namespace::Animal),
    ("nutrient", Namespace::Nutrient),
    ("lot", Namespace::Lot),
    ("targets", Namespace::Targets),
    ("scale", Namespace::Scale),
    ("vessel", Namespace::Vessel),
    ("method", Namespace::Method),
    ("group", Namespace::Group),
    ("record", Namespace::Record),
    ("unit", Namespace::Unit),
];

/// The word of a kind of name.
pub(super) fn word_of(namespace: Namespace) -> &'static str {
    let known = KINDS.iter().find(|(_, kind)| *kind == namespace);
    known.map_or("feed", |(word, _)| word)
}

/// What there is to say, in Markdown, about the candidate with that key; none where nothing is known of it.
#[must_use]
pub fn resolve(farm: &Farm, file: FileId, about: &str) -> Option<String> {
    farm.sources().get(file.index())?;
    let (kind, name) = about.split_once(':')?;
    match kind {
        "code" => cards::code(name),
        "word" => cards::clause(name),
        "item" => Some(cards::item_word(item_word(name)?)),
        "line" => {
            let (item, line) = name.split_once(':')?;
            let item = item_word(item)?;
            Some(cards::line_word(item, item.line_word(line)?))
        }
        "text" => cards::text(farm, file, name),
        _ => {
            let (_, namespace) = KINDS.iter().find(|(word, _)| *word == kind)?;
            cards::named(&farm.open(file), *namespace, name)
        }
    }
}
