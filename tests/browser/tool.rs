//! The tool itself, run on farms in folders of their own.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

use tempfile::TempDir;
use trug_tests::repository;

/// The binary, built once from what is checked out.
fn binary() -> &'static Path {
    static BINARY: OnceLock<PathBuf> = OnceLock::new();
    BINARY.get_or_init(|| {
        let built = Command::new(env!("CARGO"))
            .args(["build", "--quiet", "--package", "trug"])
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .status()
            .unwrap();
        assert!(built.success());
        let own = std::env::current_exe().unwrap();
        own.parent().unwrap().parent().unwrap().join("trug")
    })
}

/// A folder with farms and pages.
pub(crate) struct Shed {
    folder: TempDir,
}

impl Shed {
    /// With all the examples, and the ration that fills a side.
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let shed = Self { folder };
        for path in repository::files("examples", ".trug") {
            shed.put(&path, &repository::read(&path));
        }
        shed.put(
            "crowded.trug",
            &repository::read("tests/browser/crowded.trug"),
        );
        shed
    }

    pub(crate) fn put(&self, path: &str, text: &str) {
        let path = self.folder.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }

    pub(crate) fn text(&self, path: &str) -> String {
        std::fs::read_to_string(self.folder.path().join(path)).unwrap()
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        Command::new(binary())
            .args(arguments)
            .current_dir(self.folder.path())
            .output()
            .unwrap()
    }

    /// The page of a plan, with whatever else is typed.
    pub(crate) fn page(&self, file: &str, more: &[&str]) -> PathBuf {
        let mut arguments = vec!["plan", file, "--as", "html", "--today", "2026-11-25"];
        arguments.extend(more);
        let output = self.run(&arguments);
        let told = String::from_utf8_lossy(&output.stderr);
        assert!(!output.stdout.is_empty(), "{arguments:?}: {told}");
        let name = format!(
            "{} {}.html",
            file.replace('/', "-"),
            more.join("-").replace('/', "-")
        );
        let path = self.folder.path().join(name.replace(' ', "-"));
        std::fs::write(&path, &output.stdout).unwrap();
        path
    }

    /// What can be read on each side of a print.
    pub(crate) fn words_of(&self, print: &[u8]) -> Vec<String> {
        let words = self.read(print, &[]);
        let sides = words.split_terminator('\u{c}');
        sides.map(str::to_owned).collect()
    }

    /// What can be read on a print, what stands side by side on one line.
    pub(crate) fn lines_of(&self, print: &[u8]) -> String {
        self.read(print, &["-layout"])
    }

    fn read(&self, print: &[u8], how: &[&str]) -> String {
        let path = self.folder.path().join("print.pdf");
        std::fs::write(&path, print).unwrap();
        let read = Command::new("pdftotext")
            .args(how)
            .args([path.as_os_str(), "-".as_ref()])
            .output()
            .expect("pdftotext is needed for these tests");
        String::from_utf8(read.stdout).unwrap()
    }
}

/// Every ration of the examples: its file and its name.
pub(crate) const EXAMPLES: [(&str, &str); 6] = [
    ("examples/river-farm/rations.trug", "shell-mix"),
    ("examples/river-farm/rations.trug", "laying-mash"),
    ("examples/river-farm/rations.trug", "growing-mash"),
    ("examples/river-farm/rations.trug", "goat-concentrate"),
    ("examples/small/hens.trug", "hen-mash"),
    ("examples/small/geese.trug", "goose-supper"),
];
