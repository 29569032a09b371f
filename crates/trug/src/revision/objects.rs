//! The contents of git's objects, from one process that is asked one after the other.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::{Mutex, PoisonError};

use trug_model::{Absent, LARGEST_TEXT};

use crate::ending::Failure;

/// A running `git cat-file --batch`.
#[derive(Debug)]
pub(crate) struct Objects(Mutex<Process>);

#[derive(Debug)]
struct Process {
    child: Child,
    /// None once it is told that nothing more is asked.
    to: Option<ChildStdin>,
    from: BufReader<ChildStdout>,
}

impl Objects {
    /// Starts it.
    pub(super) fn of(mut command: Command) -> Result<Objects, Failure> {
        let failed =
            |error: std::io::Error| Failure::new(format!("git could not be started: {error}"));
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(failed)?;
        let to = child.stdin.take();
        let Some(from) = child.stdout.take() else {
            return Err(Failure::new("git gives no output"));
        };
        Ok(Objects(Mutex::new(Process {
            child,
            to,
            from: BufReader::new(from),
        })))
    }

    /// The content of an object; one that is too large is passed over unread.
    pub(super) fn get(&self, id: &str) -> Result<Vec<u8>, Absent> {
        let mut process = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        process
            .get(id)
            .unwrap_or_else(|error| Err(Absent::Unreadable(format!("git broke off: {error}"))))
    }
}

impl Process {
    fn get(&mut self, id: &str) -> std::io::Result<Result<Vec<u8>, Absent>> {
        let gone = || std::io::Error::other("it ended");
        let to = self.to.as_mut().ok_or_else(gone)?;
        writeln!(to, "{id}")?;
        to.flush()?;
        let mut head = String::new();
        if self.from.read_line(&mut head)? == 0 {
            return Err(gone());
        }
        // `ID blob SIZE`, or `ID missing`.
        let Some(size) = head
            .trim_end()
            .rsplit_once(' ')
            .and_then(|(_, size)| size.parse::<u64>().ok())
        else {
            let words = "git does not have its content".to_owned();
            return Ok(Err(Absent::Unreadable(words)));
        };
        let is_too_large = LARGEST_TEXT as u64 <= size && size != LARGEST_TEXT as u64;
        let mut content = Vec::new();
        if is_too_large {
            std::io::copy(&mut (&mut self.from).take(size), &mut std::io::sink())?;
        } else {
            (&mut self.from).take(size).read_to_end(&mut content)?;
        }
        let mut end = [0];
        self.from.read_exact(&mut end)?;
        Ok(if is_too_large {
            Err(Absent::TooLarge)
        } else {
            Ok(content)
        })
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // It ends when nothing more can be asked.
        self.to = None;
        let _ = self.child.wait();
    }
}
