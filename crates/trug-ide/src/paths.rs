//! Paths of texts as `use` writes them: relative to the text that uses, with `/`.

/// The name of the text that `target` means in the text called `from`.
pub(crate) fn joined(from: &str, target: &str) -> Option<String> {
    if target.starts_with('/') || target.contains('\\') {
        return None;
    }
    let folder = from.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    for part in folder.split('/').chain(target.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    Some(parts.join("/"))
}

/// How the text called `from` names the text called `to`.
pub(crate) fn relative(from: &str, to: &str) -> String {
    let mut folders: Vec<&str> = from.split('/').collect();
    folders.pop();
    let parts: Vec<&str> = to.split('/').collect();
    let shared = folders
        .iter()
        .zip(&parts)
        .take(parts.len().saturating_sub(1))
        .take_while(|(folder, part)| folder == part)
        .count();
    let up = folders.iter().skip(shared).map(|_| "..");
    let down = parts.iter().skip(shared).copied();
    up.chain(down).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_leads_there_and_back() {
        for (from, to, path) in [
            ("a.trug", "b.trug", "b.trug"),
            ("farm/a.trug", "farm/b.trug", "b.trug"),
            ("farm/a.trug", "coop/store/b.trug", "../coop/store/b.trug"),
            ("farm/x/a.trug", "b.trug", "../../b.trug"),
            ("a.trug", "a/b.trug", "a/b.trug"),
            ("a/a.trug", "a", "../a"),
        ] {
            assert_eq!(relative(from, to), path);
            assert_eq!(joined(from, path).as_deref(), Some(to));
        }
    }
}
