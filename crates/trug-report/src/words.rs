//! Numbers and sentences for people: masses, shares, money, counts, and text that fits a page.

use std::borrow::Cow;

use trug_model::Q;
use trug_model::quantity::Shown;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// A blank at which no line breaks.
pub(crate) const NO_BREAK: char = '\u{a0}';
/// Figures shown of a number that was calculated: more than any scale or laboratory can tell apart.
const FIGURES: usize = 4;

/// `1 error`, `3 errors`.
#[must_use]
pub fn count(number: usize, one: &str, many: &str) -> String {
    let noun = if number == 1 { one } else { many };
    format!("{number} {noun}")
}

/// A mass in the unit a person would say it in: `120 kg`, `37.5 g`, `250 mg`.
#[must_use]
pub fn mass(grams: &Q) -> String {
    let (per_gram, unit) = mass_unit(grams);
    format!("{} {unit}", (grams * &per_gram).readable(FIGURES))
}

/// A mass as a scale with this division shows it: never a digit the scale does not have.
#[must_use]
pub fn mass_on(grams: &Q, division_g: &Q) -> String {
    let shown = grams.round_to(division_g);
    let (per_gram, unit) = mass_unit(&shown);
    format!("{} {unit}", &shown * &per_gram)
}

fn mass_unit(grams: &Q) -> (Q, &'static str) {
    let size = grams.abs();
    if size >= Q::int(1000) {
        (Q::ratio(1, 1000), "kg")
    } else if size >= Q::ONE || size.is_zero() {
        (Q::ONE, "g")
    } else if size >= Q::ratio(1, 1000) {
        (Q::int(1000), "mg")
    } else {
        (Q::int(1_000_000), "ug")
    }
}

/// A fraction of one as a share: `2.5 %`.
#[must_use]
pub fn percent(fraction: &Q) -> String {
    format!("{} %", (fraction * &Q::int(100)).readable(FIGURES))
}

/// An amount of money with the decimals its currency has: `92.40 LKR`; more where it would vanish.
#[must_use]
pub fn money(amount: &Q, currency: &str) -> String {
    let decimals = minor_digits(currency);
    let is_tiny = amount.abs() < Q::ONE && !amount.is_zero();
    let digits = if is_tiny {
        amount.readable(3)
    } else {
        amount.rounded(decimals)
    };
    let (whole, fraction) = digits.split_once('.').unwrap_or((&digits, ""));
    if fraction.is_empty() && decimals == 0 {
        return format!("{whole} {currency}");
    }
    format!("{whole}.{fraction:0<decimals$} {currency}")
}

/// Digits after the point of a currency (ISO 4217, list one, minor units).
fn minor_digits(currency: &str) -> usize {
    match currency {
        "BIF" | "CLP" | "DJF" | "GNF" | "ISK" | "JPY" | "KMF" | "KRW" | "PYG" | "RWF" | "UGX"
        | "VND" | "VUV" | "XAF" | "XOF" | "XPF" => 0,
        "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
        _ => 2,
    }
}

/// A number with its unit; alone where it has none.
#[must_use]
pub fn quantity(value: &str, unit: &str) -> String {
    if unit.is_empty() {
        value.to_owned()
    } else {
        format!("{value} {unit}")
    }
}

/// The unit people say these contents in, and how many of it are one of `unit`: traces in mg/kg instead of a percent
/// with many noughts, where all of them are traces.
#[must_use]
pub fn unit_said<'a>(unit: &'a str, contents: &[&Q]) -> (&'a str, Q) {
    const PERCENT: &str = "%";
    let percent = Shown::new(PERCENT, Q::ratio(1, 100));
    let is_trace = |content: &&Q| percent.fit_for(&(*content * &percent.factor)) != percent;
    if unit == PERCENT && !contents.is_empty() && contents.iter().all(is_trace) {
        ("mg/kg", Q::int(10_000))
    } else {
        (unit, Q::ONE)
    }
}

/// A bound as the language writes it: `16 .. 18 %`, `at least 0.8 %`, `at most 5 %`; empty where there is none.
#[must_use]
pub fn bound(min: Option<&Q>, max: Option<&Q>, unit: &str) -> String {
    match (min, max) {
        (Some(min), Some(max)) => quantity(&format!("{min} .. {max}"), unit),
        (Some(min), None) => format!("at least {}", quantity(&min.to_string(), unit)),
        (None, Some(max)) => format!("at most {}", quantity(&max.to_string(), unit)),
        (None, None) => String::new(),
    }
}

/// A value rounded for reading, with as many figures as it takes to fall on its own side of these bounds.
///
/// 15.9996 % beside a least of 16 % must not read `16 %` and missed.
#[must_use]
pub fn beside(value: &Q, bounds: &[&Q]) -> String {
    for figures in FIGURES..=trug_model::exact::PRINTED_DECIMALS {
        let shown = value.readable(figures);
        let Some(rounded) = Q::decimal(&shown) else {
            break;
        };
        let same_side = |bound: &&Q| rounded.cmp(bound) == value.cmp(bound);
        if bounds.iter().all(same_side) {
            return shown;
        }
    }
    value.to_string()
}

