//! Texts from the disk and from standard input.
//!
//! A text is looked at before it is opened: a pipe would never end, and a text that is too large is never read.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use trug_model::{Absent, LARGEST_TEXT, Texts};

use crate::asked::{Asked, STANDARD_INPUT};
use crate::ending::{Ending, Failure, say};
use crate::refused::why;

/// The largest text that is read, in bytes.
const LARGEST: u64 = LARGEST_TEXT as u64;

/// The texts below a root.
#[derive(Debug)]
pub(crate) struct Disk {
    root: PathBuf,
    /// Folders that may be read from; none where any may.
    within: Option<Vec<PathBuf>>,
    /// The user named these, or they were found without following a link.
    asked: BTreeSet<String>,
    standard_input: Option<Result<Arc<str>, Absent>>,
    reads: Arc<AtomicUsize>,
    /// Asked for and there, and yet the system would not give them.
    refused: Mutex<BTreeSet<String>>,
}

impl Disk {
    /// The texts that `asked` stands among. Standard input is read to its end where it is asked for.
    pub(crate) fn new(asked: &Asked, may_leave_root: bool) -> Result<Disk, Failure> {
        let wants_input = asked.names.contains(STANDARD_INPUT);
        Ok(Disk {
            root: asked.root.clone(),
            within: (!may_leave_root).then(|| asked.roots.clone()),
            asked: asked.names.clone(),
            standard_input: if wants_input {
                Some(standard_input()?)
            } else {
                None
            },
            reads: Arc::default(),
            refused: Mutex::default(),
        })
    }

    /// The texts below one root, whatever is asked for.
    pub(crate) fn below(root: &Path, may_leave_root: bool) -> Disk {
        Disk {
            root: root.to_owned(),
            within: (!may_leave_root).then(|| vec![root.to_owned()]),
            asked: BTreeSet::new(),
            standard_input: None,
            reads: Arc::default(),
            refused: Mutex::default(),
        }
    }

    /// Where the text of that name lies.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.root.join(name)
    }

    /// How many texts were read so far.
    pub(crate) fn reads(&self) -> Arc<AtomicUsize> {
        Arc::clone(&self.reads)
    }

    /// Says which texts asked for could not be read; the work is partial where there are any.
    pub(crate) fn tell_refused(&self) -> Ending {
        let refused = self.refused.lock().unwrap_or_else(PoisonError::into_inner);
        for words in &*refused {
            say(words);
        }
        if refused.is_empty() {
            Ending::Clean
        } else {
            Ending::Partial
        }
    }

    fn read(&self, name: &str) -> Result<Arc<str>, Absent> {
        let path = self.path(name);
        if let Some(within) = &self.within
            && !self.asked.contains(name)
        {
            // By `..` first: whether something outside exists is nobody's business.
            let is_below = !Path::new(name).is_absolute() && !climbs(name);
            let real = if is_below {
                path.canonicalize().map_err(absent)?
            } else {
                return Err(Absent::Outside);
            };
            if !within.iter().any(|root| real.starts_with(root)) {
                return Err(Absent::Outside);
            }
        }
        let metadata = path.metadata().map_err(absent)?;
        if metadata.is_dir() {
            return Err(Absent::Unreadable("it is a folder".to_owned()));
        }
        if !metadata.is_file() {
            return Err(Absent::Unreadable("it is not a plain file".to_owned()));
        }
        if LARGEST < metadata.len() {
            return Err(Absent::TooLarge);
        }
        text(File::open(&path).map_err(absent)?)
    }
}

impl Texts for Disk {
    fn get(&self, name: &str) -> Result<Arc<str>, Absent> {
        if let Some(text) = self
            .standard_input
            .as_ref()
            .filter(|_| name == STANDARD_INPUT)
        {
            return text.clone();
        }
        let text = self.read(name);
        self.reads.fetch_add(1, Ordering::Relaxed);
        let words = match &text {
            Err(Absent::Unreadable(words)) => words.as_str(),
            Err(Absent::Missing) => "it is gone",
            _ => return text,
        };
        if self.asked.contains(name) {
            let mut refused = self.refused.lock().unwrap_or_else(PoisonError::into_inner);
            refused.insert(format!(
                "{} could not be read: {words}",
                name.escape_debug()
            ));
        }
        text
    }
}

/// Whether a name leads above the folder it starts from, at any point of the way.
pub(crate) fn climbs(name: &str) -> bool {
    let mut depth = 0_usize;
    for part in name.split('/') {
        match part {
            "" | "." => {}
            ".." if depth == 0 => return true,
            ".." => depth -= 1,
            _ => depth += 1,
        }
    }
    false
}

fn standard_input() -> Result<Result<Arc<str>, Absent>, Failure> {
    match text(std::io::stdin().lock()) {
        Err(Absent::Unreadable(words)) => Err(Failure::new(format!(
            "standard input could not be read: {words}"
        ))),
        text => Ok(text),
    }
}

/// Reads to the end, but no more than one byte over the largest text.
pub(crate) fn text(from: impl Read) -> Result<Arc<str>, Absent> {
    let mut bytes = Vec::new();
    from.take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(absent)?;
    if LARGEST < bytes.len() as u64 {
        return Err(Absent::TooLarge);
    }
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        let before = bytes.get(..at).unwrap_or_default();
        return Err(Absent::NotText(
            std::str::from_utf8(before).map_or_else(|bad| bad.valid_up_to(), |_| at),
        ));
    }
    String::from_utf8(bytes)
        .map(Arc::from)
        .map_err(|bad| Absent::NotText(bad.utf8_error().valid_up_to()))
}

fn absent(error: std::io::Error) -> Absent {
    match error.kind() {
        std::io::ErrorKind::NotFound | std::io::ErrorKind::NotADirectory => Absent::Missing,
        _ => Absent::Unreadable(why(&error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_climb_are_known_without_the_disk() {
        assert!(climbs("../yard.trug"));
        assert!(climbs("store/../../yard.trug"));
        assert!(!climbs("store/../yard.trug"));
        assert!(!climbs("./..yard.trug"));
    }

    #[test]
    fn the_first_byte_that_is_no_text_is_named() {
        assert_eq!(text(&b"ab\xffc\0"[..]), Err(Absent::NotText(2)));
        assert_eq!(text(&b"ab\0c\xff"[..]), Err(Absent::NotText(2)));
        assert_eq!(text(&b"ab"[..]), Ok(Arc::from("ab")));
    }

    #[test]
    fn a_text_over_the_limit_is_not_read_on() {
        assert_eq!(text(std::io::repeat(b'a')), Err(Absent::TooLarge));
    }
}
