//! Paths inside a farm: relative to the root, with `/`.

/// The path that `target` means in a text at `from`; none where it is absolute or no path of a farm.
///
/// What climbs out of the root keeps its leading `..`.
pub(crate) fn join(from: &str, target: &str) -> Option<String> {
    if target.starts_with('/') || target.contains('\\') || target.contains('\0') {
        return None;
    }
    let folder = from.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    for part in folder.split('/').chain(target.split('/')) {
        match part {
            "" | "." => {}
            ".." => match parts.last() {
                Some(&last) if last != ".." => {
                    parts.pop();
                }
                _ => parts.push(".."),
            },
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

/// Whether a joined path lies outside the root.
pub(crate) fn leaves_root(path: &str) -> bool {
    path == ".." || path.starts_with("../")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_are_relative_to_the_text_that_uses_them() {
        let joined = |from, target| join(from, target).unwrap_or_default();
        assert_eq!(joined("farm/a.trug", "yard.trug"), "farm/yard.trug");
        assert_eq!(
            joined("farm/a.trug", "../coop/store.trug"),
            "coop/store.trug"
        );
        assert_eq!(joined("a.trug", "./x//y.trug"), "x/y.trug");
        assert_eq!(joined("farm/a.trug", "../../b.trug"), "../b.trug");
        assert!(leaves_root(&joined("a.trug", "../../b.trug")));
        assert!(!leaves_root("..b.trug"));
        assert_eq!(join("a.trug", "/etc/passwd"), None);
    }
}
