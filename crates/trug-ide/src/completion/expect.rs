//! What may come next at a place, by the form of the language; nothing of what there is on the farm.

mod amounts;
mod headers;
mod item_lines;

use trug_model::Namespace;

use super::place::{Place, Said};

/// Something that may come next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Expect {
    /// Words that open items, and whole items.
    Items,
    /// Words that open lines of the item.
    Lines,
    /// Names of a kind.
    Names(Namespace),
    /// Names of a kind that a book declares, to be added to.
    OfBooks(Namespace),
    /// Ingredients and rations, those the item does not name yet first.
    Feeds,
    /// Ingredients alone.
    Ingredients,
    /// Rations alone.
    Rations,
    /// Nutrients as whole lines of the item, those it does not name yet first.
    NutrientLines,
    /// What an ingredient holds.
    Actives(String),
    /// Units.
    Units(Fit),
    /// Two ends with their unit.
    Range(Fit),
    /// An amount of this ingredient: its dose, a rest, a range.
    Amount(String),
    /// Words that join parts.
    Words(&'static [&'static str]),
    /// Codes that may be accepted.
    Codes,
    /// Deliveries of an ingredient.
    Lots(String),
    /// Other texts, in quotes or inside them.
    Paths,
    /// Bundled books.
    Books,
    /// A text in quotes.
    Quoted,
    /// A day.
    Day,
}

/// What a unit should count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    Mass,
    Volume,
    MassOrVolume,
    Length,
    Time,
    Density,
    Price,
    Money,
    DailyMass,
    Share,
    Percent,
    /// The amount of an ingredient in a ration.
    Amount(String),
    /// A content of a nutrient, or of one over another; per animal and day too where the last says so.
    Content(String, Option<String>, bool),
    /// What is counted per another.
    Per,
}

/// What may come next at a place.
pub(super) fn expected(place: &Place<'_>) -> Vec<Expect> {
    if place.quoted.is_some() {
        let is_use = place.item.is_some_and(|item| item.word == "use") && place.is_header;
        return if is_use {
            vec![Expect::Paths]
        } else {
            Vec::new()
        };
    }
    let said = place.said.as_slice();
    if place.is_header {
        return match (said.split_first(), place.item) {
            (None, _) => vec![Expect::Items],
            (Some((_, rest)), Some(item)) => headers::after(item.word, rest),
            (Some(_), None) => Vec::new(),
        };
    }
    let Some(item) = place.item.filter(|item| item.has_lines()) else {
        return Vec::new();
    };
    let accepts = said.iter().position(|said| *said == Said::Word("accept"));
    match accepts.and_then(|at| said.get(at + 1..)) {
        Some([]) => vec![Expect::Codes],
        Some([_]) => vec![Expect::Quoted],
        Some(_) => Vec::new(),
        None => item_lines::after(item.word, said),
    }
}

/// How far a quantity is written.
pub(super) enum Written<'s, 't> {
    /// A number comes next.
    Number,
    /// A unit comes next.
    Unit,
    /// What it is counted per comes next.
    Per,
    /// One of these words comes next.
    Words(&'static [&'static str]),
    /// It is whole, and this follows.
    Whole(&'s [Said<'t>]),
}

/// A number, perhaps its scatter, and its unit.
pub(super) fn quantity<'s, 't>(said: &'s [Said<'t>]) -> Written<'s, 't> {
    match said {
        [] => Written::Number,
        [
            Said::Number,
            Said::Sign("\u{b1}" | "+-" | "+/-"),
            Said::Number,
            rest @ ..,
        ] => unit(rest),
        [Said::Number, Said::Sign("\u{b1}" | "+-" | "+/-")] => Written::Words(&[]),
        [Said::Number, rest @ ..] => unit(rest),
        rest => Written::Whole(rest),
    }
}

/// A range, or a bound with one side, with its unit.
pub(super) fn bound<'s, 't>(said: &'s [Said<'t>]) -> Written<'s, 't> {
    match said {
        [] => Written::Words(&["at least", "at most"]),
        [Said::Word("at")] => Written::Words(&["least", "most"]),
        [Said::Word("at"), Said::Word("least" | "most")] => Written::Number,
        [
            Said::Word("at"),
            Said::Word("least" | "most"),
            Said::Number,
            rest @ ..,
        ] => unit(rest),
        [Said::Number] => Written::Words(&[".."]),
        [Said::Number, Said::Sign(".." | "\u{2026}")] => Written::Number,
        [
            Said::Number,
            Said::Sign(".." | "\u{2026}"),
            Said::Number,
            rest @ ..,
        ] => unit(rest),
        rest => Written::Whole(rest),
    }
}

/// What follows a number: the unit, what it is per, the basis.
fn unit<'s, 't>(said: &'s [Said<'t>]) -> Written<'s, 't> {
    match said {
        [] => Written::Unit,
        [Said::Word(_), Said::Word("per")] => Written::Per,
        [Said::Word(_), Said::Word("per"), Said::Number] => Written::Per,
        [
            Said::Word(_),
            Said::Word("per"),
            Said::Number,
            Said::Word(_),
            rest @ ..,
        ]
        | [Said::Word(_), Said::Word("per"), Said::Word(_), rest @ ..]
        | [Said::Word(_), rest @ ..] => basis(rest),
        rest => Written::Whole(rest),
    }
}

fn basis<'s, 't>(said: &'s [Said<'t>]) -> Written<'s, 't> {
    match said {
        [Said::Word("of"), Said::Word("dry-matter"), rest @ ..]
        | [Said::Word("as"), Said::Word("fed"), rest @ ..]
        | [
            Said::Word("at"),
            Said::Number,
            Said::Word("%"),
            Said::Word("dry-matter"),
            rest @ ..,
        ] => Written::Whole(rest),
        [Said::Word("at"), Said::Number, Said::Word("%")] => Written::Words(&["dry-matter"]),
        rest => Written::Whole(rest),
    }
}

/// What comes next in a quantity or bound; none where it is whole, with what follows it.
pub(super) fn next<'s, 't>(
    written: Written<'s, 't>,
    fit: Fit,
) -> Result<Vec<Expect>, &'s [Said<'t>]> {
    match written {
        Written::Number => Ok(Vec::new()),
        Written::Unit => Ok(vec![Expect::Units(fit)]),
        Written::Per => Ok(vec![Expect::Units(Fit::Per)]),
        Written::Words(words @ ["at least", ..]) => {
            Ok(vec![Expect::Words(words), Expect::Range(fit)])
        }
        Written::Words(words) => Ok(vec![Expect::Words(words)]),
        Written::Whole(rest) => Err(rest),
    }
}
