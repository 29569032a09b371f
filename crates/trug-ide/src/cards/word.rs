//! The words of the language on a card: what each wants and how it is typed; and the pages of findings, in short.

use trug_findings::FileId;
use trug_model::{Farm, View, namespace_of};
use trug_report::catalogue;
use trug_syntax::tree::Use;
use trug_syntax::tree::UseSource;
use trug_syntax::words::{ItemWord, LineWord};

use crate::markdown::{block, paragraphs, plain, points, typed};

/// What a clause or a joining word says, with its form. Words that only open items or lines stand in the tables of the language.
const CLAUSES: &[(&str, &str, &str)] = &[
    (
        "within",
        "the amount written may be chosen again in this range",
        "soya-meal 22 % within 12 .. 24 %",
    ),
    ("or", "it may be left out", "sesame-cake 3 .. 8 % or none"),
    ("none", "it may be left out", "sesame-cake 3 .. 8 % or none"),
    ("on", "beyond the 100 %", "toxin-binder 1.5 kg/t on top"),
    ("top", "beyond the 100 %", "toxin-binder 1.5 kg/t on top"),
    (
        "small",
        "pre-blended, whatever its share",
        "lysine-hcl 0.2 % small",
    ),
    (
        "bulk",
        "on the heap, whatever its share",
        "broken-rice 2 % bulk",
    ),
    (
        "not",
        "on the heap, and never a carrier of small ingredients",
        "rice-bran 20 % not carrier",
    ),
    (
        "carrier",
        "`not carrier`: on the heap, and never a carrier of small ingredients",
        "rice-bran 20 % not carrier",
    ),
    (
        "lot",
        "which delivery it is taken from: its own analysis wins",
        "fish-meal 4 kg lot FM-02",
    ),
    (
        "source",
        "where a value was read; as a line of its own, where all values of the item were whose lines do not say it",
        "calcium 36.4 % source \"Label of the mill, October 2026\"",
    ),
    (
        "unverified",
        "a value that was not read in a source: a ration that rests on it says so",
        "selenium 0.1 mg/kg unverified",
    ),
    (
        "accept",
        "a finding that stands at this line and is accepted, with the reason; never one of the family `harm`",
        "accept dose/over \"vet's order 14 of 2026-11-02\"",
    ),
    (
        "rest",
        "what the other lines leave; one line at most",
        "broken-rice rest",
    ),
    (
        "giving",
        "as much of the product as adds this of the active; another line takes the rest",
        "lysine-hcl giving 0.6 g/kg lysine",
    ),
    (
        "parts",
        "parts of what the other lines leave",
        "maize 6 parts",
    ),
    (
        "part",
        "parts of what the other lines leave",
        "maize 1 part",
    ),
    (
        "mixing",
        "not fed as it is: judged in every ration that holds it",
        "for mixing",
    ),
    (
        "law",
        "a bound that a regulation sets",
        "selenium at most 0.5 mg/kg law \"which law\"",
    ),
    (
        "harm",
        "a bound beyond which harm is possible; it is never accepted",
        "selenium at most 5 mg/kg harm \"why\"",
    ),
    (
        "as",
        "`as fed`: of the feed as it is; `as of`: the day a price was asked",
        "price 92 LKR/kg as of 2026-11-01",
    ),
    (
        "fed",
        "`as fed`: of the feed as it is",
        "protein 8.0 % as fed",
    ),
    (
        "dry-matter",
        "`of dry-matter`, `at 88 % dry-matter`: what a share is a share of",
        "protein 9.1 % of dry-matter",
    ),
    (
        "at",
        "`at least`, `at most`: a bound with one side; `at 88 % dry-matter`: a basis; `at day 7`: an age",
        "calcium at least 3.6 g/day",
    ),
    (
        "least",
        "a bound with one side",
        "calcium at least 3.6 g/day",
    ),
    ("most", "a bound with one side", "fibre at most 7 %"),
    (
        "of",
        "whose: of an ingredient, of a ration, `of dry-matter`, `as of` a day",
        "lot BR-17 of broken-rice",
    ),
    (
        "per",
        "the same as `/`; only after it may a number follow",
        "price 4600 LKR per 25 kg",
    ),
    (
        "for",
        "for which animal, or for what the animal gives",
        "withdrawal 5 days for meat",
    ),
    (
        "from",
        "the first day, of the calendar or of an age (`from day 15`); or `apart from` another ingredient",
        "eats river-layer from 2026-12-01",
    ),
    (
        "to",
        "the last day, of the calendar or of an age; or `fed to` a group",
        "eats river-layer to 2027-02-28",
    ),
    (
        "day",
        "an age in days; day 0 is the day of hatching or birth",
        "targets duckling-start for duckling from day 0 to 14",
    ),
    (
        "until",
        "how far the two must be diluted before they may meet",
        "apart from choline-60 until 1 in 20",
    ),
    (
        "by",
        "the steps a scale shows; by which method; by whom",
        "scale bench 5 kg by 1 g",
    ),
    (
        "with",
        "what takes its place, or what it may never be fed with",
        "replace fish-meal with blood-meal",
    ),
    (
        "like",
        "takes over every line of another ration; a line of its own replaces the one of the same name",
        "ration river-grower like river-layer",
    ),
    (
        "is",
        "a kind of another animal: the bounds of both hold",
        "animal laying-duck is duck",
    ),
    (
        "in",
        "how a nutrient is counted: share, energy, charge, IU, U, FTU or CFU",
        "nutrient lysine in share",
    ),
    (
        "class",
        "the accuracy class of a scale: I, II, III or IIII of OIML R 76",
        "scale hook 100 kg by 100 g class III",
    ),
    (
        "minimum",
        "the least a scale weighs",
        "scale hook 100 kg by 100 g minimum 2 kg",
    ),
    (
        "assay",
        "the standard deviation of the assay itself",
        "sampled chloride 0.31 0.29 % assay 0.01 %",
    ),
    ("times", "how often", "turn 6 times"),
];

