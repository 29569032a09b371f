//! What of a text is set: line ends stay, and nothing in it can steer the setting of what stands beside it.

/// Stands for what cannot be set.
const REPLACED: char = '\u{FFFD}';

/// Appends the text with its line ends as `\n`, blanks for tabs, and a mark for each control character.
pub(crate) fn append(to: &mut String, text: &str) {
    let mut before = ' ';
    for character in text.chars() {
        match character {
            '\n' if before == '\r' => {}
            '\n' | '\r' | '\u{B}' | '\u{C}' | '\u{85}' | '\u{2028}' | '\u{2029}' => to.push('\n'),
            '\t' => to.push(' '),
            other if steers(other) => to.push(REPLACED),
            other => to.push(other),
        }
        before = character;
    }
}

/// Control characters, and the old marks that turn what follows around: behind a name they could turn a number.
fn steers(character: char) -> bool {
    character.is_control() || matches!(character, '\u{202A}'..='\u{202E}' | '\u{FFF9}'..='\u{FFFB}')
}

/// Does not end a line, though a blank or a stroke stands there.
const JOINED: char = '\u{2060}';

/// Figures with their unit, or a lot, kept on one line: a number torn in two is misread.
pub(crate) fn glued(text: &str) -> String {
    let mut glued = String::new();
    let last = text.rfind(' ');
    for (at, character) in text.char_indices() {
        match character {
            ' ' if Some(at) == last => glued.push('\u{A0}'),
            '/' | '-' => glued.extend([character, JOINED]),
            other => glued.push(other),
        }
    }
    glued
}

/// What was glued as it is read out and copied: with plain blanks.
pub(crate) fn unglued(text: &str) -> String {
    let seen = text.chars().filter(|character| *character != JOINED);
    let plain = seen.map(|character| {
        if character == '\u{A0}' {
            ' '
        } else {
            character
        }
    });
    plain.collect()
}

/// It has no shape of its own, so no font needs to have it.
pub(crate) fn is_shapeless(character: char) -> bool {
    character.is_whitespace()
        || matches!(character,
            '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}'
            | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}' | '\u{2060}'..='\u{206F}'
            | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{E0000}'..='\u{E0FFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cleaned(text: &str) -> String {
        let mut to = String::new();
        append(&mut to, text);
        to
    }

    #[test]
    fn line_ends_become_one_kind_and_controls_a_mark() {
        assert_eq!(cleaned("a\r\nb\rc\nd\u{2028}e"), "a\nb\nc\nd\ne");
        assert_eq!(cleaned("a\tb\u{0}c\u{1b}[31m"), "a b\u{FFFD}c\u{FFFD}[31m");
    }

    #[test]
    fn what_is_glued_is_read_as_it_was() {
        assert_eq!(glued("1.2 to 1.4 g/kg"), "1.2 to 1.4\u{A0}g/\u{2060}kg");
        for text in ["1.2 to 1.4 g/kg", "2026-03-B", "", " ", "letter"] {
            assert_eq!(unglued(&glued(text)), text);
        }
    }

    #[test]
    fn a_name_cannot_turn_the_number_behind_it() {
        assert_eq!(cleaned("salt\u{202E}: 1.2 kg"), "salt\u{FFFD}: 1.2 kg");
    }
}
