//! The protocol's methods: each sends to the owner before anything is awaited, and waits for the answer.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::Sender;
use std::sync::{Mutex, PoisonError};

use serde_json::Value;
use tokio::sync::mpsc::UnboundedSender;
use tokio::sync::oneshot;
use tower_lsp::jsonrpc::Result;
use tower_lsp::{LanguageServer, async_trait};

use crate::abilities::capabilities;
use crate::event::Event;
use crate::guard::broken;
use crate::lsp::*;
use crate::requests;
use crate::requests::content::{Content, ContentParams};
use crate::snapshot::{Cancel, Snapshot};

/// The way from the wire to the owner.
#[derive(Debug)]
pub(crate) struct Server {
    events: Mutex<Sender<Event>>,
    parent: UnboundedSender<u32>,
}

impl Server {
    pub(crate) fn new(events: Sender<Event>, parent: UnboundedSender<u32>) -> Server {
        Server {
            events: Mutex::new(events),
            parent,
        }
    }

    fn tell(&self, event: Event) {
        let events = self.events.lock().unwrap_or_else(PoisonError::into_inner);
        // Where the owner is gone the session is over.
        drop(events.send(event));
    }

    /// Has a question answered on a snapshot. Whoever cancels drops the receiver, and the answer is not made.
    async fn ask<P, R>(
        &self,
        params: P,
        answer: fn(&Snapshot, P, &Cancel<'_>) -> Result<R>,
    ) -> Result<R>
    where
        P: Send + 'static,
        R: Send + 'static,
    {
        let (reply, receive) = oneshot::channel();
        self.tell(Event::Ask(Box::new(move |snapshot| {
            if reply.is_closed() {
                return;
            }
            let is_closed = || reply.is_closed();
            let answer = AssertUnwindSafe(|| answer(snapshot, params, &Cancel(&is_closed)));
            let answer = catch_unwind(answer).unwrap_or_else(|_| Err(broken()));
            drop(reply.send(answer));
        })));
        receive.await.unwrap_or_else(|_| Err(broken()))
    }

    /// The user stops what is shown to go on.
    pub(crate) async fn cancel_progress(&self, params: WorkDoneProgressCancelParams) {
        self.tell(Event::CancelIndexing(params.token));
    }

    /// The text at an address of the scheme `trug`.
    pub(crate) async fn content(&self, params: ContentParams) -> Result<Option<Content>> {
        self.ask(params, requests::content::content).await
    }

    fn changed_files(&self, uris: impl Iterator<Item = String>, typ: FileChangeType) {
        let event = |uri: String| Some(FileEvent::new(Url::parse(&uri).ok()?, typ));
        self.tell(Event::Watched(uris.filter_map(event).collect()));
    }
}

#[async_trait]
impl LanguageServer for Server {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        if let Some(process) = params.process_id {
            // Where nobody listens the session is over.
            let _ = self.parent.send(process);
        }
        let result = capabilities(&params);
        self.tell(Event::Initialize(Box::new(params)));
        Ok(result)
    }

    async fn initialized(&self, _: InitializedParams) {
        self.tell(Event::Ready);
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        self.tell(Event::Open(params));
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        self.tell(Event::Change(params));
    }

    async fn did_save(&self, _: DidSaveTextDocumentParams) {
        self.tell(Event::Saved);
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.tell(Event::Close(params));
    }

