//! What can be said about the form of a text.

mod items;

use trug_findings::{Code, Edit, Finding, Fix, Place, Span};

use crate::words::{ItemWord, LineWord};

pub use items::{ages_in_weeks, belongs_above, header, header_lacks, margin, no_such_item};

/// A line that cannot be read.
pub static LINE: Code = Code::error("syntax/line", include_str!("pages/syntax-line.md"));
/// An item's header that cannot be read.
pub static ITEM: Code = Code::error("syntax/item", include_str!("pages/syntax-item.md"));
/// A bound that is written as one number, or a range that is not written with two dots.
pub static RANGE: Code = Code::error("syntax/range", include_str!("pages/syntax-range.md"));
/// An item that does not start at the margin.
pub static MARGIN: Code = Code::error("syntax/margin", include_str!("pages/syntax-margin.md"));
/// What is no text, or too much of it.
pub static TEXT: Code = Code::error("syntax/text", include_str!("pages/syntax-text.md"));
/// An everyday spelling that is understood.
pub static SPELLING: Code = Code::note("syntax/spelling", include_str!("pages/syntax-spelling.md"));

/// All codes of this family, in the order of the reference.
pub static ALL: &[&Code] = &[&LINE, &ITEM, &RANGE, &MARGIN, &TEXT, &SPELLING];

/// The file is not UTF-8, or holds what no text holds.
#[must_use]
pub fn not_text(place: Place) -> Finding {
    TEXT.at(place)
        .says("this file is not plain text in UTF-8")
        .help("save it as UTF-8 text")
}

/// A byte that no text holds stands here.
#[must_use]
pub fn not_a_character(place: Place, character: char) -> Finding {
    let code = u32::from(character);
    TEXT.at(place)
        .says(format!(
            "a character that cannot be shown (U+{code:04X}) stands here"
        ))
        .help(
            "delete it, or type the word again; if the file came from elsewhere, save it as UTF-8",
        )
}

/// The file is over the size that is read.
#[must_use]
pub fn too_large(place: Place) -> Finding {
    TEXT.at(place)
        .says("this file is over 10 MiB and is not read")
        .help("split it into several files and name them with `use`")
}

/// An everyday spelling: what is written, and what is usual.
#[must_use]
pub fn spelling(place: Place, written: &str, usual: &str) -> Finding {
    SPELLING
        .at(place)
        .says(format!(
            "`{}` is understood as `{}`",
            shortened(written),
            shortened(usual)
        ))
        .help(format!("write `{}`", shortened(usual)))
        .fix(format!("write `{}`", shortened(usual)), place, usual)
}

/// The same sign of a text processor at several places of a line.
#[must_use]
pub fn signs(places: &[Place], written: &str, usual: &'static str) -> Finding {
    let place = places.first().copied().unwrap_or_default();
    let (said, help) = match usual {
        " " => (
            "an unusual blank is understood as a blank".to_owned(),
            "type a plain blank".to_owned(),
        ),
        _ => (
            format!("`{written}` is understood as `{usual}`"),
            format!("write `{usual}`"),
        ),
    };
    let edits = places.iter().map(|place| Edit {
        place: *place,
        text: usual.to_owned(),
    });
    let fix = Fix {
        title: help.clone(),
        edits: edits.collect(),
        sure: true,
    };
    let mut finding = SPELLING.at(place).says(said).help(help);
    finding.fixes.push(fix);
    finding
}

/// A line whose form is not that of its kind.
#[must_use]
pub fn line(place: Place, at_fault: &str, line: &LineWord) -> Finding {
    let said = match (at_fault.is_empty(), line.is_word()) {
        (true, true) => format!("this `{}` line stops too early", line.word),
        (true, false) => format!("this line stops too early for {}", line.word),
        (false, true) => format!(
            "`{}` does not fit in a `{}` line",
            shortened(at_fault),
            line.word
        ),
        (false, false) => format!("`{}` does not fit in {}", shortened(at_fault), line.word),
    };
    LINE.at(place).says(said).help(wants(line))
}

/// A line that lacks a part.
#[must_use]
pub fn line_lacks(place: Place, missing: &str, line: &LineWord) -> Finding {
    LINE.at(place)
        .says(format!("this line lacks {missing}"))
        .help(wants(line))
}

/// A line that opens with no word this item has.
#[must_use]
pub fn no_such_line(place: Place, word: &str, item: &ItemWord) -> Finding {
    let finding = LINE.at(place).says(format!(
        "{} has no line `{}`",
        with_article(item.word),
        shortened(word)
    ));
    match item.lines.first() {
        None => finding.help(format!(
            "delete it: {} stands on one line",
            with_article(item.word)
        )),
        Some(_) => finding.help(format!("begin it with one of: {}", line_words(item))),
    }
}

/// A line that stands below an item which has no lines at all.
#[must_use]
pub fn has_no_lines(place: Place, item: &ItemWord) -> Finding {
    LINE.at(place)
        .says(format!(
            "{} has no lines of its own",
            with_article(item.word)
        ))
        .help(format!(
            "write all of it on one line, such as `{}`",
            item.example
        ))
}

/// A line that belongs to another kind of item.
#[must_use]
pub fn line_of_another(
    place: Place,
    line: &LineWord,
    owner: &ItemWord,
    item: &ItemWord,
) -> Finding {
    LINE.at(place)
        .says(format!(
            "{} has no `{}` line",
            with_article(item.word),
            line.first()
        ))
        .help(format!(
            "move it to {}, where it is `{}`",
            with_article(owner.word),
            line.example
        ))
}

/// A word of the language stands where a name is wanted.
#[must_use]
pub fn word_for_name(place: Place, word: &str, line: &LineWord) -> Finding {
    LINE.at(place)
        .says(format!("`{word}` is a word of the language and no name"))
        .help(wants(line))
}

