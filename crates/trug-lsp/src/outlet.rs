//! The stream that answers go out by. Where nobody takes them any more, they are let go, and that is said once.
//!
//! The protocol's own loop gives up with a panic where its output refuses something.

use std::io;
use std::pin::Pin;
use std::task::{Context, Poll, ready};

use tokio::io::AsyncWrite;
use tokio::sync::oneshot::{Receiver, Sender, channel};

/// An output that never refuses.
#[derive(Debug)]
pub(crate) struct Outlet<O> {
    output: O,
    /// Taken when the output is found shut.
    shut: Option<Sender<()>>,
}

impl<O> Outlet<O> {
    /// The outlet, and what hears of it when nobody takes any more.
    pub(crate) fn over(output: O) -> (Outlet<O>, Receiver<()>) {
        let (shut, is_shut) = channel();
        let outlet = Outlet {
            output,
            shut: Some(shut),
        };
        (outlet, is_shut)
    }

    fn give_up(&mut self) {
        if let Some(shut) = self.shut.take() {
            let _ = shut.send(());
        }
    }
}

impl<O: AsyncWrite + Unpin> AsyncWrite for Outlet<O> {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        if self.shut.is_some() {
            match ready!(Pin::new(&mut self.output).poll_write(context, bytes)) {
                Ok(written) if 0 < written => return Poll::Ready(Ok(written)),
                _ => self.give_up(),
            }
        }
        Poll::Ready(Ok(bytes.len()))
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        if self.shut.is_some() && ready!(Pin::new(&mut self.output).poll_flush(context)).is_err() {
            self.give_up();
        }
        Poll::Ready(Ok(()))
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        let _ = ready!(Pin::new(&mut self.output).poll_shutdown(context));
        Poll::Ready(Ok(()))
    }
}
