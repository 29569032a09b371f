//! Why the system refused something, in words that need no manual.

use std::io::{Error, ErrorKind};

/// What stood in the way, as it follows a colon.
pub(crate) fn why(error: &Error) -> String {
    let words = match error.kind() {
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is used up",
        ErrorKind::FileTooLarge => "it would be larger than a file may be here",
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        ErrorKind::PermissionDenied => "you are not permitted to",
        ErrorKind::NotFound => "what it lies in is not there",
        ErrorKind::NotADirectory => "what it lies in is no folder",
        ErrorKind::InvalidFilename => "its name is too long, or holds what no name may",
        _ => return system_words(error),
    };
    words.to_owned()
}

/// What to do about it, where something can be said.
pub(crate) fn way_out(error: &Error) -> Option<&'static str> {
    Some(match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            "make room on the disk, or name a place on another one"
        }
        ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied => {
            "name a place in a folder that you may write to"
        }
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            "make the folder first, or name one that is there"
        }
        ErrorKind::InvalidFilename => "give it a shorter name",
        _ => return None,
    })
}

/// The system's own words, without the number of the error and the path, which has a name by chance.
fn system_words(error: &Error) -> String {
    let words = error.to_string();
    let words = words.split(" (os error").next().unwrap_or_default();
    words.replace(char::is_control, "\u{fffd}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_number_and_no_name_by_chance_is_said() {
        let wrapped =
            |words: &str| Error::other(format!("{words} (os error 24) at path \"/barn/.trug-x\""));
        assert_eq!(why(&wrapped("Too many open files")), "Too many open files");
        assert_eq!(why(&ErrorKind::StorageFull.into()), "the disk is full");
        assert_eq!(way_out(&wrapped("Too many open files")), None);
    }
}
