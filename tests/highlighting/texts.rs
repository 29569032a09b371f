//! The texts the grammars are held to: the examples, the suite, the pages, and one of everything.

use trug_tests::marked::{Kind, Suite};
use trug_tests::{page, repository};

/// A text, and where it is from.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) text: String,
}

impl Text {
    fn new(name: impl Into<String>, text: impl Into<String>) -> Text {
        Text {
            name: name.into(),
            text: text.into(),
        }
    }

    fn as_other(&self, how: &str, text: String) -> Text {
        Text::new(format!("{}, {how}", self.name), text)
    }
}

/// The text with every word and every form of a line.
pub(crate) const EVERYTHING: &str = "editors/tests/everything.trug";

/// All of them as they stand, and each once more: with CRLF, set in with tabs, or with lines between that cannot be
/// read. The examples and the text of everything are there in each of these ways.
pub(crate) fn all() -> Vec<Text> {
    let written = written();
    assert!(written.len() > 200, "the texts were not found");
    let mut all = written.clone();
    for (rank, text) in written.iter().enumerate() {
        let in_every_way = text.name.starts_with("examples/") || text.name == EVERYTHING;
        if in_every_way || rank % 3 == 0 {
            all.push(text.as_other("with CRLF", text.text.replace('\n', "\r\n")));
        }
        if in_every_way || rank % 3 == 1 {
            all.push(text.as_other("with tabs", text.text.replace("\n  ", "\n\t")));
        }
        if in_every_way || rank % 3 == 2 {
            all.push(text.as_other("with lines that cannot be read", disturbed(&text.text)));
        }
    }
    let everything = repository::read(EVERYTHING);
    all.push(Text::new(
        "with a mark at its head",
        format!("\u{feff}{everything}"),
    ));
    all.push(Text::new("without an end", everything.trim_end()));
    all.push(Text::new("nothing", ""));
    all
}

/// The texts of this repository.
fn written() -> Vec<Text> {
    let mut texts = Vec::new();
    for folder in ["examples", "crates", "editors"] {
        for path in repository::files(folder, ".trug") {
            texts.push(Text::new(path.clone(), repository::read(&path)));
        }
    }
    for path in repository::files("tests/suite", ".txt") {
        let suite = Suite::read(&repository::read(&path)).expect("a suite");
        for section in suite.sections {
            let has_text_result = matches!(section.kind, Kind::Fix | Kind::Tidy);
            for marked in section.texts.iter().filter(|it| it.path.ends_with(".trug")) {
                let name = format!("{path}, {}, {}", section.name, marked.path);
                texts.push(Text::new(name, marked.text.clone()));
            }
            texts.extend(
                section
                    .result
                    .filter(|_| has_text_result)
                    .map(|result| Text::new(format!("{path}, {}, result", section.name), result)),
            );
        }
    }
    let mut pages = repository::files("crates", ".md");
    pages.extend(["grammar/REFERENCE.md".to_owned(), "README.md".to_owned()]);
    for path in pages {
        for block in page::blocks(&repository::read(&path)) {
            if block.info.starts_with("trug") {
                let name = format!("{path}:{}", block.line);
                let of_block = page::texts(&block).into_iter();
                let of_block = of_block.filter(|(path, _)| path.ends_with(".trug"));
                texts.extend(of_block.map(|(_, text)| Text::new(&*name, text)));
            }
        }
    }
    texts
}

/// Lines that cannot be read, each the start of something that could go on below.
const UNREAD: [&str; 8] = [
    "  maize \"with no end # and no comment",
    "  “with no end",
    "  limit (maize + (",
    "  maize at",
    "  never",
    "  ) = .. ± 🦆 \u{1} ` \\ ' { [ < && \"",
    "  for",
    "  accept",
];

/// The text with a line that cannot be read after every second one.
fn disturbed(text: &str) -> String {
    let mut disturbed = String::new();
    for (number, line) in text.lines().enumerate() {
        disturbed.push_str(line);
        disturbed.push('\n');
        if number % 2 == 1 {
            disturbed.push_str(UNREAD[number / 2 % UNREAD.len()]);
            disturbed.push('\n');
        }
    }
    disturbed
}
