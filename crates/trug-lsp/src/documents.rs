//! The texts a client has open.

use std::sync::Arc;

use crate::lsp::TextDocumentContentChangeEvent;
use crate::position::{Encoding, Lines};

/// A text as the client has it now.
#[derive(Clone, Debug)]
pub(crate) struct Document {
    /// The number the client gave this state of it.
    pub(crate) version: i32,
    /// All of it.
    pub(crate) text: Arc<str>,
    /// Its lines.
    pub(crate) lines: Arc<Lines>,
    /// The area it belongs to.
    pub(crate) area: u32,
    /// Its name there.
    pub(crate) name: String,
}

impl Document {
    /// Replaces the text.
    pub(crate) fn set_text(&mut self, text: &str) {
        self.text = Arc::from(text);
        self.lines = Arc::new(Lines::of(text));
    }

    /// Applies changes one after the other, each to what the one before it left.
    pub(crate) fn change(
        &mut self,
        changes: &[TextDocumentContentChangeEvent],
        encoding: Encoding,
    ) {
        for change in changes {
            let Some(range) = change.range else {
                self.set_text(&change.text);
                continue;
            };
            let bytes = self.lines.bytes(&self.text, range, encoding);
            let mut text = String::with_capacity(self.text.len() + change.text.len());
            text.push_str(self.text.get(..bytes.start).unwrap_or_default());
            text.push_str(&change.text);
            text.push_str(self.text.get(bytes.end..).unwrap_or_default());
            self.set_text(&text);
        }
    }
}
