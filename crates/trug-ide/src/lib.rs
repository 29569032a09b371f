//! An offset in a text to hover, completion, rename and the like, as plain structs.
//!
//! Every answer is a function of a farm, a text of it, and an offset in bytes or a range; it never fails, and is empty
//! where there is nothing to say. Knows no protocol: lines, columns and encodings are made by who asks.

mod actions;
mod cards;
mod completion;
mod format;
mod hints;
mod hover;
mod lenses;
mod lines;
mod markdown;
mod parts;
mod paths;
mod tokens;
mod units;

pub use actions::{Action, ActionKind, actions, fix_all};
pub use completion::{Candidate, CandidateKind, Completion, completion, resolve};
pub use format::{TextEdit, format, format_on_line_end, format_range};
pub use hints::{Hint, HintKind, HintKinds, hints};
pub use hover::{Hover, hover};
pub use lenses::{Command, Lens, LensKind, lens_places, lenses, resolve_lens};
pub use tokens::{Token, TokenKind, tokens};
