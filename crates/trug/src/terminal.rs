//! How a stream is drawn on: colour, width and alphabet, from the stream and its surroundings.
//!
//! What is not a terminal is always drawn alike: 80 columns, no colour, unless the environment asks for something else.

use std::io::{IsTerminal, stderr, stdout};

use trug_report::findings::Style;

/// Which stream is drawn on.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Stream {
    /// Results.
    Out,
    /// Everything else.
    Error,
}

const WIDTH_UNLESS_TERMINAL: usize = 80;

/// Narrower than this no table can be read, wider than that no line.
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=400;

/// Finds out what `stream` can show.
pub(crate) fn style(stream: Stream, wants_ascii: bool) -> Style {
    let (is_terminal, size) = match stream {
        Stream::Out => (
            stdout().is_terminal(),
            terminal_size::terminal_size_of(stdout()),
        ),
        Stream::Error => (
            stderr().is_terminal(),
            terminal_size::terminal_size_of(stderr()),
        ),
    };
    let variable = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
    let columns = size
        .filter(|_| is_terminal)
        .map(|(width, _)| usize::from(width.0));
    Style {
        width: width(variable("COLUMNS").as_deref(), columns),
        color: has_color(is_terminal, variable),
        ascii: wants_ascii || is_ascii(is_terminal, variable),
    }
}

fn width(asked: Option<&str>, of_terminal: Option<usize>) -> usize {
    asked
        .and_then(|columns| columns.trim().parse().ok())
        .filter(|columns| 0 < *columns)
        .or(of_terminal)
        .unwrap_or(WIDTH_UNLESS_TERMINAL)
        .clamp(*WIDTHS.start(), *WIDTHS.end())
}

/// <https://no-color.org> and <https://bixense.com/clicolors>: a refusal wins over a wish.
fn has_color(is_terminal: bool, variable: impl Fn(&str) -> Option<String>) -> bool {
    let is_on = |name: &str| variable(name).is_some_and(|value| value != "0");
    if variable("NO_COLOR").is_some() {
        return false;
    }
    let is_plain = variable("TERM").is_some_and(|term| term == "dumb")
        || variable("CLICOLOR").is_some_and(|v| v == "0");
    is_on("CLICOLOR_FORCE") || (is_terminal && !is_plain)
}

/// A locale that is set and is not UTF-8 asks for ASCII everywhere; a terminal also by its kind, or by having no locale.
fn is_ascii(is_terminal: bool, variable: impl Fn(&str) -> Option<String>) -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .find_map(&variable);
    let is_utf8 = |locale: String| {
        let locale = locale.to_ascii_uppercase();
        locale.ends_with("UTF-8")
            || locale.ends_with("UTF8")
            || locale.contains("UTF-8@")
            || locale.contains("UTF8@")
    };
    let kind_is_plain = matches!(variable("TERM").as_deref(), Some("dumb" | "linux"));
    let has_plain_locale = locale.map_or(is_terminal && cfg!(unix), |locale| !is_utf8(locale));
    has_plain_locale || (is_terminal && kind_is_plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn variables<'a>(set: &'a [(&'a str, &'a str)]) -> impl Fn(&str) -> Option<String> + Copy + 'a {
        |name| {
            set.iter()
                .find(|(known, _)| *known == name)
                .map(|(_, value)| (*value).to_owned())
        }
    }

    #[test]
    fn the_width_asked_for_wins_over_the_terminals() {
        assert_eq!(width(None, None), 80);
        assert_eq!(width(None, Some(120)), 120);
        assert_eq!(width(Some("100"), Some(120)), 100);
        assert_eq!(width(Some("0"), Some(120)), 120);
        assert_eq!(width(Some("wide"), None), 80);
        assert_eq!(width(Some("3"), None), 40);
    }

    #[test]
    fn colour_is_for_terminals_unless_refused_or_forced() {
        assert!(has_color(true, variables(&[("TERM", "xterm")])));
        assert!(!has_color(false, variables(&[("TERM", "xterm")])));
        assert!(!has_color(true, variables(&[("TERM", "dumb")])));
        assert!(!has_color(true, variables(&[("CLICOLOR", "0")])));
        assert!(!has_color(true, variables(&[("NO_COLOR", "1")])));
        assert!(has_color(false, variables(&[("CLICOLOR_FORCE", "1")])));
        assert!(!has_color(false, variables(&[("CLICOLOR_FORCE", "0")])));
        assert!(!has_color(
            true,
            variables(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")])
        ));
    }

    #[test]
    fn plain_locales_and_plain_terminals_get_ascii() {
        assert!(!is_ascii(true, variables(&[("LANG", "si_LK.UTF-8")])));
        assert!(!is_ascii(true, variables(&[("LANG", "en_GB.utf8")])));
        assert!(is_ascii(
            true,
            variables(&[("LANG", "en_GB.UTF-8"), ("LC_ALL", "C")])
        ));
        assert!(is_ascii(false, variables(&[("LC_ALL", "C")])));
        assert!(!is_ascii(false, variables(&[])));
        assert!(!is_ascii(false, variables(&[("TERM", "dumb")])));
        assert!(is_ascii(
            true,
            variables(&[("TERM", "linux"), ("LANG", "C.UTF-8")])
        ));
    }
}
