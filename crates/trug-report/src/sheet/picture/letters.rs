//! How wide a text is at most, whatever typeface it is set in: letters are reckoned wide rather than narrow.

use crate::words::columns_of;

/// How much of its width a bold text takes, in thousandths.
const BOLD: u32 = 1100;

/// Points that a line of text takes at most.
#[must_use]
pub fn width_of(text: &str, size: u32, is_bold: bool) -> u32 {
    let thousandths: u32 = text.chars().map(letter).sum();
    let weight = if is_bold { BOLD } else { 1000 };
    let points = u64::from(thousandths) * u64::from(size) * u64::from(weight);
    u32::try_from(points.div_ceil(1_000_000)).unwrap_or(u32::MAX)
}

/// Thousandths of its height that a letter is wide.
///
/// Digits are 556 in the narrow and 636 in the wide typefaces that phones and desks come with.
fn letter(character: char) -> u32 {
    match character {
        ' ' | '\u{a0}' | '\u{202f}' | '.' | ',' | '\'' | '|' | ':' | ';' | '!' | 'i' | 'l'
        | 'j' | 'I' => 400,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 1000,
        '0'..='9' => 640,
        '\u{20}'..='\u{7e}' => 660,
        // Marks stand over or under a letter in Latin, Greek and Cyrillic, and beside it in most others.
        '\u{300}'..='\u{36f}' => 0,
        _ => match (columns_of(character), u32::from(character) < 0x590) {
            (0, true) => 0,
            (0, false) => 450,
            (1, true) => 800,
            (1, false) => 950,
            _ => 1050,
        },
    }
}

/// The text in at most so many lines of at most `width` points, the last one cut where there is more.
pub(super) fn in_lines(text: &str, size: u32, width: u32, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for character in text.chars() {
        let longer = format!("{line}{character}");
        if width_of(&longer, size, false) <= width || line.is_empty() {
            line = longer;
            continue;
        }
        if lines.len() + 1 == most {
            while width_of(&format!("{line}…"), size, false) > width && line.pop().is_some() {}
            line.push('…');
            break;
        }
        let rest = after_break(&mut line);
        lines.push(std::mem::take(&mut line));
        line = format!("{rest}{character}");
    }
    lines.push(line);
    lines.iter().map(|line| line.trim().to_owned()).collect()
}

/// Cuts a full line behind its last blank or hyphen, where it has one, and gives back what is cut off.
fn after_break(line: &mut String) -> String {
    let end = line
        .char_indices()
        .rfind(|(_, character)| matches!(character, ' ' | '-'))
        .map_or(line.len(), |(at, character)| at + character.len_utf8());
    line.split_off(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wide_letters_and_bold_ones_take_more_room() {
        assert_eq!(width_of("0000", 10, false), 26);
        assert_eq!(width_of("0000", 10, true), 29);
        assert_eq!(width_of("米", 10, false), 11);
        assert!(width_of("கிலோ", 10, false) > width_of("kilo", 10, false));
        assert_eq!(width_of("e\u{301}", 10, false), width_of("e", 10, false));
        assert_eq!(width_of("", 10, false), 0);
    }

    #[test]
    fn long_names_break_and_are_cut() {
        assert_eq!(in_lines("basin", 8, 60, 2), ["basin"]);
        assert_eq!(
            in_lines("blue-plastic-basin", 8, 70, 2),
            ["blue-plastic-", "basin"]
        );
        let long = in_lines(&"basin".repeat(100), 8, 60, 2);
        assert_eq!(long.len(), 2);
        assert!(long[1].ends_with('…'));
        assert!(
            long.iter().all(|line| width_of(line, 8, false) <= 60),
            "{long:?}"
        );
        assert_eq!(in_lines("", 8, 60, 2), [""]);
    }
}
