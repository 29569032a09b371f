//! Addresses of the protocol to paths and names, and back.
//!
//! What has no file has an address of the scheme `trug`: `trug:/book/poultry.trug` is a bundled book,
//! `trug:/why/sum/over.md` the page of a finding. A client may show it by `workspace/textDocumentContent`.

use std::path::{Component, Path, PathBuf};

use crate::lsp::Url;

const BOOK: &str = "/book/";
const WHY: &str = "/why/";
const PREFIX: &str = "book:";

/// The path of a file; none of any other address.
pub(crate) fn path(uri: &Url) -> Option<PathBuf> {
    if uri.scheme() == "file" {
        uri.to_file_path().ok()
    } else {
        None
    }
}

/// The name of a path below a root, with `/`; none where it is outside or is not text.
pub(crate) fn name_below(root: &Path, path: &Path) -> Option<String> {
    let parts = path.strip_prefix(root).ok()?.components();
    let parts: Option<Vec<&str>> = parts
        .map(|part| match part {
            Component::Normal(part) => part.to_str(),
            _ => None,
        })
        .collect();
    parts
        .filter(|parts| !parts.is_empty())
        .map(|parts| parts.join("/"))
}

/// The address of a bundled book, by its name in a farm.
pub(crate) fn book_uri(name: &str) -> Option<Url> {
    let book = name.strip_prefix(PREFIX)?;
    Url::parse(&format!("trug:{BOOK}{book}.trug")).ok()
}

/// The name in a farm of the book at an address.
pub(crate) fn book_name(uri: &Url) -> Option<String> {
    let book = own(uri, BOOK)?.strip_suffix(".trug")?;
    Some(format!("{PREFIX}{book}"))
}

/// The address of the page of a finding.
pub(crate) fn why_uri(code: &str) -> Option<Url> {
    Url::parse(&format!("trug:{WHY}{code}.md")).ok()
}

/// The finding whose page is at an address.
pub(crate) fn why_code(uri: &Url) -> Option<&str> {
    own(uri, WHY)?.strip_suffix(".md")
}

fn own<'a>(uri: &'a Url, below: &str) -> Option<&'a str> {
    let path = (uri.scheme() == "trug").then(|| uri.path())?;
    path.strip_prefix(below)
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use super::*;

    #[test]
    fn what_has_no_file_has_an_address() {
        let book = book_uri("book:poultry").unwrap();
        assert_eq!(book.as_str(), "trug:/book/poultry.trug");
        assert_eq!(book_name(&book).as_deref(), Some("book:poultry"));
        let page = why_uri("sum/over").unwrap();
        assert_eq!(why_code(&page), Some("sum/over"));
        assert_eq!(why_code(&book), None);
        assert_eq!(path(&page), None);
    }

    #[test]
    fn names_are_below_the_root() {
        let name = |path| name_below(Path::new("/barn"), Path::new(path));
        assert_eq!(name("/barn/a/b.trug").as_deref(), Some("a/b.trug"));
        assert_eq!(name("/barn"), None);
        assert_eq!(name("/hill/b.trug"), None);
    }
}
