//! The tests of the whole: pages, examples, documents and the repository itself.
