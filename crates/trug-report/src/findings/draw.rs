//! One headline with one snippet, as the drawing library takes it.

use std::fmt;

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, SourceCode, ThemeCharacters,
};
use trug_findings::Severity;

use super::human::Style;
use super::snippet::{Page, Snippet};
use crate::words::{lines_of, printable};

/// What draws headlines and snippets: set up once, from the style alone and never from the surroundings.
pub(super) struct Pen {
    handler: GraphicalReportHandler,
    color: bool,
    pub(super) page: Page,
}

/// A headline with a snippet.
#[derive(Debug)]
pub(super) struct Drawing {
    pub(super) code: Option<String>,
    pub(super) severity: Severity,
    pub(super) headline: String,
    pub(super) snippet: Option<Snippet>,
}

/// Below this a page holds neither a snippet nor a sentence.
const LEAST_WIDTH: usize = 40;
/// Columns before a headline: `  × `.
const SIGN: usize = 4;

impl Pen {
    pub(super) fn new(style: &Style) -> Pen {
        let mut theme = if style.color {
            GraphicalTheme::unicode()
        } else {
            GraphicalTheme::unicode_nocolor()
        };
        if style.ascii {
            theme.characters = ThemeCharacters::ascii();
        }
        let width = style.width.max(LEAST_WIDTH);
        Pen {
            // One line of context asks the snippet for all it has; none asks for the head.
            handler: GraphicalReportHandler::new_themed(theme)
                .with_width(width)
                .with_context_lines(1)
                .with_links(false)
                // Its own wrapping parts a number from its unit.
                .with_wrap_lines(false)
                .without_syntax_highlighting(),
            color: style.color,
            page: Page {
                width,
                ellipsis: if style.ascii { "..." } else { "…" },
            },
        }
    }

    /// Draws at the end of `text`.
    pub(super) fn draw(&self, text: &mut String, drawing: &Drawing) {
        let before = text.len();
        if self.handler.render_report(text, drawing).is_err() {
            text.truncate(before);
            text.push_str(&format!("{drawing}\n"));
        }
    }

    /// A headline broken to the page, beside the sign that stands before it.
    pub(super) fn headline(&self, sentence: &str) -> String {
        lines_of(&printable(sentence), self.page.width - SIGN).join("\n")
    }

    /// The same text in faint ink, where there is colour.
    pub(super) fn faint(&self, text: &str) -> String {
        if self.color {
            format!("\u{1b}[2m{text}\u{1b}[0m")
        } else {
            text.to_owned()
        }
    }
}

impl fmt::Display for Drawing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.headline)
    }
}

impl std::error::Error for Drawing {}

impl Diagnostic for Drawing {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let code = self.code.as_ref()?;
        Some(Box::new(code))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Note => miette::Severity::Advice,
        })
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        let snippet = self.snippet.as_ref()?;
        Some(snippet)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let snippet = self.snippet.as_ref()?;
        Some(Box::new(snippet.labels()))
    }
}
