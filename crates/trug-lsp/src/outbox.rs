//! What waits to be sent to the client: the newest of each kind, so that nothing stale is ever sent.

use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};

use serde::{Deserialize, Serialize};
use tokio::sync::Notify;
use tower_lsp::Client;

use crate::lsp::notification::{LogMessage, Notification, PublishDiagnostics};
use crate::lsp::{LogMessageParams, MessageType, PublishDiagnosticsParams, Url};

/// Where the owner puts what is to be sent; it never waits.
#[derive(Clone, Debug, Default)]
pub(crate) struct Outbox {
    waiting: Arc<Mutex<Waiting>>,
    news: Arc<Notify>,
}

#[derive(Debug, Default)]
struct Waiting {
    /// In the order in which the texts were first spoken of.
    diagnostics: Vec<PublishDiagnosticsParams>,
    plans: BTreeSet<Url>,
    words: Vec<String>,
    refreshes: BTreeSet<Refresh>,
}

/// What the client is asked to ask for again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Refresh {
    Diagnostics,
    Hints,
    Tokens,
    Lenses,
}

/// Says that the sheets and analyses of a text's rations may be others now.
#[derive(Debug)]
pub(crate) enum PlanChanged {}

/// The text.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct PlanChangedParams {
    uri: Url,
}

impl Notification for PlanChanged {
    type Params = PlanChangedParams;
    const METHOD: &'static str = "trug/planChanged";
}

impl Outbox {
    /// Puts findings in the place of older ones of the same text.
    pub(crate) fn publish(&self, params: PublishDiagnosticsParams) {
        self.change(|waiting| {
            waiting.diagnostics.retain(|older| older.uri != params.uri);
            waiting.diagnostics.push(params);
        });
    }

    /// Takes back what was not sent yet about a text that has changed.
    pub(crate) fn take_back(&self, uri: &Url) {
        self.change(|waiting| waiting.diagnostics.retain(|older| older.uri != *uri));
    }

    /// Tells that plans of a text may have changed.
    pub(crate) fn plan_changed(&self, uri: Url) {
        self.change(|waiting| {
            waiting.plans.insert(uri);
        });
    }

    /// Says something that a user finds who looks for it.
    pub(crate) fn say(&self, words: String) {
        self.change(|waiting| waiting.words.push(words));
    }

    /// Asks the client to ask again.
    pub(crate) fn refresh(&self, what: Refresh) {
        self.change(|waiting| {
            waiting.refreshes.insert(what);
        });
    }

    fn change(&self, change: impl FnOnce(&mut Waiting)) {
        change(&mut self.waiting.lock().unwrap_or_else(PoisonError::into_inner));
        self.news.notify_one();
    }

    fn take<T>(&self, take: impl FnOnce(&mut Waiting) -> T) -> T {
        take(&mut self.waiting.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Sends what is put in, for ever; one at a time, so that what is replaced meanwhile is not sent.
    pub(crate) async fn send_all(self, client: Client) {
        loop {
            while let Some(params) = self.take(|waiting| {
                (!waiting.diagnostics.is_empty()).then(|| waiting.diagnostics.remove(0))
            }) {
                client.send_notification::<PublishDiagnostics>(params).await;
            }
            if let Some(uri) = self.take(|waiting| waiting.plans.pop_first()) {
                let params = PlanChangedParams { uri };
                client.send_notification::<PlanChanged>(params).await;
                continue;
            }
            if let Some(message) =
                self.take(|waiting| (!waiting.words.is_empty()).then(|| waiting.words.remove(0)))
            {
                let typ = MessageType::WARNING;
                let params = LogMessageParams { typ, message };
                client.send_notification::<LogMessage>(params).await;
                continue;
            }
            if let Some(what) = self.take(|waiting| waiting.refreshes.pop_first()) {
                // Whoever never answers must not hold up the rest.
                tokio::spawn(ask_again(client.clone(), what));
                continue;
            }
            self.news.notified().await;
        }
    }
}

async fn ask_again(client: Client, what: Refresh) {
    let _ = match what {
        Refresh::Diagnostics => client.workspace_diagnostic_refresh().await,
        Refresh::Hints => client.inlay_hint_refresh().await,
        Refresh::Tokens => client.semantic_tokens_refresh().await,
        Refresh::Lenses => client.code_lens_refresh().await,
    };
}