/// A number from statistics, to as many figures as one that was calculated exactly.
#[must_use]
pub fn statistic(value: f64) -> String {
    // The digits a number is written with give it back exactly, and these are rounded as every other number is.
    Q::decimal(&value.to_string()).map_or_else(|| "?".to_owned(), |value| value.readable(FIGURES))
}

/// A probability in whole percent, which never claims to be sure.
#[must_use]
pub fn probability(value: f64) -> String {
    if value > 0.99 {
        "over 99 %".to_owned()
    } else if value < 0.01 {
        "under 1 %".to_owned()
    } else {
        format!("{:.0} %", value * 100.0)
    }
}

/// The text without characters that would steer a terminal or turn its direction; line ends stay.
///
/// Names, labels and lines come from files that others wrote.
#[must_use]
pub fn printable(text: &str) -> Cow<'_, str> {
    let is_fine = |character: char| character == '\n' || !steers(character);
    if text.chars().all(is_fine) {
        return Cow::Borrowed(text);
    }
    let replace = |character: char| match character {
        '\t' => ' ',
        _ if is_fine(character) => character,
        _ => char::REPLACEMENT_CHARACTER,
    };
    Cow::Owned(text.chars().map(replace).collect())
}

/// Whether a character is a command rather than something to see, or one of the code points that are no characters,
/// which a page may not hold.
#[must_use]
pub(crate) fn steers(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
        || matches!(character, '\u{fdd0}'..='\u{fdef}')
        || u32::from(character) & 0xfffe == 0xfffe
}

/// Columns a text takes in a terminal.
#[must_use]
pub fn columns(text: &str) -> usize {
    text.width()
}

/// Columns a character takes in a terminal.
#[must_use]
pub(crate) fn columns_of(character: char) -> usize {
    character.width().unwrap_or(0)
}

/// Breaks a text at blanks into lines of at most `width` columns; longer words are cut. Line ends in it stay.
///
/// A number stays with its unit.
#[must_use]
pub fn lines_of(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let mut line = String::new();
        let mut used = 0;
        for word in words_of(paragraph) {
            let wide = columns(&word);
            let gap = usize::from(used > 0);
            if used + gap + wide <= width {
                line.push_str(if gap == 1 { " " } else { "" });
                line.push_str(&word);
                used += gap + wide;
                continue;
            }
            if used > 0 {
                lines.push(std::mem::take(&mut line));
            }
            line = cut_word(&word, width, &mut lines);
            used = columns(&line);
        }
        lines.push(line);
    }
    lines
}

/// The words of a sentence; `12 kg` and `0.2 .. 4 g/kg` are one word each.
fn words_of(paragraph: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    // A blank that does not break is part of its word.
    let breaks = |letter: char| letter.is_whitespace() && letter != NO_BREAK;
    for word in paragraph.split(breaks).filter(|word| !word.is_empty()) {
        match words.last_mut().filter(|last| wants_more(last)) {
            Some(number) => {
                number.push(' ');
                number.push_str(word);
            }
            None => words.push(word.to_owned()),
        }
    }
    words
}

fn wants_more(words: &str) -> bool {
    let word = words.rsplit(' ').next().unwrap_or(words);
    if ["..", "±", "→"].contains(&word) {
        return true;
    }
    let digits = word.strip_prefix(['-', '+']).unwrap_or(word);
    let is_digit = |byte: u8| byte.is_ascii_digit() || byte == b'.' || byte == b',';
    digits.starts_with(|first: char| first.is_ascii_digit()) && digits.bytes().all(is_digit)
}

