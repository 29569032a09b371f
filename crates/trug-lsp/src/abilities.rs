//! What the client can do, and what it is told the server can.

use crate::actions::FIX_ALL;
use crate::legend::legend;
use crate::lsp::*;
use crate::position::Encoding;
use crate::requests::command::COMMANDS;

/// After these something else can be written.
const TRIGGERS: [&str; 3] = [" ", "\"", "/"];

/// What the client said it can do, as far as it changes what it is sent.
#[derive(Clone, Debug, Default)]
pub(crate) struct Abilities {
    pub(crate) pulls: bool,
    pub(crate) has_related: bool,
    pub(crate) has_related_documents: bool,
    pub(crate) has_tags: bool,
    pub(crate) has_code_links: bool,
    pub(crate) has_data: bool,
    pub(crate) can_watch: bool,
    pub(crate) can_configure: bool,
    pub(crate) registers_configuration: bool,
    pub(crate) has_progress: bool,
    pub(crate) refreshes_diagnostics: bool,
    pub(crate) refreshes_hints: bool,
    pub(crate) refreshes_tokens: bool,
    pub(crate) refreshes_lenses: bool,
    pub(crate) has_snippets: bool,
    pub(crate) has_versioned_edits: bool,
    pub(crate) has_links: bool,
    pub(crate) has_symbol_trees: bool,
    pub(crate) has_action_literals: bool,
    pub(crate) resolves_actions: bool,
    pub(crate) folds_lines_only: bool,
    pub(crate) creates_files: bool,
}

impl Abilities {
    /// Reads them.
    pub(crate) fn of(params: &InitializeParams) -> Abilities {
        let mut abilities = Abilities::default();
        abilities.read_text_document(&params.capabilities);
        abilities.read_workspace(&params.capabilities);
        // Who cannot be told to pull again would keep what an edit of another text has changed: such a client is sent it.
        abilities.pulls &= abilities.refreshes_diagnostics;
        let window = params.capabilities.window.as_ref();
        abilities.has_progress =
            window.is_some_and(|window| window.work_done_progress == Some(true));
        abilities
    }

    fn read_text_document(&mut self, client: &ClientCapabilities) {
        let Some(text) = &client.text_document else {
            return;
        };
        if let Some(pull) = &text.diagnostic {
            self.pulls = true;
            self.has_related_documents = pull.related_document_support == Some(true);
        }
        if let Some(push) = &text.publish_diagnostics {
            self.has_related = push.related_information == Some(true);
            self.has_tags = push.tag_support.is_some();
            self.has_code_links = push.code_description_support == Some(true);
            self.has_data = push.data_support == Some(true);
        }
        let item = text
            .completion
            .as_ref()
            .and_then(|completion| completion.completion_item.as_ref());
        self.has_snippets = item.is_some_and(|item| item.snippet_support == Some(true));
        let definition = text.definition.as_ref();
        self.has_links = definition.is_some_and(|definition| definition.link_support == Some(true));
        let symbols = text.document_symbol.as_ref();
        self.has_symbol_trees = symbols
            .is_some_and(|symbols| symbols.hierarchical_document_symbol_support == Some(true));
        if let Some(action) = &text.code_action {
            self.has_action_literals = action.code_action_literal_support.is_some();
            self.resolves_actions = action.resolve_support.as_ref().is_some_and(|support| {
                support.properties.iter().any(|property| property == "edit")
            });
        }
        let folding = text.folding_range.as_ref();
        self.folds_lines_only =
            folding.is_some_and(|folding| folding.line_folding_only == Some(true));
    }

    fn read_workspace(&mut self, client: &ClientCapabilities) {
        let Some(workspace) = &client.workspace else {
            return;
        };
        let watched = workspace.did_change_watched_files.as_ref();
        self.can_watch = watched.is_some_and(|watched| watched.dynamic_registration == Some(true));
        self.can_configure = workspace.configuration == Some(true);
        let configuration = workspace.did_change_configuration.as_ref();
        self.registers_configuration =
            configuration.is_some_and(|one| one.dynamic_registration == Some(true));
        self.refreshes_diagnostics = workspace
            .diagnostic
            .as_ref()
            .is_some_and(|one| one.refresh_support == Some(true));
        self.refreshes_hints = workspace
            .inlay_hint
            .as_ref()
            .is_some_and(|one| one.refresh_support == Some(true));
        self.refreshes_tokens = workspace
            .semantic_tokens
            .as_ref()
            .is_some_and(|one| one.refresh_support == Some(true));
        self.refreshes_lenses = workspace
            .code_lens
            .as_ref()
            .is_some_and(|one| one.refresh_support == Some(true));
        if let Some(edit) = &workspace.workspace_edit {
            self.has_versioned_edits = edit.document_changes == Some(true);
            self.creates_files = edit
                .resource_operations
                .as_ref()
                .is_some_and(|all| all.contains(&ResourceOperationKind::Create));
        }
    }
}

