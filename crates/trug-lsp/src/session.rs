//! What the owner owns: open texts, farms, settings, and what the client was told.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::mpsc::Sender;
use std::sync::{Arc, PoisonError};

use jiff::civil::Date;
use serde_json::Value;
use tokio::runtime::Handle;
use tower_lsp::Client;

use crate::abilities::Abilities;
use crate::area::Area;
use crate::documents::Document;
use crate::event::{Event, Question};
use crate::indexing::Indexing;
use crate::judge::Lane;
use crate::lsp::{
    DidChangeTextDocumentParams, DidOpenTextDocumentParams, FileChangeType, FileEvent,
    InitializeParams, Url, WorkspaceFolder,
};
use crate::naming;
use crate::outbox::Outbox;
use crate::position::{Encoding, Lines};
use crate::settings::Settings;
use crate::snapshot::{Eye, Snapshot, Tokens};
use crate::world::World;

/// Everything that changes; only its owner has it.
pub(crate) struct Session {
    pub(crate) world: Arc<dyn World>,
    pub(crate) events: Sender<Event>,
    pub(crate) client: Client,
    pub(crate) runtime: Handle,
    pub(crate) outbox: Outbox,
    /// Judges what is open.
    pub(crate) front: Lane,
    /// Judges the rest.
    pub(crate) back: Lane,
    pub(crate) documents: Arc<BTreeMap<Url, Document>>,
    pub(crate) areas: Vec<Area>,
    pub(crate) last_area: u32,
    pub(crate) eye: Arc<Eye>,
    pub(crate) folders: Vec<WorkspaceFolder>,
    /// The day everything was judged on.
    pub(crate) today: Date,
    pub(crate) revision: u64,
    pub(crate) indexing: BTreeMap<u32, Indexing>,
    pub(crate) tickets: u64,
    pub(crate) ticks: usize,
    pub(crate) is_ready: bool,
    pub(crate) state: crate::settle::Shown,
    tokens: Tokens,
}

/// The parts of the server that a session needs from the start.
pub(crate) struct Start {
    pub(crate) world: Arc<dyn World>,
    pub(crate) events: Sender<Event>,
    pub(crate) client: Client,
    pub(crate) runtime: Handle,
    pub(crate) outbox: Outbox,
}

impl Session {
    /// A session in which nothing happened yet.
    pub(crate) fn new(start: Start) -> std::io::Result<Session> {
        let front = Lane::start("judge what is open", start.events.clone())?;
        let back = Lane::start("judge the rest", start.events.clone())?;
        Ok(Session {
            today: start.world.today(),
            world: start.world,
            events: start.events,
            client: start.client,
            runtime: start.runtime,
            outbox: start.outbox,
            front,
            back,
            documents: Arc::default(),
            areas: Vec::new(),
            last_area: 0,
            eye: Arc::default(),
            folders: Vec::new(),
            revision: 1,
            indexing: BTreeMap::new(),
            tickets: 0,
            ticks: 0,
            is_ready: false,
            state: crate::settle::Shown::default(),
            tokens: Tokens::default(),
        })
    }

    /// Takes in what happened. What follows from it is made out by [`Session::settle`].
    pub(crate) fn take(&mut self, event: Event) {
        match event {
            Event::Initialize(params) => self.initialize(&params),
            Event::Ready => self.ready(),
            Event::Open(params) => self.open(params),
            Event::Change(params) => self.change(&params),
            Event::Close(params) => self.close(&params.text_document.uri),
            Event::Saved => self.look_for_changes(),
            Event::Folders(change) => self.change_folders(&change),
            Event::Settings(settings) => self.set_settings(settings),
            Event::Watched(events) => self.watched(&events),
            Event::Shown(uri) => self.show(uri),
            Event::Ask(question) => self.ask(question),
            Event::CancelIndexing(token) => self.cancel_indexing(&token),
            Event::Indexed {
                ticket,
                area,
                listed,
                farm,
            } => self.indexed(ticket, area, listed, *farm),
            Event::Listed { area, listed, used } => self.listed(area, listed, used),
            Event::Judged { area, name, report } => self.state.judged.push((area, name, report)),
            Event::Quiet(edit) => self.state.quiet(edit),
            Event::Tick => self.tick(),
            // Its owner ends before it comes here.
            Event::Over => {}
        }
    }