/// Pushes whole lines of an overlong word and gives back what is left of it.
fn cut_word(word: &str, width: usize, lines: &mut Vec<String>) -> String {
    let mut line = String::new();
    let mut used = 0;
    for character in word.chars() {
        let wide = columns_of(character);
        if used > 0 && used + wide > width {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        line.push(character);
        used += wide;
    }
    line
}

/// Where a value was read, and whether it was: nothing is said of one that names no source and is not in doubt.
#[must_use]
pub fn read_in(source: Option<&str>, is_unverified: bool) -> String {
    match (source, is_unverified) {
        (Some(source), false) => source.to_owned(),
        (Some(source), true) => format!("not verified: {source}"),
        (None, true) => "not verified, and no source named".to_owned(),
        (None, false) => String::new(),
    }
}

/// A text under a heading word: `  help: …`, further lines set under the first.
#[must_use]
pub fn hanging(heading: &str, text: &str, width: usize) -> String {
    let indent = columns(heading);
    let mut block = String::new();
    for (rank, line) in lines_of(text, width.saturating_sub(indent).max(20))
        .iter()
        .enumerate()
    {
        if rank == 0 {
            block.push_str(heading);
        } else if !line.is_empty() {
            block.push_str(&" ".repeat(indent));
        }
        block.push_str(line);
        block.push('\n');
    }
    block
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_are_said_in_the_unit_that_suits_them() {
        assert_eq!(mass(&Q::int(120_000)), "120 kg");
        assert_eq!(mass(&Q::ratio(75, 2)), "37.5 g");
        assert_eq!(mass(&Q::ratio(1, 4)), "250 mg");
        assert_eq!(mass(&Q::ratio(1, 4_000_000)), "0.25 ug");
        assert_eq!(mass(&Q::ZERO), "0 g");
        assert_eq!(mass(&Q::int(-1500)), "-1.5 kg");
        assert_eq!(mass(&Q::ratio(100_000, 3)), "33.33 kg");
        assert_eq!(mass(&Q::int(1_234_567)), "1235 kg");
    }

    #[test]
    fn a_scale_shows_no_more_digits_than_it_has() {
        assert_eq!(mass_on(&Q::int(55_432), &Q::int(100)), "55.4 kg");
        assert_eq!(mass_on(&Q::int(55_432), &Q::int(1)), "55.432 kg");
        assert_eq!(mass_on(&Q::ratio(25, 2), &Q::int(1)), "12 g");
        assert_eq!(mass_on(&Q::ratio(1, 3), &Q::ratio(1, 10)), "300 mg");
        assert_eq!(mass_on(&Q::ratio(1, 3), &Q::ONE), "0 g");
    }

    #[test]
    fn traces_are_said_in_milligrams_where_all_are() {
        let copper = Q::ratio(2_857, 10_000_000);
        let protein = Q::int(17);
        assert_eq!(unit_said("%", &[&copper]), ("mg/kg", Q::int(10_000)));
        assert_eq!((&copper * &Q::int(10_000)).readable(4), "2.857");
        assert_eq!(unit_said("%", &[&copper, &protein]), ("%", Q::ONE));
        assert_eq!(unit_said("%", &[&Q::ratio(1, 100)]), ("%", Q::ONE));
        assert_eq!(unit_said("%", &[&Q::ZERO]), ("%", Q::ONE));
        assert_eq!(unit_said("MJ/kg", &[&copper]), ("MJ/kg", Q::ONE));
    }

    #[test]
    fn money_has_the_decimals_of_its_currency() {
        assert_eq!(money(&Q::ratio(924, 10), "LKR"), "92.40 LKR");
        assert_eq!(money(&Q::int(92), "LKR"), "92.00 LKR");
        assert_eq!(money(&Q::ratio(18_505, 10), "UGX"), "1850 UGX");
        assert_eq!(money(&Q::ratio(1, 3), "EUR"), "0.333 EUR");
        assert_eq!(money(&Q::ratio(1, 2), "EUR"), "0.50 EUR");
        assert_eq!(money(&Q::ratio(12_345, 10_000), "KWD"), "1.234 KWD");
    }

    #[test]
    fn a_value_reads_on_its_own_side_of_a_bound() {
        let sixteen = Q::int(16);
        assert_eq!(beside(&Q::ratio(159_996, 10_000), &[&sixteen]), "15.9996");
        assert_eq!(beside(&Q::ratio(159_996, 10_000), &[]), "16");
        assert_eq!(beside(&Q::int(16), &[&sixteen]), "16");
        assert_eq!(beside(&Q::ratio(1684, 100), &[&sixteen]), "16.84");
    }

    #[test]
    fn statistics_are_rounded_and_never_sure() {
        assert_eq!(statistic(11.123_456), "11.12");
        assert_eq!(statistic(-0.000_123_456), "-0.0001235");
        assert_eq!(statistic(f64::NAN), "?");
        assert_eq!(statistic(f64::MAX).len(), 309);
        assert_eq!(probability(0.937), "94 %");
        assert_eq!(probability(1.0), "over 99 %");
        assert_eq!(probability(0.0), "under 1 %");
    }

    #[test]
    fn bounds_are_written_as_the_language_writes_them() {
        let (low, high) = (Q::int(16), Q::int(18));
        assert_eq!(bound(Some(&low), Some(&high), "%"), "16 .. 18 %");
        assert_eq!(bound(Some(&low), None, "g/MJ"), "at least 16 g/MJ");
        assert_eq!(bound(None, Some(&high), ""), "at most 18");
        assert_eq!(bound(None, None, "%"), "");
    }

    #[test]
    fn text_cannot_steer_the_terminal() {
        assert_eq!(
            printable("a\u{1b}[2Jb\tc\nd\u{202e}"),
            "a\u{fffd}[2Jb c\nd\u{fffd}"
        );
        assert_eq!(printable("කැඩුනු සහල් é"), "කැඩුනු සහල් é");
    }

    #[test]
    fn lines_break_at_blanks_and_count_columns() {
        assert_eq!(lines_of("one two three", 7), ["one two", "three"]);
        assert_eq!(lines_of("abcdefgh", 3), ["abc", "def", "gh"]);
        assert_eq!(lines_of("米米米", 4), ["米米", "米"]);
        assert_eq!(lines_of("", 4), [""]);
        assert_eq!(lines_of("it is 12 g/kg", 9), ["it is", "12 g/kg"]);
        assert_eq!(lines_of("a 1 .. 2 g b", 9), ["a", "1 .. 2 g", "b"]);
        assert_eq!(lines_of("a\n\nb", 4), ["a", "", "b"]);
    }
}
