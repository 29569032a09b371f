//! Names, as an editor sees them: none is overlooked, and a farm says the same under other names.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::{Edit, FileId, Source};
use trug_ide::rename;
use trug_ide::{Named, Role, names_in};
use trug_model::{Farm, InMemory, Namespace, Settings, quantity};
use trug_tests::marked::Suite;
use trug_tests::repository;

/// The texts of a farm, by their paths.
pub(crate) type Texts = BTreeMap<String, String>;

/// Every farm of the examples and of the suite, with what it is called in messages.
pub(crate) fn farms() -> Vec<(String, Texts)> {
    let mut farms = Vec::new();
    for folder in ["examples/river-farm", "examples/small"] {
        let mut texts = Texts::new();
        for ending in [".trug", ".csv"] {
            for path in repository::files(folder, ending) {
                texts.insert(path.clone(), repository::read(&path));
            }
        }
        assert!(!texts.is_empty(), "{folder} was not found");
        farms.push((folder.to_owned(), texts));
    }
    for path in repository::files("tests/suite", ".txt") {
        let suite = Suite::read(&repository::read(&path)).unwrap();
        for section in suite.sections {
            let texts = section.texts.into_iter();
            // The language has no use for the sign of the cursor.
            let texts = texts.map(|marked| (marked.path, marked.text.replace('|', "")));
            let texts = texts.collect();
            farms.push((format!("{path}: {}", section.name), texts));
        }
    }
    assert!(farms.len() > 300, "the suite was not found");
    farms
}

pub(crate) fn read(texts: &Texts) -> Farm {
    let names: Vec<String> = texts
        .keys()
        .filter(|path| path.ends_with(".trug"))
        .cloned()
        .collect();
    let memory = texts
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()));
    let settings = Settings {
        today: "2026-11-25".parse().ok(),
        ..Settings::default()
    };
    Farm::read(&names, &InMemory::new(memory), settings)
}

/// Words of the language that are not reserved: each stands only where it can be nothing else.
const UNRESERVED: [&str; 17] = [
    "book",
    "below",
    "from",
    "before",
    "hand",
    "top",
    "none",
    "carrier",
    "fed",
    "least",
    "most",
    "else",
    "times",
    "time",
    "dry-matter",
    "dry",
    "matter",
];

/// Words that are followed by a word which names nothing that is declared.
const OF_NO_ITEM: [&str; 4] = ["gives", "form", "label", "class"];

/// The words of a line that can be nothing but names of items, found without the tree.
fn words_that_name(line: &str) -> Vec<(usize, &str)> {
    let mut bare = String::new();
    let mut is_quoted = false;
    let mut is_comment = false;
    for letter in line.chars() {
        is_quoted ^= letter == '"' && !is_comment;
        is_comment |= letter == '#' && !is_quoted;
        let hidden = is_quoted || is_comment || letter == '"';
        let blanks = " ".repeat(letter.len_utf8());
        bare.push_str(if hidden { &blanks } else { "" });
        if !hidden {
            bare.push(letter);
        }
    }
    let is_between = |letter: char| letter.is_whitespace() || "/*()=×".contains(letter);
    let mut words: Vec<(usize, &str)> = Vec::new();
    let mut at = 0;
    for piece in bare.split_inclusive(is_between) {
        let word = piece.trim_end_matches(is_between);
        if !word.is_empty() {
            words.push((at, line.get(at..at + word.len()).unwrap_or("")));
        }
        at += piece.len();
    }
    let word = |rank: usize| words.get(rank).map_or("", |(_, word)| *word);
    let mut naming = Vec::new();
    for (rank, (at, this)) in words.iter().enumerate() {
        let before = rank.checked_sub(1).map_or("", word);
        let is_code = before == "accept" || rank > 1 && word(rank - 2) == "accept";
        let is_kind = word(0) == "nutrient" && before == "in";
        let is_product = word(0) == "withdrawal" && before == "for";
        let is_book = before == "book" && word(0) == "use";
        let names_nothing = OF_NO_ITEM.contains(&before) && rank == 1 || before == "class";
        if trug_syntax::is_name(this)
            && !trug_syntax::is_reserved(this)
            && !UNRESERVED.contains(this)
            && quantity::word(this).is_none()
            && !(is_code || is_kind || is_product || is_book || names_nothing)
        {
            naming.push((*at, *this));
        }
    }
    naming
}

