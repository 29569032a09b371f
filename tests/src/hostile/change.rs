//! Changes to a text as hands make them: lines, items, words, numbers and units taken away, moved, exchanged and brought in
//! from other texts. One that changes single letters alone seldom makes a text that is still read.

use std::ops::Range;
use std::sync::OnceLock;

use fastrand::Rng;

use super::seeds;

/// Changes made to one text, at most.
const MOST_CHANGES: usize = 4;

/// Numbers and days that stand at the edge of something.
const NUMBERS: [&str; 26] = [
    "0",
    "1",
    "2",
    "3",
    "7",
    "10",
    "33.3",
    "50",
    "99.99",
    "100",
    "100.01",
    "101",
    "1000",
    "0.5",
    "0.1",
    "0.001",
    "0.000001",
    "1000000",
    "99999999999999999999",
    "12.5",
    "0.333",
    "28.349523125",
    "0001-01-01",
    "9999-12-31",
    "2026-11-25",
    "2028-02-29",
];

/// What texts are put together from.
struct Pool {
    items: Vec<String>,
    lines: Vec<String>,
    /// The second words of lines, the names among them, and those of the language.
    words: Vec<String>,
    units: Vec<&'static str>,
    tables: Vec<String>,
}

fn pool() -> &'static Pool {
    static POOL: OnceLock<Pool> = OnceLock::new();
    POOL.get_or_init(|| {
        let mut pool = Pool {
            items: Vec::new(),
            lines: Vec::new(),
            words: Vec::new(),
            units: trug_model::quantity::unit_words(),
            tables: Vec::new(),
        };
        for (_, bytes) in seeds::farms() {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            let lines: Vec<&str> = text.split_inclusive('\n').collect();
            pool.items
                .extend(items(&lines).map(|item| lines[item].concat()));
            let inside = lines.iter().filter(|line| line.starts_with(' '));
            pool.lines.extend(inside.map(|line| (*line).to_owned()));
        }
        let words = pool.items.iter().flat_map(|item| item.split_whitespace());
        pool.words = words.map(str::to_owned).collect();
        for all in [&mut pool.items, &mut pool.lines, &mut pool.words] {
            all.sort();
            all.dedup();
        }
        for (_, bytes) in seeds::tables() {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            pool.tables
                .extend(text.split_inclusive('\n').map(str::to_owned));
        }
        pool
    })
}

/// The lines of each item: a line that is not indented, and the indented ones below it.
fn items<'a>(lines: &'a [&str]) -> impl Iterator<Item = Range<usize>> + 'a {
    let is_inside = |line: &&str| line.starts_with([' ', '\t']);
    let heads = (0..lines.len()).filter(move |rank| !is_inside(&lines[*rank]));
    heads.map(move |head| {
        let inside = lines[head + 1..].iter().take_while(|line| is_inside(line));
        head..head + 1 + inside.count()
    })
}

/// A text of the language with up to four changes, the same for the same seed.
#[must_use]
pub fn change_text(bytes: &[u8], seed: u64) -> Vec<u8> {
    let mut rng = Rng::with_seed(seed);
    let mut text = String::from_utf8_lossy(bytes).into_owned();
    for _ in 0..rng.usize(1..=MOST_CHANGES) {
        text = match rng.u8(..12) {
            0..4 => in_lines(&text, &mut rng),
            4 => in_items(&text, &mut rng),
            5 => brought_in(&text, &mut rng),
            6 => in_two_texts(&text, &mut rng),
            _ => in_a_line(&text, &mut rng),
        };
    }
    text.into_bytes()
}

/// A table with up to four changes, the same for the same seed.
#[must_use]
pub fn change_table(bytes: &[u8], seed: u64) -> Vec<u8> {
    let mut rng = Rng::with_seed(seed);
    let mut text = String::from_utf8_lossy(bytes).into_owned();
    for _ in 0..rng.usize(1..=MOST_CHANGES) {
        text = match rng.u8(..8) {
            0 | 1 => in_lines(&text, &mut rng),
            2 => inserted(&text, one_of(&pool().tables, &mut rng), &mut rng),
            3 | 4 => in_cells(&text, &mut rng),
            _ => in_a_line(&text, &mut rng),
        };
    }
    text.into_bytes()
}

fn one_of<'a, T: AsRef<str>>(all: &'a [T], rng: &mut Rng) -> &'a str {
    rng.choice(all).map_or("", AsRef::as_ref)
}

/// A line taken away, repeated elsewhere, moved, or exchanged with another.
fn in_lines(text: &str, rng: &mut Rng) -> String {
    let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
    if lines.is_empty() {
        return text.to_owned();
    }
    let (one, other) = (rng.usize(..lines.len()), rng.usize(..lines.len()));
    match rng.u8(..4) {
        0 => drop(lines.remove(one)),
        1 => lines.insert(other, lines[one]),
        2 => lines.swap(one, other),
        _ => {
            let moved = lines.remove(one);
            lines.insert(other.min(lines.len()), moved);
        }
    }
    lines.concat()
}