/// An indented line before any item.
#[must_use]
pub fn homeless(place: Place) -> Finding {
    LINE.at(place)
        .says("this line belongs to no item")
        .help("write the item above it, at the margin, such as `ration river-layer`")
}

/// A text without its closing quote.
#[must_use]
pub fn open_quote(place: Place) -> Finding {
    LINE.at(place)
        .says("this text has no closing quote")
        .help("close it with `\"` on the same line; a quote inside is doubled")
}

/// A line longer than is read.
#[must_use]
pub fn too_long(place: Place, most: usize) -> Finding {
    LINE.at(place)
        .says(format!(
            "this line is longer than {most} characters and is not read"
        ))
        .help("break it into several lines")
}

/// A number of more than forty digits.
#[must_use]
pub fn too_many_digits(place: Place) -> Finding {
    LINE.at(place)
        .says("this number has more than 40 digits")
        .help("write as many digits as a scale or a laboratory can give")
}

/// A day the calendar does not have.
#[must_use]
pub fn no_such_day(place: Place, written: &str) -> Finding {
    LINE.at(place)
        .says(format!("{written} is no day of the calendar"))
        .help("write the day as year-month-day, such as `2026-11-21`")
}

/// Where a line is from, said of one that says what a farm decides or does.
pub fn no_origin(place: Place) -> Finding {
    LINE.at(place)
        .says("this line is no value read somewhere, so it has no source")
        .help("say it of a content, a bound or a dose; here a comment after # will do")
}

/// A clause that stands twice on one line.
#[must_use]
pub fn twice(place: Place, written: &str) -> Finding {
    LINE.at(place)
        .says(format!(
            "`{}` says again what is said already",
            shortened(written)
        ))
        .help("keep one of the two")
}

/// A spelling that is not understood but can only mean one thing.
#[must_use]
pub fn respelt(place: Place, written: &str, usual: &str) -> Finding {
    LINE.at(place)
        .says(format!("`{}` is written `{usual}`", shortened(written)))
        .help(format!("write `{usual}`"))
        .offer(format!("write `{usual}`"), place, usual)
}

/// A first word that is nearly a word of the item.
#[must_use]
pub fn nearly(place: Place, written: &str, word: &str, line: &LineWord) -> Finding {
    LINE.at(place)
        .says(format!(
            "`{}` is not a word of the language; `{word}` is",
            shortened(written)
        ))
        .help(wants(line))
        .offer(format!("write `{word}`"), place, word)
}

/// Parentheses inside parentheses, or round a part of a sum.
#[must_use]
pub fn too_deep(place: Place) -> Finding {
    LINE.at(place)
        .says("parentheses can only stand round one whole sum")
        .help("write one sum over another, such as `(sodium + potassium) / chloride`, or declare the inner sum as a nutrient")
}

/// A range in everyday writing.
#[must_use]
pub fn everyday_range(place: Place, written: &str, usual: &str, is_sure: bool) -> Finding {
    let title = format!("write `{usual}`");
    let finding = RANGE
        .at(place)
        .says(format!("`{}` is written `{usual}`", shortened(written)))
        .help(title.clone());
    if is_sure {
        finding.fix(title, place, usual)
    } else {
        finding.offer(title, place, usual)
    }
}

/// A bound written as one number. Where the amount can harm, nothing is offered.
#[must_use]
pub fn one_number(place: Place, written: &str, can_harm: bool, has_lower: bool) -> Finding {
    let finding = RANGE
        .at(place)
        .says(format!("`{written}` is one number where a bound is wanted"));
    if can_harm {
        return finding.help(format!(
            "write what the label or the law says: `at most {written}`, `at least {written}`, or a range with `..`"
        ));
    }
    let at = Place::new(place.file, Span::at(place.span.start as usize));
    let finding = if has_lower {
        finding
            .help(format!(
                "write `at least {written}`, `at most {written}`, or a range with `..`"
            ))
            .offer(format!("write `at least {written}`"), at, "at least ")
    } else {
        finding.help(format!("write `at most {written}`"))
    };
    finding.offer(format!("write `at most {written}`"), at, "at most ")
}

/// A range whose lower end is above its upper. Where the amount can harm, nothing is offered.
#[must_use]
pub fn reversed(place: Place, written: &str, turned: &str, can_harm: bool) -> Finding {
    let finding = RANGE
        .at(place)
        .says(format!("`{written}` has its lower end above its upper"))
        .help("write the lower end first");
    if can_harm {
        finding
    } else {
        finding.offer(format!("write `{turned}`"), place, turned)
    }
}

fn wants(line: &LineWord) -> String {
    let (what, wants, example) = (line.word, line.wants, line.example);
    if line.is_word() {
        format!("write a `{}` line with {wants}: `{example}`", line.first())
    } else {
        format!("write {what} as {wants}: `{example}`")
    }
}

/// The words that open the lines of an item, for a sentence.
fn line_words(item: &ItemWord) -> String {
    let words: Vec<_> = item.lines.iter().map(|line| line.word).collect();
    words.join(", ")
}

/// `a ration`, `an animal`.
fn with_article(word: &str) -> String {
    if word == "targets" {
        return format!("`{word}`");
    }
    let article = if word.starts_with(['a', 'e', 'i', 'o']) {
        "an"
    } else {
        "a"
    };
    format!("{article} `{word}`")
}

/// At most thirty characters of what the user wrote, so that the sentence stays one line.
fn shortened(written: &str) -> String {
    let written = written.trim();
    match written.char_indices().nth(30) {
        None => written.to_owned(),
        Some((cut, _)) => format!("{}…", written.get(..cut).unwrap_or("").trim_end()),
    }
}
