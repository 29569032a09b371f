//! Everything that can happen to a session: one closed list, taken one after the other by the owner.

use serde_json::Value;
use trug_model::Farm;

use crate::lsp::{
    DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, FileEvent,
    InitializeParams, ProgressToken, Url, WorkspaceFoldersChangeEvent,
};
use crate::reports::Report;
use crate::snapshot::Snapshot;
use crate::world::Listed;

/// A question, to be answered on a snapshot, away from the owner.
pub(crate) type Question = Box<dyn FnOnce(&Snapshot) + Send>;

pub(crate) enum Event {
    Initialize(Box<InitializeParams>),
    /// The client is ready to be asked.
    Ready,
    Open(DidOpenTextDocumentParams),
    Change(DidChangeTextDocumentParams),
    Close(DidCloseTextDocumentParams),
    /// A text was written; a client that does not watch files says nothing else.
    Saved,
    Folders(WorkspaceFoldersChangeEvent),
    /// The settings, or that they changed and have to be asked for.
    Settings(Option<Value>),
    Watched(Vec<FileEvent>),
    /// The client shows the plan or the analysis of a text.
    Shown(Url),
    Ask(Question),
    CancelIndexing(ProgressToken),
    /// The texts of an area were read.
    Indexed {
        ticket: u64,
        area: u32,
        listed: Listed,
        farm: Box<Farm>,
    },
    /// The folders of an area were looked through again.
    Listed {
        area: u32,
        listed: Listed,
    },
    Judged {
        area: u32,
        name: String,
        report: Report,
    },
    /// Nothing was edited for a while since the edit of that number.
    Quiet(u64),
    /// Some seconds went by.
    Tick,
    /// The session is over.
    Over,
}
