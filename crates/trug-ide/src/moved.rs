//! What a text or folder that gets another path leaves to be mended: the `use` lines that name it, and its own.

use trug_findings::{Edit, FileId, Place};
use trug_model::{Farm, joined};
use trug_syntax::tree::{ItemBody, Text, UseSource};

/// A text or a folder on its way to another path; both from the root, with `/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// Where it is.
    pub from: String,
    /// Where it will be.
    pub to: String,
}

/// The edits that keep every `use` leading to what it leads to. They are of the texts as they are, under the paths they
/// have before the move.
#[must_use]
pub fn mend_uses(farm: &Farm, moves: &[Move]) -> Vec<Edit> {
    let mut edits = Vec::new();
    for file in farm.files() {
        let Some(source) = farm.sources().get(file.index()) else {
            continue;
        };
        if farm.is_table(file) || farm.is_book(file) {
            continue;
        }
        let here = (source.name(), moved(source.name(), moves));
        for item in &farm.tree(file).items {
            if let ItemBody::Use(used) = &item.body
                && let UseSource::File(path) | UseSource::Table(path) = &used.source
            {
                edits.extend(mended(file, (here.0, &here.1), path, moves));
            }
        }
    }
    edits
}

/// The `use` as it must be; none where it may stay.
fn mended(file: FileId, (old, new): (&str, &str), path: &Text, moves: &[Move]) -> Option<Edit> {
    let target = moved(&joined(old, &path.text)?, moves);
    if joined(new, &path.text)? == target {
        return None;
    }
    let mut relative = relative(new, &target)?;
    if path.text.starts_with("./") && !relative.starts_with("../") {
        relative.insert_str(0, "./");
    }
    Some(Edit {
        place: Place::new(file, path.span),
        text: format!("\"{}\"", relative.replace('"', "\"\"")),
    })
}

/// Where a path will be.
fn moved(path: &str, moves: &[Move]) -> String {
    let under = |one: &Move| {
        let rest = path.strip_prefix(one.from.trim_end_matches('/'))?;
        let is_it = rest.is_empty() || rest.starts_with('/');
        is_it.then(|| format!("{}{rest}", one.to.trim_end_matches('/')))
    };
    // A text moved by name goes there, whatever becomes of its folder.
    let mut by_length: Vec<&Move> = moves.iter().collect();
    by_length.sort_by_key(|one| std::cmp::Reverse(one.from.len()));
    by_length
        .into_iter()
        .find_map(under)
        .unwrap_or_else(|| path.to_owned())
}

/// The path to `target` as a text at `from` would write it; none where there is no way to write it.
fn relative(from: &str, target: &str) -> Option<String> {
    let folder = from.rsplit_once('/').map_or("", |(folder, _)| folder);
    let up: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    let down: Vec<&str> = target.split('/').collect();
    let most = up.len().min(down.len().saturating_sub(1));
    let shared = up.iter().zip(&down).take(most);
    let shared = shared.take_while(|(one, other)| one == other).count();
    let left = up.get(shared..)?;
    if left.contains(&"..") {
        return None;
    }
    let up = std::iter::repeat_n("..", left.len());
    let parts: Vec<&str> = up.chain(down.into_iter().skip(shared)).collect();
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_leads_from_folder_to_folder() {
        let way = |from, target| relative(from, target).unwrap_or_default();
        assert_eq!(way("a.trug", "b.trug"), "b.trug");
        assert_eq!(way("x/a.trug", "x/b.trug"), "b.trug");
        assert_eq!(way("x/a.trug", "y/b.trug"), "../y/b.trug");
        assert_eq!(way("x/y/a.trug", "x/b.trug"), "../b.trug");
        assert_eq!(way("a.trug", "x/b.trug"), "x/b.trug");
        assert_eq!(way("x/a.trug", "../b.trug"), "../../b.trug");
        assert_eq!(relative("../x/a.trug", "b.trug"), None);
    }

    #[test]
    fn the_nearest_move_counts() {
        let moves = [("x", "y"), ("x/a.trug", "z/b.trug")].map(|(from, to)| Move {
            from: from.to_owned(),
            to: to.to_owned(),
        });
        assert_eq!(moved("x/a.trug", &moves), "z/b.trug");
        assert_eq!(moved("x/c.trug", &moves), "y/c.trug");
        assert_eq!(moved("xx/c.trug", &moves), "xx/c.trug");
    }
}
