//! Words for a shell: a path as it can be typed after a command.

use std::path::Path;

/// A path that a shell takes as one word, and no command takes as an option.
pub(crate) fn word(path: &Path) -> String {
    let starts_as_option = path.as_os_str().as_encoded_bytes().starts_with(b"-");
    let before = if starts_as_option { "./" } else { "" };
    match path.to_str() {
        Some(text) if !text.is_empty() && text.chars().all(is_plain) => format!("{before}{text}"),
        Some(text) if !text.contains(char::is_control) => {
            format!("'{before}{}'", text.replace('\'', r"'\''"))
        }
        _ => {
            let bytes = path.as_os_str().as_encoded_bytes();
            let letters: String = bytes.iter().map(|byte| escaped(*byte)).collect();
            format!("$'{before}{letters}'")
        }
    }
}

fn is_plain(letter: char) -> bool {
    letter.is_alphanumeric() || "-_./,:@+".contains(letter)
}

/// A byte between `$'` and `'`, so that none steers a terminal or is lost.
fn escaped(byte: u8) -> String {
    match byte {
        b'\'' | b'\\' => format!("\\{}", char::from(byte)),
        b' '..=b'~' => char::from(byte).to_string(),
        _ => format!("\\{byte:03o}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_quoted_where_it_must_be() {
        let words = [
            ("farm/river-1.d", "farm/river-1.d"),
            ("අලුත්", "'අලුත්'"),
            ("pond house", "'pond house'"),
            ("o'er", r"'o'\''er'"),
            ("~", "'~'"),
            ("$x", "'$x'"),
            ("-n", "./-n"),
            ("- n", "'./- n'"),
            ("a\nb'", r"$'a\012b\''"),
        ];
        for (path, expected) in words {
            assert_eq!(word(Path::new(path)), expected);
        }
    }
}
