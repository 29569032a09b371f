//! The grammar's own corpus: texts with their trees, in the form tree-sitter's command line reads.

use trug_tests::repository;

use crate::tree;

struct Case {
    name: String,
    text: String,
    tree: String,
}

fn cases(corpus: &str) -> Vec<Case> {
    let mut cases = Vec::new();
    let mut parts = corpus.split("==================\n").skip(1);
    while let (Some(name), Some(body)) = (parts.next(), parts.next()) {
        let (text, tree) = body.split_once("\n---\n").expect("a tree below ---");
        cases.push(Case {
            name: name.trim().to_owned(),
            text: text.to_owned(),
            tree: tree.split_whitespace().collect::<Vec<_>>().join(" "),
        });
    }
    cases
}

#[test]
fn every_text_of_the_corpus_has_its_tree() {
    let mut count = 0;
    for path in repository::files("editors/tree-sitter-trug/test/corpus", ".txt") {
        for case in cases(&repository::read(&path)) {
            let found = tree::parse(&case.text).root_node().to_sexp();
            // The corpus has no names of fields.
            let words = found.split(' ').filter(|word| !word.ends_with(':'));
            let found = words.collect::<Vec<_>>().join(" ");
            assert_eq!(found, case.tree, "{path}: {}", case.name);
            count += 1;
        }
    }
    assert!(count >= 10, "the corpus was not found");
}
