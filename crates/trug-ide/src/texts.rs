//! Texts that lie on no disk: the bundled books, and the pages of the findings.

use trug_model::Library;
use trug_report::catalogue;

/// The text of a bundled book, by its name in a farm, such as `book:poultry`.
#[must_use]
pub fn book(name: &str) -> Option<&'static str> {
    Library::bundled().text(name)
}

/// The page of a finding, in Markdown.
#[must_use]
pub fn page(code: &str) -> Option<&'static str> {
    let known = catalogue::codes()
        .into_iter()
        .find(|known| known.name == code)?;
    Some(known.page)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn books_and_pages_are_found_by_name() {
        assert!(book("book:poultry").is_some_and(|text| text.contains("targets")));
        assert_eq!(book("poultry"), None);
        assert!(page("sum/over").is_some_and(|page| page.starts_with("# sum/over")));
        assert_eq!(page("sum"), None);
    }
}