/// What the client is told.
pub(crate) fn capabilities(params: &InitializeParams) -> InitializeResult {
    let general = params.capabilities.general.as_ref();
    let offered = general.and_then(|general| general.position_encodings.as_deref());
    let abilities = Abilities::of(params);
    InitializeResult {
        capabilities: ServerCapabilities {
            position_encoding: Some(Encoding::best_of(offered.unwrap_or_default()).kind()),
            text_document_sync: Some(TextDocumentSyncCapability::Options(
                TextDocumentSyncOptions {
                    open_close: Some(true),
                    change: Some(TextDocumentSyncKind::INCREMENTAL),
                    save: Some(TextDocumentSyncSaveOptions::Supported(true)),
                    ..TextDocumentSyncOptions::default()
                },
            )),
            diagnostic_provider: abilities.pulls.then(pulled),
            execute_command_provider: Some(ExecuteCommandOptions {
                commands: COMMANDS.map(str::to_owned).to_vec(),
                ..ExecuteCommandOptions::default()
            }),
            workspace: Some(workspace()),
            ..answers()
        },
        server_info: Some(ServerInfo {
            name: "trug".to_owned(),
            version: Some(env!("CARGO_PKG_VERSION").to_owned()),
        }),
    }
}

/// What can be asked, whatever the client is.
fn answers() -> ServerCapabilities {
    ServerCapabilities {
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        completion_provider: Some(CompletionOptions {
            resolve_provider: Some(true),
            trigger_characters: Some(TRIGGERS.map(str::to_owned).to_vec()),
            ..CompletionOptions::default()
        }),
        definition_provider: Some(OneOf::Left(true)),
        type_definition_provider: Some(TypeDefinitionProviderCapability::Simple(true)),
        references_provider: Some(OneOf::Left(true)),
        document_highlight_provider: Some(OneOf::Left(true)),
        rename_provider: Some(OneOf::Right(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        })),
        document_symbol_provider: Some(OneOf::Left(true)),
        workspace_symbol_provider: Some(OneOf::Left(true)),
        semantic_tokens_provider: Some(
            SemanticTokensOptions {
                legend: legend(),
                range: Some(true),
                full: Some(SemanticTokensFullOptions::Delta { delta: Some(true) }),
                ..SemanticTokensOptions::default()
            }
            .into(),
        ),
        inlay_hint_provider: Some(OneOf::Left(true)),
        code_lens_provider: Some(CodeLensOptions {
            resolve_provider: Some(true),
        }),
        code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
            code_action_kinds: Some(vec![
                CodeActionKind::QUICKFIX,
                CodeActionKind::REFACTOR_REWRITE,
                FIX_ALL,
            ]),
            ..CodeActionOptions::default()
        })),
        document_formatting_provider: Some(OneOf::Left(true)),
        document_range_formatting_provider: Some(OneOf::Left(true)),
        document_on_type_formatting_provider: Some(DocumentOnTypeFormattingOptions {
            first_trigger_character: "\n".to_owned(),
            more_trigger_character: None,
        }),
        folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
        selection_range_provider: Some(SelectionRangeProviderCapability::Simple(true)),
        document_link_provider: Some(DocumentLinkOptions {
            resolve_provider: Some(false),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        }),
        call_hierarchy_provider: Some(CallHierarchyServerCapability::Simple(true)),
        ..ServerCapabilities::default()
    }
}

fn pulled() -> DiagnosticServerCapabilities {
    DiagnosticServerCapabilities::Options(DiagnosticOptions {
        identifier: Some("trug".to_owned()),
        inter_file_dependencies: true,
        workspace_diagnostics: true,
        ..DiagnosticOptions::default()
    })
}

fn workspace() -> WorkspaceServerCapabilities {
    WorkspaceServerCapabilities {
        workspace_folders: Some(WorkspaceFoldersServerCapabilities {
            supported: Some(true),
            change_notifications: Some(OneOf::Left(true)),
        }),
        file_operations: Some(WorkspaceFileOperationsServerCapabilities {
            will_rename: Some(all_files()),
            did_create: Some(all_files()),
            did_rename: Some(all_files()),
            did_delete: Some(all_files()),
            ..WorkspaceFileOperationsServerCapabilities::default()
        }),
    }
}

/// Texts, tables, and folders that may hold some.
fn all_files() -> FileOperationRegistrationOptions {
    let filter = |glob: &str, matches| FileOperationFilter {
        scheme: Some("file".to_owned()),
        pattern: FileOperationPattern {
            glob: glob.to_owned(),
            matches: Some(matches),
            options: None,
        },
    };
    FileOperationRegistrationOptions {
        filters: vec![
            filter("**/*.{trug,csv}", FileOperationPatternKind::File),
            filter("**", FileOperationPatternKind::Folder),
        ],
    }
}
