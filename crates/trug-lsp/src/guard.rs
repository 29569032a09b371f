//! Stands before the protocol's own service and mends what that would stumble over.
//!
//! It is called in the order of the wire. What must hold: no panic passes it; a message that comes while `initialize`
//! is being answered waits until it is.

use std::future::Future;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll, Waker};

use serde_json::Value;
use tower::Service;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};

use crate::hello::readable;
use crate::wire::{UNREADABLE, Unreadable};

/// The protocol's own service, guarded.
#[derive(Debug)]
pub(crate) struct Guard<S> {
    inner: S,
    gate: Arc<Mutex<Gate>>,
}

/// Whether `initialize` is being answered, and who waits for that.
#[derive(Debug, Default)]
struct Gate {
    is_closed: bool,
    waits: Option<Waker>,
}

impl<S> Guard<S> {
    pub(crate) fn new(inner: S) -> Guard<S> {
        Guard {
            inner,
            gate: Arc::default(),
        }
    }
}

type Answer<E> = Result<Option<Response>, E>;

impl<S> Service<Request> for Guard<S>
where
    S: Service<Request, Response = Option<Response>>,
    S::Future: Send + 'static,
    S::Error: Send + 'static,
{
    type Response = Option<Response>;
    type Error = S::Error;
    type Future = Pin<Box<dyn Future<Output = Answer<S::Error>> + Send>>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), S::Error>> {
        {
            let mut gate = self.gate.lock().unwrap_or_else(PoisonError::into_inner);
            if gate.is_closed {
                gate.waits = Some(context.waker().clone());
                return Poll::Pending;
            }
        }
        self.inner.poll_ready(context)
    }

    fn call(&mut self, request: Request) -> Self::Future {
        if request.method() == UNREADABLE {
            let answer = unreadable(request);
            return Box::pin(std::future::ready(Ok(answer)));
        }
        let opens = (request.method() == "initialize").then(|| Opens::closing(&self.gate));
        let id = request.id().cloned();
        let inner = Box::pin(self.inner.call(mended(request)));
        let guarded = Guarded { inner, id };
        Box::pin(async move {
            let answer = guarded.await;
            drop(opens);
            answer
        })
    }
}

/// Some clients send `"params": null` where there are none, which the service would refuse.
fn mended(request: Request) -> Request {
    let is_hello = request.method() == "initialize";
    if request.params() != Some(&Value::Null) && !is_hello {
        return request;
    }
    let (method, id, params) = request.into_parts();
    let mut build = Request::build(method);
    if let Some(id) = id {
        build = build.id(id);
    }
    match params.filter(|_| is_hello) {
        Some(params) => build.params(readable(params)).finish(),
        None => build.finish(),
    }
}

fn unreadable(request: Request) -> Option<Response> {
    let (_, _, params) = request.into_parts();
    let what: Unreadable = serde_json::from_value(params?).ok()?;
    let error = match what.code {
        -32700 => Error::parse_error(),
        _ => Error::invalid_request(),
    };
    Some(Response::from_error(what.id, error))
}

/// Opens the gate when it goes, however that comes.
struct Opens(Arc<Mutex<Gate>>);

impl Opens {
    fn closing(gate: &Arc<Mutex<Gate>>) -> Opens {
        gate.lock()
            .unwrap_or_else(PoisonError::into_inner)
            .is_closed = true;
        Opens(Arc::clone(gate))
    }
}

impl Drop for Opens {
    fn drop(&mut self) {
        let mut gate = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        gate.is_closed = false;
        if let Some(waits) = gate.waits.take() {
            waits.wake();
        }
    }
}

/// A handler whose panic is an answer.
struct Guarded<F> {
    inner: Pin<Box<F>>,
    id: Option<Id>,
}

impl<F, E> Future for Guarded<F>
where
    F: Future<Output = Answer<E>>,
{
    type Output = Answer<E>;

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Answer<E>> {
        let inner = self.inner.as_mut();
        match catch_unwind(AssertUnwindSafe(|| inner.poll(context))) {
            Ok(polled) => polled,
            Err(_) => {
                let id = self.id.take();
                Poll::Ready(Ok(id.map(|id| Response::from_error(id, broken()))))
            }
        }
    }
}

/// What is answered where the server itself is wrong.
pub(crate) fn broken() -> Error {
    Error {
        code: ErrorCode::InternalError,
        message: "sorry: trug could not answer this; it is a mistake in trug".into(),
        data: None,
    }
}
