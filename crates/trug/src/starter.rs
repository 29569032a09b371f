//! The farms to begin with: their texts, as they lie in `starters/`, and where each goes.

mod hook;
mod place;

pub(crate) use hook::{HOOK, Hook, set};
pub(crate) use place::place;

use crate::args::Like;

/// A file of a farm to begin with.
#[derive(Clone, Copy, Debug)]
pub(crate) struct StarterFile {
    /// Where it goes in the farm, with `/`.
    pub(crate) path: &'static str,
    /// What it says.
    pub(crate) text: &'static str,
    /// It is a script, to be run.
    pub(crate) is_script: bool,
}

/// The files of a farm, in the order they are written: what marks it as a farm comes last.
pub(crate) fn files(like: Like) -> Vec<StarterFile> {
    let own = match like {
        Like::Small => SMALL,
        Like::CoOp => CO_OP,
    };
    own.iter().chain(EVERY).copied().collect()
}

/// The ration's text that is worth planning first.
pub(crate) fn first_text(like: Like) -> &'static str {
    match like {
        Like::Small => "rations.trug",
        Like::CoOp => "river-farm/rations.trug",
    }
}

const fn text(path: &'static str, text: &'static str) -> StarterFile {
    StarterFile {
        path,
        text,
        is_script: false,
    }
}

const fn script(path: &'static str, text: &'static str) -> StarterFile {
    StarterFile {
        path,
        text,
        is_script: true,
    }
}

const SMALL: &[StarterFile] = &[
    text("README.md", include_str!("../starters/small/README.md")),
    text("store.trug", include_str!("../starters/small/store.trug")),
    text("yard.trug", include_str!("../starters/small/yard.trug")),
    text(
        "rations.trug",
        include_str!("../starters/small/rations.trug"),
    ),
];

const CO_OP: &[StarterFile] = &[
    text("README.md", include_str!("../starters/co-op/README.md")),
    text(
        "coop/store.trug",
        include_str!("../starters/co-op/coop/store.trug"),
    ),
    text(
        "coop/targets.trug",
        include_str!("../starters/co-op/coop/targets.trug"),
    ),
    text(
        "river-farm/yard.trug",
        include_str!("../starters/co-op/river-farm/yard.trug"),
    ),
    text(
        "river-farm/rations.trug",
        include_str!("../starters/co-op/river-farm/rations.trug"),
    ),
    text(
        "river-farm/groups.trug",
        include_str!("../starters/co-op/river-farm/groups.trug"),
    ),
    text(
        "hill-farm/yard.trug",
        include_str!("../starters/co-op/hill-farm/yard.trug"),
    ),
    text(
        "hill-farm/rations.trug",
        include_str!("../starters/co-op/hill-farm/rations.trug"),
    ),
    text(
        "hill-farm/groups.trug",
        include_str!("../starters/co-op/hill-farm/groups.trug"),
    ),
];

/// What every farm gets. In `starters/` the folders have no dot, so that nothing there acts on this repository.
const EVERY: &[StarterFile] = &[
    text(
        ".editorconfig",
        include_str!("../starters/every/editorconfig"),
    ),
    text(
        ".vscode/settings.json",
        include_str!("../starters/every/vscode/settings.json"),
    ),
    text(
        ".vscode/tasks.json",
        include_str!("../starters/every/vscode/tasks.json"),
    ),
    text(
        ".gitattributes",
        include_str!("../starters/every/gitattributes"),
    ),
    script(HOOK, include_str!("../starters/every/githooks/pre-commit")),
    script(".ci/check", include_str!("../starters/every/ci/check")),
    text(
        ".github/workflows/feed.yml",
        include_str!("../starters/every/github/workflows/feed.yml"),
    ),
    text("trug.root", include_str!("../starters/every/trug.root")),
];

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    reason = "a test that cannot set itself up has failed"
)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::{Path, PathBuf};

    use super::*;

    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else {
                found.push(path);
            }
        }
    }

    #[test]
    fn every_text_that_lies_there_is_written_once() {
        let mut found = Vec::new();
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("starters");
        walk(&folder, &mut found);
        let mut lying: Vec<_> = found
            .iter()
            .map(|path| std::fs::read_to_string(path).unwrap())
            .collect();
        let given = [SMALL, CO_OP, EVERY].concat();
        let mut written: Vec<_> = given.iter().map(|file| file.text.to_owned()).collect();
        lying.sort();
        written.sort();
        assert_eq!(lying, written);
    }

    #[test]
    fn no_two_files_of_a_farm_are_one() {
        for like in [Like::Small, Like::CoOp] {
            let files = files(like);
            let paths: BTreeSet<_> = files.iter().map(|file| file.path.to_lowercase()).collect();
            assert_eq!(paths.len(), files.len());
            assert!(paths.contains(first_text(like)));
            for file in files {
                assert_eq!(file.is_script, file.text.starts_with("#!"), "{}", file.path);
                assert!(!file.text.contains('\r'), "{}", file.path);
            }
        }
    }
}