#[test]
fn every_word_that_names_an_item_is_found() {
    let mut count = 0;
    let mut missed = Vec::new();
    for (about, texts) in farms() {
        let farm = read(&texts);
        for file in farm.files().filter(|file| !farm.is_table(*file)) {
            // What a line that cannot be read was meant for, nobody can tell.
            if !trug_syntax::parse(file, text_of(&farm, file))
                .findings
                .is_empty()
            {
                continue;
            }
            let spans: BTreeSet<(usize, usize)> = names_in(&farm, file)
                .iter()
                .map(|it| (it.span.start as usize, it.span.end as usize))
                .collect();
            let mut start = 0;
            for line in text_of(&farm, file).split_inclusive('\n') {
                for (at, word) in words_that_name(line) {
                    count += 1;
                    let at = start + at;
                    if !spans.contains(&(at, at + word.len())) {
                        missed.push(format!("{about}: `{word}` in {}", line.trim()));
                    }
                }
                start += line.len();
            }
        }
    }
    assert!(count > 4000, "only {count} names were looked for");
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_name_stands_where_it_is_said_to() {
    for (about, texts) in farms() {
        let farm = read(&texts);
        for file in farm.files() {
            for named in names_in(&farm, file) {
                let said = trug_syntax::composed(named.span.of(text_of(&farm, file)));
                let is_unread = named.namespace == Namespace::Any;
                assert!(
                    said == named.text || is_unread,
                    "{about}: {named:?} is {said}"
                );
            }
        }
    }
}

fn text_of(farm: &Farm, file: FileId) -> &str {
    farm.sources().get(file.index()).map_or("", Source::text)
}

/// The findings, without the words that hold names.
fn told(farm: &Farm) -> Vec<(&'static str, String, usize)> {
    let findings = farm.check();
    let mut told: Vec<_> = findings
        .iter()
        .map(|finding| {
            let source = &farm.sources()[finding.place.file.index()];
            let line = source.position(finding.place.span.start as usize).line;
            (finding.code.name, source.name().to_owned(), line)
        })
        .collect();
    told.sort();
    told
}

pub(crate) fn after(farm: &Farm, texts: &Texts, edits: &[Edit]) -> Texts {
    let mut texts = texts.clone();
    for edit in edits.iter().rev() {
        let name = farm.sources()[edit.place.file.index()].name();
        let text = texts.get_mut(name).expect("an edit of a text of the farm");
        text.replace_range(edit.place.span.range(), &edit.text);
    }
    texts
}

/// Renames one name to another, and holds the farm to what it said; whether it was done.
fn holds_under(
    about: &str,
    texts: &Texts,
    farm: &Farm,
    named: (FileId, &Named),
    new: &str,
) -> bool {
    let (file, named) = named;
    let at = named.span.start as usize;
    let Ok(edits) = rename(farm, file, at, new) else {
        return false;
    };
    let renamed = after(farm, texts, &edits);
    let there = read(&renamed);
    assert_eq!(told(farm), told(&there), "{about}: {} to {new}", named.text);
    let before = edits
        .iter()
        .filter(|edit| edit.place.file == file && edit.place.span.start < named.span.start);
    let at = before.fold(at, |at, edit| {
        at + edit.text.len() - edit.place.span.range().len()
    });
    let back = rename(&there, file, at, &named.text);
    let back =
        back.unwrap_or_else(|why| panic!("{about}: {} to {new} and back: {why:?}", named.text));
    let spelt = |texts: Texts| -> Vec<String> {
        texts
            .values()
            .map(|text| trug_syntax::composed(text).to_string())
            .collect()
    };
    let is_back = spelt(after(&there, &renamed, &back)) == spelt(texts.clone());
    assert!(is_back, "{about}: {new} back to {}", named.text);
    true
}

#[test]
fn a_farm_says_the_same_under_other_names() {
    let (mut done, mut refused) = (0, 0);
    for (about, texts) in farms() {
        let farm = read(&texts);
        if told(&farm).iter().any(|(code, ..)| *code == "name/twice") {
            // To give one of the two another name is how that is mended.
            continue;
        }
        let mut known = BTreeSet::new();
        let mut each: Vec<(FileId, Named)> = Vec::new();
        for file in farm.files() {
            let names = names_in(&farm, file).into_iter();
            let first = names.filter(|it| known.insert((it.namespace, it.text.clone(), it.role)));
            each.extend(first.map(|named| (file, named)));
        }
        let is_large = about.starts_with("examples");
        for (rank, (file, named)) in each.iter().enumerate() {
            // In a large farm, a part of the names has to do.
            let is_left_out = is_large && rank % 5 > 0;
            if is_left_out || named.role == Role::Uses && farm.is_book(*file) {
                continue;
            }
            // A new name, and some that others have.
            let others = each.iter().skip(rank % 7).step_by(7).take(3);
            let others = others.map(|(_, other)| other.text.as_str());
            for new in ["zz-new", "සහල්-1", "Aa"].into_iter().chain(others) {
                if new != named.text && trug_syntax::is_name(new) {
                    match holds_under(&about, &texts, &farm, (*file, named), new) {
                        true => done += 1,
                        false => refused += 1,
                    }
                }
            }
        }
    }
    assert!(
        done > 1000 && refused > 1000,
        "{done} done, {refused} refused"
    );
}
