//! Snippets for clients that know none.

/// The text of a snippet, its places filled with what stands in them.
pub(crate) fn without_places(snippet: &str) -> String {
    let mut text = String::new();
    let mut depth = 0_usize;
    let mut rest = snippet.chars().peekable();
    while let Some(letter) = rest.next() {
        match letter {
            '\\' => text.extend(rest.next()),
            '$' if rest.next_if_eq(&'{').is_some() => {
                while rest.next_if(char::is_ascii_digit).is_some() {}
                rest.next_if_eq(&':');
                depth += 1;
            }
            '$' if rest.peek().is_some_and(char::is_ascii_digit) => {
                while rest.next_if(char::is_ascii_digit).is_some() {}
            }
            '}' if 0 < depth => depth -= 1,
            letter => text.push(letter),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_left_out_and_what_stands_in_them_is_kept() {
        assert_eq!(
            without_places("ration ${1:name}\n  batch  ${2:20 kg}\n$0"),
            "ration name\n  batch  20 kg\n"
        );
        assert_eq!(
            without_places("a \\$1 {b} ${1:c${2:d}} $12e"),
            "a $1 {b} cd e"
        );
        assert_eq!(without_places("$"), "$");
    }
}
