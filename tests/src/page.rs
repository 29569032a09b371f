//! Pages of codes and documents: the examples in their fences.

use crate::marked::FIRST_PATH;

/// A fenced block of Markdown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// The words after the fence: `trug wrong`.
    pub info: String,
    /// What the block holds.
    pub text: String,
    /// The line of its first line in the document, counted from 1.
    pub line: usize,
}

/// The fenced blocks of a document, in order.
#[must_use]
pub fn blocks(document: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for (index, line) in document.lines().enumerate() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(_), Some(block)) => blocks.push(block),
            (Some(info), None) => {
                open = Some(Block {
                    info: info.trim().to_owned(),
                    text: String::new(),
                    line: index + 2,
                });
            }
            (None, Some(mut block)) => {
                block.text.push_str(line);
                block.text.push('\n');
                open = Some(block);
            }
            (None, None) => {}
        }
    }
    blocks
}

/// The texts of a block, with their paths: a line `//- store.trug` starts a further one.
#[must_use]
pub fn texts(block: &Block) -> Vec<(String, String)> {
    let mut texts = vec![(FIRST_PATH.to_owned(), String::new())];
    for line in block.text.split_inclusive('\n') {
        if let Some(path) = line.strip_prefix("//- ") {
            texts.push((path.trim().to_owned(), String::new()));
        } else if let Some((_, text)) = texts.last_mut() {
            text.push_str(line);
        }
    }
    if texts.len() > 1 && texts.first().is_some_and(|(_, text)| text.is_empty()) {
        texts.remove(0);
    }
    texts
}

/// What stands outside the fences, paragraph by paragraph.
#[must_use]
pub fn paragraphs(document: &str) -> Vec<String> {
    let mut is_inside = false;
    let mut prose = String::new();
    for line in document.lines() {
        if line.starts_with("```") {
            is_inside = !is_inside;
            prose.push('\n');
        } else if !is_inside {
            prose.push_str(line);
            prose.push('\n');
        }
    }
    let paragraphs = prose.split("\n\n").map(|it| it.trim().to_owned());
    paragraphs.filter(|it| !it.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_and_prose_are_told_apart() {
        let page = "# sum/over\n\nToo much.\n\n```trug wrong\nration a\n```\n\n```trug right\n```\n\nTake some out.\n";
        let blocks = blocks(page);
        assert_eq!(blocks.len(), 2);
        assert_eq!(blocks[0].info, "trug wrong");
        assert_eq!(blocks[0].text, "ration a\n");
        assert_eq!(blocks[0].line, 6);
        assert_eq!(
            paragraphs(page),
            ["# sum/over", "Too much.", "Take some out."]
        );
    }
}
