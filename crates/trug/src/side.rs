//! A side of a comparison: a file, a folder, standard input, or a git revision, read as one farm.

use std::path::Path;

use trug_model::{Farm, Texts};

use crate::asked::{STANDARD_INPUT, ask};
use crate::disk::Disk;
use crate::ending::{Ending, Failure};
use crate::load::settings;
use crate::progress::Progress;
use crate::revision::{Kind, Named, Repository, Tree, quoted};
use crate::root;
use crate::setting::Setting;

/// What was typed for a side. A path that is there wins over a revision of that name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Typed<'a> {
    Input,
    Path(&'a Path),
    Revision(&'a str),
}

/// A side that has been read.
pub(crate) struct Side {
    /// The texts asked for and all they use.
    pub(crate) farm: Farm,
    /// The folder it begins at, from the root.
    pub(crate) base: String,
    /// `Partial` where something asked for could not be read, which was said.
    pub(crate) ending: Ending,
}

impl<'a> Typed<'a> {
    /// What was meant.
    pub(crate) fn of(typed: &'a str) -> Typed<'a> {
        let path = Path::new(typed);
        if typed == STANDARD_INPUT {
            Typed::Input
        } else if path.symlink_metadata().is_ok() {
            Typed::Path(path)
        } else {
            Typed::Revision(typed)
        }
    }

    /// Reads the side. A revision without a path stands for the path of the `other` side in it.
    pub(crate) fn read(&self, other: &Typed<'_>, setting: &Setting) -> Result<Side, Failure> {
        match self {
            Typed::Input => on_disk(Path::new(STANDARD_INPUT), setting),
            Typed::Path(path) => on_disk(path, setting),
            Typed::Revision(typed) => in_revision(typed, other, setting),
        }
    }
}

fn on_disk(path: &Path, setting: &Setting) -> Result<Side, Failure> {
    let asked = ask(&[path.to_owned()], setting)?;
    let disk = Disk::new(&asked, setting.may_leave_root)?;
    let base = if asked.has_folder {
        let folder = path.canonicalize().ok();
        folder.and_then(|folder| {
            root::name_in(&asked.root, &folder).or_else(|| root::name_from(&asked.root, &folder))
        })
    } else {
        asked.names.first().map(|name| folder_of(name).to_owned())
    };
    let names: Vec<String> = asked.names.iter().cloned().collect();
    Ok(Side {
        farm: read(&names, &disk, disk.reads(), setting),
        base: base.unwrap_or_default(),
        ending: asked.ending().max(disk.tell_refused()),
    })
}

fn in_revision(typed: &str, other: &Typed<'_>, setting: &Setting) -> Result<Side, Failure> {
    let repository = Repository::find(typed, setting)?;
    let named = Named::of(typed);
    let mut tree = repository.tree(&named, typed)?;
    let outside = || Failure::new(format!("{} leads out of the revision", quoted(typed)));
    let path = match named.path {
        Some(path) => repository.below_top(path).ok_or_else(outside)?,
        None => beside(other, &repository),
    };
    let kind = tree.kind(&path);
    let folder = match kind {
        Kind::Folder => path.as_str(),
        Kind::File => folder_of(&path),
        Kind::Nothing => return Err(no_path(&path, &named, &repository, &tree)),
    };
    let root = repository
        .root(setting)
        .unwrap_or_else(|| tree.root_above(folder));
    tree.set_root(root, setting.may_leave_root);
    let base = tree.name(folder).ok_or_else(|| {
        Failure::new(format!("{} is outside the root", quoted(typed)))
            .help("name a root that holds it")
    })?;
    if kind == Kind::File {
        tree.ask_text(&path);
    } else {
        tree.ask_folder(&path);
    }
    let names = tree.asked();
    if names.is_empty() {
        return Err(Failure::new(format!(
            "there is no .trug text in {}",
            quoted(typed)
        )));
    }
    Ok(Side {
        farm: read(&names, &tree, tree.reads(), setting),
        base,
        ending: tree.tell_refused(),
    })
}

fn read(
    names: &[String],
    texts: &dyn Texts,
    reads: std::sync::Arc<std::sync::atomic::AtomicUsize>,
    setting: &Setting,
) -> Farm {
    let _progress = Progress::of("reading texts", reads);
    Farm::read(names, texts, settings(setting))
}

/// The path of the other side, from the top of the repository; the top where the other side is none of its paths.
fn beside(other: &Typed<'_>, repository: &Repository) -> String {
    let path = match other {
        Typed::Input => None,
        Typed::Path(path) => repository.path_of(path),
        Typed::Revision(typed) => Named::of(typed)
            .path
            .and_then(|path| repository.below_top(path)),
    };
    path.unwrap_or_default()
}

fn no_path(path: &str, named: &Named<'_>, repository: &Repository, tree: &Tree) -> Failure {
    let failure = Failure::new(format!(
        "there is no {} in {}",
        quoted(path),
        quoted(named.revision)
    ));
    let from_here = named
        .path
        .and_then(|path| repository.below_top(&format!("./{path}")));
    match from_here.filter(|from_here| !path.is_empty() && tree.kind(from_here) != Kind::Nothing) {
        Some(_) => failure.help(format!(
            "write {}:./{path}: a path in a revision is from the top of the repository",
            quoted(named.revision)
        )),
        None => failure.help("name a text or a folder that the revision has"),
    }
}

fn folder_of(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}