/// A word that opens an item.
pub(crate) fn item_word(word: &ItemWord) -> String {
    let says = format!("**{}** opens an item, and wants {}", word.word, word.wants);
    let lines: Vec<String> = word
        .lines
        .iter()
        .chain(word.otherwise)
        .map(|line| {
            if line.is_word() {
                typed(line.word)
            } else {
                line.word.to_owned()
            }
        })
        .collect();
    let lines = match lines.is_empty() {
        true => String::new(),
        false => format!("Its lines: {}.", lines.join(", ")),
    };
    paragraphs([says, block(word.example), lines])
}

/// A word that opens a line, in an item.
pub(crate) fn line_word(item: &ItemWord, line: &LineWord) -> String {
    let article = if item.word.starts_with(['a', 'i', 'u']) {
        "an"
    } else {
        "a"
    };
    let says = format!(
        "**{}** in {article} {} wants {}",
        line.word, item.word, line.wants
    );
    paragraphs([says, block(line.example)])
}

/// A word that joins the parts of a line.
pub(crate) fn clause(word: &str) -> Option<String> {
    let (word, says, form) = CLAUSES.iter().find(|(known, ..)| *known == word)?;
    Some(paragraphs([format!("**{word}**: {says}"), block(form)]))
}

/// The code of a finding: its first paragraph, and whether it may be accepted.
pub(crate) fn code(name: &str) -> Option<String> {
    let code = catalogue::codes()
        .into_iter()
        .find(|code| code.name == name)?;
    let may = match code.may_be_accepted() {
        true => "It may be accepted with a reason.",
        false => "It cannot be accepted: it stands until the text is mended.",
    };
    let head = format!("**{}** — {}", plain(code.name), code.severity.word());
    Some(paragraphs([head, catalogue::summary(code), may.to_owned()]))
}

/// What a used text, table or book brings.
pub(crate) fn used_text(view: &View<'_>, used: &Use) -> Option<String> {
    let farm = view.farm();
    let file = match &used.source {
        UseSource::Book(book) => {
            let library = farm.settings().library;
            let own = farm.sources().get(view.file().index())?.name();
            farm.file(&library.target(own, book)?)?
        }
        UseSource::File(path) | UseSource::Table(path) => {
            return text(farm, view.file(), &path.text);
        }
    };
    Some(brings(farm, file))
}

/// What a text brings that is named from another.
pub(crate) fn text(farm: &Farm, from: FileId, path: &str) -> Option<String> {
    let from = farm.sources().get(from.index())?.name();
    let file = farm.file(&crate::paths::joined(from, path)?)?;
    Some(brings(farm, file))
}

/// How many items of each kind a text declares.
fn brings(farm: &Farm, file: FileId) -> String {
    let mut kinds: Vec<(&'static str, usize)> = Vec::new();
    for item in &farm.tree(file).items {
        let Some(_) = namespace_of(&item.body) else {
            continue;
        };
        let noun = noun(&item.body);
        match kinds.iter_mut().find(|(known, _)| *known == noun) {
            Some((_, count)) => *count += 1,
            None => kinds.push((noun, 1)),
        }
    }
    let name = super::source(farm, file);
    let told: Vec<String> = kinds
        .iter()
        .map(|(noun, count)| format!("{noun}: {count}"))
        .collect();
    paragraphs([format!("**{}** declares", plain(&name)), points(&told)])
}

fn noun(body: &trug_syntax::tree::ItemBody) -> &'static str {
    use trug_syntax::tree::ItemBody;
    match body {
        ItemBody::Ingredient(_) => "ingredients",
        ItemBody::Ration(_) => "rations",
        ItemBody::Animal(_) => "animals",
        ItemBody::Nutrient(_) => "nutrients",
        ItemBody::Lot(_) => "lots",
        ItemBody::Targets(_) => "targets",
        ItemBody::Scale(_) => "scales",
        ItemBody::Vessel(_) => "vessels",
        ItemBody::Method(_) => "methods",
        ItemBody::Group(_) => "groups",
        ItemBody::Record(_) => "records",
        ItemBody::Unit(_) => "measures",
        ItemBody::Use(_) | ItemBody::Rate(_) | ItemBody::Unread(_) => "other items",
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_joining_word_has_its_card() {
        for word in trug_syntax::words::CLAUSES {
            assert!(super::clause(word).is_some(), "{word}");
        }
    }
}
