//! An offset in a text to hover, completion, rename and the like, as plain structs.
//!
//! Every answer is a function of a farm, a text of it, and an offset in bytes or a range; it never fails, and is empty
//! where there is nothing to say. Knows no protocol: lines, columns and encodings are made by who asks.

mod actions;
mod balance;
mod calls;
mod cards;
mod completion;
mod definition;
mod fed;
mod folding;
mod format;
mod hints;
mod hover;
mod lenses;
mod lines;
mod links;
mod markdown;
mod moved;
mod names;
mod occurrences;
mod parts;
mod paths;
pub mod preview;
mod references;
mod rename;
mod selection;
mod symbols;
pub mod texts;
mod tokens;
mod units;
mod written;

pub use actions::{Action, ActionKind, actions, fix_all};
pub use calls::{Taker, Taking, taken_by, taker_at, takers_of};
pub use completion::{Candidate, CandidateKind, Completion, completion, resolve};
pub use definition::{Target, definition, type_definition};
pub use folding::{Fold, FoldKind, folds};
pub use format::{TextEdit, format, format_on_line_end, format_range};
pub use hints::{Hint, HintKind, HintKinds, hints};
pub use hover::{Hover, hover};
pub use lenses::{Command, Lens, LensKind, lens_places, lenses, resolve_lens};
pub use links::{Link, links};
pub use moved::{Move, mend_uses};
pub use names::{Meaning, Named, Role, declared_at, items_of, meaning_at, name_at, names_in};
pub use references::{Highlight, highlights, references};
pub use rename::{Refusal, prepare_rename, rename};
pub use selection::selections;
pub use symbols::{FoundSymbol, Symbol, SymbolKind, document_symbols, workspace_symbols};
pub use tokens::{Token, TokenKind, tokens};
pub use written::{names as written_names, written};