    fn initialize(&mut self, params: &InitializeParams) {
        let general = params.capabilities.general.as_ref();
        let offered = general.and_then(|general| general.position_encodings.as_deref());
        let (settings, wrong) = Settings::default().with(
            params
                .initialization_options
                .as_ref()
                .unwrap_or(&Value::Null),
        );
        self.complain(wrong);
        self.today = settings.today.unwrap_or_else(|| self.world.today());
        self.eye = Arc::new(Eye {
            encoding: Encoding::best_of(offered.unwrap_or_default()),
            settings,
            abilities: Abilities::of(params),
        });
        self.folders = crate::folders::first(params);
    }

    /// Says what of the settings could not be followed.
    pub(crate) fn complain(&self, wrong: Vec<String>) {
        for words in wrong {
            self.outbox.say(words);
        }
    }

    fn open(&mut self, params: DidOpenTextDocumentParams) {
        // A client that never says that it is ready is taken to be.
        self.ready();
        let opened = params.text_document;
        self.close(&opened.uri);
        let Some((area, name)) = self.place(&opened.uri) else {
            return;
        };
        let text: Arc<str> = Arc::from(opened.text);
        if naming::book_name(&opened.uri).is_none()
            && let Some(area) = self.area(area)
        {
            area.open(&name, &opened.uri, &text);
        }
        let document = Document {
            version: opened.version,
            lines: Arc::new(Lines::of(&text)),
            text,
            area,
            name,
        };
        Arc::make_mut(&mut self.documents).insert(opened.uri.clone(), document);
        self.state.edited(opened.uri);
    }

    fn change(&mut self, params: &DidChangeTextDocumentParams) {
        let uri = &params.text_document.uri;
        let encoding = self.eye.encoding;
        let Some(document) = Arc::make_mut(&mut self.documents).get_mut(uri) else {
            return;
        };
        document.version = params.text_document.version;
        document.change(&params.content_changes, encoding);
        let (area, name, text) = (
            document.area,
            document.name.clone(),
            Arc::clone(&document.text),
        );
        if naming::book_name(uri).is_none()
            && let Some(area) = self.area(area)
        {
            area.change(&name, &text);
        }
        // What was found in the text before this edit is not to be sent any more.
        self.outbox.take_back(uri);
        self.state.edited(uri.clone());
        self.arm_quiet();
    }

    fn close(&mut self, uri: &Url) {
        let Some(document) = Arc::make_mut(&mut self.documents).remove(uri) else {
            return;
        };
        self.state.closed(uri);
        self.tokens
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .remove(uri);
        self.outbox.take_back(uri);
        let Some(area) = self.area(document.area) else {
            return;
        };
        if area.has_open(&document.name) {
            area.close(&document.name);
        }
        // What lies on the disk is judged again, and takes the place of what is shown.
        if !area.is_asked(&document.name) {
            self.clear(uri);
        }
        let id = document.area;
        if self.area(id).is_some_and(|area| area.is_empty()) {
            self.areas.retain(|area| area.base.id != id);
        }
        self.arm_quiet();
    }

    /// Files that changed on the disk. Open ones stay as they are open.
    fn watched(&mut self, events: &[FileEvent]) {
        let mut changes_lists = BTreeSet::new();
        for event in events {
            let Some(path) = naming::path(&event.uri) else {
                continue;
            };
            let path = self.world.canonical(&path);
            for area in &mut self.areas {
                let Some(name) = area.base.name_of(&path) else {
                    continue;
                };
                if !area.has_open(&name) {
                    area.touch(&name);
                }
                if event.typ != FileChangeType::CHANGED || !crate::folders::is_text(&name) {
                    changes_lists.insert(area.base.id);
                }
            }
        }
        for area in changes_lists {
            self.list_again(area);
        }
        self.arm_quiet();
    }

    /// The client is about to show a page, made of all edits until now.
    fn show(&mut self, uri: Url) {
        self.refresh();
        self.state.show(uri);
    }

    /// Answers on the state that all edits before the question have left.
    fn ask(&mut self, question: Question) {
        self.refresh();
        let snapshot = self.snapshot();
        self.runtime.spawn_blocking(move || question(&snapshot));
    }

    /// The session as it is.
    pub(crate) fn snapshot(&mut self) -> Snapshot {
        Snapshot {
            areas: self.areas.iter_mut().map(Area::shot).collect(),
            documents: Arc::clone(&self.documents),
            eye: Arc::clone(&self.eye),
            world: Arc::clone(&self.world),
            tokens: Arc::clone(&self.tokens),
        }
    }

    /// The area of that number.
    pub(crate) fn area(&mut self, id: u32) -> Option<&mut Area> {
        self.areas.iter_mut().find(|area| area.base.id == id)
    }
}
