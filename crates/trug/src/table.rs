//! A table that is named on the command line, read from the disk.

use std::io::Read;
use std::path::Path;

use trug_model::LARGEST_TEXT;

use crate::ending::{Failure, shown};
use crate::refused::why;

/// The text of a table; it is no text of the farm, so it may lie anywhere.
pub(crate) fn read_table(path: &Path) -> Result<String, Failure> {
    let refused = |words: String| Failure::new(format!("{} {words}", shown(path)));
    let metadata = path
        .metadata()
        .map_err(|error| refused(format!("could not be read: {}", why(&error))))?;
    if !metadata.is_file() {
        return Err(refused("is not a plain file".to_owned()));
    }
    let mut bytes = Vec::new();
    let most = LARGEST_TEXT as u64 + 1;
    std::fs::File::open(path)
        .and_then(|file| file.take(most).read_to_end(&mut bytes))
        .map_err(|error| refused(format!("could not be read: {}", why(&error))))?;
    if LARGEST_TEXT < bytes.len() {
        return Err(refused("is larger than 10 MiB".to_owned()));
    }
    String::from_utf8(bytes).map_err(|bad| {
        let at = bad.utf8_error().valid_up_to() + 1;
        refused(format!("is not UTF-8 text from byte {at} on")).help("save it as CSV in UTF-8")
    })
}
