//! Reads all texts of an area in the background, and looks through its folders again when something came or went.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

use tower_lsp::Client;
use trug_model::{Absent, Farm, Texts};

use crate::area::Base;
use crate::event::Event;
use crate::lsp::notification::Progress;
use crate::lsp::request::WorkDoneProgressCreate;
use crate::lsp::{
    ProgressParams, ProgressParamsValue, ProgressToken, WorkDoneProgress, WorkDoneProgressBegin,
    WorkDoneProgressCreateParams, WorkDoneProgressEnd, WorkDoneProgressReport,
};
use crate::session::Session;
use crate::world::{Listed, World};

/// Reading that goes on.
pub(crate) struct Indexing {
    ticket: u64,
    so_far: Arc<SoFar>,
}

/// How far it is, and whether it is still wanted.
#[derive(Default)]
struct SoFar {
    read: AtomicUsize,
    all: AtomicUsize,
    is_over: AtomicBool,
    is_cancelled: AtomicBool,
}

const BEAT: Duration = Duration::from_millis(100);

/// A client that does not answer is not shown how far it is.
const PATIENCE: Duration = Duration::from_secs(2);

impl Session {
    /// Reads an area in the background.
    pub(crate) fn index(&mut self, id: u32) {
        self.tickets += 1;
        let ticket = self.tickets;
        let settings = self.farm_settings();
        let (world, events) = (Arc::clone(&self.world), self.events.clone());
        let Some(area) = self.area(id) else { return };
        area.meanwhile.clear();
        let (base, disk) = (Arc::clone(&area.base), Arc::clone(&area.disk));
        let so_far = Arc::new(SoFar::default());
        let known = Arc::clone(&so_far);
        self.indexing.insert(id, Indexing { ticket, so_far });
        if self.eye.abilities.has_progress {
            let client = self.client.clone();
            self.runtime.spawn(show(client, ticket, Arc::clone(&known)));
        }
        self.runtime.spawn_blocking(move || {
            let listed = list(&*world, &base);
            known.all.store(listed.len(), Ordering::Relaxed);
            let texts = Counted {
                texts: &*disk,
                so_far: &known,
            };
            let names: Vec<String> = listed.keys().cloned().collect();
            let farm = Box::new(Farm::read(&names, &texts, settings));
            known.is_over.store(true, Ordering::Relaxed);
            if !known.is_cancelled.load(Ordering::Relaxed) {
                drop(events.send(Event::Indexed {
                    ticket,
                    area: id,
                    listed,
                    farm,
                }));
            }
        });
    }

    /// Takes a farm that was read, unless it was overtaken.
    pub(crate) fn indexed(&mut self, ticket: u64, area: u32, listed: Listed, farm: Farm) {
        if self
            .indexing
            .get(&area)
            .is_none_or(|indexing| indexing.ticket != ticket)
        {
            return;
        }
        self.indexing.remove(&area);
        let Some(area) = self.area(area) else { return };
        area.indexed(listed, farm);
        area.pending_all();
        self.state.has_work = true;
        self.state.refresh_all();
    }

    /// Ends what is read at the user's wish; what is open works without it.
    pub(crate) fn cancel_indexing(&mut self, token: &ProgressToken) {
        self.indexing.retain(|_, indexing| {
            let is_meant = *token == self::token(indexing.ticket);
            indexing
                .so_far
                .is_cancelled
                .fetch_or(is_meant, Ordering::Relaxed);
            !is_meant
        });
    }

    pub(crate) fn stop_indexing(&mut self) {
        for indexing in std::mem::take(&mut self.indexing).into_values() {
            indexing.so_far.is_cancelled.store(true, Ordering::Relaxed);
        }
    }

    /// Looks through the folders of an area again, in the background.
    pub(crate) fn list_again(&mut self, id: u32) {
        let (world, events) = (Arc::clone(&self.world), self.events.clone());
        let Some(area) = self.area(id) else { return };
        let base = Arc::clone(&area.base);
        if !base.folders.is_empty() {
            self.runtime.spawn_blocking(move || {
                let listed = list(&*world, &base);
                drop(events.send(Event::Listed { area: id, listed }));
            });
        }
    }

    /// Takes what is in the folders now.
    pub(crate) fn listed(&mut self, area: u32, listed: Listed) {
        // While everything is read anyway, only what is found then counts.
        if self.indexing.contains_key(&area) {
            return;
        }
        let Some(area) = self.area(area) else { return };
        area.relist(listed);
        self.arm_quiet();
    }
}

fn list(world: &dyn World, base: &Base) -> Listed {
    let Some(root) = &base.root else {
        return Listed::new();
    };
    let lists = base.folders.iter().map(|folder| world.list(root, folder));
    lists.flatten().collect()
}

/// Counts what is read, and gives nothing more once nobody wants it.
struct Counted<'a> {
    texts: &'a (dyn Texts + Send + Sync),
    so_far: &'a SoFar,
}

impl Texts for Counted<'_> {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        if self.so_far.is_cancelled.load(Ordering::Relaxed) {
            return Err(Absent::Missing);
        }
        self.so_far.read.fetch_add(1, Ordering::Relaxed);
        self.texts.get(name)
    }
}

fn token(ticket: u64) -> ProgressToken {
    ProgressToken::String(format!("trug/reading/{ticket}"))
}

/// Shows how far it is until it is over.
async fn show(client: Client, ticket: u64, so_far: Arc<SoFar>) {
    let token = token(ticket);
    let create = WorkDoneProgressCreateParams {
        token: token.clone(),
    };
    let asked = client.send_request::<WorkDoneProgressCreate>(create);
    if !matches!(tokio::time::timeout(PATIENCE, asked).await, Ok(Ok(()))) {
        return;
    }
    let say = |progress| {
        let value = ProgressParamsValue::WorkDone(progress);
        let params = ProgressParams {
            token: token.clone(),
            value,
        };
        client.send_notification::<Progress>(params)
    };
    say(WorkDoneProgress::Begin(WorkDoneProgressBegin {
        title: "Reading texts".to_owned(),
        cancellable: Some(true),
        message: None,
        percentage: Some(0),
    }))
    .await;
    while !so_far.is_over.load(Ordering::Relaxed) && !so_far.is_cancelled.load(Ordering::Relaxed) {
        tokio::time::sleep(BEAT).await;
        let (read, all) = (
            so_far.read.load(Ordering::Relaxed),
            so_far.all.load(Ordering::Relaxed),
        );
        let percentage = u32::try_from(read * 100 / all.max(1))
            .unwrap_or(100)
            .min(100);
        say(WorkDoneProgress::Report(WorkDoneProgressReport {
            cancellable: Some(true),
            message: Some(format!("{read} of {all}")),
            percentage: Some(percentage),
        }))
        .await;
    }
    let message = Some(format!("{} texts", so_far.read.load(Ordering::Relaxed)));
    say(WorkDoneProgress::End(WorkDoneProgressEnd { message })).await;
}
