//! A session from its first byte to its last.

use std::io;
use std::sync::{Arc, Mutex, mpsc};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, stdin, stdout};
use tokio::runtime::{Builder, Handle};
use tokio::sync::mpsc::{UnboundedReceiver, unbounded_channel};
use tower_lsp::LspService;

use crate::event::Event;
use crate::guard::Guard;
use crate::outbox::Outbox;
use crate::outlet::Outlet;
use crate::owner;
use crate::server::Server;
use crate::session::Start;
use crate::wire::{Ended, sift};
use crate::world::World;

/// With fewer, a request that waits for the client could keep the client's answer from being read.
const REQUESTS_AT_ONCE: usize = 1 << 16;

/// Bytes between the sieve and the service.
const HELD: usize = 64 * 1024;

/// Between two looks at the client's process and at the day.
const TICK: Duration = Duration::from_secs(2);

/// How long the last answers may take once the client has gone.
const PATIENCE: Duration = Duration::from_secs(2);

/// Between the end of what is read and the word of how it ended.
const MOMENT: Duration = Duration::from_millis(200);

/// Serves on standard input and output until the client goes.
///
/// # Errors
/// Where the threads that are needed cannot be had.
pub fn serve(world: Arc<dyn World>) -> io::Result<Ended> {
    try_threads()?;
    let runtime = Builder::new_multi_thread()
        .worker_threads(2)
        .enable_time()
        .build()?;
    let ended = runtime.block_on(serve_on(stdin(), stdout(), world));
    // A thread may still wait for input that never comes; nobody waits for it.
    runtime.shutdown_background();
    ended
}

/// Threads that are wanted at once before the first answer: two that work, two at the streams, the owner, the watch.
const THREADS: usize = 6;

/// Has as many threads as will be wanted, for a moment: what comes after would not say that one cannot be had, but give up.
fn try_threads() -> io::Result<()> {
    let gate = Mutex::new(());
    std::thread::scope(|scope| {
        let shut = gate.lock();
        for _ in 0..THREADS {
            std::thread::Builder::new().spawn_scoped(scope, || drop(gate.lock()))?;
        }
        drop(shut);
        Ok(())
    })
}

/// Serves a client behind any two streams.
///
/// # Errors
/// Where the threads that are needed cannot be had.
pub async fn serve_on<I, O>(input: I, output: O, world: Arc<dyn World>) -> io::Result<Ended>
where
    I: AsyncRead + Unpin + Send + 'static,
    O: AsyncWrite + Unpin + Send + 'static,
{
    let (events, received) = mpsc::channel();
    let (parent, parents) = unbounded_channel();
    let outbox = Outbox::default();
    let mut client = None;
    let (service, socket) = LspService::build(|own| {
        client = Some(own);
        Server::new(events.clone(), parent)
    })
    .custom_method("window/workDoneProgress/cancel", Server::cancel_progress)
    .custom_method("workspace/textDocumentContent", Server::content)
    .finish();
    let Some(client) = client else {
        return Err(io::Error::other("the protocol's service was not made"));
    };
    let start = Start {
        world: Arc::clone(&world),
        events: events.clone(),
        client: client.clone(),
        runtime: Handle::current(),
        outbox: outbox.clone(),
    };
    owner::start(start, received)?;
    let sending = tokio::spawn(outbox.send_all(client));
    let ticking = tokio::spawn(tick(events.clone()));
    let (sieve_end, service_end) = tokio::io::duplex(HELD);
    let mut sifting = tokio::spawn(sift(input, sieve_end));
    let (outlet, is_shut) = Outlet::over(output);
    let server =
        tower_lsp::Server::new(service_end, outlet, socket).concurrency_level(REQUESTS_AT_ONCE);
    let mut serving = tokio::spawn(server.serve(Guard::new(service)));
    let ended = tokio::select! {
        ended = &mut sifting => {
            drop(tokio::time::timeout(PATIENCE, &mut serving).await);
            ended.unwrap_or(Ended::Abandoned)
        }
        _ = &mut serving => {
            // The sieve shuts the wire a moment before it says how the session ended.
            let said = tokio::time::timeout(MOMENT, &mut sifting).await;
            said.ok().and_then(Result::ok).unwrap_or(Ended::Abandoned)
        }
        () = gone(parents, &*world) => Ended::Abandoned,
        Ok(()) = is_shut => Ended::Abandoned,
    };
    drop(events.send(Event::Over));
    for task in [sending, ticking, serving] {
        task.abort();
    }
    sifting.abort();
    Ok(ended)
}

async fn tick(events: mpsc::Sender<Event>) {
    loop {
        tokio::time::sleep(TICK).await;
        if events.send(Event::Tick).is_err() {
            return;
        }
    }
}

/// Ends when the process that the client named is gone.
async fn gone(mut parents: UnboundedReceiver<u32>, world: &dyn World) {
    let Some(process) = parents.recv().await else {
        return std::future::pending().await;
    };
    let mut is_alive = world.watch(process);
    while is_alive() {
        tokio::time::sleep(TICK).await;
    }
}