    async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
        self.tell(Event::Settings(params.settings.get("trug").cloned()));
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        self.tell(Event::Folders(params.event));
    }

    async fn did_change_watched_files(&self, params: DidChangeWatchedFilesParams) {
        self.tell(Event::Watched(params.changes));
    }

    async fn did_create_files(&self, params: CreateFilesParams) {
        let files = params.files.into_iter().map(|file| file.uri);
        self.changed_files(files, FileChangeType::CREATED);
    }

    async fn did_rename_files(&self, params: RenameFilesParams) {
        let files = params
            .files
            .into_iter()
            .flat_map(|file| [file.old_uri, file.new_uri]);
        self.changed_files(files, FileChangeType::CREATED);
    }

    async fn did_delete_files(&self, params: DeleteFilesParams) {
        let files = params.files.into_iter().map(|file| file.uri);
        self.changed_files(files, FileChangeType::DELETED);
    }

    async fn diagnostic(
        &self,
        params: DocumentDiagnosticParams,
    ) -> Result<DocumentDiagnosticReportResult> {
        self.ask(params, requests::diagnostic::of_document).await
    }

    async fn workspace_diagnostic(
        &self,
        params: WorkspaceDiagnosticParams,
    ) -> Result<WorkspaceDiagnosticReportResult> {
        self.ask(params, requests::workspace_diagnostic::of_all)
            .await
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<Value>> {
        if let Some(uri) = requests::command::shown(&params) {
            self.tell(Event::Shown(uri));
        }
        self.ask(params, requests::command::execute).await
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        self.ask(params, requests::hover::hover).await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        self.ask(params, requests::completion::completion).await
    }

    async fn completion_resolve(&self, params: CompletionItem) -> Result<CompletionItem> {
        self.ask(params, requests::completion_resolve::resolve)
            .await
    }

    async fn goto_definition(
        &self,
        params: GotoDefinitionParams,
    ) -> Result<Option<GotoDefinitionResponse>> {
        self.ask(params, requests::definition::definition).await
    }

    async fn goto_type_definition(
        &self,
        params: GotoDefinitionParams,
    ) -> Result<Option<GotoDefinitionResponse>> {
        self.ask(params, requests::definition::type_definition)
            .await
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        self.ask(params, requests::references::references).await
    }

    async fn document_highlight(
        &self,
        params: DocumentHighlightParams,
    ) -> Result<Option<Vec<DocumentHighlight>>> {
        self.ask(params, requests::references::highlights).await
    }

    async fn prepare_rename(
        &self,
        params: TextDocumentPositionParams,
    ) -> Result<Option<PrepareRenameResponse>> {
        self.ask(params, requests::rename::prepare).await
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        self.ask(params, requests::rename::rename).await
    }

    async fn will_rename_files(&self, params: RenameFilesParams) -> Result<Option<WorkspaceEdit>> {
        self.ask(params, requests::rename_files::rename_files).await
    }

    async fn document_symbol(
        &self,
        params: DocumentSymbolParams,
    ) -> Result<Option<DocumentSymbolResponse>> {
        self.ask(params, requests::document_symbol::of_document)
            .await
    }

    async fn symbol(
        &self,
        params: WorkspaceSymbolParams,
    ) -> Result<Option<Vec<SymbolInformation>>> {
        self.ask(params, requests::workspace_symbol::of_all).await
    }

    async fn semantic_tokens_full(
        &self,
        params: SemanticTokensParams,
    ) -> Result<Option<SemanticTokensResult>> {
        self.ask(params, requests::tokens_full::full).await
    }

    async fn semantic_tokens_full_delta(
        &self,
        params: SemanticTokensDeltaParams,
    ) -> Result<Option<SemanticTokensFullDeltaResult>> {
        self.ask(params, requests::tokens_delta::delta).await
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        self.ask(params, requests::tokens_range::range).await
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        self.ask(params, requests::inlay_hint::hints).await
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        self.ask(params, requests::code_lens::lenses).await
    }

    async fn code_lens_resolve(&self, params: CodeLens) -> Result<CodeLens> {
        self.ask(params, requests::code_lens_resolve::resolve).await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        self.ask(params, requests::code_action::code_actions).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.ask(params, requests::formatting::whole).await
    }

    async fn range_formatting(
        &self,
        params: DocumentRangeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        self.ask(params, requests::formatting::range).await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        self.ask(params, requests::formatting::on_type).await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        self.ask(params, requests::folding::folds).await
    }

    async fn selection_range(
        &self,
        params: SelectionRangeParams,
    ) -> Result<Option<Vec<SelectionRange>>> {
        self.ask(params, requests::selection::selections).await
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        self.ask(params, requests::links::links).await
    }

    async fn prepare_call_hierarchy(
        &self,
        params: CallHierarchyPrepareParams,
    ) -> Result<Option<Vec<CallHierarchyItem>>> {
        self.ask(params, requests::prepare_calls::prepare).await
    }

    async fn incoming_calls(
        &self,
        params: CallHierarchyIncomingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
        self.ask(params, requests::incoming_calls::incoming).await
    }

    async fn outgoing_calls(
        &self,
        params: CallHierarchyOutgoingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
        self.ask(params, requests::outgoing_calls::outgoing).await
    }
}