/// An item taken away, repeated, or moved to another place.
fn in_items(text: &str, rng: &mut Rng) -> String {
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let ranges: Vec<Range<usize>> = items(&lines).collect();
    let (Some(one), Some(other)) = (rng.choice(&ranges), rng.choice(&ranges)) else {
        return text.to_owned();
    };
    let mut left = lines.clone();
    let keeps = rng.bool();
    if !keeps {
        left.drain(one.clone());
    }
    if keeps || rng.bool() {
        let at = other.start.min(left.len());
        left.splice(at..at, lines[one.clone()].iter().copied());
    }
    left.concat()
}

/// A line or an item of another text.
fn brought_in(text: &str, rng: &mut Rng) -> String {
    let all = if rng.bool() {
        &pool().items
    } else {
        &pool().lines
    };
    inserted(text, one_of(all, rng), rng)
}

fn inserted(text: &str, line: &str, rng: &mut Rng) -> String {
    let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
    lines.insert(rng.usize(..=lines.len()), line);
    lines.concat()
}

/// What stands below a line as a text of its own, which the first one uses.
fn in_two_texts(text: &str, rng: &mut Rng) -> String {
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let (above, below) = lines.split_at(rng.usize(..=lines.len()));
    let path = *rng
        .choice(&["store.trug", "coop/prices.trug", "farm.trug"])
        .unwrap_or(&"");
    format!(
        "use \"{path}\"\n{}//- {path}\n{}",
        above.concat(),
        below.concat()
    )
}

/// A word, a number or a unit of one line exchanged, left out or brought in.
fn in_a_line(text: &str, rng: &mut Rng) -> String {
    let words: Vec<&str> = text
        .split_inclusive([' ', '\n', '/', ',', ';', '"'])
        .collect();
    if words.is_empty() {
        return text.to_owned();
    }
    let is_number = |word: &&str| word.starts_with(|letter: char| letter.is_ascii_digit());
    let numbers: Vec<usize> = (0..words.len())
        .filter(|rank| is_number(&words[*rank]))
        .collect();
    let any = rng.usize(..words.len());
    let number = rng.choice(&numbers).copied().unwrap_or(any);
    let own = *rng.choice(&words).unwrap_or(&"");
    let (rank, new) = match rng.u8(..10) {
        0..4 => (number, one_of(&NUMBERS, rng)),
        4 => (
            (number + 1).min(words.len() - 1),
            one_of(&pool().units, rng),
        ),
        5 => (any, ""),
        6 | 7 => (any, own.trim_end()),
        _ => (any, one_of(&pool().words, rng)),
    };
    let mut words: Vec<String> = words.into_iter().map(str::to_owned).collect();
    let keeps = rng.u8(..6) == 0;
    let word = words[rank].as_str();
    let body = word.trim_end_matches([' ', '\n', '/', ',', ';', '"']);
    let end = word[body.len()..].to_owned();
    let body = if keeps {
        format!("{body} ")
    } else {
        String::new()
    };
    words[rank] = format!("{body}{new}{end}");
    words.concat()
}

/// Two cells of one row exchanged, or one of them taken over by the other.
fn in_cells(text: &str, rng: &mut Rng) -> String {
    let mut lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
    let separator = *rng.choice(&[',', ';', '\t']).unwrap_or(&',');
    let has_cells = |line: &String| line.contains(separator);
    let rows: Vec<usize> = (0..lines.len())
        .filter(|rank| has_cells(&lines[*rank]))
        .collect();
    let Some(row) = rng.choice(&rows).copied() else {
        return text.to_owned();
    };
    let line = lines[row].trim_end_matches('\n').to_owned();
    let mut cells: Vec<&str> = line.split(separator).collect();
    let (one, other) = (rng.usize(..cells.len()), rng.usize(..cells.len()));
    match rng.u8(..3) {
        0 => cells.swap(one, other),
        1 => cells[one] = cells[other],
        _ => cells.insert(one, cells[other]),
    }
    lines[row] = cells.join(&separator.to_string()) + "\n";
    lines.concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_changes_the_same_and_others_something_else() {
        let text = b"ingredient maize\n  protein 9 %\nration mash\n  maize 100 %\n";
        let changed: Vec<Vec<u8>> = (0..200).map(|seed| change_text(text, seed)).collect();
        assert_eq!(changed[7], change_text(text, 7));
        let mut kinds = changed.clone();
        kinds.sort();
        kinds.dedup();
        assert!(kinds.len() > 150, "{}", kinds.len());
        let table = b"ingredient,price LKR/kg\nmaize,90\n";
        assert_ne!(change_table(table, 1), change_table(table, 2));
    }
}
